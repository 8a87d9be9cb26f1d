// SPDX-License-Identifier: GPL-3.0-or-later
// What trials of the trade are known for must come out of all findings together. The model is not
// told any of it; names of the trials stand beside each fact.
#include "pool/pool.h"
#include "read/shipped.h"

#include <criterion/criterion.h>
#include <math.h>

static why_arena* arena;
static const why_tables* tables;
static const why_outlook* outlook;

static void open_facts(void) {
  tables = shipped_open();
  arena = why_arena_new(0);
  why_findings* findings = WHY_NEW(arena, why_findings);
  why_growth* growth;
  why_imputing imputing = why_imputing_usual();
  why_growth_settings settings = why_growth_settings_usual();
  cr_assert_eq(why_findings_collect(tables, &imputing, arena, findings), WHY_OK);
  cr_assert_eq(why_growth_fit(tables, findings, &settings, arena, &growth), WHY_OK);
  outlook = why_outlook_new(growth, arena);
}

static void close_facts(void) {
  why_arena_free(arena);
  shipped_close();
}

TestSuite(growth_facts, .init = open_facts, .fini = close_facts);

static size_t exercise_named(const char* id) {
  const why_exercise* row =
      why_exercise_find(&tables->exercises, why_symbols_find(tables->symbols, id));
  cr_assert_not_null(row, "%s", id);
  return (size_t)(row - tables->exercises.rows.at);
}

static why_goal_head head_named(const char* id) {
  const why_head* row = why_head_find(&tables->anatomy, why_symbols_find(tables->symbols, id));
  cr_assert_not_null(row, "%s", id);
  return (why_goal_head){(size_t)(row - tables->anatomy.heads.at), 1};
}

static double growth_of(const char* exercise, const char* head) {
  why_goal_head part = head_named(head);
  why_goal goal = {&part, 1};
  why_estimate estimate;
  why_outlook_estimate(outlook, exercise_named(exercise), &goal, 1, arena, &estimate);
  cr_expect_eq(estimate.basis, WHY_BASIS_OWN_TRIALS, "%s, %s", exercise, head);
  return estimate.percent;
}

static why_estimate difference_of(const char* a, const char* b, const char* head) {
  why_goal_head part = head_named(head);
  const why_aim first = {exercise_named(a), {&part, 1}};
  const why_aim second = {exercise_named(b), {&part, 1}};
  why_estimate difference;
  why_outlook_difference(outlook, &first, &second, 1, arena, &difference);
  return difference;
}

/// The smallest difference that matters: see evidence/measurements/grade.xml.
static const double IMPORTANT = 2;

/// "Effects of squat training with different depths on lower limb muscle volumes", European Journal
/// of Applied Physiology, 2019, DOI 10.1007/s00421-019-04181-y.
Test(growth_facts, deep_squat_grows_thigh_and_buttock_and_hardly_hamstrings) {
  static const char* const GROWN[] = {"vastus-lateralis", "adductor-magnus-adductor-part",
                                      "gluteus-maximus-lower"};
  double hamstring = growth_of("barbell-back-squat", "biceps-femoris-long-head");
  cr_expect_lt(hamstring, IMPORTANT);
  for (size_t i = 0; i < sizeof GROWN / sizeof *GROWN; i++) {
    cr_expect_gt(growth_of("barbell-back-squat", GROWN[i]), IMPORTANT, "%s", GROWN[i]);
    cr_expect_gt(growth_of("barbell-back-squat", GROWN[i]), 2 * hamstring, "%s", GROWN[i]);
  }
}

/// "Hip thrust and back squat training elicit similar gluteus muscle hypertrophy and transfer
/// similarly to the deadlift", Frontiers in Physiology, 2023, DOI 10.3389/fphys.2023.1279170.
Test(growth_facts, hip_thrust_grows_gluteus_maximus_as_the_squat_does) {
  cr_expect_gt(growth_of("barbell-hip-thrust", "gluteus-maximus-lower"), IMPORTANT);
  why_estimate other =
      difference_of("barbell-hip-thrust", "barbell-back-squat", "gluteus-maximus-lower");
  cr_expect(other.low < 0 && other.high > 0);
}

/// "Greater Hamstrings Muscle Hypertrophy but Similar Damage Protection after Training at Long
/// versus Short Muscle Lengths", Medicine & Science in Sports & Exercise, 2021, DOI
/// 10.1249/MSS.0000000000002523.
Test(growth_facts, seated_curl_beats_prone_for_two_joint_hamstrings_only) {
  static const char* const TWO_JOINTS[] = {"biceps-femoris-long-head", "semimembranosus",
                                           "semitendinosus"};
  for (size_t i = 0; i < sizeof TWO_JOINTS / sizeof *TWO_JOINTS; i++)
    cr_expect_gt(difference_of("seated-leg-curl", "prone-leg-curl", TWO_JOINTS[i]).percent, 1, "%s",
                 TWO_JOINTS[i]);
  why_estimate one =
      difference_of("seated-leg-curl", "prone-leg-curl", "biceps-femoris-short-head");
  cr_expect(one.percent < 1 && one.low < 0 && one.high > 0);
}

/// "Triceps surae muscle hypertrophy is greater after standing versus seated calf-raise training",
/// Frontiers in Physiology, 2023, DOI 10.3389/fphys.2023.1272106.
Test(growth_facts, standing_raise_beats_seated_for_gastrocnemius) {
  static const char* const HEADS[] = {"gastrocnemius-medial-head", "gastrocnemius-lateral-head"};
  for (size_t i = 0; i < sizeof HEADS / sizeof *HEADS; i++)
    cr_expect_gt(difference_of("standing-calf-raise", "seated-calf-raise", HEADS[i]).percent,
                 IMPORTANT, "%s", HEADS[i]);
}

/// Refitted as usual, nothing moves; with another correlation something does.
Test(growth_facts, ranks_move_with_the_correlation_only) {
  why_sensitivity same;
  why_sensitivity low;
  cr_assert_eq(why_sensitivity_of(tables, outlook, NAN, arena, &same), WHY_OK);
  cr_assert_eq(why_sensitivity_of(tables, outlook, 0.8, arena, &low), WHY_OK);
  cr_expect_eq(same.first_moved, 0);
  cr_expect_float_eq(same.places, 0, 1e-12);
  cr_expect_float_eq(same.largest, 0, 1e-6);
  cr_expect(low.largest > 0.01 && low.heads == same.heads && low.first_moved < low.heads / 5);
}
