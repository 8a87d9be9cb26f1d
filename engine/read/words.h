// SPDX-License-Identifier: GPL-3.0-or-later
/// From what people type to what it means: an index over all ids, names and words of the tables.
/// What a word means depends on what may be asked for at that spot, so every look-up names the
/// kinds it allows (bits of why_meaning). To have something, look among WHY_MEANS_THING first and
/// in WHY_MEANS_KIND only if that fails; to leave something out, the other way round: "cables" is
/// one machine to have, and every pulley to avoid.
#ifndef WHY_READ_WORDS_H
#define WHY_READ_WORDS_H

#include "tables.h"

/// How a word was met; the lower rank prevails and hides the higher ones.
typedef enum {
  WHY_RANK_OWN,    ///< It is the id or the name.
  WHY_RANK_WORD,   ///< It is one of the other words for it.
  WHY_RANK_PLURAL, ///< It is one of these but for the plural s of its parts.
  WHY_RANK_UNMAPPED
} why_word_rank;

/// One meaning of a word. Strings live as long as the tables or the index.
typedef struct {
  why_meaning kind;
  why_symbol id;       ///< 0 when unmapped.
  const char* id_text; ///< "" when unmapped.
  const char* word;    ///< As it stands in the file.
  const char* key;     ///< The form in which it was compared.
  why_word_rank rank;
  unsigned distance;                    ///< From what was typed; 0 but for near matches.
  bool held;                            ///< An action against which the muscles hold.
  bool ambiguous;                       ///< Listed as one of several meanings.
  const char* note;                     ///< What to tell whoever used the word; "" if nothing.
  const why_lexicon_unmapped* unmapped; ///< Why nothing stands for it; NULL for a true target.
  why_place place;
} why_word_hit;

typedef WHY_LIST(why_word_hit) why_word_hits;

typedef struct why_words why_words;

enum { WHY_NEAR_LIMIT = 3 }; ///< Most near matches.

/// Build the index over `tables`, which it borrows, in `arena`.
const why_words* why_words_new(why_arena* arena, const why_tables* tables);

/// What `typed` means among `kinds`: nothing, one meaning, or several that differ (then the user is
/// asked), in order of kind and id. An unmapped meaning is found only when there is no true one.
why_word_hits why_words_find(const why_words* words, why_arena* arena, const char* typed,
                             unsigned kinds);

/// The nearest meanings among `kinds` for a word that was not found: at most WHY_NEAR_LIMIT, each
/// target once, by distance, then word, then kind and id; none that is more than about a third of
/// the letters away.
why_word_hits why_words_near(const why_words* words, why_arena* arena, const char* typed,
                             unsigned kinds);

/// All entries of the index, sorted by rank, key, kind and id.
size_t why_words_count(const why_words* words);
const why_word_hit* why_words_at(const why_words* words, size_t index);

#endif
