// SPDX-License-Identifier: GPL-3.0-or-later
// What differs between two answers, held against the two lists of picks; and knowledge bases
// without some of their parts.
#include "told.h"

#include <criterion/criterion.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static why_knowledge* open_without(const char* ids) {
  why_knowledge* knowledge = NULL;
  why_problems* problems = NULL;
  const why_settings settings = {.leave_out = ids};
  cr_assert_eq(why_knowledge_open(WHY_HOME, &settings, &knowledge, &problems), WHY_OK, "%s", ids);
  why_problems_free(problems);
  return knowledge;
}

/// What is asked besides the goal; NULL where nothing is.
typedef struct {
  const char* goal;
  const char* have;
  const char* without;
  const char* avoid;
  const char* level;
} terms;

static why_query* query_of(const why_knowledge* knowledge, const terms* asked) {
  why_query* query = why_query_new(knowledge);
  cr_assert_eq(why_query_set(query, WHY_GOAL, asked->goal), WHY_OK);
  cr_assert_eq(why_query_set(query, WHY_TOP, "all"), WHY_OK);
  if (asked->have)
    cr_assert_eq(why_query_add(query, WHY_HAVE, asked->have), WHY_OK);
  if (asked->without)
    cr_assert_eq(why_query_add(query, WHY_WITHOUT, asked->without), WHY_OK);
  if (asked->avoid)
    cr_assert_eq(why_query_add(query, WHY_AVOID, asked->avoid), WHY_OK);
  if (asked->level)
    cr_assert_eq(why_query_set(query, WHY_LEVEL, asked->level), WHY_OK);
  return query;
}

/// The picks of a query, asked apart.
typedef struct {
  why_query* query;
  why_answer* answer;
} picks;

static picks picks_of(const why_knowledge* knowledge, const terms* asked) {
  picks made = {.query = query_of(knowledge, asked)};
  why_status status = why_run(made.query, WHY_PICK, &made.answer);
  cr_assert(status == WHY_OK || status == WHY_NO_PICK);
  return made;
}

/// The number of an exercise among the picks; 0: it is none.
static size_t number_of(const picks* of, const char* exercise, why_pick* pick) {
  for (size_t i = 0; i < why_answer_count(of->answer); i++) {
    *pick = why_answer_at(of->answer, i);
    if (strcmp(pick->exercise, exercise) == 0)
      return i + 1;
  }
  return 0;
}

static json_t* differ(const why_knowledge* a, const terms* asked, const why_knowledge* b,
                      const terms* changed) {
  why_query* before = query_of(a, asked);
  why_query* after = query_of(b, changed);
  why_answer* answer = NULL;
  cr_assert_eq(why_differ(before, after, WHY_PICK, &answer), WHY_OK);
  char* text = told_answer(answer);
  json_t* json = json_loads(text, 0, NULL);
  free(text);
  why_answer_free(answer);
  why_query_free(after);
  why_query_free(before);
  return json;
}

static size_t told_number(const json_t* shift, const char* side) {
  return (size_t)json_integer_value(json_object_get(json_object_get(shift, side), "number"));
}

/// Of the whole goal, or of a head.
static double growth_of(const json_t* stand) {
  return json_number_value(
      json_object_get(json_object_get(stand, "estimate"), "percent_per_10_weeks"));
}

static const json_t* find_shift(const json_t* shifts, const char* exercise) {
  for (size_t i = 0; i < json_array_size(shifts); i++) {
    const json_t* shift = json_array_get(shifts, i);
    if (strcmp(json_string_value(json_object_get(shift, "exercise")), exercise) == 0)
      return shift;
  }
  return NULL;
}

/// Every pick of `some` is told as it stands in both, or is the same in both.
static size_t check_side(const json_t* shifts, const picks* some, const picks* other,
                         const char* side, const char* other_side) {
  size_t same = 0;
  for (size_t i = 0; i < why_answer_count(some->answer); i++) {
    why_pick own = why_answer_at(some->answer, i);
    why_pick beside = {0};
    size_t number = number_of(other, own.exercise, &beside);
    const json_t* shift = find_shift(shifts, own.exercise);
    if (!shift) {
      cr_expect_eq(number, i + 1, "%s", own.exercise);
      cr_expect_eq(own.step, beside.step, "%s", own.exercise);
      same++;
      continue;
    }
    cr_expect_eq(told_number(shift, side), i + 1, "%s", own.exercise);
    cr_expect_eq(told_number(shift, other_side), number, "%s", own.exercise);
    cr_expect(number != i + 1 || own.step != beside.step || own.certainty != beside.certainty ||
              growth_of(json_object_get(shift, "before")) !=
                  growth_of(json_object_get(shift, "after")));
  }
  return same;
}

