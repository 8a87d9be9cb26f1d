// SPDX-License-Identifier: GPL-3.0-or-later
/// How abstracts write their numbers: the rows of rules/abstracts.xml, which
/// rules/schema/abstracts.rng explains.
#ifndef WHY_READ_ABSTRACTS_H
#define WHY_READ_ABSTRACTS_H

#include "regex.h"

/// What a form gives; in the order of the schema.
typedef enum {
  WHY_GIVES_PEOPLE,
  WHY_GIVES_SEXES,
  WHY_GIVES_ARM,
  WHY_GIVES_ARM_EACH,
  WHY_GIVES_WEEKS,
  WHY_GIVES_WEEKS_SAID,
  WHY_GIVES_SESSIONS,
  WHY_GIVES_AGE,
  WHY_GIVES_SETS,
  WHY_GIVES_LOAD,
  WHY_GIVES_MAXIMUM,
  WHY_GIVES_GROWTH,
  WHY_GIVES_PERCENT,
  WHY_GIVES_PERCENT_ASIDE,
  WHY_GIVES_CHANGE,
  WHY_GIVES_DIFFERENCE,
  WHY_GIVES_EFFECT_SIZE,
  WHY_GIVES_INTERVAL,
  WHY_GIVES_P,
  WHY_GIVES_SITE,
  WHY_GIVES_NOTED,
  WHY_GIVES_NOTHING
} why_gives;

/// A way of writing numbers.
typedef struct {
  why_symbol id;
  why_gives gives;
  bool by_case;        ///< Capitals count.
  const char* says;    ///< "" unless it is noted or nothing.
  const char* example; ///< A sentence that it reads.
  const char* pattern;
  const why_regex* regex; ///< NULL where the pattern is no regular expression.
  why_place place;
} why_form;

/// Words that tell something without a number.
typedef struct {
  const char* tells;
  const char* is;
  const char* pattern;
  const why_regex* regex; ///< As above.
  why_place place;
} why_telling;

typedef struct {
  WHY_LIST(why_form) forms; ///< In the order in which they are tried.
  WHY_LIST(why_telling) tellings;
} why_abstracts;

/// Compile a pattern as forms and signs are; `by_case`: capitals count. NULL when it
/// is no regular expression, which is told to `problems` (or NULL) as an error of "form-pattern".
const why_regex* why_abstracts_compile(why_arena* arena, const char* pattern, bool by_case,
                                       why_problems* problems, why_place place);

/// The word of the schema for what a form gives.
const char* why_gives_name(why_gives gives);

#endif
