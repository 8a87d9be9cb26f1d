// SPDX-License-Identifier: GPL-3.0-or-later
// Two exercises beside each other: the figures are those of the model and of the picks, the words
// follow from the figures, and the order in which they are named changes nothing.
#include "pick/pick.h"
#include "told.h"

#include <criterion/criterion.h>
#include <math.h>
#include <string.h>

static why_knowledge* knowledge;

static void set_up(void) {
  knowledge = told_open(0, 0);
}

static void tear_down(void) {
  why_knowledge_free(knowledge);
}

TestSuite(versus, .init = set_up, .fini = tear_down);

static json_t* compare(const char* a, const char* b, const char* goal, const char* level) {
  why_status status;
  json_t* made =
      told_json(knowledge,
                &(told_question){
                    .task = WHY_COMPARE, .exercise = a, .other = b, .goal = goal, .level = level},
                &status);
  cr_assert_eq(status, WHY_OK, "%s, %s", a, b);
  return made;
}

static double figure(const json_t* estimate, const char* name) {
  const json_t* found = json_object_get(estimate, name);
  cr_assert(json_is_number(found), "%s", name);
  return json_number_value(found);
}

static const char* word(const json_t* answer, const char* name) {
  const char* found = json_string_value(json_object_get(answer, name));
  return found ? found : "";
}

static const char* const PAIRS[][3] = {
    {"seated-leg-curl", "prone-leg-curl", "hamstrings"},
    {"seated-leg-curl", "nordic-curl", "hamstrings"},
    {"leg-press", "barbell-hip-thrust", "quadriceps"},
    {"leg-press", "hack-squat", "quadriceps"},
    {"barbell-bench-press", "push-up", "chest"},
    {"standing-calf-raise", "seated-calf-raise", "calves"},
    {"barbell-curl", "incline-dumbbell-curl", "biceps"},
    {"barbell-back-squat", "romanian-deadlift", "glutes"},
};

enum { PAIR_COUNT = sizeof PAIRS / sizeof *PAIRS };

static const char* other_side(const char* of) {
  return strcmp(of, "a") == 0 ? "b" : strcmp(of, "b") == 0 ? "a" : of;
}

Test(versus, order_of_names_changes_nothing) {
  for (size_t i = 0; i < PAIR_COUNT; i++) {
    json_t* there = compare(PAIRS[i][0], PAIRS[i][1], PAIRS[i][2], NULL);
    json_t* back = compare(PAIRS[i][1], PAIRS[i][0], PAIRS[i][2], NULL);
    const json_t* d = json_object_get(there, "difference");
    const json_t* e = json_object_get(back, "difference");
    cr_expect_float_eq(figure(d, "percent_per_10_weeks"), -figure(e, "percent_per_10_weeks"), 1e-9);
    cr_expect_float_eq(figure(d, "low"), -figure(e, "high"), 1e-9);
    cr_expect_str_eq(word(there, "verdict"), other_side(word(back, "verdict")));
    cr_expect_str_eq(word(there, "leans"), other_side(word(back, "leans")));
    cr_expect_str_eq(word(there, "certainty"), word(back, "certainty"), "%s %s: %s, %s",
                     PAIRS[i][0], PAIRS[i][1], word(there, "certainty"), word(back, "certainty"));
    json_decref(there);
    json_decref(back);
  }
}

/// The definition of the verdicts, worked out again from the figures that are shown.
static const char* verdict_of(double low, double high) {
  return low >= -2 && high <= 2 ? "about-equal" : low > 0 ? "a" : high < 0 ? "b" : "unclear";
}

