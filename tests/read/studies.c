// SPDX-License-Identifier: GPL-3.0-or-later
// Studies, reviews and measured muscles as read from the knowledge base. The numbers of rows are
// counts of the XML's own elements; the figures are those of the cited abstracts.
#include "shipped.h"

#include <criterion/criterion.h>
#include <math.h>
#include <string.h>

static why_tables* tables;

static void open_knowledge(void) {
  tables = shipped_open();
}

TestSuite(studies, .init = open_knowledge, .fini = shipped_close);

static why_symbol name(const char* text) {
  return why_symbols_find(tables->symbols, text);
}

static const char* text(why_symbol symbol) {
  return why_symbols_text(tables->symbols, symbol);
}

static const why_study* study(const char* id) {
  const why_study* found = why_study_find(&tables->studies, name(id));
  cr_assert_not_null(found, "no study %s", id);
  return found;
}

static const why_result* result(const why_study* of, const char* arm, const char* muscle) {
  for (size_t i = 0; i < of->results.count; i++)
    if (of->results.at[i].arm == name(arm) && of->results.at[i].muscle == name(muscle))
      return &of->results.at[i];
  cr_assert(false, "no result for %s in %s", muscle, arm);
  return NULL;
}

static const why_contrast* contrast(const why_study* of, const char* muscle) {
  for (size_t i = 0; i < of->contrasts.count; i++)
    if (of->contrasts.at[i].muscle == name(muscle))
      return &of->contrasts.at[i];
  cr_assert(false, "no contrast for %s", muscle);
  return NULL;
}

Test(studies, every_row_is_read) {
  size_t arms = 0, mappings = 0, unmapped = 0, results = 0, contrasts = 0, within = 0, overlaps = 0;
  for (size_t i = 0; i < tables->studies.rows.count; i++) {
    const why_study* each = &tables->studies.rows.at[i];
    arms += each->arms.count;
    results += each->results.count;
    contrasts += each->contrasts.count;
    within += each->within.count;
    overlaps += each->overlaps.count;
    for (size_t k = 0; k < each->arms.count; k++)
      for (size_t m = 0; m < each->arms.at[k].trained.count; m++) {
        mappings++;
        unmapped += !each->arms.at[k].trained.at[m].exercise;
      }
  }
  cr_expect_eq(tables->studies.rows.count, 239);
  cr_expect_eq(arms, 552);
  cr_expect_eq(mappings, 858);
  cr_expect_eq(unmapped, 61);
  cr_expect_eq(results, 819);
  cr_expect_eq(contrasts, 301);
  cr_expect_eq(within, 75);
  cr_expect_eq(overlaps, 16);
}

Test(studies, every_review_and_word_is_read) {
  size_t included = 0, more = 0;
  for (size_t i = 0; i < tables->reviews.rows.count; i++) {
    included += tables->reviews.rows.at[i].included.count;
    more += tables->reviews.rows.at[i].more.count;
  }
  cr_expect_eq(tables->reviews.rows.count, 26);
  cr_expect_eq(included, 254);
  cr_expect_eq(more, 53);
  cr_expect_eq(tables->measured_muscles.muscles.count, 93);
  cr_expect_eq(tables->measured_muscles.methods.count, 12);
}

/// No check of studies, muscles or reviews finds an error or warning in what the product ships.
Test(studies, own_checks_pass) {
  for (size_t i = 0; i < why_problems_count(shipped_problems()); i++) {
    why_problem problem = why_problems_at(shipped_problems(), i);
    if (problem.severity == WHY_NOTE || !problem.place.file)
      continue;
    bool own = strncmp(problem.place.file, "evidence/studies/", 17) == 0 ||
               strncmp(problem.place.file, "evidence/reviews/", 17) == 0;
    cr_expect_not(own, "%s:%u: %s", problem.place.file, problem.place.line, problem.text);
  }
}

/// Abstract, doi 10.1007/s00421-019-04181-y: gluteus maximus +6.7 (3.5) % after full squats and
/// +2.2 (2.6) % after half squats, adductors +6.2 and +2.7 %.
Test(studies, full_squat_against_half) {
  const why_study* depth = study("squat-depth-full-vs-half-2019");
  const why_result* full = result(depth, "full-squat", "gluteus maximus");
  const why_result* half = result(depth, "half-squat", "gluteus maximus");
  cr_expect_float_eq(full->change_pct, 6.7, 1e-9);
  cr_expect_float_eq(full->change_pct_sd, 3.5, 1e-9);
  cr_expect_float_eq(half->change_pct, 2.2, 1e-9);
  cr_expect_float_eq(result(depth, "full-squat", "adductors (whole)")->change_pct, 6.2, 1e-9);
  cr_expect(isnan(full->pre.mean), "the abstract gives no means");
  cr_expect_str_eq(text(full->basis.at[0]), "abstract");
  cr_expect_str_eq(text(why_study_arm(depth, full->arm)->trained.at[0].exercise),
                   "barbell-back-squat");
  cr_expect(depth->randomised && !depth->within_person);
}

