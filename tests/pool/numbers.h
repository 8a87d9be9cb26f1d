// SPDX-License-Identifier: GPL-3.0-or-later
/// Reads the numeric cases of tests/reference/pool/*.txt:
///   case ID
///     of OTHER                             words that the case lacks are those of that case
///     WORD TEXT...                         inputs, in words of the file's own
///     expect NAME VALUE... within SHARE    what must come out, to a share of each value
/// Lines that begin with `#` say where the values come from.
#ifndef WHY_TESTS_POOL_NUMBERS_H
#define WHY_TESTS_POOL_NUMBERS_H

#include "base/base.h"

#include <stdbool.h>

typedef struct {
  const char* word; ///< Of an expectation its name.
  const char* text; ///< The rest of the line.
  bool checked;
} number_line;

typedef struct number_case {
  const char* id;
  const char* file;
  struct number_case* of; ///< NULL: none.
  WHY_LIST(number_line) lines;
  WHY_LIST(number_line) expects;
} number_case;

typedef WHY_LIST(number_case*) number_cases;

/// Add the cases of tests/reference/pool/FILE; fails the test when it is not there or empty.
void number_cases_read(const char* file, why_arena* arena, number_cases* cases);

/// The text of the `row`th line with that word, NULL when there is none.
const char* number_text(const number_case* each, const char* word, size_t row);
size_t number_rows(const number_case* each, const char* word);

/// Whether the first line with that word reads so.
bool number_is(const number_case* each, const char* word, const char* text);

/// The `index`th number of that line; NAN when it is missing or written `-`.
double number_at(const number_case* each, const char* word, size_t row, size_t index);
double number_of(const number_case* each, const char* word);

bool number_expects(const number_case* each, const char* name);

/// Check `got` against the `index`th value expected under that name, and mark it as checked. A
/// value of 0 must be met to within SHARE itself; one written `-` must be NAN, one written `?` may
/// be any.
void number_check_at(number_case* each, const char* name, size_t index, double got);
void number_check(number_case* each, const char* name, double got);

/// Fails when some expectation of the case was never checked.
void number_all_checked(const number_case* each);

#endif
