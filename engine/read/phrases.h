// SPDX-License-Identifier: GPL-3.0-or-later
/// How people ask: an index over the phrases of rules/lexicon.xml, its patterns compiled, and every
/// single word that occurs in a name, a word or a phrase, so that spelling can be mended.
#ifndef WHY_READ_PHRASES_H
#define WHY_READ_PHRASES_H

#include "regex.h"
#include "words.h"

typedef struct why_phrases why_phrases;

enum { WHY_SPELLED_LEAST = 4 }; ///< Shortest word whose spelling is mended, letters.

/// Build the index over `tables`, which it borrows, in `arena`. Patterns that are no regular
/// expressions are left out (the check "sign-pattern" has reported them).
const why_phrases* why_phrases_new(why_arena* arena, const why_tables* tables,
                                   const why_words* words);

/// The phrases whose word has the key `key` (why_spell_key, not singular), or NULL.
const why_lexicon_phrases* why_phrases_find(const why_phrases* phrases, const char* key);

/// Whether `key` is a single word of a name, a word or a phrase, also without plural s.
bool why_phrases_know(const why_phrases* phrases, why_arena* arena, const char* key);

/// The known word that a misspelt one is nearest to, or NULL: one letter put in, left out, changed
/// or swapped; two in words of nine letters or more. The first letter stays, and in a word of four
/// letters all of them do. Ties go to the more frequent word.
const char* why_phrases_mend(const why_phrases* phrases, why_arena* scratch, const char* key);

/// A compiled sign.
typedef struct {
  const why_lexicon_sign* row;
  const why_regex* regex;
} why_sign;

size_t why_signs_count(const why_phrases* phrases);
const why_sign* why_signs_at(const why_phrases* phrases, size_t index);

/// The regular expression that cuts a sentence into words, numbers and marks.
const why_regex* why_phrases_cutter(const why_phrases* phrases);

#endif
