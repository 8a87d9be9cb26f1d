// SPDX-License-Identifier: GPL-3.0-or-later
// Effect sizes, conversions and covariances against another program and the handbook
// (tests/reference/pool/effects.txt, corrections.txt, deviations.txt, covariances.txt).
#include "pool/numbers.h"
#include "pool/pool.h"

#include <criterion/criterion.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

static why_sample group(const number_case* each, const char* mean, const char* sd, const char* n) {
  return (why_sample){number_of(each, mean), number_of(each, sd), number_of(each, n)};
}

static why_effect_size smd(const number_case* each, why_smd_variance how) {
  why_sample a = group(each, "m1i", "sd1i", "n1i");
  why_sample b = group(each, "m2i", "sd2i", "n2i");
  return why_effect_standardised(&a, &b, how);
}

static why_effect_size smd_ls(const number_case* each) {
  return smd(each, WHY_LARGE_SAMPLE);
}
static why_effect_size smd_ub(const number_case* each) {
  return smd(each, WHY_UNBIASED);
}
static why_effect_size smd_ls2(const number_case* each) {
  return smd(each, WHY_CORRECTED_AFTER);
}

static why_effect_size mean(const number_case* each) {
  why_sample only = group(each, "mi", "sdi", "ni");
  return why_effect_mean(&only);
}

static why_effect_size log_mean(const number_case* each) {
  why_sample only = group(each, "mi", "sdi", "ni");
  return why_effect_log_mean(&only);
}

static why_effect_size controlled_change(const number_case* each) {
  double r = number_of(each, "r");
  why_pairs a = {number_of(each, "n-t"),      number_of(each, "m-pre-t"),
                 number_of(each, "sd-pre-t"), number_of(each, "m-post-t"),
                 number_of(each, "sd-pre-t"), r};
  why_pairs b = {number_of(each, "n-c"),      number_of(each, "m-pre-c"),
                 number_of(each, "sd-pre-c"), number_of(each, "m-post-c"),
                 number_of(each, "sd-pre-c"), r};
  return why_effect_controlled_change(&a, &b);
}

static why_effect_size fisher_z(const number_case* each) {
  return why_effect_fisher_z(number_of(each, "ri"), number_of(each, "ni"));
}

static why_effect_size risk_ratio(const number_case* each) {
  return why_effect_log_risk_ratio(number_of(each, "ai"), number_of(each, "bi"),
                                   number_of(each, "ci"), number_of(each, "di"));
}

static why_effect_size odds_ratio(const number_case* each) {
  return why_effect_log_odds_ratio(number_of(each, "ai"), number_of(each, "bi"),
                                   number_of(each, "ci"), number_of(each, "di"));
}

/// The other program names the SD that a change is divided by sd1i, whichever it is.
static why_pairs pairs(const number_case* each) {
  double sd1 = number_of(each, "sd1i");
  double sd2 = number_of(each, "sd2i");
  return (why_pairs){.n = number_of(each, "ni"),
                     .mean_before = number_of(each, "m2i"),
                     .sd_before = isnan(sd2) ? sd1 : sd2,
                     .mean_after = number_of(each, "m1i"),
                     .sd_after = sd1,
                     .correlation = number_of(each, "ri")};
}

static const struct {
  const char* measure;
  why_effect_size (*of_groups)(const why_sample*, const why_sample*);
  why_effect_size (*of_pairs)(const why_pairs*);
  why_effect_size (*of_case)(const number_case*);
} MEASURES[] = {
    {.measure = "md", .of_groups = why_effect_difference},
    {.measure = "md-ho", .of_groups = why_effect_difference_alike},
    {.measure = "smd", .of_case = smd_ls},
    {.measure = "smd-ub", .of_case = smd_ub},
    {.measure = "smd-ls2", .of_case = smd_ls2},
    {.measure = "textbook", .of_case = smd_ls2},
    {.measure = "d", .of_groups = why_effect_standardised_raw},
    {.measure = "smdh", .of_groups = why_effect_standardised_unlike},
    {.measure = "smd1", .of_groups = why_effect_standardised_by_b},
    {.measure = "rom", .of_groups = why_effect_log_ratio},
    {.measure = "vr", .of_groups = why_effect_log_sd_ratio},
    {.measure = "cvr", .of_groups = why_effect_log_variation_ratio},
    {.measure = "mc", .of_pairs = why_effect_change},
    {.measure = "smcc", .of_pairs = why_effect_standardised_change},
    {.measure = "smcr", .of_pairs = why_effect_change_by_before},
    {.measure = "smcrh", .of_pairs = why_effect_change_by_after_unlike},
    {.measure = "romc", .of_pairs = why_effect_log_growth},
    {.measure = "percent-change", .of_pairs = why_effect_percent},
    {.measure = "controlled-change", .of_case = controlled_change},
    {.measure = "mean", .of_case = mean},
    {.measure = "mean-log", .of_case = log_mean},
    {.measure = "zcor", .of_case = fisher_z},
    {.measure = "log-risk-ratio", .of_case = risk_ratio},
    {.measure = "log-odds-ratio", .of_case = odds_ratio},
};

