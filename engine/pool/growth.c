// SPDX-License-Identifier: GPL-3.0-or-later
// Fitting the growth model: the linear mixed model in a loop of Gauss-Newton steps for its
// constants.
#include "growth_model.h"

#include <math.h>
#include <string.h>

enum { MOST_ROUNDS = 25 };

/// Steps of constants below this share of their standard error are nothing; those above
/// LARGEST_STEP are shortened.
static const double SMALL_STEP = 0.01;
static const double LARGEST_STEP = 0.5;

/// Gains in log-likelihood at which the components are good enough on the way and at the end.
static const double ROUGH = 1e-3;
static const double FINE = 1e-10;

/// Where the constants start, which is where they stay when the data say nothing of them: sizes
/// alike, growth by the square root of dose (the measurement volume-square-root), people alike,
/// half of the growth at a fifth of the stress.
static const double START[WHY_CONSTANTS] = {
    [WHY_CONSTANT_SETS] = 0.5, [WHY_CONSTANT_WEEKS] = 0.5, [WHY_CONSTANT_HALF] = -1.5};

/// Fit once; columns that say nothing are held and tried no more.
static why_status fit_round(why_growth* growth, const double* start, double gain,
                            why_arena* arena) {
  why_mixed_settings settings = {.start = start, .starts = 1, .gain = gain};
  for (int tries = 0; tries <= WHY_CONSTANTS; tries++) {
    why_growth_setup_means(&growth->setup, arena);
    why_growth_design_new(&growth->setup, growth->findings, arena, &growth->data, &growth->kept);
    why_mixed_trouble trouble;
    if (why_mixed_fit_data(&growth->data, &settings, arena, &trouble, &growth->fit) == WHY_OK)
      return WHY_OK;
    if (trouble.fault != WHY_MIXED_BAD_COLUMN)
      return WHY_KNOWLEDGE;
    bool held = false;
    for (int k = 0; k < WHY_CONSTANTS; k++)
      if (why_growth_column_of_constant(&growth->setup, (why_constant)k) == trouble.index) {
        growth->setup.held[k] = held = true;
        break;
      }
    if (!held)
      return WHY_KNOWLEDGE;
  }
  return WHY_KNOWLEDGE;
}

/// Take the slopes over from the last fit; the constants move. Returns the largest step as
/// a share of its standard error.
static double step(why_growth* growth) {
  why_growth_setup* setup = &growth->setup;
  for (size_t k = 0; k < WHY_FEATURES; k++) {
    size_t column = why_growth_column_of_feature(setup, k);
    setup->slopes[k] = column == SIZE_MAX ? 0 : growth->fit.coefficients[column];
  }
  for (size_t k = 0; k < WHY_GROWTH_TERMS; k++)
    setup->modes[k] = growth->fit.modes[k];
  double largest = 0;
  for (int k = 0; k < WHY_CONSTANTS; k++) {
    size_t column = why_growth_column_of_constant(setup, (why_constant)k);
    if (column == SIZE_MAX)
      continue;
    double by = growth->fit.coefficients[column];
    double se = sqrt(growth->fit.covariance[column * (growth->fit.fixed_count + 1)]);
    largest = fmax(largest, fabs(by) / se);
    setup->constants[k] += fmax(-LARGEST_STEP, fmin(LARGEST_STEP, by));
  }
  return largest;
}

static void keep_components(const why_growth* growth, double* components) {
  for (size_t c = 0; c < growth->fit.component_count; c++)
    components[c] = growth->fit.components[c].value;
}

why_status why_growth_model_fit(why_growth* growth, const double* start, why_arena* arena) {
  double components[WHY_GROWTH_TERMS];
  why_growth_setup* setup = &growth->setup;
  if (start) {
    memcpy(components, start, sizeof components);
  } else {
    memcpy(setup->constants, START, sizeof setup->constants);
    setup->with_constants = false;
    if (fit_round(growth, NULL, ROUGH, arena) != WHY_OK)
      return WHY_KNOWLEDGE;
    step(growth);
    setup->with_constants = true;
    keep_components(growth, components);
  }
  growth->settled = false;
  for (growth->rounds = 0; growth->rounds < MOST_ROUNDS && !growth->settled; growth->rounds++) {
    if (fit_round(growth, components, ROUGH, arena) != WHY_OK)
      return WHY_KNOWLEDGE;
    keep_components(growth, components);
    growth->settled = step(growth) < SMALL_STEP;
  }
  return fit_round(growth, components, FINE, arena);
}

why_growth_settings why_growth_settings_usual(void) {
  return (why_growth_settings){.predictors = WHY_BY_STRESS_AND_LENGTH};
}

why_status why_growth_fit(const why_tables* tables, const why_findings* findings,
                          const why_growth_settings* settings, why_arena* arena,
                          why_growth** result) {
  why_growth* growth = WHY_NEW(arena, why_growth);
  growth->tables = tables;
  growth->findings = findings;
  bool plain = settings->predictors == WHY_BY_TRAINING;
  if (why_workbook_new(tables, plain, settings->features, arena, &growth->book) != WHY_OK)
    return WHY_KNOWLEDGE;
  why_growth_rows* rows = WHY_NEW(arena, why_growth_rows);
  why_growth_rows_collect(tables, findings, growth->book, arena, rows);
  growth->setup = (why_growth_setup){.rows = rows, .predictors = settings->predictors};
  *result = growth;
  if (why_growth_model_fit(growth, NULL, arena) != WHY_OK)
    return WHY_KNOWLEDGE;
  const bool wanted[WHY_GROWTH_TERMS] = {[WHY_TERM_HEAD] = true, [WHY_TERM_CELL] = true};
  growth->joint = why_mixed_joint_new(&growth->fit, wanted, arena);
  return WHY_OK;
}

why_growth_summary why_growth_summarise(const why_growth* growth) {
  const why_growth_rows* rows = growth->setup.rows;
  why_growth_summary summary = {.data = &growth->data,
                                .fit = &growth->fit,
                                .studies = rows->study_count,
                                .arms = rows->arm_count,
                                .cells = rows->cells.count,
                                .sets_imputed = rows->sets_imputed,
                                .weeks_imputed = rows->weeks_imputed,
                                .differences = rows->differences,
                                .unknown_training = rows->unknown_training,
                                .rounds = growth->rounds,
                                .settled = growth->settled};
  for (int k = 0; k < WHY_CONSTANTS; k++)
    summary.constants[k] = k <= WHY_CONSTANT_VOLUME || k == WHY_CONSTANT_HALF
                               ? exp(growth->setup.constants[k])
                               : growth->setup.constants[k];
  return summary;
}
