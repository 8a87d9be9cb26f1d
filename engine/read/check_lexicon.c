// SPDX-License-Identifier: GPL-3.0-or-later
// Checks of words: of rules/lexicon.xml, and of the words of all files taken together.
#include "check_rows.h"

#include "spell.h"

#include <string.h>

static bool has_pattern(const why_exercise_table* exercises, why_symbol id) {
  for (size_t i = 0; i < exercises->patterns.count; i++)
    if (exercises->patterns.at[i].id == id)
      return true;
  return false;
}

bool why_tables_have(const why_tables* tables, why_meaning kind, why_symbol id) {
  switch (kind) {
  case WHY_MEANS_HEAD:
    return why_head_find(&tables->anatomy, id);
  case WHY_MEANS_GROUP:
    return why_group_find(&tables->anatomy, id);
  case WHY_MEANS_ACTION:
    return why_action_find(&tables->anatomy, id);
  case WHY_MEANS_PATTERN:
    return has_pattern(&tables->exercises, id);
  case WHY_MEANS_EXERCISE:
    return why_exercise_find(&tables->exercises, id);
  case WHY_MEANS_ITEM:
    return why_equipment_item_find(&tables->equipment, id);
  case WHY_MEANS_KIND:
    return why_equipment_kind_find(&tables->equipment, id);
  case WHY_MEANS_PLACE:
    return why_equipment_place_find(&tables->equipment, id);
  case WHY_MEANS_RESTRICTION:
    return why_restriction_find(&tables->restrictions, id);
  case WHY_MEANS_SET:
    return why_lexicon_set_find(&tables->lexicon, id);
  default:
    return true;
  }
}

enum { HINTS_LIMIT = 100 };

void why_hint_words(const why_inspection* inspection, const char* typed, unsigned kinds) {
  why_hinting* hinting = inspection->hinting;
  if (hinting->given++ >= HINTS_LIMIT)
    return;
  if (!hinting->words)
    hinting->words = why_words_new(inspection->scratch, inspection->tables);
  why_word_hits near = why_words_near(hinting->words, inspection->scratch, typed, kinds);
  if (!near.count)
    return;
  why_buffer hint = {.arena = inspection->scratch};
  for (size_t i = 0; i < near.count; i++)
    why_buffer_print(&hint, "%s%s", i ? ", " : "did you mean ",
                     *near.at[i].id_text ? near.at[i].id_text : near.at[i].word);
  why_problems_hint(inspection->problems, "%s?", why_buffer_text(&hint));
}

static const char* text_of(const why_inspection* inspection, why_symbol id) {
  return why_symbols_text(inspection->tables->symbols, id);
}

static void check_target(const why_inspection* inspection, why_meaning kind, why_symbol id,
                         why_place place) {
  if (!kind || kind == WHY_MEANS_TERM || why_tables_have(inspection->tables, kind, id))
    return;
  why_inspection_report(inspection, place, "there is no %s \"%s\"", why_meaning_name(kind),
                        text_of(inspection, id));
  why_hint_words(inspection, text_of(inspection, id), kind);
}

static void check_targets(const why_inspection* inspection) {
  const why_lexicon* lexicon = &inspection->tables->lexicon;
  for (size_t i = 0; i < lexicon->entries.count; i++)
    check_target(inspection, lexicon->entries.at[i].kind, lexicon->entries.at[i].id,
                 lexicon->entries.at[i].place);
  for (size_t i = 0; i < lexicon->ambiguous.count; i++)
    for (size_t k = 0; k < lexicon->ambiguous.at[i].either.count; k++) {
      const why_lexicon_target* target = &lexicon->ambiguous.at[i].either.at[k];
      check_target(inspection, target->kind, target->id, target->place);
    }
  for (size_t i = 0; i < lexicon->unmapped.count; i++)
    check_target(inspection, lexicon->unmapped.at[i].near.kind, lexicon->unmapped.at[i].near.id,
                 lexicon->unmapped.at[i].place);
}