Test(versus, verdict_follows_from_the_figures_shown) {
  static const char* const LEVELS[] = {NULL, "beginner"};
  for (size_t i = 0; i < 2 * (size_t)PAIR_COUNT; i++) {
    const char* const* pair = PAIRS[i / 2];
    json_t* answer = compare(pair[0], pair[1], pair[2], LEVELS[i % 2]);
    const json_t* d = json_object_get(answer, "difference");
    double percent = figure(d, "percent_per_10_weeks");
    cr_expect_str_eq(word(answer, "verdict"), verdict_of(figure(d, "low"), figure(d, "high")));
    cr_expect_str_eq(word(answer, "leans"), percent > 0 ? "a" : percent < 0 ? "b" : "");
    json_decref(answer);
  }
}

/// Each side says what a pick of it says.
Test(versus, sides_agree_with_picks) {
  json_t* answer = compare("seated-leg-curl", "romanian-deadlift", "hamstrings", NULL);
  why_status status;
  json_t* picks = told_json(
      knowledge, &(told_question){.task = WHY_PICK, .goal = "hamstrings", .top = "all"}, &status);
  size_t found = 0;
  size_t i;
  const json_t* side;
  json_array_foreach(json_object_get(answer, "sides"), i, side) {
    const json_t* pick =
        json_array_get(json_object_get(picks, "picks"), (size_t)figure(side, "number") - 1);
    cr_expect_str_eq(word(pick, "exercise"), word(side, "exercise"));
    found +=
        (size_t)json_equal(json_object_get(pick, "estimate"), json_object_get(side, "estimate"));
  }
  cr_expect_eq(found, 2);
  json_decref(picks);
  json_decref(answer);
}

/// A head alone: its difference is that of the model, to one decimal.
Test(versus, difference_is_that_of_the_model) {
  why_arena* arena = why_arena_new(0);
  const why_ground* ground = why_knowledge_ground(knowledge);
  const why_exercise* rows = ground->tables->exercises.rows.at;
  why_symbol head = why_symbols_find(ground->symbols, "semimembranosus");
  why_goal_head part = {
      (size_t)(why_head_find(&ground->tables->anatomy, head) - ground->tables->anatomy.heads.at),
      1};
  why_aim aims[2];
  for (int i = 0; i < 2; i++) {
    why_symbol id = why_symbols_find(ground->symbols, PAIRS[0][i]);
    aims[i] =
        (why_aim){(size_t)(why_exercise_find(&ground->tables->exercises, id) - rows), {&part, 1}};
  }
  why_estimate expected;
  why_outlook_difference(ground->outlook, &aims[0], &aims[1], 1, arena, &expected);
  json_t* answer = compare(PAIRS[0][0], PAIRS[0][1], "semimembranosus", NULL);
  const json_t* d = json_object_get(answer, "difference");
  cr_expect_float_eq(figure(d, "percent_per_10_weeks"), expected.percent, 0.0501);
  cr_expect_float_eq(figure(d, "low"), expected.low, 0.0501);
  cr_expect_float_eq(figure(d, "high"), expected.high, 0.0501);
  json_decref(answer);
  why_arena_free(arena);
}

/// Nothing to compare is no pick; danger is a referral; one exercise twice is a wrong question.
Test(versus, what_cannot_be_compared) {
  why_status status;
  told_question question = {
      .task = WHY_COMPARE, .exercise = "leg-press", .other = "hack-squat", .goal = "biceps"};
  json_t* answer = told_json(knowledge, &question, &status);
  cr_expect_eq(status, WHY_NO_PICK);
  cr_expect(json_is_null(json_object_get(answer, "difference")));
  json_decref(answer);
  question.goal = "quadriceps";
  question.avoid = "chest pain";
  answer = told_json(knowledge, &question, &status);
  cr_expect_eq(status, WHY_NO_PICK);
  cr_expect_gt(json_array_size(json_object_get(answer, "referrals")), 0);
  cr_expect(json_is_null(json_object_get(answer, "verdict")));
  json_decref(answer);
  question.other = "leg-press";
  cr_expect_null(told_text(knowledge, &question, &status));
  cr_expect_eq(status, WHY_QUESTION);
}
