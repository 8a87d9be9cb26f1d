// SPDX-License-Identifier: GPL-3.0-or-later
/// One meta-analysis: independent effects, with or without moderators, pooled over studies.
#ifndef WHY_POOL_META_H
#define WHY_POOL_META_H

#include "interval.h"
#include "spread.h"

/// How to pool. A search for τ² ends when a step is no more than `share` of it, or after `most`.
typedef struct {
  why_tau_method method;
  why_test test;
  double share;
  size_t most;
} why_pooling;

/// REML, guarded Hartung–Knapp, 1e-10, 200 steps: what the program shows unless asked otherwise.
why_pooling why_pooling_usual(void);

/// Its arrays live in the arena that it was made in.
typedef struct {
  why_pooling how;
  why_regression regression; ///< Fitted at tau2, for coefficients and predictions.
  double tau2;
  double tau2_error;
  double tau2_low; ///< 95 %, by the profile of Q; NAN with fewer than one degree of freedom.
  double tau2_high;
  double residual; ///< Of the search for τ²: see why_tau.
  size_t steps;
  bool settled; ///< False: the search did not end; nothing here should be used.
  why_spread spread;
  double i2_low_pct;
  double i2_high_pct;
  why_interval mean; ///< The first coefficient: the pooled effect of a model without moderators.
  why_interval
      new_study;        ///< Where the true effect of a new study lies; NAN with 2 effects or fewer.
  double hartung_knapp; ///< The unguarded factor; below 1 it would scale the variance down.
  bool narrowed; ///< The unguarded Hartung-Knapp interval would be narrower than the normal one:
                 ///< the usual note on the method, worth telling whichever interval is shown.
} why_meta;

/// Pool. WHY_QUESTION when there are fewer effects than columns or the moderators tell the same.
why_status why_meta_pool(const why_effects* effects, const why_pooling* how, why_arena* arena,
                         why_meta* meta);

/// Share of the pooled mean that study `i` carries, in per cent; of a model without moderators.
double why_meta_weight_pct(const why_meta* meta, size_t i);

/// Where the true effect of study `i` lies by what all studies say: its own effect drawn towards
/// the mean, with the standard error of that ("Empirical Bayes meta-analysis", Journal of
/// Educational Statistics, 1985, DOI 10.3102/10769986010002075).
double why_meta_mode(const why_meta* meta, size_t i, double* error);

/// Share of τ² that moderators explain, in per cent: against the same effects without any.
double why_meta_explained_pct(const why_meta* with, const why_meta* without);

#endif