static why_effect_size computed(const number_case* each) {
  for (size_t i = 0; i < sizeof MEASURES / sizeof *MEASURES; i++) {
    if (!number_is(each, "measure", MEASURES[i].measure))
      continue;
    if (MEASURES[i].of_case)
      return MEASURES[i].of_case(each);
    if (MEASURES[i].of_pairs) {
      why_pairs both = pairs(each);
      return MEASURES[i].of_pairs(&both);
    }
    why_sample a = group(each, "m1i", "sd1i", "n1i");
    why_sample b = group(each, "m2i", "sd2i", "n2i");
    return MEASURES[i].of_groups(&a, &b);
  }
  cr_assert_fail("%s: no such measure", each->id);
  return (why_effect_size){NAN, NAN};
}

/// What some cases expect beside the effect.
static void check_rest(number_case* each) {
  why_sample a = group(each, "m1i", "sd1i", "n1i");
  why_sample b = group(each, "m2i", "sd2i", "n2i");
  if (number_is(each, "measure", "controlled-change")) {
    a = group(each, "m-pre-t", "sd-pre-t", "n-t");
    b = group(each, "m-pre-c", "sd-pre-c", "n-c");
  }
  if (number_expects(each, "pooled-sd"))
    number_check(each, "pooled-sd", why_pooled_sd(&a, &b));
  if (number_expects(each, "correction")) {
    number_check(each, "correction", why_small_sample(a.n + b.n - 2));
    number_check(each, "raw", why_effect_standardised_raw(&a, &b).value);
    number_check(each, "raw-variance", why_effect_standardised_raw(&a, &b).variance);
  }
  if (number_expects(each, "sd-of-change")) {
    why_pairs p = pairs(each);
    double sd = why_sd_of_change(p.sd_before, p.sd_after, p.correlation);
    number_check(each, "sd-of-change", sd);
    number_check(each, "variance-with-fixed-start", pow(100 * sd / p.mean_before, 2) / p.n);
  }
}

Test(pool_effect, agrees_with_another_program) {
  why_arena* arena = why_arena_new(0);
  number_cases cases = {0};
  number_cases_read("effects.txt", arena, &cases);
  for (size_t i = 0; i < cases.count; i++) {
    why_effect_size effect = computed(cases.at[i]);
    number_check(cases.at[i], "value", effect.value);
    number_check(cases.at[i], "variance", effect.variance);
    check_rest(cases.at[i]);
    number_all_checked(cases.at[i]);
  }
  why_arena_free(arena);
}

Test(pool_effect, corrects_small_samples_exactly) {
  why_arena* arena = why_arena_new(0);
  number_cases cases = {0};
  number_cases_read("corrections.txt", arena, &cases);
  for (size_t i = 0; i < cases.count; i++)
    number_check(cases.at[i], "exact", why_small_sample(number_of(cases.at[i], "df")));
  why_arena_free(arena);
}

static void check_crossover(number_case* each) {
  double at[6];
  for (size_t i = 0; i < 6; i++)
    at[i] = number_at(each, "crossover", 0, i);
  why_sample a = {at[1], at[2], at[0]};
  why_sample b = {at[3], at[4], at[0]};
  why_pairs both = {at[0], at[3], at[4], at[1], at[2], at[5]};
  why_effect_size standardised = why_effect_within_people(&a, &b, at[5]);
  double error = sqrt(why_effect_change(&both).variance);
  number_check(each, "sd-of-difference", why_sd_of_change(at[2], at[4], at[5]));
  number_check(each, "error", error);
  number_check(each, "printed-error", error);
  number_check(each, "standardised", standardised.value);
  number_check(each, "printed-standardised", standardised.value);
  number_check(each, "standardised-error", sqrt(standardised.variance));
  number_check(each, "printed-standardised-error", sqrt(standardised.variance));
}

static void check_join(number_case* each) {
  why_sample a = {number_at(each, "join", 0, 0), number_at(each, "join", 0, 1),
                  number_at(each, "join", 0, 2)};
  why_sample b = {number_at(each, "join", 0, 3), number_at(each, "join", 0, 4),
                  number_at(each, "join", 0, 5)};
  why_sample both = why_sample_join(&a, &b);
  number_check(each, "n", both.n);
  number_check(each, "mean", both.mean);
  number_check(each, "sd", both.sd);
}

