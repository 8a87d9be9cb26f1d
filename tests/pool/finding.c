// SPDX-License-Identifier: GPL-3.0-or-later
// Findings and differences of the shipped studies. Numbers in comments and cases were computed with
// R 4.2.2 and metafor 3.8-1 from the figures that the studies print (their files name the sources).
#include "pool/pool.h"
#include "read/shipped.h"

#include <criterion/criterion.h>
#include <math.h>
#include <string.h>

static why_tables* tables;
static why_arena* arena;
static why_findings findings;

static void collect(const why_imputing* imputing) {
  cr_assert_eq(why_findings_collect(tables, imputing, arena, &findings), WHY_OK);
}

static void open_knowledge(void) {
  why_imputing usual = why_imputing_usual();
  tables = shipped_open();
  arena = why_arena_new(0);
  collect(&usual);
}

static void close_knowledge(void) {
  why_arena_free(arena);
  shipped_close();
}

TestSuite(pool_finding, .init = open_knowledge, .fini = close_knowledge);

static why_symbol name(const char* text) {
  return why_symbols_find(tables->symbols, text);
}

static const char* text(why_symbol symbol) {
  return why_symbols_text(tables->symbols, symbol);
}

static const why_finding* find(const char* study, const char* arm, const char* muscle,
                               const char* site) {
  for (size_t i = 0; i < findings.rows.count; i++) {
    const why_finding* each = &findings.rows.at[i];
    if (each->study->id == name(study) && each->arm->id == name(arm) &&
        each->result->muscle == name(muscle) && each->result->site == name(site))
      return each;
  }
  return NULL;
}

/// One finding a way of printing: growth and SD of changes by escalc("ROMC", ...) or by hand in R.
static const struct {
  const char* study;
  const char* arm;
  const char* muscle;
  const char* site;
  double log_growth;
  double change_sd;
  double correlation;
  why_spread_from from;
  bool bounded;
} KNOWN[] = {
    // 6.7 % with an SD of 3.5: ln 1.067, 0.035 / 1.067
    {"squat-depth-full-vs-half-2019", "full-squat", "gluteus maximus", "whole", 0.064850972320,
     0.032802249297, NAN, WHY_SPREAD_CHANGE, false},
    // 16.7 (2.6) to 17.7 (3.1), SD of change 1.2: r = (2.6^2 + 3.1^2 - 1.2^2) / (2 2.6 3.1)
    {"leg-programme-seated-calf-raise-older-2017", "men", "vastus lateralis", "50%", 0.058155920157,
     0.066364531520, 0.926178660050, WHY_SPREAD_CHANGE, false},
    // 665.4 (260) to 727.9 (283.6), interval of the change 37.68 to 87.44, n = 16
    {"flywheel-leg-press-stroke-2016", "flywheel-leg-press", "quadriceps (whole)", "whole",
     0.089775312540, 0.057900103447, 0.988993768874, WHY_SPREAD_INTERVAL, false},
    // 3.97 (1.49) to 4.77 (1.64) with the correlation for MRI, 0.95
    {"leg-curl-seated-vs-prone-2021", "seated", "biceps femoris long head", "30%", 0.183580210201,
     0.117881788672, 0.95, WHY_SPREAD_CORRELATION, false},
    // 12.4 % without a spread: that of MRI volume, 3.17 %
    {"calf-raise-standing-vs-seated-2023", "standing", "gastrocnemius lateral head", "whole",
     0.116893751471, 0.028202846975, NAN, WHY_SPREAD_METHOD, false},
    // 1.7 % in 14 people with p above 0.147: at least ln 1.017 sqrt(14) / qt(1 - 0.147/2, 13)
    {"calf-raise-standing-vs-seated-2023", "seated", "gastrocnemius lateral head", "whole",
     0.016857117066, 0.040897412751, NAN, WHY_SPREAD_METHOD, true},
};

Test(pool_finding, follow_from_what_is_printed) {
  for (size_t i = 0; i < sizeof KNOWN / sizeof *KNOWN; i++) {
    const why_finding* got = find(KNOWN[i].study, KNOWN[i].arm, KNOWN[i].muscle, KNOWN[i].site);
    cr_assert_not_null(got, "%s %s: no finding", KNOWN[i].study, KNOWN[i].muscle);
    cr_expect_float_eq(got->log_growth, KNOWN[i].log_growth, 1e-11, "%s", KNOWN[i].study);
    cr_expect_float_eq(got->change_sd, KNOWN[i].change_sd, 1e-11, "%s: %.12f", KNOWN[i].study,
                       got->change_sd);
    cr_expect_float_eq(got->variance, got->change_sd * got->change_sd / got->people, 1e-15);
    cr_expect_eq(got->spread_from, KNOWN[i].from);
    cr_expect_eq(got->spread_bounded, KNOWN[i].bounded);
    cr_expect(isnan(KNOWN[i].correlation) ? isnan(got->correlation)
                                          : fabs(got->correlation - KNOWN[i].correlation) < 1e-11);
  }
}

