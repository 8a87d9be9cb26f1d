// SPDX-License-Identifier: GPL-3.0-or-later
// What would make an exercise a pick: each proposed set of changes is made, through a new question
// in plain terms, and the exercise must then stand where the answer said; and no smallest set of
// items is missed, held against all sets and plain reckoning without the rules.
#include "pick/absence.h"
#include "kit.h"
#include "pick/pick.h"
#include "reason/random.h"
#include "told.h"

#include <criterion/criterion.h>
#include <string.h>

typedef struct {
  const char* exercise;
  const char* goal;
  const char* have;
  const char* without;
  const char* avoid;
  const char* level;
} asked;

static void fill(why_question* question, const asked* from) {
  cr_assert_eq(why_question_goal(question, from->goal), WHY_OK, "%s", from->goal);
  cr_assert_eq(why_question_exercise(question, from->exercise, &question->exercise), WHY_OK, "%s",
               from->exercise);
  if (from->have)
    cr_assert_eq(why_question_have(question, from->have), WHY_OK);
  if (from->without)
    cr_assert_eq(why_question_without(question, from->without), WHY_OK);
  if (from->avoid)
    cr_assert_eq(why_question_avoid(question, from->avoid), WHY_OK);
  if (from->level)
    cr_assert_eq(why_question_level(question, from->level), WHY_OK);
}

static const why_absence* absence_of(const why_ground* ground, why_arena* arena,
                                     why_problems* problems, const asked* from,
                                     why_symbol* exercise) {
  why_question* question = WHY_NEW(arena, why_question);
  why_question_init(question, ground, arena, problems);
  fill(question, from);
  *exercise = question->exercise;
  why_picked* answer = NULL;
  why_status status = why_explain_run(question, &answer);
  cr_assert(status == WHY_OK || status == WHY_NO_PICK);
  return answer->absence;
}

static void remove_thing(why_things* things, const char* id, const why_symbols* symbols) {
  size_t kept = 0;
  for (size_t i = 0; i < things->count; i++)
    if (strcmp(why_symbols_text(symbols, things->at[i].id), id) != 0)
      things->at[kept++] = things->at[i];
  cr_assert_eq(kept + 1, things->count, "%s was not said", id);
  things->count = kept;
}

/// Say the question with the changes made; where the exercise then stands.
static size_t place_after(const why_ground* ground, why_problems* problems, const asked* from,
                          const why_way* way) {
  why_arena* arena = why_arena_new(0);
  why_question question;
  why_question_init(&question, ground, arena, problems);
  fill(&question, from);
  if (!question.have.count)
    cr_assert_eq(why_question_have(&question, WHY_PLACE_USUAL), WHY_OK);
  for (size_t i = 0; i < way->changes.count; i++) {
    const why_alteration* change = &way->changes.at[i];
    if (strcmp(change->assumption, "have-item") == 0)
      cr_assert_eq(why_question_have(&question, change->id), WHY_OK);
    else if (strcmp(change->assumption, "avoids") == 0)
      remove_thing(&question.avoid, change->id, ground->symbols);
    else if (strncmp(change->assumption, "without", 7) == 0)
      remove_thing(&question.without, change->id, ground->symbols);
    else if (strcmp(change->assumption, "level") == 0)
      cr_assert_eq(why_question_level(&question, change->id), WHY_OK);
    else
      cr_assert_fail("%s", change->assumption);
  }
  question.top = WHY_TOP_LIMIT;
  why_picked* answer = NULL;
  why_pick_run(&question, &answer);
  size_t place = 0;
  for (size_t i = 0; i < answer->picks.count; i++)
    if (answer->picks.at[i].exercise == question.exercise)
      place = i + 1;
  why_arena_free(arena);
  return place;
}

static size_t check_ways(const why_ground* ground, why_problems* problems, const asked* from) {
  why_arena* arena = why_arena_new(0);
  why_symbol exercise = 0;
  const why_absence* absence = absence_of(ground, arena, problems, from, &exercise);
  size_t count = absence->ways.count;
  for (size_t i = 0; i < count; i++) {
    const why_way* way = &absence->ways.at[i];
    cr_expect_gt(way->number, 0);
    cr_expect_eq(place_after(ground, problems, from, way), way->number, "%s for %s: %s",
                 from->exercise, from->goal, way->say);
    cr_expect(i == 0 || absence->ways.at[i - 1].changes.count <= way->changes.count);
  }
  why_arena_free(arena);
  return count;
}