/// Abstract, doi 10.3389/fphys.2023.1272106: lateral gastrocnemius +12.4 % standing, +1.7 % seated.
Test(studies, calf_raise_standing_against_seated) {
  const why_study* calf = study("calf-raise-standing-vs-seated-2023");
  const why_result* standing = result(calf, "standing", "gastrocnemius lateral head");
  cr_expect_float_eq(standing->change_pct, 12.4, 1e-9);
  const why_result* seated = result(calf, "seated", "gastrocnemius lateral head");
  cr_expect_float_eq(seated->change_pct, 1.7, 1e-9);
  cr_expect_float_eq(why_p_at_most(standing->p), 0.031, 1e-9);
  cr_expect(calf->randomised && calf->within_person);
}

/// Abstract, doi 10.3389/fphys.2023.1279170: quadriceps area grew 3.6 (standard error 1.5) cm2 more
/// after squats than after hip thrusts, 95 % interval 0.7 to 6.4.
Test(studies, squat_against_hip_thrust) {
  const why_study* thrust = study("squat-vs-hip-thrust-2023");
  const why_contrast* quadriceps = contrast(thrust, "quadriceps (whole)");
  cr_expect_float_eq(quadriceps->effect, 3.6, 1e-9);
  cr_expect_float_eq(quadriceps->effect_se, 1.5, 1e-9);
  cr_expect_float_eq(quadriceps->effect_ci95.low, 0.7, 1e-9);
  cr_expect_float_eq(quadriceps->effect_ci95.high, 6.4, 1e-9);
  cr_expect_str_eq(text(quadriceps->favours), "a");
  cr_expect_str_eq(text(why_study_arm(thrust, quadriceps->b)->trained.at[0].exercise),
                   "barbell-hip-thrust");
  cr_expect_eq(why_contrast_heads(tables, thrust, quadriceps).count, 4);
}

/// Abstract, "Time course for arm and chest muscle thickness changes following bench press
/// training" (Interventional Medicine and Applied Science, 2012): chest and triceps grew, biceps
/// did not.
Test(studies, bench_press_does_not_grow_the_biceps) {
  const why_study* press = study("bench-press-24-weeks-2012");
  size_t seen = 0;
  for (size_t i = 0; i < press->within.count; i++) {
    const why_within* finding = &press->within.at[i];
    bool biceps = finding->muscle == name("biceps brachii");
    cr_expect_str_eq(text(finding->says), biceps ? "no-growth" : "grew");
    seen += biceps;
  }
  cr_expect_eq(seen, 1);
}

Test(studies, heads_follow_the_method) {
  const why_measured_table* words = &tables->measured_muscles;
  why_symbol quadriceps = name("quadriceps (whole)");
  cr_expect_eq(why_measured_heads(words, quadriceps, name("MRI volume")).count, 4);
  cr_expect_eq(why_measured_heads(words, quadriceps, name("US thickness")).count, 2);
  cr_expect_eq(why_measured_heads(words, name("transversus abdominis"), 0).count, 0);
  cr_expect_eq(why_measured_heads(words, name("no such muscle"), 0).count, 0);
  cr_expect_str_eq(text(why_method_find(words, name("CT CSA"))->quantity), "area");
}

Test(studies, what_is_left_out_does_not_count) {
  const why_study* retracted = study("squat-vs-hip-thrust-women-retracted-2020");
  cr_expect_str_eq(why_result_uncounted(tables, retracted, &retracted->results.at[0]), "retracted");
  cr_expect_str_eq(why_contrast_uncounted(tables, retracted, &retracted->contrasts.at[0]),
                   "retracted");
  const why_study* creatine = study("creatine-arm-vs-placebo-arm-2004");
  const char* flexors = "elbow flexors (biceps and brachialis)";
  cr_expect_str_eq(
      why_result_uncounted(tables, creatine, result(creatine, "creatine-arm", flexors)),
      "supplement");
  cr_expect_null(why_result_uncounted(tables, creatine, result(creatine, "placebo-arm", flexors)));
}

Test(studies, overlapping_samples_count_once) {
  const why_study* later = study("knee-extension-heads-conventional-vs-isokinetic-2017");
  cr_expect_str_eq(why_result_uncounted(tables, later, &later->results.at[0]),
                   "overlapping-sample");
  // The other muscles of one trial, recorded apart, count on both sides.
  const why_study* arms = study("women-periodised-upper-arm-mri-2004");
  cr_expect_null(why_result_uncounted(tables, arms, &arms->results.at[0]));
}

Test(studies, places_point_into_the_files) {
  const why_study* depth = study("squat-depth-full-vs-half-2019");
  cr_expect_str_eq(depth->place.file, "evidence/studies/squat-depth-full-vs-half-2019.xml");
  cr_expect_gt(depth->arms.at[0].trained.at[0].place.line, depth->arms.at[0].place.line);
  cr_expect_gt(depth->results.at[0].place.line, depth->arms.at[1].place.line);
}

Test(p_value, bounds) {
  why_p exact = {.exact = 0.03, .below = NAN, .above = NAN, .said = ""};
  why_p below = {.exact = NAN, .below = 0.05, .above = NAN, .said = ""};
  why_p above = {.exact = NAN, .below = NAN, .above = 0.05, .said = ""};
  cr_expect_float_eq(why_p_at_most(exact), 0.03, 1e-9);
  cr_expect_float_eq(why_p_at_least(exact), 0.03, 1e-9);
  cr_expect_float_eq(why_p_at_most(below), 0.05, 1e-9);
  cr_expect(isnan(why_p_at_least(below)));
  cr_expect(isnan(why_p_at_most(above)));
  cr_expect_float_eq(why_p_at_least(above), 0.05, 1e-9);
}
