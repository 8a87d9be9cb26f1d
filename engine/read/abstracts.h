// SPDX-License-Identifier: GPL-3.0-or-later
/// How abstracts write their numbers: the rows of rules/abstracts.xml, which
/// rules/schema/abstracts.rng explains.
#ifndef WHY_READ_ABSTRACTS_H
#define WHY_READ_ABSTRACTS_H

#include "base/base.h"

#include <stdbool.h>

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
  why_place place;
} why_form;

/// Words that tell something without a number.
typedef struct {
  const char* tells;
  const char* is;
  const char* pattern;
  why_place place;
} why_telling;

typedef struct {
  WHY_LIST(why_form) forms; ///< In the order in which they are tried.
  WHY_LIST(why_telling) tellings;
} why_abstracts;

/// The word of the schema for what a form gives.
const char* why_gives_name(why_gives gives);

#endif
