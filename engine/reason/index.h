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
  uint32_t last; ///< Last row with the key, plus one; 0 where free.
  uint32_t hash;
} why_index_entry;

/// Rows of one key hang on a ring in order of their numbers, so that a reader can stop at the end
/// of the range it may see while later rows are already being added.
typedef struct {
  uint32_t mask; ///< Slots that make the key.
  unsigned width;
  bool unique; ///< The key is the whole row: no rings.
  why_index_entry* entries;
  uint32_t entry_count; ///< A power of two, or 0 while empty.
  uint32_t used;        ///< Different keys.
  uint32_t filled;      ///< Rows that are in.
  uint32_t* next;       ///< By row: the next row with the same key; behind the last, the first.
  uint32_t next_room;
} why_index;

/// An empty index for rows of `width` slots.
why_index why_index_new(uint32_t mask, unsigned width);

/// The hash of the slots in `mask`.
static inline uint32_t why_index_hash(uint32_t mask, const why_value* values) {
  uint64_t hash = UINT64_C(0x9e3779b97f4a7c15);
  for (unsigned i = 0; mask; i++, mask >>= 1) {
    if (!(mask & 1))
      continue;
    hash = (hash ^ values[i].bits) * UINT64_C(0xff51afd7ed558ccd);
    hash ^= hash >> 32;
  }
  return (uint32_t)hash;
}

/// Whether two rows agree in the slots of `mask`.
static inline bool why_index_same(uint32_t mask, const why_value* a, const why_value* b) {
  for (unsigned i = 0; mask; i++, mask >>= 1)
    if ((mask & 1) && a[i].bits != b[i].bits)
      return false;
  return true;
}

/// The first row with the key of `values` (whose hash is given), or WHY_NO_ROW; and the next one.
uint32_t why_index_first(const why_index* index, const why_value* rows, uint32_t hash,
                         const why_value* values);
static inline uint32_t why_index_next(const why_index* index, uint32_t row) {
  if (index->unique)
    return WHY_NO_ROW;
  uint32_t next = index->next[row];
  return next > row ? next : WHY_NO_ROW;
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