Test(absence, what_is_proposed_makes_it_a_pick) {
  static const asked QUESTIONS[] = {
      {"seated-leg-curl", "hamstrings", .have = "dumbbells"},
      {"barbell-bench-press", "chest", .have = "dumbbells"},
      {"lat-pulldown", "lats", .have = "nothing"},
      {"barbell-back-squat", "quadriceps", .avoid = "axial-load"},
      {"barbell-back-squat", "quadriceps", .have = "barbell,weight-plates,rack",
       .without = "barbell", .avoid = "axial-load"},
      {"leg-press", "quadriceps", .have = "hotel-room", .without = "machine"},
      {"leg-extension", "quadriceps", .have = "nothing", .level = "beginner"},
  };
  why_arena* arena = why_arena_new(0);
  why_problems* problems = why_problems_new();
  const why_ground* ground = told_ground(arena);
  size_t ways = 0;
  for (size_t i = 0; i < sizeof QUESTIONS / sizeof *QUESTIONS; i++)
    ways += check_ways(ground, problems, &QUESTIONS[i]);
  cr_expect_gt(ways, 8);
  why_problems_free(problems);
  why_arena_free(arena);
}

/// Drawn exercises of the goal's group, with one or two items at hand.
Test(absence, what_is_proposed_in_drawn_questions) {
  why_arena* arena = why_arena_new(0);
  why_problems* problems = why_problems_new();
  const why_ground* ground = told_ground(arena);
  const why_tables* tables = ground->tables;
  uint64_t state = 3;
  size_t ways = 0;
  for (size_t i = 0; i < 40; i++) {
    const asked question = {
        .exercise = why_symbols_text(
            ground->symbols,
            tables->exercises.rows.at[random_below(&state, (unsigned)tables->exercises.rows.count)]
                .id),
        .goal = why_symbols_text(
            ground->symbols,
            tables->anatomy.groups.at[random_below(&state, (unsigned)tables->anatomy.groups.count)]
                .id),
        .have = why_symbols_text(
            ground->symbols, tables->equipment.items
                                 .at[random_below(&state, (unsigned)tables->equipment.items.count)]
                                 .id)};
    ways += check_ways(ground, problems, &question);
  }
  cr_expect_gt(ways, 0);
  cr_log_info("%zu sets of changes were made", ways);
  why_problems_free(problems);
  why_arena_free(arena);
}

// ---- none is missed ----

static bool can_set_up(const why_ground* ground, const why_exercise* exercise, const size_t* items,
                       size_t count) {
  kit all = {.equipment = &ground->tables->equipment};
  for (size_t i = 0; i < count; i++)
    kit_add_item(&all, all.equipment->items.at[items[i]].id);
  kit_close(&all);
  return kit_can_set_up(&all, exercise);
}

/// Smallest sets of one or two items, and of three where no two will do, that set it up.
static size_t count_smallest(const why_ground* ground, const why_exercise* exercise) {
  size_t count = ground->tables->equipment.items.count;
  bool* alone = WHY_NEW_ARRAY(ground->tables->arena, bool, count);
  bool* pair = WHY_NEW_ARRAY(ground->tables->arena, bool, count* count);
  size_t found = 0;
  for (size_t a = 0; a < count; a++) {
    alone[a] = can_set_up(ground, exercise, &a, 1);
    found += alone[a];
  }
  for (size_t a = 0; a < count; a++)
    for (size_t b = a + 1; b < count; b++) {
      const size_t items[] = {a, b};
      pair[a * count + b] = !alone[a] && !alone[b] && can_set_up(ground, exercise, items, 2);
      found += pair[a * count + b];
    }
  for (size_t a = 0; a < count; a++)
    for (size_t b = a + 1; b < count && !alone[a]; b++)
      for (size_t c = b + 1; c < count && !alone[b] && !pair[a * count + b]; c++) {
        const size_t items[] = {a, b, c};
        found += !alone[c] && !pair[a * count + c] && !pair[b * count + c] &&
                 can_set_up(ground, exercise, items, 3);
      }
  return found;
}

Test(absence, no_smallest_set_of_items_is_missed) {
  static const asked QUESTIONS[] = {
      {"nordic-curl", "hamstrings", .have = "nothing"},
      {"barbell-bench-press", "chest", .have = "nothing"},
      {"cable-fly", "chest", .have = "nothing"},
  };
  why_arena* arena = why_arena_new(0);
  why_problems* problems = why_problems_new();
  const why_ground* ground = told_ground(arena);
  for (size_t i = 0; i < sizeof QUESTIONS / sizeof *QUESTIONS; i++) {
    why_symbol id = 0;
    const why_absence* absence = absence_of(ground, arena, problems, &QUESTIONS[i], &id);
    size_t expected = count_smallest(ground, why_exercise_find(&ground->tables->exercises, id));
    cr_expect(!absence->cut);
    cr_expect_gt(expected, 0);
    cr_expect_eq(absence->ways.count + absence->vain, expected, "%s: %zu and %zu of %zu",
                 QUESTIONS[i].exercise, absence->ways.count, absence->vain, expected);
  }
  why_problems_free(problems);
  why_arena_free(arena);
}
