// SPDX-License-Identifier: GPL-3.0-or-later
#include "pool/numbers.h"

#include <criterion/criterion.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { LINE_BYTES = 4096 };

typedef struct {
  const char* file;
  why_arena* arena;
  number_cases* cases;
} reader;

static number_case* find_case(const number_cases* cases, const char* id) {
  for (size_t i = 0; i < cases->count; i++)
    if (strcmp(cases->at[i]->id, id) == 0)
      return cases->at[i];
  return NULL;
}

/// Cut the first word off; returns the rest without leading blanks.
static char* cut(char* text) {
  char* rest = text + strcspn(text, " ");
  if (*rest)
    *rest++ = '\0';
  return rest + strspn(rest, " ");
}

static void read_line(reader* r, char* text) {
  char* rest = cut(text);
  if (strcmp(text, "case") == 0) {
    cr_assert_null(find_case(r->cases, rest), "%s: case %s twice", r->file, rest);
    number_case* made = WHY_NEW(r->arena, number_case);
    made->id = why_arena_copy(r->arena, rest, strlen(rest));
    made->file = r->file;
    *WHY_LIST_ADD(r->arena, *r->cases) = made;
    return;
  }
  cr_assert_gt(r->cases->count, 0, "%s: begins without a case", r->file);
  number_case* each = r->cases->at[r->cases->count - 1];
  if (strcmp(text, "of") == 0) {
    each->of = find_case(r->cases, rest);
    cr_assert_not_null(each->of, "%s: %s: no case %s before it", r->file, each->id, rest);
    return;
  }
  bool expected = strcmp(text, "expect") == 0;
  if (expected)
    text = rest, rest = cut(text);
  number_line line = {.word = why_arena_copy(r->arena, text, strlen(text)),
                      .text = why_arena_copy(r->arena, rest, strlen(rest))};
  if (expected)
    *WHY_LIST_ADD(r->arena, each->expects) = line;
  else
    *WHY_LIST_ADD(r->arena, each->lines) = line;
}

void number_cases_read(const char* file, why_arena* arena, number_cases* cases) {
  char line[LINE_BYTES];
  reader r = {.file = file, .arena = arena, .cases = cases};
  size_t before = cases->count;
  FILE* stream = fopen(why_arena_print(arena, "%s/tests/reference/pool/%s", WHY_HOME, file), "r");
  cr_assert_not_null(stream, "cannot open %s", file);
  while (fgets(line, sizeof line, stream)) {
    size_t end = strlen(line);
    cr_assert(end > 0 && line[end - 1] == '\n', "%s: a line is too long", file);
    line[end - 1] = '\0';
    char* text = line + strspn(line, " ");
    if (*text && *text != '#')
      read_line(&r, text);
  }
  fclose(stream);
  cr_assert_gt(cases->count, before, "%s holds no case", file);
}

static const number_line* find_line(const number_case* each, const char* word, size_t row) {
  for (size_t i = 0; i < each->lines.count; i++)
    if (strcmp(each->lines.at[i].word, word) == 0 && row-- == 0)
      return &each->lines.at[i];
  return NULL;
}

size_t number_rows(const number_case* each, const char* word) {
  size_t rows = 0;
  while (find_line(each, word, rows))
    rows++;
  return rows || !each->of ? rows : number_rows(each->of, word);
}

const char* number_text(const number_case* each, const char* word, size_t row) {
  for (const number_case* at = each; at; at = at->of)
    if (find_line(at, word, 0)) {
      const number_line* line = find_line(at, word, row);
      return line ? line->text : NULL;
    }
  return NULL;
}

bool number_is(const number_case* each, const char* word, const char* text) {
  const char* said = number_text(each, word, 0);
  return said && strcmp(said, text) == 0;
}

/// Whether the first word is that one character.
static bool starts_with(const char* text, char only) {
  return text[0] == only && (text[1] == ' ' || text[1] == '\0');
}

/// The text from the `index`th word on.
static const char* nth_word(const char* text, size_t index) {
  for (; index > 0 && *text; index--) {
    text += strcspn(text, " ");
    text += strspn(text, " ");
  }
  return text;
}

static double nth(const number_case* each, const char* from, size_t index) {
  const char* text = nth_word(from, index);
  if (!*text || starts_with(text, '-'))
    return NAN;
  char* end = NULL;
  double value = strtod(text, &end);
  cr_assert(end != text && (*end == '\0' || *end == ' '), "%s: %s: not a number: %s", each->file,
            each->id, text);
  return value;
}

double number_at(const number_case* each, const char* word, size_t row, size_t index) {
  const char* text = number_text(each, word, row);
  return text ? nth(each, text, index) : NAN;
}

double number_of(const number_case* each, const char* word) {
  return number_at(each, word, 0, 0);
}

static number_line* find_expected(const number_case* each, const char* name) {
  for (size_t i = 0; i < each->expects.count; i++)
    if (strcmp(each->expects.at[i].word, name) == 0)
      return &each->expects.at[i];
  return NULL;
}

bool number_expects(const number_case* each, const char* name) {
  return find_expected(each, name) != NULL;
}

void number_check_at(number_case* each, const char* name, size_t index, double got) {
  number_line* line = find_expected(each, name);
  cr_assert_not_null(line, "%s: %s: no %s is expected", each->file, each->id, name);
  const char* within = strstr(line->text, " within ");
  cr_assert_not_null(within, "%s: %s: %s: within what?", each->file, each->id, name);
  double share = strtod(within + strlen(" within "), NULL);
  line->checked = true;
  if (starts_with(nth_word(line->text, index), '?'))
    return;
  double wanted = nth(each, line->text, index);
  if (isnan(wanted)) {
    cr_expect(isnan(got), "%s: %s: %s %zu: %.15g, but there is none", each->file, each->id, name,
              index, got);
    return;
  }
  double off = fabs(got - wanted) / (wanted == 0 ? 1 : fabs(wanted));
  cr_expect(off <= share, "%s: %s: %s %zu: %.15g instead of %.15g, off by %.2g, allowed %.2g",
            each->file, each->id, name, index, got, wanted, off, share);
}

void number_check(number_case* each, const char* name, double got) {
  number_check_at(each, name, 0, got);
}

void number_all_checked(const number_case* each) {
  for (size_t i = 0; i < each->expects.count; i++)
    cr_expect(each->expects.at[i].checked, "%s: %s: %s was never checked", each->file, each->id,
              each->expects.at[i].word);
}
