// SPDX-License-Identifier: GPL-3.0-or-later
// Open addressing over keys, with linear steps.
#include "index.h"

why_index why_index_new(uint32_t mask, unsigned width, uint32_t expected) {
  uint32_t first = 8;
  while (first < expected + expected / 2)
    first *= 2;
  return (why_index){
      .mask = mask, .width = width, .unique = mask == (UINT32_C(1) << width) - 1, .first = first};
}

/// Keep a third free, so that searches stay short.
static void make_room(why_index* index, why_arena* arena) {
  if (index->used + index->used / 2 < index->entry_count)
    return;
  why_index_entry* old = index->entries;
  uint32_t old_count = index->entry_count;
  index->entry_count = old_count ? old_count * 2 : index->first;
  index->entries = WHY_NEW_ARRAY(arena, why_index_entry, index->entry_count);
  for (uint32_t i = 0; i < old_count; i++) {
    if (!old[i].last)
      continue;
    uint32_t at = old[i].hash & (index->entry_count - 1);
    while (index->entries[at].last)
      at = (at + 1) & (index->entry_count - 1);
    index->entries[at] = old[i];
  }
  why_arena_leave(arena, old, old_count * sizeof *old);
}

/// Hang a row behind those that have its key.
static void link_row(why_index* index, const why_index_entry* entry, uint32_t row) {
  uint32_t last = entry->last - 1;
  index->next[row] = entry->several ? index->next[last] : last;
  index->next[last] = row;
}

static void add_row(why_index* index, why_arena* arena, const why_value* rows, uint32_t row) {
  make_room(index, arena);
  const why_value* values = rows + (size_t)row * index->width;
  uint32_t hash = why_index_hash(index->mask, values);
  why_index_entry* entry = why_index_find(index, rows, hash, values);
  bool several = entry->last;
  index->used += !several;
  if (several)
    link_row(index, entry, row);
  *entry = (why_index_entry){.last = row + 1, .hash = hash & (UINT32_MAX >> 1), .several = several};
}

void why_index_fill(why_index* index, why_arena* arena, const why_value* rows, uint32_t count) {
  if (!index->unique && count > index->next_room) {
    uint32_t room = index->next_room + index->next_room / 2;
    room = room < count ? count : room;
    index->next = why_arena_grow(arena, index->next, index->next_room * sizeof(uint32_t),
                                 room * sizeof(uint32_t));
    index->next_room = room;
  }
  for (; index->filled < count; index->filled++)
    add_row(index, arena, rows, index->filled);
}

uint32_t why_index_meet(why_index* index, why_arena* arena, const why_value* rows, uint32_t hash,
                        const why_value* values, uint32_t row) {
  make_room(index, arena);
  why_index_entry* entry = why_index_find(index, rows, hash, values);
  if (entry->last)
    return entry->last - 1;
  *entry = (why_index_entry){.last = row + 1, .hash = hash & (UINT32_MAX >> 1)};
  index->used++;
  index->filled = row + 1;
  return row;
}
