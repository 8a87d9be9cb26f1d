// SPDX-License-Identifier: GPL-3.0-or-later
/// Values of slots: made from text, compared, and put back into text.
#ifndef WHY_REASON_VALUE_H
#define WHY_REASON_VALUE_H

#include "reason.h"

/// Read `text` as a value of `slot`; new names go to `symbols`. False when it is no number or level
/// of the slot's kind.
bool why_value_parse(const why_slot* slot, why_symbols* symbols, const char* text,
                     why_value* value);

/// The rank of `level`, or -1.
int why_levels_rank(const why_level_set* levels, why_symbol level);

/// Order of two values of one slot: numbers and levels by size, names by text.
int why_value_compare(const why_slot* slot, const why_symbols* symbols, why_value a, why_value b);

/// Order of two rows, slot after slot.
int why_row_compare(const why_relation_info* relation, const why_symbols* symbols,
                    const why_value* a, const why_value* b);

/// The value as people type it: an id, a level's name, or the shortest fair decimal number.
const char* why_value_text(const why_slot* slot, const why_symbols* symbols, why_value value,
                           why_arena* arena);

/// "relation(slot=value, ...)" for the slots in `mask`.
const char* why_row_text(const why_relation_info* relation, const why_symbols* symbols,
                         uint32_t mask, const why_value* values, why_arena* arena);

/// All slots of a relation as a mask.
static inline uint32_t why_slots_all(unsigned slot_count) {
  return (UINT32_C(1) << slot_count) - 1;
}

#endif