static void check_sets(const why_inspection* inspection) {
  const why_lexicon* lexicon = &inspection->tables->lexicon;
  for (size_t i = 0; i < lexicon->entries.count; i++) {
    const why_lexicon_entry* row = &lexicon->entries.at[i];
    for (size_t k = 0; k < row->of.count; k++)
      if (!why_tables_have(inspection->tables, WHY_MEANS_GROUP, row->of.at[k]) &&
          !why_tables_have(inspection->tables, WHY_MEANS_HEAD, row->of.at[k])) {
        why_inspection_report(inspection, row->place, "\"%s\" is neither a group nor a head",
                              text_of(inspection, row->of.at[k]));
        why_hint_words(inspection, text_of(inspection, row->of.at[k]),
                       WHY_MEANS_GROUP | WHY_MEANS_HEAD);
      }
  }
}

static void check_empty_list(const why_inspection* inspection, const why_word_list* list) {
  for (size_t i = 0; i < list->count; i++)
    if (!*why_spell_key(inspection->scratch, list->at[i].text, true))
      why_inspection_report(inspection, list->at[i].place,
                            "\"%s\" holds no letter or digit, so that nobody can type it",
                            list->at[i].text);
}

static void check_empty(const why_inspection* inspection) {
  const why_tables* tables = inspection->tables;
  for (size_t i = 0; i < tables->anatomy.heads.count; i++)
    check_empty_list(inspection, &tables->anatomy.heads.at[i].words);
  for (size_t i = 0; i < tables->anatomy.groups.count; i++)
    check_empty_list(inspection, &tables->anatomy.groups.at[i].words);
  for (size_t i = 0; i < tables->exercises.rows.count; i++)
    check_empty_list(inspection, &tables->exercises.rows.at[i].words);
  for (size_t i = 0; i < tables->equipment.kinds.count; i++)
    check_empty_list(inspection, &tables->equipment.kinds.at[i].words);
  for (size_t i = 0; i < tables->equipment.items.count; i++)
    check_empty_list(inspection, &tables->equipment.items.at[i].words);
  for (size_t i = 0; i < tables->equipment.places.count; i++)
    check_empty_list(inspection, &tables->equipment.places.at[i].words);
  for (size_t i = 0; i < tables->restrictions.restrictions.count; i++)
    check_empty_list(inspection, &tables->restrictions.restrictions.at[i].words);
  for (size_t i = 0; i < tables->lexicon.entries.count; i++)
    check_empty_list(inspection, &tables->lexicon.entries.at[i].words);
  for (size_t i = 0; i < tables->lexicon.unmapped.count; i++)
    check_empty_list(inspection, &tables->lexicon.unmapped.at[i].words);
}

/// The kinds that can be asked for at the same spot of a question as `kind`.
static unsigned rivals_of(why_meaning kind) {
  if (kind & WHY_MEANS_GOAL)
    return WHY_MEANS_GOAL;
  return kind & WHY_MEANS_THING ? WHY_MEANS_THING : kind;
}

static bool is_same_target(const why_word_hit* a, const why_word_hit* b) {
  return a->kind == b->kind && a->id == b->id && a->held == b->held;
}

/// Whether entry `at`, or another of its key and rank, lists its target under <ambiguous>.
static bool is_declared(const why_words* words, size_t at) {
  const why_word_hit* entry = why_words_at(words, at);
  size_t first = at;
  while (first && why_words_at(words, first - 1)->rank == entry->rank &&
         strcmp(why_words_at(words, first - 1)->key, entry->key) == 0)
    first--;
  for (size_t i = first; i < why_words_count(words); i++) {
    const why_word_hit* other = why_words_at(words, i);
    if (other->rank != entry->rank || strcmp(other->key, entry->key) != 0)
      return false;
    if (other->ambiguous && is_same_target(other, entry))
      return true;
  }
  return false;
}

