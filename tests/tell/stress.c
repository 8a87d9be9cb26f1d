// SPDX-License-Identifier: GPL-3.0-or-later
// Stress over fibre length, for every exercise of the catalogue.
#include "tell/stress.h"

#include "tell/marks.h"

#include <criterion/criterion.h>
#include <string.h>

static why_arena* base;
static why_problems* problems;
static const why_ground* ground;

static void open(void) {
  base = why_arena_new(0);
  problems = why_problems_new();
  cr_assert_eq(why_ground_open(WHY_HOME, NULL, base, problems, &ground), WHY_OK);
}

static void close(void) {
  why_problems_free(problems);
  why_arena_free(base);
}

TestSuite(stress, .init = open, .fini = close);

static const why_exertion* exertion_of(why_symbol exercise, why_arena* arena) {
  const why_motion* motion = NULL;
  const why_exertion* exertion = NULL;
  cr_assert_eq(why_motion_new(ground, exercise, arena, &motion), WHY_OK);
  cr_assert_eq(why_exertion_new(motion, arena, &exertion), WHY_OK);
  return exertion;
}

static bool has_words(const why_picture* picture, const char* words) {
  for (size_t i = 0; i < picture->marks.count; i++)
    if (picture->marks.at[i].words && strcmp(picture->marks.at[i].words, words) == 0)
      return true;
  return false;
}

Test(stress, of_every_exercise_keeps_words_apart, .timeout = 300) {
  const why_exercise_table* table = &ground->tables->exercises;
  size_t empty = 0;
  for (size_t i = 0; i < table->rows.count; i++) {
    why_arena* arena = why_arena_new(0);
    why_picture picture = {.arena = arena};
    const why_exertion* exertion = exertion_of(table->rows.at[i].id, arena);
    why_stress_draw(exertion, &picture);
    marks_check(&picture, table->rows.at[i].name);
    empty += !(picture.width > 0);
    if (!(picture.width > 0))
      cr_log_info("no curve: %s%s", table->rows.at[i].name,
                  exertion->effort->settled ? "" : ", not solved");
    why_arena_free(arena);
  }
  cr_expect_leq(empty * 33, table->rows.count, "%zu exercises have no curve", empty);
}

/// Common practice: these lead these.
Test(stress, names_the_heads_that_move) {
  static const char* const CASES[][2] = {
      {"seated-leg-curl", "semimembranosus"},
      {"leg-extension", "vastus lateralis"},
      {"dumbbell-lateral-raise", "deltoid middle (acromial) part"}};
  for (size_t i = 0; i < sizeof CASES / sizeof *CASES; i++) {
    why_arena* arena = why_arena_new(0);
    why_symbol exercise = why_symbols_find(ground->symbols, CASES[i][0]);
    cr_assert_neq(exercise, 0, "%s", CASES[i][0]);
    why_picture picture = {.arena = arena};
    why_stress_draw(exertion_of(exercise, arena), &picture);
    cr_expect(has_words(&picture, CASES[i][1]), "%s lacks %s", CASES[i][0], CASES[i][1]);
    why_arena_free(arena);
  }
}
