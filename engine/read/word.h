// SPDX-License-Identifier: GPL-3.0-or-later
/// Words that people type, as rows of several files carry them, and the kinds of thing they can
/// mean.
#ifndef WHY_READ_WORD_H
#define WHY_READ_WORD_H

#include "base/base.h"

#include <stdbool.h>

typedef struct {
  const char* text;
  why_place place;
} why_word;

typedef WHY_LIST(why_word) why_word_list;

/// What a word can mean. Kinds are bits, so that a question can name those it allows.
typedef enum {
  WHY_MEANS_HEAD = 1,
  WHY_MEANS_GROUP = 2,
  WHY_MEANS_SET = 4, ///< Muscles that people name together (lexicon).
  WHY_MEANS_ACTION = 8,
  WHY_MEANS_PATTERN = 16,
  WHY_MEANS_EXERCISE = 32,
  WHY_MEANS_ITEM = 64,
  WHY_MEANS_PLACE = 128,
  WHY_MEANS_KIND = 256, ///< A kind of equipment.
  WHY_MEANS_RESTRICTION = 512,
  WHY_MEANS_TERM = 1024, ///< A word of training without a target of its own.

  WHY_MEANS_GOAL = WHY_MEANS_HEAD | WHY_MEANS_GROUP | WHY_MEANS_SET | WHY_MEANS_ACTION,
  WHY_MEANS_THING = WHY_MEANS_ITEM | WHY_MEANS_PLACE,
  WHY_MEANS_ANY = 2047
} why_meaning;

/// The kind of that name in rules/lexicon.xml ("head", "group", ...; "goal-word", "notation" and
/// "modifier" are terms), or 0.
why_meaning why_meaning_named(const char* name);

/// "head", "group", ... for one kind; "thing" for several.
const char* why_meaning_name(why_meaning kind);

#endif