static bool has_reason(const char* study, const char* reason) {
  for (size_t i = 0; i < findings.unused.count; i++)
    if (findings.unused.at[i].study->id == name(study) &&
        strcmp(findings.unused.at[i].reason, reason) == 0)
      return true;
  return false;
}

static const why_finding* first_of(const char* study) {
  for (size_t i = 0; i < findings.rows.count; i++)
    if (findings.rows.at[i].study->id == name(study))
      return &findings.rows.at[i];
  return NULL;
}

Test(pool_finding, every_result_is_a_finding_or_has_a_reason) {
  size_t results = 0;
  for (size_t i = 0; i < tables->studies.rows.count; i++)
    results += tables->studies.rows.at[i].results.count;
  cr_expect_eq(findings.rows.count + findings.unused.count, results);
  for (size_t i = 0; i < findings.rows.count; i++) {
    const why_finding* each = &findings.rows.at[i];
    cr_expect(isfinite(each->log_growth) && each->variance > 0 && isfinite(each->variance));
    cr_expect(each->people >= 2 && each->people == floor(each->people));
    cr_expect_gt(each->heads.count, 0);
  }
}

Test(pool_finding, what_does_not_count_is_left_with_its_reason) {
  cr_expect(has_reason("squat-vs-hip-thrust-women-retracted-2020", "retracted"));
  cr_expect_null(first_of("squat-vs-hip-thrust-women-retracted-2020"));
  cr_expect(
      has_reason("knee-extension-heads-conventional-vs-isokinetic-2017", "overlapping-sample"));
  cr_expect(has_reason("women-periodised-upper-arm-mri-2004", "earlier-week"));
  cr_expect(has_reason("four-upper-exercises-small-first-2013", "overlapping-sample"),
            "its controls are those of another study");
  cr_expect(has_reason("back-squat-quadriceps-heads-2022", "no-growth-given"),
            "it prints changes in cm without a start");
}

Test(pool_finding, people_of_unknown_arms_are_shared_out) {
  // 103 people, of whom two arms of 35 and 46 are known: 11 in each of two control arms.
  const why_finding* control =
      find("leg-programme-seated-calf-raise-older-2017", "men-control", "vastus lateralis", "50%");
  cr_assert_not_null(control);
  cr_expect_eq(control->people, 11);
  cr_expect(control->people_imputed);
  // 22 people give 44 legs to three foot positions.
  const why_finding* toes = first_of("calf-raise-foot-position-2020");
  cr_assert_not_null(toes);
  cr_expect_eq(toes->people, 14);
}

Test(pool_finding, rows_stand_by_study) {
  for (size_t i = 1; i < findings.rows.count; i++)
    cr_expect_leq(why_symbol_compare(tables->symbols, findings.rows.at[i - 1].study->id,
                                     findings.rows.at[i].study->id),
                  0);
}

Test(pool_finding, share_people_as_the_studies_say) {
  const char* standing = "calf-raise-standing-vs-seated-2023";
  const why_finding* a = find(standing, "standing", "soleus", "whole");
  const why_finding* b = find(standing, "seated", "soleus", "whole");
  const why_finding* c = find(standing, "standing", "gastrocnemius medial head", "whole");
  const why_finding* d =
      find("squat-depth-full-vs-half-2019", "full-squat", "gluteus maximus", "whole");
  const why_finding* e =
      find("squat-depth-full-vs-half-2019", "half-squat", "gluteus maximus", "whole");
  double limbs = sqrt(a->variance * b->variance);
  double heads = sqrt(a->variance * c->variance);
  cr_expect_eq(why_finding_covariance(&findings, a, a), a->variance);
  cr_expect_float_eq(why_finding_covariance(&findings, a, b), 0.5 * limbs, 1e-15);
  cr_expect_float_eq(why_finding_covariance(&findings, a, c), 0.5 * heads, 1e-15);
  cr_expect_float_eq(why_finding_covariance(&findings, c, b),
                     0.25 * sqrt(c->variance * b->variance), 1e-15);
  cr_expect_eq(why_finding_covariance(&findings, d, e), 0, "groups of different people");
  cr_expect_eq(why_finding_covariance(&findings, a, d), 0);
}

