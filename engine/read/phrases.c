// SPDX-License-Identifier: GPL-3.0-or-later
// Two sorted arrays: phrases by key, and the vocabulary with how often each word occurs.
#include "phrases.h"

#include "spell.h"

#include <stdlib.h>
#include <string.h>

typedef struct {
  const char* key;
  const why_lexicon_phrases* row;
} phrase_entry;

typedef struct {
  const char* word;
  size_t count;
} known_word;

struct why_phrases {
  why_arena* arena;
  WHY_LIST(phrase_entry) entries;
  WHY_LIST(known_word) known;
  WHY_LIST(why_sign) signs;
  const why_regex* cutter;
};

/// Numbers (a decimal comma only before a last digit), "w/" and "w/o", words with their
/// apostrophes, and every other character by itself.
static const char CUTTER[] = "(*UCP)[0-9]+(?:\\.[0-9]+|,[0-9](?![0-9]))?|\\bw/o?\\b|"
                             "[\\p{L}\\p{M}]+(?:['\\x{2019}][\\p{L}\\p{M}]+)*|[^\\s\\p{C}]";

static int by_key(const void* left, const void* right) {
  const phrase_entry *a = left, *b = right;
  int order = strcmp(a->key, b->key);
  return order ? order : why_place_compare(&a->row->place, &b->row->place);
}

static int by_word(const void* left, const void* right) {
  const known_word *a = left, *b = right;
  return strcmp(a->word, b->word);
}

static void learn_key(why_phrases* phrases, const char* text) {
  *WHY_LIST_ADD(phrases->arena, phrases->known) =
      (known_word){why_spell_key(phrases->arena, text, false), 1};
}

/// Add each word of `text` by itself.
static void learn(why_phrases* phrases, const char* text) {
  char* rest = why_arena_copy(phrases->arena, text, strlen(text));
  for (char* next = NULL; (next = strpbrk(rest, " -/")); rest = next + 1) {
    *next = '\0';
    learn_key(phrases, rest);
  }
  learn_key(phrases, rest);
}

/// Sort the vocabulary and count each word once.
static void settle(why_phrases* phrases) {
  known_word* at = phrases->known.at;
  size_t kept = 0;
  if (phrases->known.count)
    qsort(at, phrases->known.count, sizeof *at, by_word);
  for (size_t i = 0; i < phrases->known.count; i++) {
    if (kept && strcmp(at[kept - 1].word, at[i].word) == 0)
      at[kept - 1].count++;
    else if (*at[i].word)
      at[kept++] = at[i];
  }
  phrases->known.count = kept;
}

static void add_phrases(why_phrases* phrases, const why_lexicon_phrases* row) {
  for (size_t i = 0; i < row->words.count; i++) {
    const char* text = row->words.at[i].text;
    *WHY_LIST_ADD(phrases->arena, phrases->entries) =
        (phrase_entry){why_spell_key(phrases->arena, text, false), row};
    learn(phrases, text);
  }
}

/// What is wrong with a pattern is told by the check of that name.
static void add_sign(why_phrases* phrases, const why_lexicon_sign* row) {
  const why_regex* regex =
      why_regex_new(phrases->arena, row->pattern, NULL, "sign-pattern", row->place);
  if (regex)
    *WHY_LIST_ADD(phrases->arena, phrases->signs) = (why_sign){row, regex};
}

const why_phrases* why_phrases_new(why_arena* arena, const why_tables* tables,
                                   const why_words* words) {
  why_phrases* phrases = WHY_NEW(arena, why_phrases);
  *phrases = (why_phrases){.arena = arena};
  for (size_t i = 0; i < why_words_count(words); i++) {
    learn(phrases, why_words_at(words, i)->word);
    learn_key(phrases, why_words_at(words, i)->word); // "legextention" has no blank to part it at
  }
  for (size_t i = 0; i < tables->lexicon.phrases.count; i++)
    add_phrases(phrases, &tables->lexicon.phrases.at[i]);
  for (size_t i = 0; i < tables->lexicon.signs.count; i++)
    add_sign(phrases, &tables->lexicon.signs.at[i]);
  phrases->cutter = why_regex_new(arena, CUTTER, NULL, "sign-pattern", (why_place){0});
  settle(phrases);
  if (phrases->entries.count)
    qsort(phrases->entries.at, phrases->entries.count, sizeof *phrases->entries.at, by_key);
  return phrases;
}

const why_lexicon_phrases* why_phrases_find(const why_phrases* phrases, const char* key) {
  size_t low = 0, high = phrases->entries.count;
  while (low < high) {
    size_t middle = low + (high - low) / 2;
    if (strcmp(phrases->entries.at[middle].key, key) < 0)
      low = middle + 1;
    else
      high = middle;
  }
  bool found = low < phrases->entries.count && strcmp(phrases->entries.at[low].key, key) == 0;
  return found ? phrases->entries.at[low].row : NULL;
}

static bool is_known(const why_phrases* phrases, const char* key) {
  known_word wanted = {.word = key};
  return phrases->known.count && bsearch(&wanted, phrases->known.at, phrases->known.count,
                                         sizeof *phrases->known.at, by_word);
}

bool why_phrases_know(const why_phrases* phrases, why_arena* arena, const char* key) {
  return is_known(phrases, key) || is_known(phrases, why_spell_key(arena, key, true));
}

static unsigned edits_allowed(size_t length) {
  enum { LONG = 9 };
  return length >= LONG ? 2 : length >= WHY_SPELLED_LEAST;
}

/// Slips seldom hit the first letter, and in a short word a changed letter makes another word as
/// often as it is a slip.
static bool may_be(const char* typed, const char* known) {
  size_t length = strlen(typed);
  if (*typed != *known)
    return false;
  return length > WHY_SPELLED_LEAST || strlen(known) != length || strspn(typed, known) == length;
}

/// The lesser distance of the word and of its singular: "forarms" is one slip away from "forearm".
static unsigned distance_to(const why_phrases* phrases, size_t at, why_arena* scratch,
                            const char* key, unsigned limit) {
  const char* singular = why_spell_key(scratch, key, true);
  const char* known = phrases->known.at[at].word;
  unsigned whole = why_spell_distance(scratch, key, known, limit);
  unsigned single = why_spell_distance(scratch, singular, known, limit);
  return whole < single ? whole : single;
}

const char* why_phrases_mend(const why_phrases* phrases, why_arena* scratch, const char* key) {
  unsigned limit = edits_allowed(strlen(key));
  const known_word* best = NULL;
  for (size_t i = 0; limit && i < phrases->known.count; i++) {
    const known_word* each = &phrases->known.at[i];
    if (strlen(each->word) + 1 < WHY_SPELLED_LEAST || !may_be(key, each->word))
      continue;
    unsigned distance = distance_to(phrases, i, scratch, key, limit);
    if (distance > limit)
      continue;
    if (!best || distance < limit || each->count > best->count)
      best = each;
    limit = distance < limit ? distance : limit;
  }
  return best ? best->word : NULL;
}

size_t why_signs_count(const why_phrases* phrases) {
  return phrases->signs.count;
}

const why_sign* why_signs_at(const why_phrases* phrases, size_t index) {
  return &phrases->signs.at[index];
}

const why_regex* why_phrases_cutter(const why_phrases* phrases) {
  return phrases->cutter;
}
