// SPDX-License-Identifier: GPL-3.0-or-later
/// The numbers of a text, in digits or in words, each with its place in its sentence. Digits inside
/// a name or unit (T1, cm2, VO2max, wk-1), in an address or in a DOI are none.
#ifndef WHY_READ_DRAFT_NUMBER_H
#define WHY_READ_DRAFT_NUMBER_H

#include "draft_text.h"

#include <stdbool.h>

enum { WHY_DRAFT_NUMBERS_LIMIT = 2000 };

/// What became of a number.
typedef enum {
  WHY_NUMBER_OPEN,   ///< Found, but it is not known where it belongs.
  WHY_NUMBER_USED,   ///< It stands in the study.
  WHY_NUMBER_IGNORED ///< A study file has no place for such a number.
} why_number_fate;

typedef struct {
  const char* text; ///< As the mended text has it.
  double value;     ///< NAN where a comma or point can be read in two ways.
  bool in_words;
  size_t sentence;
  size_t at; ///< Where its mark stands in the shape of the sentence, bytes.
  why_number_fate fate;
  const char* what; ///< What it was used for, or why it was not; NULL while nothing took it.
} why_draft_number;

/// A sentence and its shape: the sentence with WHY_NUMBER_MARK in place of each number, and
/// WHY_TAKEN_MARK once a form took it.
typedef struct {
  const char* text;
  char* shape;
  size_t first; ///< Of its numbers.
  size_t count;
} why_draft_sentence;

enum { WHY_NUMBER_MARK = '#', WHY_TAKEN_MARK = '~' };

typedef WHY_LIST(why_draft_number) why_draft_numbers;
typedef WHY_LIST(why_draft_sentence) why_draft_sentence_list;

typedef struct {
  why_draft_sentence_list sentences;
  why_draft_numbers numbers; ///< In the order of the text.
  const char* doi;           ///< The first, or "".
  bool too_many; ///< There were more than WHY_DRAFT_NUMBERS_LIMIT; those behind are lost.
} why_draft_lexed;

why_draft_lexed why_draft_lex(why_arena* arena, const why_sentences* sentences);

/// "open", "used", "ignored".
const char* why_number_fate_name(why_number_fate fate);

/// The number whose mark stands at byte `at` of the shape of sentence `sentence`; NULL: none.
why_draft_number* why_draft_number_at(const why_draft_lexed* lexed, size_t sentence, size_t at);

#endif
