// SPDX-License-Identifier: GPL-3.0-or-later
// Pooled means, intervals and heterogeneity against another program and a textbook
// (tests/reference/pool/fits.txt, regressions.txt, small-studies.txt).
#include "pool/studies.h"

#include <criterion/criterion.h>
#include <math.h>
#include <stdio.h>

typedef struct {
  const char* name;
  double value;
  double second; ///< NAN: one value only.
} got_value;

static void check_if_expected(number_case* each, const char* name, double first, double second) {
  if (!number_expects(each, name))
    return;
  number_check_at(each, name, 0, first);
  if (!isnan(second))
    number_check_at(each, name, 1, second);
}

static void check_fit(number_case* each, const why_meta* meta) {
  const why_interval* mean = &meta->mean;
  bool restricted = meta->how.method == WHY_TAU_REML;
  why_interval same = why_interval_new_study(mean, meta->tau2, mean->df);
  double statistic = mean->error > 0 ? mean->estimate / mean->error : NAN;
  const got_value values[] = {
      {"estimate", mean->estimate, NAN},
      {"error", mean->error, NAN},
      {"statistic", statistic, NAN},
      {"p", mean->p, NAN},
      {"interval", mean->low, mean->high},
      {"tau2", meta->tau2, NAN},
      {"tau2-error", meta->tau2_error, NAN},
      {"tau2-interval", meta->tau2_low, meta->tau2_high},
      {"i2-pct", meta->spread.i2_pct, NAN},
      {"i2-interval", meta->i2_low_pct, meta->i2_high_pct},
      {"h2", meta->spread.h2, NAN},
      {"q", meta->spread.q, NAN},
      {"q-p", meta->spread.p, NAN},
      {"factor", meta->hartung_knapp, NAN},
      {"log-likelihood", why_regression_log_likelihood(&meta->regression, restricted), NAN},
      {"new-study", meta->new_study.low, meta->new_study.high},
      {"new-study-same-quantile", same.low, same.high},
  };
  for (size_t i = 0; i < sizeof values / sizeof *values; i++)
    check_if_expected(each, values[i].name, values[i].value, values[i].second);
  number_all_checked(each);
}

Test(pool_meta, agrees_with_another_program) {
  why_arena* arena = why_arena_new(0);
  number_cases cases = {0};
  number_cases_read("studies.txt", arena, &cases);
  size_t sets = cases.count;
  number_cases_read("fits.txt", arena, &cases);
  for (size_t i = sets; i < cases.count; i++) {
    why_pooling how = pooling_of(cases.at[i]);
    why_meta meta = pooled(studies_of(cases.at[i], 0, arena), &how, arena);
    check_fit(cases.at[i], &meta);
  }
  why_arena_free(arena);
}

static void check_coefficients(number_case* each, const why_meta* meta) {
  const why_regression* regression = &meta->regression;
  size_t p = regression->effects->columns;
  for (size_t j = 0; j < p; j++) {
    why_interval interval = why_interval_coefficient(regression, j, meta->how.test);
    number_check_at(each, "coefficients", j, interval.estimate);
    number_check_at(each, "errors", j, interval.error);
    number_check_at(each, "p", j, interval.p);
    number_check_at(each, "low", j, interval.low);
    number_check_at(each, "high", j, interval.high);
  }
  double factor = why_interval_factor(regression, meta->how.test);
  for (size_t j = 0; j < p * p; j++)
    number_check_at(each, "covariance", j, factor * regression->covariance[j]);
}

static void check_predictions(number_case* each, const why_meta* meta) {
  for (size_t k = 0; k < number_rows(each, "at"); k++) {
    char name[32];
    snprintf(name, sizeof name, "predicted-%zu", k + 1);
    double at[2] = {1, number_at(each, "at", k, 0)};
    why_interval mean = why_interval_predict(&meta->regression, at, meta->how.test);
    why_interval study = why_interval_new_study(&mean, meta->tau2, mean.df);
    const double values[] = {mean.estimate, mean.error, mean.low, mean.high, study.low, study.high};
    for (size_t i = 0; i < sizeof values / sizeof *values; i++)
      number_check_at(each, name, i, values[i]);
  }
}

Test(pool_meta, explains_by_moderators_as_another_program_does) {
  why_arena* arena = why_arena_new(0);
  number_cases cases = {0};
  number_cases_read("studies.txt", arena, &cases);
  size_t sets = cases.count;
  number_cases_read("regressions.txt", arena, &cases);
  for (size_t i = sets; i < cases.count; i++) {
    number_case* each = cases.at[i];
    why_pooling how = pooling_of(each);
    const why_effects* effects = studies_of(each, 0, arena);
    why_meta meta = pooled(effects, &how, arena);
    why_effects* bare = WHY_NEW(arena, why_effects);
    *bare = why_effects_plain(effects->effect, effects->variance, effects->count);
    why_meta without = pooled(bare, &how, arena);
    double p = NAN;
    number_check(each, "test", why_interval_test(&meta.regression, 1, how.test, &p));
    number_check(each, "test-p", p);
    number_check(each, "explained-pct", why_meta_explained_pct(&meta, &without));
    check_coefficients(each, &meta);
    check_predictions(each, &meta);
    check_fit(each, &meta);
  }
  why_arena_free(arena);
}

static void check_small_study(number_case* each, const why_effects* effects, why_arena* arena) {
  why_small_study test;
  why_pooling how = {WHY_TAU_REML, WHY_TEST_NORMAL, 1e-13, 500};
  bool weighted = number_is(each, "form", "weighted");
  why_status status = weighted ? why_small_study_weighted(effects, arena, &test)
                               : why_small_study_mixed(effects, &how, arena, &test);
  cr_assert_eq(status, WHY_OK);
  number_check(each, "statistic", test.statistic);
  number_check(each, "p", test.slope.p);
  number_check(each, "limit", test.limit.estimate);
  if (weighted) {
    number_check(each, "slope", test.slope.estimate);
    number_check(each, "slope-error", test.slope.error);
  } else {
    number_check_at(each, "limit", 1, test.limit.low);
    number_check_at(each, "limit", 2, test.limit.high);
  }
  number_all_checked(each);
}

Test(pool_meta, tests_small_studies_as_another_program_does) {
  why_arena* arena = why_arena_new(0);
  number_cases cases = {0};
  number_cases_read("studies.txt", arena, &cases);
  size_t sets = cases.count;
  number_cases_read("small-studies.txt", arena, &cases);
  for (size_t i = sets; i < cases.count; i++)
    check_small_study(cases.at[i], studies_of(cases.at[i], 0, arena), arena);
  why_arena_free(arena);
}
