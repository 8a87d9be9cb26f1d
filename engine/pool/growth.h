// SPDX-License-Identifier: GPL-3.0-or-later
/// The calibrated growth model over all findings: how much a head grows in people who train an
/// exercise, from mechanics and trials together. growth_design.h has its equation.
#ifndef WHY_POOL_GROWTH_H
#define WHY_POOL_GROWTH_H

#include "finding.h"
#include "mixed.h"

#include "body/body.h"

typedef struct why_growth why_growth;

/// What may predict growth beside the random effects.
typedef enum {
  WHY_BY_TRAINING,          ///< Trained or not: no mechanics.
  WHY_BY_STRESS,            ///< Moving stress.
  WHY_BY_STRESS_AND_LENGTH, ///< The same, more or less of it by fibre length.
  WHY_PREDICTORS
} why_predictors;

/// Where an estimate comes from, least first.
typedef enum {
  WHY_BASIS_MECHANICS, ///< No trial measured the head: a band, no number.
  WHY_BASIS_SAME_HEAD, ///< Trials measured the head, not after this exercise.
  WHY_BASIS_OWN_TRIALS
} why_growth_basis;

/// Growth of a head, or of several as one, in a new group of like people who train an exercise for
/// ten weeks with ten weekly sets, against no training; per cent of the size (area or volume).
typedef struct {
  double percent;
  double low; ///< Bounds of that mean, 95 %.
  double high;
  double new_low; ///< Bounds of what a new study of it would find but for its own sampling error.
  double new_high;
  why_growth_basis basis;
} why_estimate;

/// One head of a goal.
typedef struct {
  size_t head;   ///< Index in the tables.
  double weight; ///< Share of the goal's volume; the weights sum to 1.
} why_goal_head;

typedef struct {
  const why_goal_head* at;
  size_t count;
} why_goal;

typedef struct {
  why_predictors predictors;
  const why_feature* const* features; ///< Of all heads in each exercise of the catalogue, where the
                                      ///< caller has them; NULL: computed where needed.
} why_growth_settings;

/// Moving stress and fibre length.
why_growth_settings why_growth_settings_usual(void);

/// Fit to all findings. Everything given must outlive it; it lives in `arena`. WHY_KNOWLEDGE when
/// there are too few findings to fit, or a constant of the body model is missing.
why_status why_growth_fit(const why_tables* tables, const why_findings* findings,
                          const why_growth_settings* settings, why_arena* arena,
                          why_growth** growth);

/// Whether anything is expected of a head (indexes in the tables): the exercise moves it, or it was
/// measured after the exercise. Any other estimate is zero with a band.
bool why_growth_knows(const why_growth* growth, size_t exercise, size_t head);

/// For people who trained before (`trained` 1) or not (0). `exercise`: index in the tables.
void why_growth_estimate(const why_growth* growth, size_t exercise, const why_goal* goal,
                         double trained, why_arena* scratch, why_estimate* estimate);

/// The growth of `a` minus that of `b`, percentage points, by their joint covariance; basis: the
/// lesser one of both.
void why_growth_difference(const why_growth* growth, size_t a, size_t b, const why_goal* goal,
                           double trained, why_arena* scratch, why_estimate* difference);

/// What the model rests on, for reports and checks.
typedef struct {
  const why_mixed_data* data;
  const why_mixed_fit* fit;
  const char* const* columns; ///< Names of the coefficients.
  size_t studies;
  size_t arms;
  size_t cells;
  size_t sets_imputed;     ///< Rows with imputed sets or sessions,
  size_t weeks_imputed;    ///< or weeks.
  size_t differences;      ///< Rows that are differences between two arms.
  size_t unknown_training; ///< Findings of arms that trained what the catalogue does not have.
  double constants[6]; ///< Of thickness and volume (factors), sets, weeks (powers), trained (log
                       ///< factor), and the stress of half the growth.
  size_t rounds;       ///< Of Gauss-Newton steps.
  bool settled;
} why_growth_summary;

why_growth_summary why_growth_summarise(const why_growth* growth);

#endif
