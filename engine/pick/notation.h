// SPDX-License-Identifier: GPL-3.0-or-later
/// How people write a programme down, as rules/reasoning/notation.xml says: patterns with a
/// meaning each, compiled for one programme. Private to pick.
#ifndef WHY_PICK_NOTATION_H
#define WHY_PICK_NOTATION_H

#include "question.h"

typedef enum {
  WHY_WRITES_NOTHING, ///< A meaning that the engine does not know: taken as an aside.
  WHY_WRITES_REMARK,
  WHY_WRITES_BULLET,
  WHY_WRITES_WEEKDAY,
  WHY_WRITES_DAY,
  WHY_WRITES_MANY,
  WHY_WRITES_WARM_UP,
  WHY_WRITES_IDLE,
  WHY_WRITES_RESERVE,
  WHY_WRITES_EXERTION,
  WHY_WRITES_SETS_REPETITIONS,
  WHY_WRITES_SETS_REPETITIONS_KILOGRAMS,
  WHY_WRITES_SETS_SECONDS,
  WHY_WRITES_SETS,
  WHY_WRITES_REPETITIONS,
  WHY_WRITES_LIST,
  WHY_WRITES_KILOGRAMS,
  WHY_WRITES_POUNDS,
  WHY_WRITES_SIDE
} why_writes;

enum { WHY_WRITTEN_NUMBERS = 12 }; ///< Most numbers of one match.

/// A match: what it means, where it stands, the numbers in it in their order.
typedef struct {
  why_writes meaning;
  size_t start;
  size_t end;
  double numbers[WHY_WRITTEN_NUMBERS];
  size_t count;
} why_written;

typedef struct {
  why_writes meaning;
  const why_regex* regex;
} why_notation_row;

/// A word that means one exercise in a programme.
typedef struct {
  const char* key; ///< As why_spell_key gives it.
  why_symbol exercise;
} why_shorthand;

typedef struct {
  why_arena* arena;
  WHY_LIST(why_notation_row) rows; ///< In order of rank.
  WHY_LIST(why_shorthand) shorthands;
  why_matcher matcher;
} why_notation;

/// Compile the patterns in the question's arena. WHY_KNOWLEDGE after reporting one that is none.
why_status why_notation_new(const why_question* question, why_notation* notation);

/// The first match of row `row` from byte `from` on. False when there is none; `text` is UTF-8.
bool why_notation_find(why_notation* notation, size_t row, const char* text, size_t from,
                       why_written* found);

/// The first match of any row with that meaning.
bool why_notation_means(why_notation* notation, why_writes meaning, const char* text,
                        why_written* found);

/// The exercise that a text is short for; 0 if none.
why_symbol why_notation_shorthand(const why_notation* notation, const char* text);

#endif
