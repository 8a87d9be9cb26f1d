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

/// What a phrase does in a sentence; rules/schema/lexicon.rng explains each.
typedef enum {
  WHY_PHRASE_FILLER,
  WHY_PHRASE_OTHER,
  WHY_PHRASE_ARTICLE,
  WHY_PHRASE_JOIN,
  WHY_PHRASE_EITHER,
  WHY_PHRASE_BREAK,
  WHY_PHRASE_HAVE,
  WHY_PHRASE_WITHOUT,
  WHY_PHRASE_COMPLAINT,
  WHY_PHRASE_HARMS,
  WHY_PHRASE_LIMIT,
  WHY_PHRASE_SWAP,
  WHY_PHRASE_WHY,
  WHY_PHRASE_CHOOSE,
  WHY_PHRASE_LEVEL,
  WHY_PHRASE_UNIT,
  WHY_PHRASE_NUMBER,
  WHY_PHRASE_AGED,
  WHY_PHRASE_TAKEN,
  WHY_PHRASE_BEYOND,
  WHY_PHRASE_DOSE,
  WHY_PHRASE_WORKS,
  WHY_PHRASE_PLAN,
  WHY_PHRASE_AUDIT
} why_phrase_role;

/// What a unit measures.
typedef enum {
  WHY_MEASURE_NONE,
  WHY_MEASURE_LOAD,
  WHY_MEASURE_TIME,
  WHY_MEASURE_AGE,
  WHY_MEASURE_DAYS
} why_measure;

/// Phrases that do the same.
typedef struct {
  why_phrase_role role;
  why_measure measure;
  double factor;     ///< Of a unit: kilograms, minutes or years in it; of a number: its value.
  const char* value; ///< Of a level its name, of a complaint the word for it; "" for others.
  bool denies;       ///< Says of a sign of danger that there is none.
  const char* say;   ///< What is answered instead; "" for all that can be answered.
  why_word_list words;
  why_place place;
} why_lexicon_phrases;

/// A word that means one item when it is there, and all of several when it is missing.
typedef struct {
  const char* word;
  why_symbol_list items;
  why_place place;
} why_lexicon_missing;

/// A pattern by which a restriction is known that no fixed words tell.
typedef struct {
  why_symbol restriction;
  const char* pattern;
  why_place place;
} why_lexicon_sign;

/// An age from which, or below which, a restriction holds.
typedef struct {
  why_symbol restriction;
  double from;  ///< -infinity when not bounded.
  double below; ///< +infinity when not bounded.
  why_place place;
} why_lexicon_age;

typedef struct {
  WHY_LIST(why_lexicon_entry) entries;
  WHY_LIST(why_lexicon_ambiguous) ambiguous;
  WHY_LIST(why_lexicon_unmapped) unmapped;
  WHY_LIST(why_lexicon_name) names;
  WHY_LIST(why_lexicon_phrases) phrases;
  WHY_LIST(why_lexicon_missing) missing;
  WHY_LIST(why_lexicon_sign) signs;
  WHY_LIST(why_lexicon_age) ages;
} why_lexicon;

/// The set of that id, or NULL.
const why_lexicon_entry* why_lexicon_set_find(const why_lexicon* lexicon, why_symbol id);

/// The name to show for an id that has none in its own file: from the lexicon, else the id with
/// blanks for hyphens. The string lives in `arena` or in the tables.
const char* why_lexicon_name_of(const why_lexicon* lexicon, const why_symbols* symbols,
                                why_arena* arena, why_symbol id);

#endif
