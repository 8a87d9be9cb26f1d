// SPDX-License-Identifier: GPL-3.0-or-later
/// The rows of rules/lexicon.xml; rules/schema/lexicon.rng explains what they mean.
#ifndef WHY_READ_LEXICON_H
#define WHY_READ_LEXICON_H

#include "word.h"

/// Words and the thing they mean.
typedef struct {
  why_meaning kind;
  why_symbol kind_name; ///< As written; tells goal words, notation and modifiers apart.
  why_symbol id;
  const char* name;   ///< Of a set or a term; "" for others.
  why_symbol_list of; ///< Groups and heads of a set.
  bool held;          ///< The muscles of the action hold against the opposite movement.
  const char* note;   ///< What to tell whoever uses these words; "" if nothing.
  why_word_list words;
  why_place place;
} why_lexicon_entry;

typedef struct {
  why_meaning kind;
  why_symbol id;
  why_place place;
} why_lexicon_target;

/// A word with several meanings.
typedef struct {
  const char* word;
  const char* note; ///< What decides.
  WHY_LIST(why_lexicon_target) either;
  why_place place;
} why_lexicon_ambiguous;

/// Words that are understood, and that nothing in the knowledge base stands for.
typedef struct {
  why_meaning kind; ///< What it would be.
  const char* name;
  const char* reason;
  why_lexicon_target near; ///< The closest thing that has a target; kind 0 when there is none.
  why_word_list words;
  why_place place;
} why_lexicon_unmapped;

typedef struct {
  why_symbol id;
  const char* text;
  why_place place;
} why_lexicon_name;

typedef struct {
  WHY_LIST(why_lexicon_entry) entries;
  WHY_LIST(why_lexicon_ambiguous) ambiguous;
  WHY_LIST(why_lexicon_unmapped) unmapped;
  WHY_LIST(why_lexicon_name) names;
} why_lexicon;

/// The set of that id, or NULL.
const why_lexicon_entry* why_lexicon_set_find(const why_lexicon* lexicon, why_symbol id);

/// The name to show for an id that has none in its own file: from the lexicon, else the id with
/// blanks for hyphens. The string lives in `arena` or in the tables.
const char* why_lexicon_name_of(const why_lexicon* lexicon, const why_symbols* symbols,
                                why_arena* arena, why_symbol id);

#endif
