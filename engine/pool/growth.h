// SPDX-License-Identifier: GPL-3.0-or-later
/// The calibrated growth model over all findings: how much a head grows in people who train an
/// exercise, from mechanics and trials together. growth_design.h has its equation; outlook.h is
/// what it says.
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
