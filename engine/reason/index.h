// SPDX-License-Identifier: GPL-3.0-or-later
/// Hash indexes over rows: from the values of some slots to all rows that have them, in order of
/// row numbers. Row numbers count from 0 within the rows that the index covers.
#ifndef WHY_REASON_INDEX_H
#define WHY_REASON_INDEX_H

#include "reason.h"

#define WHY_NO_ROW UINT32_MAX

typedef struct {
  uint32_t hash;
  uint32_t head; ///< First row with the key, plus one; 0 where free.
  uint32_t tail; ///< Last row with the key.
} why_index_entry;

typedef struct {
  uint32_t mask; ///< Slots that make the key.
  unsigned width;
  why_index_entry* entries;
  uint32_t entry_count; ///< A power of two, or 0 while empty.
  uint32_t used;
  WHY_LIST(uint32_t) next; ///< By row: the next row with the same key, plus one.
} why_index;

/// The hash of the slots in `mask`.
uint32_t why_index_hash(uint32_t mask, const why_value* values);

/// Whether two rows agree in the slots of `mask`.
bool why_index_same(uint32_t mask, const why_value* a, const why_value* b);

/// The first row with the key of `values` (whose hash is given), or WHY_NO_ROW; and the next one.
uint32_t why_index_first(const why_index* index, const why_value* rows, uint32_t hash,
                         const why_value* values);
static inline uint32_t why_index_next(const why_index* index, uint32_t row) {
  return index->next.at[row] - 1; // 0 - 1 is WHY_NO_ROW
}

/// Take in all rows up to `count` that are not in yet.
void why_index_fill(why_index* index, why_arena* arena, const why_value* rows, uint32_t count);

#endif