/// Whether anything came, went or changed without a reason.
static void expect_reasons(const json_t* shifts) {
  for (size_t i = 0; i < json_array_size(shifts); i++) {
    const json_t* shift = json_array_get(shifts, i);
    const char* what = json_string_value(json_object_get(shift, "what"));
    if (strcmp(what, "moved") == 0 || strcmp(what, "pushed") == 0 || strcmp(what, "slight") == 0)
      continue;
    cr_expect_gt(json_array_size(json_object_get(shift, "because")), 0, "%s %s",
                 json_string_value(json_object_get(shift, "exercise")), what);
  }
}

/// The whole check of one pair; how many shifts there are.
static size_t check_pair(const why_knowledge* a, const terms* asked, const why_knowledge* b,
                         const terms* changed) {
  picks before = picks_of(a, asked);
  picks after = picks_of(b, changed);
  json_t* json = differ(a, asked, b, changed);
  const json_t* goal = json_array_get(json_object_get(json, "goals"), 0);
  const json_t* shifts = json_object_get(goal, "shifts");
  size_t same = check_side(shifts, &before, &after, "before", "after");
  cr_expect_eq(check_side(shifts, &after, &before, "after", "before"), same);
  cr_expect_eq((size_t)json_integer_value(json_object_get(goal, "same")), same);
  expect_reasons(shifts);
  size_t count = json_array_size(shifts);
  json_decref(json);
  why_query_free(after.query);
  why_query_free(before.query);
  return count;
}

Test(difference, tells_exactly_what_two_answers_tell) {
  static const terms PAIRS[][2] = {
      {{.goal = "hamstrings"}, {.goal = "hamstrings", .without = "machine"}},
      {{.goal = "hamstrings", .have = "dumbbells"},
       {.goal = "hamstrings", .have = "dumbbells,seated-leg-curl-machine"}},
      {{.goal = "quadriceps", .avoid = "axial-load"}, {.goal = "quadriceps"}},
      {{.goal = "chest", .have = "nothing"},
       {.goal = "chest", .have = "nothing", .level = "beginner"}},
      {{.goal = "triceps", .have = "hotel-room"}, {.goal = "biceps", .have = "hotel-room"}},
  };
  why_knowledge* knowledge = told_open(0, 0);
  for (size_t i = 0; i < sizeof PAIRS / sizeof *PAIRS; i++) {
    cr_expect_gt(check_pair(knowledge, &PAIRS[i][0], knowledge, &PAIRS[i][1]), 0, "pair %zu", i);
    cr_expect_gt(check_pair(knowledge, &PAIRS[i][1], knowledge, &PAIRS[i][0]), 0, "pair %zu", i);
    cr_expect_eq(check_pair(knowledge, &PAIRS[i][0], knowledge, &PAIRS[i][0]), 0, "pair %zu", i);
  }
  why_knowledge_free(knowledge);
}

Test(difference, a_rule_or_an_exercise_that_is_not_there) {
  const terms asked = {.goal = "hamstrings"};
  why_knowledge* whole = told_open(0, 0);
  why_knowledge* less = open_without("trained-by-action, seated-leg-curl");
  cr_expect_str_neq(why_knowledge_digest(whole), why_knowledge_digest(less));
  cr_expect_gt(check_pair(whole, &asked, less, &asked), 0);
  json_t* json = differ(whole, &asked, less, &asked);
  cr_expect_eq(json_array_size(json_object_get(json, "parts")), 2);
  json_decref(json);
  why_knowledge_free(less);
  why_knowledge_free(whole);
}

/// The head of a pick as `pick` tells it, or NULL.
static const json_t* told_head(const json_t* answer, const char* exercise, const char* head) {
  const json_t* each;
  size_t i;
  json_array_foreach(json_object_get(answer, "picks"), i, each) {
    if (strcmp(json_string_value(json_object_get(each, "exercise")), exercise) != 0)
      continue;
    const json_t* heads = json_object_get(each, "heads");
    for (size_t j = 0; j < json_array_size(heads); j++)
      if (strcmp(json_string_value(json_object_get(json_array_get(heads, j), "head")), head) == 0)
        return json_array_get(heads, j);
  }
  return NULL;
}

