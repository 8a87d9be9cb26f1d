// SPDX-License-Identifier: GPL-3.0-or-later
// Checks of how people ask: phrases, signs and ages of rules/lexicon.xml.
#include "check_rows.h"

#include "regex.h"
#include "spell.h"

#include <stdlib.h>
#include <string.h>

typedef struct {
  const char* key;
  const why_word* word;
} keyed_word;

typedef WHY_LIST(keyed_word) keyed_words;

static int by_key(const void* left, const void* right) {
  const keyed_word *a = left, *b = right;
  int order = strcmp(a->key, b->key);
  return order ? order : why_place_compare(&a->word->place, &b->word->place);
}

static keyed_words gather(const why_inspection* inspection) {
  const why_lexicon* lexicon = &inspection->tables->lexicon;
  keyed_words all = {0};
  for (size_t i = 0; i < lexicon->phrases.count; i++) {
    const why_word_list* words = &lexicon->phrases.at[i].words;
    for (size_t k = 0; k < words->count; k++)
      *WHY_LIST_ADD(inspection->scratch, all) =
          (keyed_word){why_spell_key(inspection->scratch, words->at[k].text, false), &words->at[k]};
  }
  if (all.count)
    qsort(all.at, all.count, sizeof *all.at, by_key);
  return all;
}

static void check_twice(const why_inspection* inspection) {
  keyed_words all = gather(inspection);
  for (size_t i = 1; i < all.count; i++) {
    if (!*all.at[i].key || strcmp(all.at[i].key, all.at[i - 1].key) != 0)
      continue;
    why_inspection_report(inspection, all.at[i].word->place, "the phrase \"%s\" stands here twice",
                          all.at[i].word->text);
    why_problems_also(inspection->problems, all.at[i - 1].word->place);
  }
}

static void check_empty(const why_inspection* inspection) {
  keyed_words all = gather(inspection);
  for (size_t i = 0; i < all.count && !*all.at[i].key; i++)
    why_inspection_report(inspection, all.at[i].word->place,
                          "the phrase \"%s\" holds no letter or digit", all.at[i].word->text);
}

/// Words for things go before phrases of the same length.
static void check_hidden(const why_inspection* inspection) {
  const why_words* words = why_words_new(inspection->scratch, inspection->tables);
  keyed_words all = gather(inspection);
  for (size_t i = 0; i < all.count; i++) {
    why_word_hits hits = why_words_find(words, inspection->scratch, all.at[i].word->text,
                                        WHY_MEANS_ANY & ~WHY_MEANS_TERM);
    if (hits.count && hits.at[0].id)
      why_inspection_report(inspection, all.at[i].word->place,
                            "the phrase \"%s\" is taken for the %s \"%s\"", all.at[i].word->text,
                            why_meaning_name(hits.at[0].kind), hits.at[0].id_text);
  }
}

static void check_restriction(const why_inspection* inspection, why_symbol id, why_place place) {
  if (why_restriction_find(&inspection->tables->restrictions, id))
    return;
  why_inspection_report(inspection, place, "there is no restriction \"%s\"",
                        why_inspection_text(inspection, id));
  why_hint_words(inspection, why_inspection_text(inspection, id), WHY_MEANS_RESTRICTION);
}

static void check_targets(const why_inspection* inspection) {
  const why_lexicon* lexicon = &inspection->tables->lexicon;
  for (size_t i = 0; i < lexicon->signs.count; i++)
    check_restriction(inspection, lexicon->signs.at[i].restriction, lexicon->signs.at[i].place);
  for (size_t i = 0; i < lexicon->ages.count; i++)
    check_restriction(inspection, lexicon->ages.at[i].restriction, lexicon->ages.at[i].place);
}

static void check_missing(const why_inspection* inspection) {
  const why_lexicon* lexicon = &inspection->tables->lexicon;
  for (size_t i = 0; i < lexicon->missing.count; i++) {
    const why_lexicon_missing* row = &lexicon->missing.at[i];
    for (size_t k = 0; k < row->items.count; k++)
      if (!why_tables_have(inspection->tables, WHY_MEANS_ITEM, row->items.at[k])) {
        why_inspection_report(inspection, row->place, "there is no item \"%s\"",
                              why_inspection_text(inspection, row->items.at[k]));
        why_hint_words(inspection, why_inspection_text(inspection, row->items.at[k]),
                       WHY_MEANS_ITEM);
      }
  }
}

static void check_patterns(const why_inspection* inspection) {
  const why_lexicon* lexicon = &inspection->tables->lexicon;
  for (size_t i = 0; i < lexicon->signs.count; i++)
    why_regex_new(inspection->scratch, lexicon->signs.at[i].pattern, inspection->problems,
                  inspection->check->name, lexicon->signs.at[i].place);
}

why_check_rows why_asking_checks = {
    {"phrase-twice", WHY_ERROR, check_twice, NULL, "a phrase that does two things in a sentence"},
    {"phrase-empty", WHY_ERROR, check_empty, NULL, "a phrase that nobody can type"},
    {"phrase-hidden", WHY_WARNING, check_hidden, "files",
     "a phrase that is understood as the word for a thing"},
    {"missing-item", WHY_ERROR, check_missing, "files",
     "a word for missing items that names an item which does not exist"},
    {"sign-restriction", WHY_ERROR, check_targets, "files",
     "a sign or an age that tells a restriction which does not exist"},
    {"sign-pattern", WHY_ERROR, check_patterns, NULL, "a sign that is no regular expression"},
    {0},
};