/// Cholesky's method meets a square that is not positive exactly when the matrix is not definite.
Test(pool_finding, covariance_of_every_sample_is_positive_definite) {
  size_t most = findings.rows.count;
  for (size_t first = 0; first < most; first++) {
    size_t members[512];
    size_t count = 0;
    for (size_t i = first; i < most && count < 512; i++)
      if (findings.rows.at[i].sample == findings.rows.at[first].sample)
        members[count++] = i;
    double* l = WHY_NEW_ARRAY(arena, double, count* count);
    for (size_t i = 0; i < count; i++)
      for (size_t k = 0; k <= i; k++) {
        double sum = why_finding_covariance(&findings, &findings.rows.at[members[i]],
                                            &findings.rows.at[members[k]]);
        for (size_t j = 0; j < k; j++)
          sum -= l[i * count + j] * l[k * count + j];
        cr_assert(i != k || sum > 1e-12 * findings.rows.at[members[i]].variance, "%s",
                  text(findings.rows.at[first].sample));
        l[i * count + k] = i == k ? sqrt(sum) : sum / l[k * count + k];
      }
  }
}

Test(pool_finding, imputed_correlation_moves_imputed_spreads_only) {
  why_findings usual = findings;
  why_imputing low = why_imputing_usual();
  low.pre_post_correlation = 0.8;
  collect(&low);
  cr_assert_eq(findings.rows.count, usual.rows.count);
  for (size_t i = 0; i < usual.rows.count; i++) {
    const why_finding* a = &usual.rows.at[i];
    const why_finding* b = &findings.rows.at[i];
    if (a->spread_from != WHY_SPREAD_CORRELATION)
      cr_expect_eq(a->variance, b->variance);
    else if (!a->spread_bounded)
      cr_expect_gt(b->variance, a->variance);
  }
}

/// Root of the mean variance of per cent changes over training arms, weighted by people.
static double pooled_spread(const char* method) {
  double sum = 0;
  double people = 0;
  for (size_t i = 0; i < findings.rows.count; i++) {
    const why_finding* each = &findings.rows.at[i];
    double sd = each->result->change_pct_sd;
    if (each->result->method != name(method) || each->arm->control || isnan(sd))
      continue;
    sum += each->people * sd * sd;
    people += each->people;
  }
  return sqrt(sum / people);
}

/// The evidence says that these follow from the trials; they were computed from an earlier state of
/// them, so that a tenth is allowed.
Test(pool_finding, imputed_spreads_are_those_of_the_trials) {
  static const struct {
    const char* method;
    const char* of;
  } SPREADS[] = {
      {"MRI volume", "mri-volume"},
      {"MRI CSA", "mri-area"},
      {"US thickness", "ultrasound-thickness"},
      {"US volume (freehand 3D)", "ultrasound-volume"},
      {"anthropometric CSA estimate", "none-area"},
  };
  for (size_t i = 0; i < sizeof SPREADS / sizeof *SPREADS; i++) {
    const why_quantity* said = why_quantity_find(&tables->measurements, tables->symbols,
                                                 "change-spread", name(SPREADS[i].of));
    cr_assert_not_null(said);
    double found = pooled_spread(SPREADS[i].method);
    cr_expect_lt(fabs(found / said->amount.value - 1), 0.1, "%s: %.3f, but %.3f is said",
                 SPREADS[i].of, found, said->amount.value);
  }
}

static const why_difference* difference(const why_differences* all, const char* study,
                                        const char* muscle) {
  for (size_t i = 0; i < all->count; i++)
    if (all->at[i].a->study->id == name(study) && all->at[i].a->result->muscle == name(muscle))
      return &all->at[i];
  cr_assert_fail("%s: no difference for %s", study, muscle);
  return NULL;
}

Test(pool_finding, differences_take_a_printed_p_where_spreads_are_imputed) {
  why_differences all;
  why_differences_of(tables, &findings, arena, &all);
  // 12.4 % against 1.7 % in the legs of 14 people, p = 0.001: (ln 1.124 - ln 1.017) / qt(...)
  const why_difference* gastrocnemius =
      difference(&all, "calf-raise-standing-vs-seated-2023", "gastrocnemius lateral head");
  cr_expect(gastrocnemius->from_p);
  cr_assert_not_null(gastrocnemius->reported);
  cr_expect_str_eq(text(gastrocnemius->reported->favours), "a");
  cr_expect_float_eq(sqrt(gastrocnemius->variance), 0.023700692389, 1e-11);
  // Both arms print the SD of their changes: no p is needed, and the people differ.
  const why_difference* gluteus =
      difference(&all, "squat-depth-full-vs-half-2019", "gluteus maximus");
  cr_expect_not(gluteus->from_p);
  cr_expect_float_eq(gluteus->variance, gluteus->a->variance + gluteus->b->variance, 1e-15);
}

Test(pool_finding, a_control_arm_is_what_is_subtracted) {
  why_differences all;
  why_differences_of(tables, &findings, arena, &all);
  cr_expect_gt(all.count, 0);
  for (size_t i = 0; i < all.count; i++) {
    cr_expect(!all.at[i].a->arm->control || all.at[i].b->arm->control);
    cr_expect_gt(all.at[i].variance, 0);
    cr_expect_eq(all.at[i].a->study, all.at[i].b->study);
  }
}