/// Whether a side of an estimate that moved reads as the pick itself tells it; true where the
/// exercise is no pick.
static bool reads_alike(const json_t* moved, const char* side, const json_t* answer) {
  const json_t* head = told_head(answer, json_string_value(json_object_get(moved, "exercise")),
                                 json_string_value(json_object_get(moved, "head")));
  return !head || json_equal(json_object_get(moved, side), json_object_get(head, "estimate"));
}

/// The smallest shift of `shift-worth-telling` (rules/reasoning/explaining.xml), less what rounding
/// of two figures to tenths can take from it.
static const double WORTH = 0.5 - 0.1;

static void expect_moved(const json_t* moved, const json_t* before, const json_t* after) {
  double above = 100;
  for (size_t i = 0; i < json_array_size(moved); i++) {
    const json_t* each = json_array_get(moved, i);
    double shift = fabs(
        json_number_value(json_object_get(json_object_get(each, "after"), "percent_per_10_weeks")) -
        json_number_value(
            json_object_get(json_object_get(each, "before"), "percent_per_10_weeks")));
    cr_expect(shift >= WORTH && shift <= above + 0.2, "%zu: %g after %g", i, shift, above);
    above = shift;
    cr_expect(reads_alike(each, "before", before) && reads_alike(each, "after", after), "%zu", i);
  }
}

/// What a study less moves: every estimate as the two answers tell it, largest first; and no shift
/// that is called slight is anything else.
Test(difference, a_study_less_moves_estimates) {
  const terms asked = {.goal = "hamstrings"};
  const told_question question = {.task = WHY_PICK, .goal = "hamstrings", .top = "all"};
  why_knowledge* whole = told_open(0, 0);
  why_knowledge* less = open_without("leg-curl-seated-vs-prone-2021");
  cr_expect_gt(check_pair(whole, &asked, less, &asked), 0);
  json_t* json = differ(whole, &asked, less, &asked);
  why_status status = WHY_OK;
  json_t* before = told_json(whole, &question, &status);
  json_t* after = told_json(less, &question, &status);
  const json_t* moved = json_object_get(json, "moved");
  cr_assert_gt(json_array_size(moved), 10);
  cr_expect_str_eq(json_string_value(json_object_get(json_array_get(moved, 0), "exercise")),
                   "seated-leg-curl");
  expect_moved(moved, before, after);
  const json_t* shifts =
      json_object_get(json_array_get(json_object_get(json, "goals"), 0), "shifts");
  size_t slight = 0;
  for (size_t i = 0; i < json_array_size(shifts); i++) {
    const json_t* shift = json_array_get(shifts, i);
    if (strcmp(json_string_value(json_object_get(shift, "what")), "slight") != 0)
      continue;
    slight++;
    cr_expect_lt(fabs(growth_of(json_object_get(shift, "after")) -
                      growth_of(json_object_get(shift, "before"))),
                 0.5 + 0.1);
  }
  cr_expect_gt(slight, 0);
  json_decref(after);
  json_decref(before);
  json_decref(json);
  why_knowledge_free(less);
  why_knowledge_free(whole);
}

/// Order and repetition of what is left out change nothing.
Test(difference, what_is_left_out_is_a_set) {
  why_knowledge* a = open_without("trained-by-action,seated-leg-curl");
  why_knowledge* b = open_without("seated-leg-curl, trained-by-action,seated-leg-curl");
  cr_expect_str_eq(why_knowledge_digest(a), why_knowledge_digest(b));
  why_knowledge_free(b);
  why_knowledge_free(a);
}

/// A study that is left out is in no pool.
Test(difference, a_study_that_is_not_there) {
  const told_question question = {.task = WHY_POOL, .goal = "hamstrings"};
  why_knowledge* less = open_without("leg-curl-seated-vs-prone-2021");
  why_status status = WHY_OK;
  char* text = told_text(less, &question, &status);
  char* knowledge = strstr(text, "\"knowledge\"");
  cr_assert_not_null(knowledge);
  cr_expect_not_null(strstr(knowledge, "leg-curl-seated-vs-prone-2021"));
  *knowledge = '\0';
  cr_expect_null(strstr(text, "leg-curl-seated-vs-prone-2021"));
  free(text);
  why_knowledge_free(less);
}

Test(difference, what_is_not_there_cannot_be_left_out) {
  why_knowledge* knowledge = NULL;
  why_problems* problems = NULL;
  const why_settings settings = {.leave_out = "no-such-thing,hamstrings"};
  cr_expect_eq(why_knowledge_open(WHY_HOME, &settings, &knowledge, &problems), WHY_QUESTION);
  cr_expect_null(knowledge);
  cr_expect_eq(why_problems_count_from(problems, WHY_ERROR), 2);
  why_problems_free(problems);
}
