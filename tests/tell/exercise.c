// SPDX-License-Identifier: GPL-3.0-or-later
// Every test runs in a process of its own, so one of everything is enough.
#include "tell/exercise.h"

#include "pick/told.h"

#include <criterion/criterion.h>

static why_arena* base;
static why_problems* problems;
static const why_ground* ground;

void exercise_open(void) {
  base = why_arena_new(0);
  problems = why_problems_new();
  ground = told_ground(base);
}

void exercise_close(void) {
  why_problems_free(problems);
  why_arena_free(base);
}

const why_ground* exercise_ground(void) {
  return ground;
}

why_problems* exercise_problems(void) {
  return problems;
}

const why_motion* exercise_motion(const char* id, why_arena* arena) {
  const why_motion* motion = NULL;
  why_symbol exercise = why_symbols_find(ground->symbols, id);
  cr_assert_neq(exercise, 0, "no exercise %s", id);
  cr_assert_eq(why_motion_new(ground, exercise, arena, &motion), WHY_OK);
  return motion;
}
