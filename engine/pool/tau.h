// SPDX-License-Identifier: GPL-3.0-or-later
/// The variance between studies, τ², by any of the usual estimators. As in GSL, a search is set,
/// iterated and tested, so that a trace or a test can watch it; the caller gets the residual and
/// decides. Methods are compared in "Methods to estimate the between-study variance and its
/// uncertainty in meta-analysis", Research Synthesis Methods, 2016, DOI 10.1002/jrsm.1164, whose
/// formulas are used, in the form for moderators.
#ifndef WHY_POOL_TAU_H
#define WHY_POOL_TAU_H

#include "regress.h"

typedef enum {
  WHY_TAU_FIXED,              ///< No variance between studies: the common-effect model.
  WHY_TAU_DERSIMONIAN_LAIRD,  ///< Moments, weights 1/v.
  WHY_TAU_HEDGES,             ///< Moments, equal weights.
  WHY_TAU_HUNTER_SCHMIDT,     ///< Moments, weights 1/v, no correction for what the fit took.
  WHY_TAU_SIDIK_JONKMAN,      ///< Moments, weights from the plain variance of the effects.
  WHY_TAU_PAULE_MANDEL,       ///< The τ² at which Q equals its degrees of freedom.
  WHY_TAU_MAXIMUM_LIKELIHOOD, ///< Maximum likelihood.
  WHY_TAU_REML,               ///< Restricted maximum likelihood.
} why_tau_method;

/// A search in progress. τ² is in the square of the effects' unit and never below 0.
typedef struct {
  why_tau_method method;
  why_regression* regression; ///< Fitted at `tau2`.
  double tau2;
  double target;   ///< Of Q, for WHY_TAU_PAULE_MANDEL: its degrees of freedom.
  double step;     ///< How far the last iteration moved τ².
  double residual; ///< Of the estimating equation, relative to its size: 0 at the solution; below 0
                   ///< at τ² = 0 means that the solution is the boundary. 0 for closed forms.
  size_t steps;
  bool determined; ///< False: fewer effects than columns, or moderators that tell the same.
} why_tau;

/// Begin. `regression` gives the effects and its room; it is at every time the fit at `tau2`.
/// Closed forms are done after this. Searches for a likelihood begin at the best of a row of trial
/// values, since it may have several peaks.
void why_tau_set(why_tau* tau, why_tau_method method, why_regression* regression);

/// Begin the search for the τ² at which Q equals `target` instead (see spread.h).
void why_tau_set_target(why_tau* tau, double target, why_regression* regression);

/// One step towards the solution.
void why_tau_iterate(why_tau* tau);

/// Whether the last step was no more than `share` of τ² (of the least variance when τ² is smaller).
bool why_tau_test(const why_tau* tau, double share);

/// Iterate until the test holds or `most` steps are done; false when it never held.
bool why_tau_settle(why_tau* tau, double share, size_t most);

/// Standard error of τ² (large samples); NAN for WHY_TAU_FIXED.
double why_tau_error(const why_tau* tau);

#endif