static void check_sd(number_case* each) {
  const char* word = each->id;
  double a = number_at(each, word, 0, 0);
  double b = number_at(each, word, 0, 1);
  double c = number_at(each, word, 0, 2);
  double d = number_at(each, word, 0, 3);
  double sd = NAN;
  if (strcmp(word, "from-error") == 0)
    sd = why_sd_from_error(a, b);
  else if (strcmp(word, "from-interval") == 0)
    sd = why_sd_from_interval(a, b, c);
  else if (strcmp(word, "from-interval-large") == 0)
    sd = why_sd_from_interval_large(a, b, c);
  else if (strcmp(word, "from-t-between") == 0)
    sd = why_sd_from_t_between(a, b, c, d);
  else if (strcmp(word, "from-t") == 0)
    sd = why_sd_from_t(a, b, c);
  else if (strcmp(word, "from-quartiles") == 0)
    sd = why_sd_from_quartiles(a, b);
  number_check(each, "sd", sd);
}

Test(pool_effect, converts_as_the_handbook_does) {
  why_arena* arena = why_arena_new(0);
  number_cases cases = {0};
  number_cases_read("deviations.txt", arena, &cases);
  for (size_t i = 0; i < cases.count; i++) {
    number_case* each = cases.at[i];
    double at[3] = {number_at(each, "sds", 0, 0), number_at(each, "sds", 0, 1),
                    number_at(each, "sds", 0, 2)};
    if (number_text(each, "sds", 0)) {
      number_check(each, "correlation", why_correlation_from_sds(at[0], at[1], at[2]));
      number_check(each, "printed", why_correlation_from_sds(at[0], at[1], at[2]));
    } else if (number_text(each, "borrowed", 0)) {
      number_check(each, "sd-of-change",
                   why_sd_of_change(number_at(each, "borrowed", 0, 0),
                                    number_at(each, "borrowed", 0, 1),
                                    number_at(each, "borrowed", 0, 2)));
    } else if (number_text(each, "crossover", 0)) {
      check_crossover(each);
    } else if (number_text(each, "join", 0)) {
      check_join(each);
    } else {
      check_sd(each);
    }
    number_all_checked(each);
  }
  why_arena_free(arena);
}

Test(pool_effect, gives_no_deviation_where_none_follows) {
  cr_expect(isnan(why_sd_from_error(0, 12)));
  cr_expect(isnan(why_sd_from_interval(2, 2, 12)));
  cr_expect(isnan(why_sd_from_interval(1, 2, 1)));
  cr_expect(isnan(why_sd_from_p(3, 0, 12)));
  cr_expect(isnan(why_sd_from_p(3, 1, 12)));
  cr_expect(isnan(why_sd_from_p(0, 0.5, 12)));
  cr_expect(isnan(why_correlation_from_sds(1, 1, 3)));
}

/// By hand: t with 11 degrees of freedom has 0.05 beyond 2.200985 on both sides.
Test(pool_effect, takes_an_exact_p_back_to_its_deviation) {
  cr_expect_float_eq(why_sd_from_p(6, 0.05, 12), 6 * sqrt(12) / 2.2009851600830, 1e-9);
  cr_expect_float_eq(why_sd_from_p(-6, 0.05, 12), why_sd_from_p(6, 0.05, 12), 0);
}

static void check_matrix_of_findings(number_case* each) {
  size_t rows = number_rows(each, "finding");
  for (size_t i = 0; i < rows; i++)
    for (size_t k = 0; k < rows; k++) {
      char name[32];
      double va = number_at(each, "finding", i, 1);
      double vb = number_at(each, "finding", k, 1);
      bool same = number_at(each, "finding", i, 0) == number_at(each, "finding", k, 0);
      double r = i == k ? 1 : same ? number_of(each, "correlation") : 0;
      snprintf(name, sizeof name, "row-%zu", i + 1);
      number_check_at(each, name, k, why_covariance_same_people(va, vb, r));
    }
}

static void check_matrix_of_contrasts(number_case* each) {
  double na = number_at(each, "contrast", 0, 0);
  double nb = number_at(each, "contrast", 1, 0);
  double shared = number_at(each, "contrast", 0, 1);
  double va = number_at(each, "contrast", 0, 2);
  double vb = number_at(each, "contrast", 1, 2);
  number_check_at(each, "row-1", 0, va);
  number_check_at(each, "row-1", 1, why_covariance_shared_group(va, vb, na, nb, shared));
  number_check_at(each, "row-2", 0, why_covariance_shared_group(vb, va, nb, na, shared));
  number_check_at(each, "row-2", 1, vb);
}

Test(pool_effect, knows_what_dependent_effects_share) {
  why_arena* arena = why_arena_new(0);
  number_cases cases = {0};
  number_cases_read("covariances.txt", arena, &cases);
  for (size_t i = 0; i < cases.count; i++) {
    if (number_text(cases.at[i], "finding", 0))
      check_matrix_of_findings(cases.at[i]);
    else
      check_matrix_of_contrasts(cases.at[i]);
    number_all_checked(cases.at[i]);
  }
  why_arena_free(arena);
}
