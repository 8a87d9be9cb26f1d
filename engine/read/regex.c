// SPDX-License-Identifier: GPL-3.0-or-later
// The one file that uses PCRE2. A regex is its text and a holder with its compiled code.
#define PCRE2_CODE_UNIT_WIDTH 8
#include "regex.h"

#include <pcre2.h>
#include <string.h>

enum { MATCH_LIMIT = 100000, DEPTH_LIMIT = 1000 };

struct why_regex {
  const char* text;
  why_holder* code; ///< Compiled by each process for itself.
};

/// Memory of a match comes from the arena, so that it counts and fails as all other memory does.
static void* allocate(size_t size, void* arena) {
  return why_arena_alloc(arena, size);
}

static void keep(void* piece, void* arena) {
  (void)piece;
  (void)arena;
}

static void free_code(void* code) {
  pcre2_code_free(code);
}

/// The code of a pattern; NULL with an error of PCRE2 and where it is.
static pcre2_code* compile(const char* text, int* error, size_t* offset) {
  pcre2_code* code = pcre2_compile((PCRE2_SPTR)text, strlen(text),
                                   PCRE2_UTF | PCRE2_NEVER_BACKSLASH_C, error, offset, NULL);
  if (code)
    pcre2_jit_compile(code, PCRE2_JIT_COMPLETE); // without it matching is slower, nothing else
  return code;
}

const why_regex* why_regex_new(why_arena* arena, const char* text, why_problems* problems,
                               const char* check, why_place place) {
  size_t length = strlen(text);
  if (length > WHY_REGEX_LIMIT) {
    if (problems)
      why_problems_add(problems, WHY_ERROR, check, place, "the pattern is longer than %d bytes",
                       WHY_REGEX_LIMIT);
    return NULL;
  }
  int error = 0;
  size_t offset = 0;
  why_regex* made = WHY_NEW(arena, why_regex);
  *made = (why_regex){why_arena_copy(arena, text, length), why_arena_holder(arena)};
  pcre2_code* code = compile(text, &error, &offset);
  if (code) {
    why_holder_fill(made->code, code, free_code);
    return made;
  }
  if (error == PCRE2_ERROR_HEAP_FAILED)
    why_arena_exhaust(arena);
  if (!problems)
    return NULL;
  unsigned char message[200] = "";
  pcre2_get_error_message(error, message, sizeof message);
  why_problems_add(problems, WHY_ERROR, check, place, "the pattern is wrong at character %zu: %s",
                   offset + 1, (char*)message);
  return NULL;
}

/// The code of a pattern that was sound once: compiled anew where the regex comes from a snapshot.
static pcre2_code* code_of(const why_regex* regex, why_arena* arena) {
  int error = 0;
  size_t offset = 0;
  pcre2_code* code = why_holder_object(regex->code);
  if (code)
    return code;
  code = compile(regex->text, &error, &offset);
  if (!code)
    why_arena_exhaust(arena);
  return why_holder_fill(regex->code, code, free_code);
}

why_match_result why_regex_find(const why_regex* regex, const char* text, size_t from,
                                why_arena* arena, why_matcher* matcher, size_t* start,
                                size_t* end) {
  if (!matcher->data) {
    pcre2_general_context* memory = pcre2_general_context_create(allocate, keep, arena);
    pcre2_match_context* bounds = pcre2_match_context_create(memory);
    pcre2_set_match_limit(bounds, MATCH_LIMIT);
    pcre2_set_depth_limit(bounds, DEPTH_LIMIT);
    matcher->bounds = bounds;
    matcher->data = pcre2_match_data_create(WHY_REGEX_GROUPS + 1, memory);
  }
  int found = pcre2_match(code_of(regex, arena), (PCRE2_SPTR)text, strlen(text), from, 0,
                          matcher->data, matcher->bounds);
  if (found < 0)
    return found == PCRE2_ERROR_NOMATCH ? WHY_NO_MATCH : WHY_MATCH_FAILED;
  const PCRE2_SIZE* ends = pcre2_get_ovector_pointer(matcher->data);
  *start = ends[0];
  *end = ends[1];
  return WHY_MATCH;
}

bool why_regex_group(const why_regex* regex, const why_matcher* matcher, const char* name,
                     size_t* start, size_t* end) {
  int number = pcre2_substring_number_from_name(why_holder_object(regex->code), (PCRE2_SPTR)name);
  if (number <= 0 || number > WHY_REGEX_GROUPS)
    return false;
  const PCRE2_SIZE* ends = pcre2_get_ovector_pointer(matcher->data);
  *start = ends[2 * number];
  *end = ends[2 * number + 1];
  return *start != PCRE2_UNSET;
}

why_match_result why_regex_match(const why_regex* regex, const char* text, why_arena* arena,
                                 why_matcher* matcher) {
  size_t start = 0, end = 0;
  return why_regex_find(regex, text, 0, arena, matcher, &start, &end);
}
