// SPDX-License-Identifier: GPL-3.0-or-later
// The index is one sorted array: an entry for each word as it stands and one without plural s, so
// that a look-up is two or three binary searches.
#include "words.h"

#include "spell.h"

#include <stdlib.h>
#include <string.h>

struct why_words {
  why_arena* arena;
  const why_tables* tables;
  why_word_hits entries;
};

static int compare_hits(const why_word_hit* a, const why_word_hit* b) {
  int order = a->kind < b->kind ? -1 : a->kind > b->kind;
  if (!order)
    order = strcmp(a->id_text, b->id_text);
  if (!order)
    order = a->held - b->held;
  return order ? order : strcmp(a->word, b->word);
}

static int by_rank_and_key(const void* left, const void* right) {
  const why_word_hit *a = left, *b = right;
  int order = a->rank < b->rank ? -1 : a->rank > b->rank;
  if (!order)
    order = strcmp(a->key, b->key);
  return order ? order : compare_hits(a, b);
}

/// Enter `hit` under its word, and once more without plural s.
static void add(why_words* words, why_word_hit hit) {
  hit.key = why_spell_key(words->arena, hit.word, hit.rank == WHY_RANK_UNMAPPED);
  if (!*hit.key)
    return;
  *WHY_LIST_ADD(words->arena, words->entries) = hit;
  if (hit.rank == WHY_RANK_UNMAPPED)
    return;
  hit.rank = WHY_RANK_PLURAL;
  hit.key = why_spell_key(words->arena, hit.word, true);
  *WHY_LIST_ADD(words->arena, words->entries) = hit;
}

static why_word_hit hit_of(const why_words* words, why_meaning kind, why_symbol id,
                           why_place place) {
  return (why_word_hit){.kind = kind,
                        .id = id,
                        .id_text = why_symbols_text(words->tables->symbols, id),
                        .note = why_arena_copy(words->arena, "", 0),
                        .place = place};
}

/// Enter the id and the name of a thing, and the words of its own row.
static void add_thing(why_words* words, why_word_hit hit, const char* name,
                      const why_word_list* list) {
  hit.rank = WHY_RANK_OWN;
  hit.word = name;
  add(words, hit);
  hit.word = hit.id_text;
  add(words, hit);
  hit.rank = WHY_RANK_WORD;
  for (size_t i = 0; i < list->count; i++) {
    hit.word = list->at[i].text;
    hit.place = list->at[i].place;
    add(words, hit);
  }
}

/// A group of one head that bears the head's own id or name would make that word ambiguous where
/// there is nothing to choose; the head keeps it.
static bool is_shadow(const why_words* words, const why_group* group) {
  if (group->heads.count != 1)
    return false;
  const why_head* head = why_head_find(&words->tables->anatomy, group->heads.at[0]);
  const char* key = why_spell_key(words->arena, group->name, true);
  return head && (strcmp(key, why_spell_key(words->arena, head->name, true)) == 0 ||
                  strcmp(key, why_spell_key(words->arena,
                                            why_symbols_text(words->tables->symbols, head->id),
                                            true)) == 0);
}

static void add_anatomy(why_words* words, const why_anatomy* anatomy) {
  for (size_t i = 0; i < anatomy->heads.count; i++) {
    const why_head* row = &anatomy->heads.at[i];
    add_thing(words, hit_of(words, WHY_MEANS_HEAD, row->id, row->place), row->name, &row->words);
  }
  for (size_t i = 0; i < anatomy->groups.count; i++) {
    const why_group* row = &anatomy->groups.at[i];
    why_word_hit hit = hit_of(words, WHY_MEANS_GROUP, row->id, row->place);
    add_thing(words, hit, is_shadow(words, row) ? hit.id_text : row->name, &row->words);
  }
  for (size_t i = 0; i < anatomy->actions.count; i++) {
    const why_action* row = &anatomy->actions.at[i];
    add_thing(words, hit_of(words, WHY_MEANS_ACTION, row->id, row->place), row->name,
              &(why_word_list){0});
  }
}

