// SPDX-License-Identifier: GPL-3.0-or-later
#include "body/mechanics.h"

#include <criterion/criterion.h>

void mechanics_open(mechanics* made) {
  made->arena = why_arena_new(0);
  made->problems = why_problems_new();
  why_tables_open(WHY_HOME, NULL, made->arena, made->problems, &made->tables);
  cr_assert_eq(why_body_model_new(why_frame_new(made->tables, made->arena), made->tables, 0, 0,
                                  made->arena, &made->model),
               WHY_OK);
  cr_assert_eq(why_muscles_new(made->model, made->arena, &made->muscles), WHY_OK);
  cr_assert_eq(why_sharer_new(made->muscles, made->arena, &made->sharer), WHY_OK);
}

void mechanics_close(mechanics* of) {
  why_problems_free(of->problems);
  why_arena_free(of->arena);
}

const why_exercise* mechanics_exercise(const mechanics* of, const char* id) {
  why_symbol symbol = why_symbols_find(of->tables->symbols, id);
  const why_exercise* found = why_exercise_find(&of->tables->exercises, symbol);
  cr_assert_not_null(found, "no exercise %s", id);
  return found;
}

size_t mechanics_head(const mechanics* of, const char* id) {
  why_symbol symbol = why_symbols_find(of->tables->symbols, id);
  for (size_t i = 0; i < of->muscles->count; i++)
    if (of->muscles->at[i].head->id == symbol)
      return i;
  cr_assert(false, "no head %s", id);
  return 0;
}
