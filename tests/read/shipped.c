// SPDX-License-Identifier: GPL-3.0-or-later
// Every test runs in a process of its own, so one of everything is enough.
#include "shipped.h"

#include <criterion/criterion.h>

static why_arena* arena;
static why_problems* problems;

why_tables* shipped_open(void) {
  why_tables* tables = NULL;
  arena = why_arena_new(0);
  problems = why_problems_new();
  cr_assert_eq(why_tables_open(WHY_HOME, NULL, arena, problems, &tables), WHY_OK,
               "the shipped knowledge base is not sound");
  return tables;
}

const why_problems* shipped_problems(void) {
  return problems;
}

void shipped_close(void) {
  why_problems_free(problems);
  why_arena_free(arena);
}