static void add_exercises(why_words* words, const why_exercise_table* exercises) {
  for (size_t i = 0; i < exercises->patterns.count; i++) {
    const why_pattern* row = &exercises->patterns.at[i];
    add_thing(words, hit_of(words, WHY_MEANS_PATTERN, row->id, row->place), row->name,
              &(why_word_list){0});
  }
  for (size_t i = 0; i < exercises->rows.count; i++) {
    const why_exercise* row = &exercises->rows.at[i];
    add_thing(words, hit_of(words, WHY_MEANS_EXERCISE, row->id, row->place), row->name,
              &row->words);
  }
}

static void add_equipment(why_words* words, const why_equipment* equipment) {
  for (size_t i = 0; i < equipment->kinds.count; i++) {
    const why_equipment_kind* row = &equipment->kinds.at[i];
    add_thing(words, hit_of(words, WHY_MEANS_KIND, row->id, row->place), row->name, &row->words);
  }
  for (size_t i = 0; i < equipment->items.count; i++) {
    const why_equipment_item* row = &equipment->items.at[i];
    add_thing(words, hit_of(words, WHY_MEANS_ITEM, row->id, row->place), row->name, &row->words);
  }
  for (size_t i = 0; i < equipment->places.count; i++) {
    const why_equipment_place* row = &equipment->places.at[i];
    add_thing(words, hit_of(words, WHY_MEANS_PLACE, row->id, row->place), row->name, &row->words);
  }
}

static void add_restrictions(why_words* words, const why_restrictions* all) {
  for (size_t i = 0; i < all->restrictions.count; i++) {
    const why_restriction* row = &all->restrictions.at[i];
    add_thing(words, hit_of(words, WHY_MEANS_RESTRICTION, row->id, row->place), row->name,
              &row->words);
  }
}

/// A set or a term owns its id and name; any other entry adds words to a thing of another file.
static void add_entry(why_words* words, const why_lexicon_entry* entry) {
  why_word_hit hit = hit_of(words, entry->kind, entry->id, entry->place);
  hit.held = entry->held;
  hit.note = entry->note;
  if (*entry->name) {
    add_thing(words, hit, entry->name, &entry->words);
    return;
  }
  hit.rank = WHY_RANK_WORD;
  for (size_t i = 0; i < entry->words.count; i++) {
    hit.word = entry->words.at[i].text;
    hit.place = entry->words.at[i].place;
    add(words, hit);
  }
}

static void add_ambiguous(why_words* words, const why_lexicon_ambiguous* row) {
  for (size_t i = 0; i < row->either.count; i++) {
    why_word_hit hit = hit_of(words, row->either.at[i].kind, row->either.at[i].id, row->place);
    hit.rank = WHY_RANK_WORD;
    hit.word = row->word;
    hit.note = row->note;
    hit.ambiguous = true;
    add(words, hit);
  }
}

static void add_unmapped(why_words* words, const why_lexicon_unmapped* row) {
  why_word_hit hit = hit_of(words, row->kind, 0, row->place);
  hit.rank = WHY_RANK_UNMAPPED;
  hit.unmapped = row;
  hit.word = row->name;
  add(words, hit);
  for (size_t i = 0; i < row->words.count; i++) {
    hit.word = row->words.at[i].text;
    hit.place = row->words.at[i].place;
    add(words, hit);
  }
}

const why_words* why_words_new(why_arena* arena, const why_tables* tables) {
  why_words* words = WHY_NEW(arena, why_words);
  *words = (why_words){.arena = arena, .tables = tables};
  add_anatomy(words, &tables->anatomy);
  add_exercises(words, &tables->exercises);
  add_equipment(words, &tables->equipment);
  add_restrictions(words, &tables->restrictions);
  for (size_t i = 0; i < tables->lexicon.entries.count; i++)
    add_entry(words, &tables->lexicon.entries.at[i]);
  for (size_t i = 0; i < tables->lexicon.ambiguous.count; i++)
    add_ambiguous(words, &tables->lexicon.ambiguous.at[i]);
  for (size_t i = 0; i < tables->lexicon.unmapped.count; i++)
    add_unmapped(words, &tables->lexicon.unmapped.at[i]);
  if (words->entries.count)
    qsort(words->entries.at, words->entries.count, sizeof *words->entries.at, by_rank_and_key);
  return words;
}

