// SPDX-License-Identifier: GPL-3.0-or-later
// Rules with the relations that they read and give.
#include "rulebook.h"

#include <stdlib.h>
#include <string.h>

static void add_once(why_arena* arena, why_symbol_list* list, why_symbol symbol) {
  for (size_t i = 0; i < list->count; i++)
    if (list->at[i] == symbol)
      return;
  *WHY_LIST_ADD(arena, *list) = symbol;
}

static void add_conditions(why_arena* arena, why_ruled* rule, const why_condition_list* rows) {
  for (size_t i = 0; i < rows->count; i++) {
    const why_condition_row* row = &rows->at[i];
    if (row->kind == WHY_IF)
      add_once(arena, &rule->reads, row->relation.name);
    if (row->kind == WHY_UNLESS)
      add_once(arena, &rule->refuses, row->relation.name);
    add_conditions(arena, rule, &row->inside);
  }
}

static int by_place(const void* left, const void* right) {
  const why_place a = ((const why_ruled*)left)->row->place;
  const why_place b = ((const why_ruled*)right)->row->place;
  int order = strcmp(a.file, b.file);
  return order ? order : (a.line > b.line) - (a.line < b.line);
}

why_rulebook why_rulebook_new(const why_ground* ground, why_arena* arena) {
  const why_reasoning* reasoning = &ground->tables->reasoning;
  why_rulebook made = {0};
  for (size_t i = 0; i < reasoning->rules.count; i++) {
    why_ruled* rule = WHY_LIST_ADD(arena, made);
    *rule = (why_ruled){.row = &reasoning->rules.at[i]};
    add_conditions(arena, rule, &rule->row->conditions);
    for (size_t k = 0; k < rule->row->conclusions.count; k++)
      add_once(arena, &rule->gives, rule->row->conclusions.at[k].relation.name);
  }
  if (made.count)
    qsort(made.at, made.count, sizeof *made.at, by_place);
  return made;
}
