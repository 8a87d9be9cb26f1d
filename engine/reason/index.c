// SPDX-License-Identifier: GPL-3.0-or-later
// Open addressing over keys; rows of one key hang on a chain in order of their numbers, so that a
// reader can stop at the end of the range it may see while later rows are already being added.
#include "index.h"

uint32_t why_index_hash(uint32_t mask, const why_value* values) {
  uint64_t hash = UINT64_C(0x9e3779b97f4a7c15);
  for (unsigned i = 0; mask; i++, mask >>= 1) {
    if (!(mask & 1))
      continue;
    hash = (hash ^ values[i].bits) * UINT64_C(0xff51afd7ed558ccd);
    hash ^= hash >> 32;
  }
  return (uint32_t)hash;
}

bool why_index_same(uint32_t mask, const why_value* a, const why_value* b) {
  for (unsigned i = 0; mask; i++, mask >>= 1)
    if ((mask & 1) && a[i].bits != b[i].bits)
      return false;
  return true;
}

static why_index_entry* find_entry(const why_index* index, const why_value* rows, uint32_t hash,
                                   const why_value* values) {
  uint32_t last = index->entry_count - 1;
  for (uint32_t at = hash & last;; at = (at + 1) & last) {
    why_index_entry* entry = &index->entries[at];
    if (!entry->head ||
        (entry->hash == hash &&
         why_index_same(index->mask, rows + (size_t)(entry->head - 1) * index->width, values)))
      return entry;
  }
}

uint32_t why_index_first(const why_index* index, const why_value* rows, uint32_t hash,
                         const why_value* values) {
  if (!index->entry_count)
    return WHY_NO_ROW;
  return find_entry(index, rows, hash, values)->head - 1;
}

static void enlarge(why_index* index, why_arena* arena) {
  why_index_entry* old = index->entries;
  uint32_t old_count = index->entry_count;
  index->entry_count = old_count ? old_count * 2 : 16;
  index->entries = WHY_NEW_ARRAY(arena, why_index_entry, index->entry_count);
  for (uint32_t i = 0; i < old_count; i++) {
    if (!old[i].head)
      continue;
    uint32_t at = old[i].hash & (index->entry_count - 1);
    while (index->entries[at].head)
      at = (at + 1) & (index->entry_count - 1);
    index->entries[at] = old[i];
  }
}

void why_index_fill(why_index* index, why_arena* arena, const why_value* rows, uint32_t count) {
  while (index->next.count < count) {
    uint32_t row = (uint32_t)index->next.count;
    if (index->used + index->used / 2 >= index->entry_count)
      enlarge(index, arena);
    const why_value* values = rows + (size_t)row * index->width;
    uint32_t hash = why_index_hash(index->mask, values);
    why_index_entry* entry = find_entry(index, rows, hash, values);
    *WHY_LIST_ADD(arena, index->next) = 0;
    if (entry->head) {
      index->next.at[entry->tail] = row + 1;
    } else {
      *entry = (why_index_entry){.hash = hash, .head = row + 1};
      index->used++;
    }
    entry->tail = row;
  }
}