/// Index of the first entry that is not before (`rank`, `key`).
static size_t first_entry(const why_words* words, why_word_rank rank, const char* key) {
  size_t low = 0, high = words->entries.count;
  while (low < high) {
    size_t middle = low + (high - low) / 2;
    const why_word_hit* entry = &words->entries.at[middle];
    if (entry->rank < rank || (entry->rank == rank && strcmp(entry->key, key) < 0))
      low = middle + 1;
    else
      high = middle;
  }
  return low;
}

static bool is_same(const why_word_hit* a, const why_word_hit* b) {
  return a->kind == b->kind && a->id == b->id && a->held == b->held && a->unmapped == b->unmapped;
}

static why_word_hits find_rank(const why_words* words, why_arena* arena, why_word_rank rank,
                               const char* key, unsigned kinds) {
  why_word_hits hits = {0};
  for (size_t i = first_entry(words, rank, key); i < words->entries.count; i++) {
    const why_word_hit* entry = &words->entries.at[i];
    if (entry->rank != rank || strcmp(entry->key, key) != 0)
      break;
    if (!(entry->kind & kinds))
      continue;
    if (!hits.count || !is_same(&hits.at[hits.count - 1], entry))
      *WHY_LIST_ADD(arena, hits) = *entry;
    else if (entry->ambiguous)
      hits.at[hits.count - 1] = *entry;
  }
  return hits;
}

why_word_hits why_words_find(const why_words* words, why_arena* arena, const char* typed,
                             unsigned kinds) {
  const char* exact = why_spell_key(arena, typed, false);
  const char* singular = why_spell_key(arena, typed, true);
  why_word_hits hits = {0};
  for (why_word_rank rank = WHY_RANK_OWN; rank <= WHY_RANK_UNMAPPED && !hits.count; rank++)
    hits = find_rank(words, arena, rank, rank < WHY_RANK_PLURAL ? exact : singular, kinds);
  return hits;
}

static bool is_nearer(const why_word_hit* a, const why_word_hit* b) {
  if (a->distance != b->distance)
    return a->distance < b->distance;
  int order = strcmp(a->word, b->word);
  return order ? order < 0 : compare_hits(a, b) < 0;
}

/// Keep `hit` if it is among the nearest so far, each target once.
static void keep_near(why_word_hits* best, const why_word_hit* hit) {
  size_t at = best->count;
  for (size_t i = 0; i < best->count && at == best->count; i++)
    if (is_same(&best->at[i], hit))
      at = i;
  if (at < best->count) {
    if (!is_nearer(hit, &best->at[at]))
      return;
  } else if (best->count < WHY_NEAR_LIMIT) {
    best->count++;
  } else if (is_nearer(hit, &best->at[--at])) {
    // The farthest makes room.
  } else {
    return;
  }
  for (; at && is_nearer(hit, &best->at[at - 1]); at--)
    best->at[at] = best->at[at - 1];
  best->at[at] = *hit;
}

why_word_hits why_words_near(const why_words* words, why_arena* arena, const char* typed,
                             unsigned kinds) {
  const char* key = why_spell_key(arena, typed, false);
  unsigned limit = (unsigned)(strlen(key) + 2) / 3;
  why_word_hits best = {.at = WHY_NEW_ARRAY(arena, why_word_hit, WHY_NEAR_LIMIT),
                        .room = WHY_NEAR_LIMIT};
  for (size_t i = 0; i < words->entries.count; i++) {
    why_word_hit hit = words->entries.at[i];
    if (hit.rank == WHY_RANK_PLURAL || !(hit.kind & kinds))
      continue;
    hit.distance = why_spell_distance(arena, key, hit.key, limit);
    if (hit.distance <= limit)
      keep_near(&best, &hit);
  }
  return best;
}

size_t why_words_count(const why_words* words) {
  return words->entries.count;
}

const why_word_hit* why_words_at(const why_words* words, size_t index) {
  return &words->entries.at[index];
}
