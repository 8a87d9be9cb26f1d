// SPDX-License-Identifier: GPL-3.0-or-later
/// Words, numbers and names of a line in the text files of tests/reference, each of which must be
/// there.
#ifndef WHY_TEST_LINE_H
#define WHY_TEST_LINE_H

#include "body/body.h"

typedef struct {
  const why_symbols* symbols;
  char* rest; ///< Of the line, consumed word by word.
} line;

/// The next word, or NULL.
char* line_word(line* at);

/// The next word, a number.
double line_number(line* at);

/// `text` as a name that the knowledge base knows; NULL and others fail.
why_symbol line_name(const line* at, const char* text);

/// The next word as such a name.
why_symbol line_next_name(line* at);

/// Call `read` with the first word of every line of a file that is neither blank nor a comment.
void line_each(line* at, const char* file, void (*read)(void* user, const char* first), void* user);

#endif
