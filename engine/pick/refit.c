// SPDX-License-Identifier: GPL-3.0-or-later
// Every exercise and head, asked of both models. Nothing has the same number in both: all goes by
// id.
#include "refit.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { NONE = -1 };

typedef struct {
  const why_ground* before;
  const why_ground* after;
  double trained;
  double worth;
  why_arena* arena;
  why_moved_list found;
} search;

static why_symbol other_symbol(const search* at, why_symbol symbol) {
  return why_symbols_find(at->before->symbols, why_symbols_text(at->after->symbols, symbol));
}

/// Index of an exercise of the later ground in the tables of the earlier one.
static long exercise_before(const search* at, size_t exercise) {
  const why_exercise_table* table = &at->before->tables->exercises;
  why_symbol id = other_symbol(at, at->after->tables->exercises.rows.at[exercise].id);
  const why_exercise* row = id ? why_exercise_find(table, id) : NULL;
  return row ? row - table->rows.at : NONE;
}

static long head_before(const search* at, size_t head) {
  const why_anatomy* anatomy = &at->before->tables->anatomy;
  why_symbol id = other_symbol(at, at->after->tables->anatomy.heads.at[head].id);
  const why_head* row = id ? why_head_find(anatomy, id) : NULL;
  return row ? row - anatomy->heads.at : NONE;
}

static why_estimate expect(const search* at, const why_ground* ground, size_t exercise,
                           size_t head) {
  why_goal_head alone = {head, 1};
  why_estimate made = {0};
  why_outlook_estimate(ground->outlook, exercise, &(why_goal){&alone, 1}, at->trained, at->arena,
                       &made);
  return made;
}

static double shift_of(const why_moved* moved) {
  return fabs(moved->after.percent - moved->before.percent);
}

static void compare_head(search* at, size_t exercise, long exercise_then, size_t head) {
  long then = head_before(at, head);
  if (then == NONE || !why_outlook_knows(at->after->outlook, exercise, head) ||
      !why_outlook_knows(at->before->outlook, (size_t)exercise_then, (size_t)then))
    return;
  why_moved moved = {.exercise = at->after->tables->exercises.rows.at[exercise].id,
                     .head = at->after->tables->anatomy.heads.at[head].id,
                     .before = expect(at, at->before, (size_t)exercise_then, (size_t)then),
                     .after = expect(at, at->after, exercise, head),
                     .number = at->found.count};
  if (shift_of(&moved) > 0 && shift_of(&moved) >= at->worth)
    *WHY_LIST_ADD(at->arena, at->found) = moved;
}

static int by_shift(const void* a, const void* b) {
  const why_moved* first = a;
  const why_moved* second = b;
  if (shift_of(first) != shift_of(second))
    return shift_of(first) < shift_of(second) ? 1 : -1;
  return first->number < second->number ? -1 : 1;
}

why_moved_list why_refit_moved(const why_ground* before, const why_ground* after, const bool* goals,
                               double trained, double worth, why_arena* arena) {
  search at = {before, after, trained, worth, arena, {0}};
  if (before == after || !before->outlook || !after->outlook)
    return at.found;
  for (size_t i = 0; i < after->tables->exercises.rows.count; i++) {
    long then = exercise_before(&at, i);
    for (size_t head = 0; then != NONE && head < after->tables->anatomy.heads.count; head++)
      if (goals[head])
        compare_head(&at, i, then, head);
  }
  if (at.found.count)
    qsort(at.found.at, at.found.count, sizeof *at.found.at, by_shift);
  return at.found;
}
