// SPDX-License-Identifier: GPL-3.0-or-later
// Leaving studies out, weights and modes against another program
// (tests/reference/pool/influence.txt).
#include "pool/studies.h"

#include <criterion/criterion.h>
#include <math.h>

static const why_pooling NORMAL = {WHY_TAU_REML, WHY_TEST_NORMAL, 1e-13, 500};
static const why_pooling COMMON = {WHY_TAU_FIXED, WHY_TEST_NORMAL, 1e-13, 500};

static void check_without(number_case* each, size_t i, const why_influence* out) {
  const why_meta* rest = &out->without;
  why_interval scaled = why_interval_coefficient(&rest->regression, 0, WHY_TEST_HARTUNG_KNAPP);
  number_check_at(each, "without-estimate", i, rest->mean.estimate);
  number_check_at(each, "without-error", i, rest->mean.error);
  number_check_at(each, "without-p", i, rest->mean.p);
  number_check_at(each, "without-low", i, rest->mean.low);
  number_check_at(each, "without-high", i, rest->mean.high);
  number_check_at(each, "without-q", i, rest->spread.q);
  number_check_at(each, "without-tau2", i, rest->tau2);
  number_check_at(each, "without-i2-pct", i, rest->spread.i2_pct);
  number_check_at(each, "without-hk-error", i, scaled.error);
  number_check_at(each, "without-hk-p", i, scaled.p);
  number_check_at(each, "without-hk-low", i, scaled.low);
  number_check_at(each, "without-hk-high", i, scaled.high);
  number_check_at(each, "studentised", i, out->studentised);
  number_check_at(each, "shift", i, out->shift);
  number_check_at(each, "cook", i, out->cook);
  number_check_at(each, "leverage", i, out->leverage);
}

static void check_study(number_case* each, size_t i, const why_meta* whole, const why_meta* common,
                        why_arena* arena) {
  double error = NAN;
  number_check_at(each, "weights-pct", i, why_meta_weight_pct(whole, i));
  number_check_at(each, "weights-common-pct", i, why_meta_weight_pct(common, i));
  number_check_at(each, "mode", i, why_meta_mode(whole, i, &error));
  number_check_at(each, "mode-error", i, error);
  why_meta first = pooled(studies_of(each, i + 1, arena), &NORMAL, arena);
  number_check_at(each, "first-estimate", i, first.mean.estimate);
  number_check_at(each, "first-error", i, first.mean.error);
  number_check_at(each, "first-tau2", i, first.tau2);
  why_influence out;
  cr_assert_eq(why_influence_of(whole, i, arena, &out), WHY_OK);
  check_without(each, i, &out);
}

Test(pool_influence, agrees_with_another_program) {
  why_arena* arena = why_arena_new(0);
  number_cases cases = {0};
  number_cases_read("studies.txt", arena, &cases);
  size_t sets = cases.count;
  number_cases_read("influence.txt", arena, &cases);
  for (size_t c = sets; c < cases.count; c++) {
    const why_effects* effects = studies_of(cases.at[c], 0, arena);
    why_meta whole = pooled(effects, &NORMAL, arena);
    why_meta common = pooled(effects, &COMMON, arena);
    for (size_t i = 0; i < effects->count; i++)
      check_study(cases.at[c], i, &whole, &common, arena);
    number_all_checked(cases.at[c]);
  }
  why_arena_free(arena);
}
