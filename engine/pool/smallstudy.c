// SPDX-License-Identifier: GPL-3.0-or-later
// Regression tests for small-study effects.
#include "smallstudy.h"

#include <math.h>

static why_effects against_error(const why_effects* effects, why_arena* arena) {
  double* design = WHY_NEW_ARRAY(arena, double, effects->count * 2);
  for (size_t i = 0; i < effects->count; i++) {
    design[2 * i] = 1;
    design[2 * i + 1] = sqrt(effects->variance[i]);
  }
  why_effects made = *effects;
  made.columns = 2;
  made.design = design;
  return made;
}

why_status why_small_study_mixed(const why_effects* effects, const why_pooling* how,
                                 why_arena* arena, why_small_study* test) {
  why_effects* made = WHY_NEW(arena, why_effects);
  *made = against_error(effects, arena);
  why_meta meta;
  why_status status = why_meta_pool(made, how, arena, &meta);
  if (status != WHY_OK)
    return status;
  test->limit = why_interval_coefficient(&meta.regression, 0, how->test);
  test->slope = why_interval_coefficient(&meta.regression, 1, how->test);
  test->statistic = test->slope.estimate / test->slope.error;
  return WHY_OK;
}

why_status why_small_study_weighted(const why_effects* effects, why_arena* arena,
                                    why_small_study* test) {
  // Estimating the scale of the residuals is what Hartung-Knapp does, here without τ².
  why_pooling how = why_pooling_usual();
  how.method = WHY_TAU_FIXED;
  how.test = WHY_TEST_HARTUNG_KNAPP;
  return effects->count < 3 ? WHY_QUESTION : why_small_study_mixed(effects, &how, arena, test);
}
