// SPDX-License-Identifier: GPL-3.0-or-later
#include "pool/mixed_case.h"

#include <criterion/criterion.h>
#include <math.h>
#include <string.h>

static double real(const json_t* json, const char* key) {
  const json_t* value = json_object_get(json, key);
  cr_assert(json_is_number(value), "%s is no number", key);
  return json_number_value(value);
}

static void drop(void* json) {
  json_decref(json);
}

static const json_t* read_file(why_arena* arena) {
  json_error_t error;
  json_t* root = json_load_file(WHY_HOME "/tests/reference/pool/mixed.json", 0, &error);
  cr_assert_not_null(root, "mixed.json:%d: %s", error.line, error.text);
  why_arena_defer(arena, drop, root);
  return json_object_get(root, "cases");
}

long mixed_case_level(const mixed_case* each, size_t term, const char* name) {
  const why_symbol_list* levels = &each->terms.at[term];
  why_symbol symbol = why_symbols_find(each->symbols, name);
  for (size_t i = 0; i < levels->count; i++)
    if (levels->at[i] == symbol)
      return (long)i;
  return -1;
}

static size_t level_added(mixed_case* each, size_t term, const char* name, why_arena* arena) {
  long found = mixed_case_level(each, term, name);
  if (found >= 0)
    return (size_t)found;
  why_symbol_list* levels = &each->terms.at[term];
  *WHY_LIST_ADD(arena, *levels) = why_symbols_add(each->symbols, name);
  return levels->count - 1;
}

/// The level of the first term that a row has: rows of one level form a block.
static const char* block_of(const json_t* row) {
  const json_t* levels = json_object_get(row, "levels");
  for (size_t k = 0; k < json_array_size(levels); k++)
    if (json_is_string(json_array_get(levels, k)))
      return json_string_value(json_array_get(levels, k));
  return "";
}

static void add_block(mixed_case* each, const json_t* json, const json_t* const* rows, size_t first,
                      size_t count, why_arena* arena) {
  double correlation = real(json, "correlation");
  double* covariance = WHY_NEW_ARRAY(arena, double, count* count);
  for (size_t i = 0; i < count; i++)
    for (size_t j = 0; j < count; j++) {
      const json_t* given = json_object_get(rows[first + i], "covariances");
      covariance[i * count + j] =
          given    ? json_number_value(json_array_get(given, j))
          : i == j ? real(rows[first + i], "v")
                   : correlation * sqrt(real(rows[first + i], "v") * real(rows[first + j], "v"));
    }
  *WHY_LIST_ADD(arena, each->data.blocks) = (why_mixed_block){first, count, covariance};
}

static void add_row(mixed_case* each, const json_t* row, double* y, double* x, why_arena* arena) {
  size_t at = each->data.row_count++;
  y[at] = real(row, "y");
  for (size_t a = 0; a < each->data.fixed_count; a++)
    x[at * each->data.fixed_count + a] =
        json_number_value(json_array_get(json_object_get(row, "x"), a));
  const json_t* levels = json_object_get(row, "levels");
  for (size_t k = 0; k < each->terms.count; k++) {
    const json_t* level = json_array_get(levels, k);
    if (json_is_string(level))
      *WHY_LIST_ADD(arena, each->data.parts) =
          (why_mixed_part){at, k, level_added(each, k, json_string_value(level), arena), 1};
  }
}

/// Rows of one block side by side, blocks in the order of their first row.
static size_t sort_rows(const json_t* all, const char* without, const json_t** rows) {
  size_t count = 0;
  for (size_t i = 0; i < json_array_size(all); i++) {
    const char* block = block_of(json_array_get(all, i));
    bool seen = without && strcmp(block, without) == 0;
    for (size_t j = 0; j < count && !seen; j++)
      seen = strcmp(block_of(rows[j]), block) == 0;
    for (size_t j = i; j < json_array_size(all) && !seen; j++)
      if (strcmp(block_of(json_array_get(all, j)), block) == 0)
        rows[count++] = json_array_get(all, j);
  }
  return count;
}

static void add_terms(mixed_case* each, const json_t* json, why_arena* arena) {
  const json_t* terms = json_object_get(json, "terms");
  for (size_t k = 0; k < json_array_size(terms); k++) {
    *WHY_LIST_ADD(arena, each->terms) = (why_symbol_list){0};
    *WHY_LIST_ADD(arena, each->data.terms) =
        (why_mixed_term){.name = json_string_value(json_array_get(terms, k))};
  }
}

mixed_case mixed_case_without(const json_t* json, const char* level, why_arena* arena) {
  mixed_case each = {.id = json_string_value(json_object_get(json, "id")),
                     .plain = json_is_true(json_object_get(json, "plain")),
                     .symbols = why_symbols_new(arena, NULL, 1),
                     .rows = json_object_get(json, "rows"),
                     .expect = json_object_get(json, "expect")};
  add_terms(&each, json, arena);
  each.data.fixed_count = json_array_size(json_object_get(json, "columns"));
  size_t room = json_array_size(each.rows);
  const json_t** rows = WHY_NEW_ARRAY(arena, const json_t*, room);
  size_t count = sort_rows(each.rows, level, rows);
  double* y = WHY_NEW_ARRAY(arena, double, count);
  double* x = WHY_NEW_ARRAY(arena, double, count* each.data.fixed_count);
  for (size_t i = 0; i < count; i++)
    add_row(&each, rows[i], y, x, arena);
  each.data.y = y;
  each.data.x = x;
  for (size_t first = 0, i = 1; i <= count; i++)
    if (i == count || strcmp(block_of(rows[i]), block_of(rows[first])) != 0) {
      add_block(&each, json, rows, first, i - first, arena);
      first = i;
    }
  for (size_t k = 0; k < each.terms.count; k++)
    each.data.terms.at[k].level_count = each.terms.at[k].count;
  if (json_is_true(json_object_get(json, "correlated")))
    each.data.terms.at[1].with = 1;
  return each;
}

const json_t* mixed_case_find(const char* id, why_arena* arena) {
  const json_t* cases = read_file(arena);
  for (size_t i = 0; i < json_array_size(cases); i++)
    if (strcmp(json_string_value(json_object_get(json_array_get(cases, i), "id")), id) == 0)
      return json_array_get(cases, i);
  cr_assert_fail("no case %s", id);
  return NULL;
}

mixed_cases mixed_cases_read(why_arena* arena) {
  mixed_cases cases = {0};
  const json_t* all = read_file(arena);
  cr_assert_gt(json_array_size(all), 0);
  for (size_t i = 0; i < json_array_size(all); i++)
    *WHY_LIST_ADD(arena, cases) = mixed_case_without(json_array_get(all, i), NULL, arena);
  return cases;
}
