// SPDX-License-Identifier: GPL-3.0-or-later
/// Hash indexes over rows: from the values of some slots to all rows that have them, in order of
/// row numbers. Row numbers count from 0 within the rows that the index covers.
#ifndef WHY_REASON_INDEX_H
#define WHY_REASON_INDEX_H

#include "reason.h"

#define WHY_NO_ROW UINT32_MAX

/// Eight entries share a line of the cache, and the hash in it spares most looks at rows. It stands
/// in the upper half, so that hardly any entry looks like an address (base/image.h).
typedef struct {
  uint32_t last;        ///< Last row with the key, plus one; 0 where free.
  uint32_t hash : 31;   ///< Of the key.
  uint32_t several : 1; ///< More than one row has the key.
} why_index_entry;

/// Several rows of one key hang on a ring in order of their numbers, so that a reader can stop at
/// the end of the range it may see while later rows are already being added.
typedef struct {
  uint32_t mask; ///< Slots that make the key.
  unsigned width;
  bool unique;    ///< The key is the whole row: no rings.
  uint32_t first; ///< Entries to begin with: a power of two.
  why_index_entry* entries;
  uint32_t entry_count; ///< A power of two, or 0 while empty.
  uint32_t used;        ///< Different keys.
  uint32_t filled;      ///< Rows that are in.
  uint32_t* next;       ///< By row: the next row with the same key; behind the last, the first.
                        ///< Not set for a row that is alone with its key.
  uint32_t next_room;
} why_index;

/// An empty index for rows of `width` slots, of which so many are expected.
why_index why_index_new(uint32_t mask, unsigned width, uint32_t expected);

/// Rows of one key on their way through a reader.
typedef struct {
  uint32_t row; ///< The one at hand; WHY_NO_ROW behind the last.
  uint32_t last;
} why_index_reader;

/// The number of the first slot in a mask that has some.
static inline unsigned why_slot_first(uint32_t mask) {
  return (unsigned)__builtin_ctz(mask);
}

/// The hash of the slots in `mask`, 31 bits.
static inline uint32_t why_index_hash(uint32_t mask, const why_value* values) {
  uint64_t hash = UINT64_C(0x9e3779b97f4a7c15);
  for (; mask; mask &= mask - 1) {
    hash = (hash ^ values[why_slot_first(mask)].bits) * UINT64_C(0xff51afd7ed558ccd);
    hash ^= hash >> 32;
  }
  return (uint32_t)hash & (UINT32_MAX >> 1);
}

/// Whether two rows agree in the slots of `mask`.
static inline bool why_index_same(uint32_t mask, const why_value* a, const why_value* b) {
  for (; mask; mask &= mask - 1)
    if (a[why_slot_first(mask)].bits != b[why_slot_first(mask)].bits)
      return false;
  return true;
}

/// Where the key of `values` is entered, or where it would be.
static inline why_index_entry* why_index_find(const why_index* index, const why_value* rows,
                                              uint32_t hash, const why_value* values) {
  uint32_t last = index->entry_count - 1;
  for (uint32_t at = hash & last;; at = (at + 1) & last) {
    why_index_entry* entry = &index->entries[at];
    if (!entry->last ||
        (entry->hash == hash &&
         why_index_same(index->mask, rows + (size_t)(entry->last - 1) * index->width, values)))
      return entry;
  }
}

/// A reader at the first row with the key of `values` (whose hash is given); and on to the next one
/// of those that were there when it began.
static inline why_index_reader why_index_first(const why_index* index, const why_value* rows,
                                               uint32_t hash, const why_value* values) {
  if (!index->entry_count)
    return (why_index_reader){WHY_NO_ROW, WHY_NO_ROW};
  const why_index_entry* entry = why_index_find(index, rows, hash, values);
  uint32_t last = entry->last - 1; // 0 - 1 is WHY_NO_ROW
  return (why_index_reader){entry->several ? index->next[last] : last, last};
}
static inline void why_index_next(const why_index* index, why_index_reader* at) {
  at->row = at->row == at->last ? WHY_NO_ROW : index->next[at->row];
}

/// Take in all rows up to `count` that are not in yet.
void why_index_fill(why_index* index, why_arena* arena, const why_value* rows, uint32_t count);

/// Into a unique index that covers all rows before `row`: add `values`, to be row number `row`,
/// unless they are there already. Returns the row that has them.
uint32_t why_index_meet(why_index* index, why_arena* arena, const why_value* rows, uint32_t hash,
                        const why_value* values, uint32_t row);

/// Ask the machine to bring near what a search for `hash` looks at first; and then the row that
/// such a search is likely to look at, or WHY_NO_ROW.
static inline void why_index_near(const why_index* index, uint32_t hash) {
  if (index->entry_count)
    __builtin_prefetch(&index->entries[hash & (index->entry_count - 1)]);
}
static inline uint32_t why_index_guess(const why_index* index, uint32_t hash) {
  if (!index->entry_count)
    return WHY_NO_ROW;
  const why_index_entry* entry = &index->entries[hash & (index->entry_count - 1)];
  return entry->hash == hash ? entry->last - 1 : WHY_NO_ROW; // 0 - 1 is WHY_NO_ROW
}

#endif