static void report_two(const why_inspection* inspection, const why_word_hit* word,
                       const why_word_hit* other) {
  why_inspection_report(inspection, word->place, "\"%s\" means %s \"%s\" and %s \"%s\"", word->word,
                        why_meaning_name(other->kind), other->id_text, why_meaning_name(word->kind),
                        word->id_text);
  why_problems_also(inspection->problems, other->place);
  why_problems_hint(inspection->problems,
                    "take it from one of them, or list both under <ambiguous word=\"%s\">",
                    word->word);
}

/// The later entry in the file order of places is the one to report; across files, by file name.
static bool is_later(const why_word_hit* a, const why_word_hit* b) {
  int order = strcmp(a->place.file ? a->place.file : "", b->place.file ? b->place.file : "");
  if (order)
    return order > 0;
  return a->place.line != b->place.line ? a->place.line > b->place.line
                                        : a->place.column > b->place.column;
}

/// Entries with one key lie side by side, so that pairs are found within each run.
static void check_two(const why_inspection* inspection) {
  const why_words* words = why_words_new(inspection->scratch, inspection->tables);
  for (size_t i = 0; i < why_words_count(words); i++) {
    const why_word_hit* a = why_words_at(words, i);
    for (size_t j = i + 1; j < why_words_count(words); j++) {
      const why_word_hit* b = why_words_at(words, j);
      if (a->rank != b->rank || strcmp(a->key, b->key) != 0)
        break;
      bool rivals = a->rank < WHY_RANK_PLURAL && rivals_of(a->kind) & b->kind;
      if (rivals && !is_same_target(a, b) && !(is_declared(words, i) && is_declared(words, j)))
        is_later(a, b) ? report_two(inspection, a, b) : report_two(inspection, b, a);
    }
  }
}

/// A word in the lexicon that its target answers to anyway only hides what people may change.
static void check_needless(const why_inspection* inspection) {
  const why_words* words = why_words_new(inspection->scratch, inspection->tables);
  const why_lexicon* lexicon = &inspection->tables->lexicon;
  for (size_t i = 0; i < lexicon->entries.count; i++) {
    const why_lexicon_entry* row = &lexicon->entries.at[i];
    for (size_t k = 0; k < row->words.count; k++) {
      why_word_hits hits =
          why_words_find(words, inspection->scratch, row->words.at[k].text, rivals_of(row->kind));
      if (hits.count == 1 && hits.at[0].rank == WHY_RANK_OWN && hits.at[0].id == row->id)
        why_inspection_report(inspection, row->words.at[k].place,
                              "\"%s\" is the id or the name and needs no word",
                              row->words.at[k].text);
    }
  }
}

static void check_unmapped(const why_inspection* inspection) {
  const why_lexicon* lexicon = &inspection->tables->lexicon;
  for (size_t i = 0; i < lexicon->unmapped.count; i++)
    why_inspection_report(inspection, lexicon->unmapped.at[i].place,
                          "nothing stands for the %s \"%s\": %s",
                          why_meaning_name(lexicon->unmapped.at[i].kind),
                          lexicon->unmapped.at[i].name, lexicon->unmapped.at[i].reason);
}

why_check_rows why_lexicon_checks = {
    {"word-target", WHY_ERROR, check_targets, "files", "words for something that does not exist"},
    {"word-set", WHY_ERROR, check_sets, "files", "a set of muscles with an unknown member"},
    {"word-empty", WHY_ERROR, check_empty, NULL, "a word that nobody can type"},
    {"word-two-meanings", WHY_ERROR, check_two, "files",
     "a word with two meanings at one spot of a question, and no <ambiguous> for it"},
    {"word-needless", WHY_WARNING, check_needless, "files",
     "a word that is the id or name of its target anyway"},
    {"word-unmapped", WHY_NOTE, check_unmapped, NULL,
     "what is understood and stands for nothing, and why"},
    {0},
};
