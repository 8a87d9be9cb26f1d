// SPDX-License-Identifier: GPL-3.0-or-later
// Rows are taken out after all checks, so that what refers to them is no error.
#include "leave_out.h"

#include "spell.h"

#include <string.h>

enum { NEAR = 3, SHOWN = 80 };

/// Keep the rows whose id is another one; whether some went.
#define TAKE_OUT(list, wanted, went)                                                               \
  do {                                                                                             \
    size_t kept = 0;                                                                               \
    for (size_t i = 0; i < (list).count; i++)                                                      \
      if ((list).at[i].id != (wanted))                                                             \
        (list).at[kept++] = (list).at[i];                                                          \
    (went) = kept < (list).count;                                                                  \
    (list).count = kept;                                                                           \
  } while (0)

static bool take_study(why_tables* tables, why_symbol id) {
  bool went = false;
  TAKE_OUT(tables->studies.rows, id, went);
  return went;
}

static bool take_rule(why_tables* tables, why_symbol id) {
  bool went = false;
  TAKE_OUT(tables->reasoning.rules, id, went);
  return went;
}

/// Exercises are also found by number.
static bool take_exercise(why_tables* tables, why_symbol id) {
  why_exercise_table* table = &tables->exercises;
  bool went = false;
  TAKE_OUT(table->rows, id, went);
  if (!went)
    return false;
  table->numbers.at[id] = 0;
  for (size_t i = 0; i < table->rows.count; i++)
    table->numbers.at[table->rows.at[i].id] = (uint32_t)i + 1;
  return true;
}

static void consider(const why_tables* tables, const char* typed, why_symbol id, const char** near,
                     unsigned* distance) {
  const char* text = why_symbols_text(tables->symbols, id);
  unsigned found = why_spell_distance(tables->arena, typed, text, *distance);
  if (found < *distance) {
    *near = text;
    *distance = found;
  }
}

static why_status refuse(const why_tables* tables, why_problems* problems, const char* typed) {
  const char* near = NULL;
  unsigned distance = NEAR + 1;
  for (size_t i = 0; i < tables->studies.rows.count; i++)
    consider(tables, typed, tables->studies.rows.at[i].id, &near, &distance);
  for (size_t i = 0; i < tables->reasoning.rules.count; i++)
    consider(tables, typed, tables->reasoning.rules.at[i].id, &near, &distance);
  for (size_t i = 0; i < tables->exercises.rows.count; i++)
    consider(tables, typed, tables->exercises.rows.at[i].id, &near, &distance);
  why_problems_add(problems, WHY_ERROR, "leave-out", (why_place){0},
                   "no study, rule or exercise has the id \"%.*s\"", why_text_fit(typed, SHOWN),
                   typed);
  if (near)
    why_problems_hint(problems, "say %s", near);
  else
    why_problems_hint(problems, "whylift list studies, list rules and list exercises show the ids");
  return WHY_QUESTION;
}

/// Note an id in order of texts; one that stands there already is no error.
static void note(why_tables* tables, why_symbol id) {
  why_symbol_list* list = &tables->without;
  *WHY_LIST_ADD(tables->arena, *list) = id;
  for (size_t i = list->count - 1;
       i > 0 && why_symbol_compare(tables->symbols, list->at[i - 1], list->at[i]) > 0; i--) {
    why_symbol kept = list->at[i];
    list->at[i] = list->at[i - 1];
    list->at[i - 1] = kept;
  }
}

static bool is_noted(const why_tables* tables, why_symbol id) {
  for (size_t i = 0; i < tables->without.count; i++)
    if (tables->without.at[i] == id)
      return true;
  return false;
}

static why_status leave_out(why_tables* tables, const char* typed, why_problems* problems) {
  why_symbol id = why_symbols_find(tables->symbols, typed);
  if (id && is_noted(tables, id))
    return WHY_OK;
  bool study = id && take_study(tables, id);
  bool rule = id && take_rule(tables, id);
  bool exercise = id && take_exercise(tables, id);
  if (!study && !rule && !exercise)
    return refuse(tables, problems, typed);
  note(tables, id);
  return WHY_OK;
}

why_status why_tables_leave_out(why_tables* tables, const char* list, why_problems* problems) {
  why_status status = WHY_OK;
  size_t count = 0;
  while (list && *list) {
    list += strspn(list, " ,");
    size_t length = strcspn(list, " ,");
    if (!length)
      break;
    if (count++ == WHY_LEAVE_OUT_LIMIT) {
      why_problems_add(problems, WHY_ERROR, "leave-out", (why_place){0},
                       "more than %d parts cannot be left out", WHY_LEAVE_OUT_LIMIT);
      return WHY_QUESTION;
    }
    if (leave_out(tables, why_arena_copy(tables->arena, list, length), problems) != WHY_OK)
      status = WHY_QUESTION;
    list += length;
  }
  return status;
}
