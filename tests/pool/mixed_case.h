// SPDX-License-Identifier: GPL-3.0-or-later
/// The cases of tests/reference/pool/mixed.json as data of a mixed model.
#ifndef WHY_TESTS_POOL_MIXED_CASE_H
#define WHY_TESTS_POOL_MIXED_CASE_H

#include "pool/pool.h"

#include <jansson.h>

typedef struct {
  const char* id;
  bool plain;
  why_mixed_data data;
  why_symbols* symbols;            ///< Names of levels.
  WHY_LIST(why_symbol_list) terms; ///< Of each term, names of its levels in their order.
  const json_t* rows;
  const json_t* expect;
} mixed_case;

typedef WHY_LIST(mixed_case) mixed_cases;

/// All cases; what they point to lives in the arena.
mixed_cases mixed_cases_read(why_arena* arena);

/// The case without the rows of one level of its first term (NULL: with all).
mixed_case mixed_case_without(const json_t* json, const char* level, why_arena* arena);

/// The index of a level of a term, or -1.
long mixed_case_level(const mixed_case* each, size_t term, const char* name);

const json_t* mixed_case_find(const char* id, why_arena* arena);

#endif
