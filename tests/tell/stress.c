// SPDX-License-Identifier: GPL-3.0-or-later
// Stress over fibre length, for every exercise of the catalogue.
#include "tell/stress.h"

#include "tell/exercise.h"
#include "tell/marks.h"

#include <criterion/criterion.h>

TestSuite(stress, .init = exercise_open, .fini = exercise_close);

static const why_exertion* exertion_of(const char* id, why_arena* arena) {
  const why_exertion* exertion = NULL;
  cr_assert_eq(why_exertion_new(exercise_motion(id, arena), arena, &exertion), WHY_OK);
  return exertion;
}

Test(stress, of_every_exercise_keeps_words_apart, .timeout = 300) {
  const why_exercise_table* table = &exercise_ground()->tables->exercises;
  size_t empty = 0;
  for (size_t i = 0; i < table->rows.count; i++) {
    why_arena* arena = why_arena_new(0);
    why_picture picture = {.arena = arena};
    const why_exertion* exertion =
        exertion_of(why_symbols_text(exercise_ground()->symbols, table->rows.at[i].id), arena);
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
    why_picture picture = {.arena = arena};
    why_stress_draw(exertion_of(CASES[i][0], arena), &picture);
    cr_expect(marks_say(&picture, CASES[i][1]), "%s lacks %s", CASES[i][0], CASES[i][1]);
    why_arena_free(arena);
  }
}
