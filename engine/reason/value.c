// SPDX-License-Identifier: GPL-3.0-or-later
// Values of slots. Whatever is shown goes through the orders here, which look at texts and sizes
// and never at the numbers that names happen to have.
#include "value.h"

#include <string.h>

why_value why_value_of_symbol(why_symbol symbol) {
  return (why_value){.bits = symbol};
}

why_value why_value_of_number(double number) {
  return (why_value){.number = number + 0.0}; // -0 + 0 is +0
}

why_symbol why_value_symbol(why_value value) {
  return (why_symbol)value.bits;
}

int why_levels_rank(const why_level_set* levels, why_symbol level) {
  for (size_t i = 0; i < levels->levels.count; i++)
    if (levels->levels.at[i].name == level)
      return (int)i;
  return -1;
}

bool why_value_parse(const why_slot* slot, why_symbols* symbols, const char* text,
                     why_value* value) {
  double number = 0;
  switch (slot->type) {
  case WHY_SLOT_SYMBOL:
    *value = why_value_of_symbol(why_symbols_add(symbols, text));
    return true;
  case WHY_SLOT_NUMBER:
    if (!why_parse_number(text, &number))
      return false;
    break;
  case WHY_SLOT_LEVEL:
    number = why_levels_rank(slot->levels, why_symbols_find(symbols, text));
    if (number < 0)
      return false;
    break;
  }
  *value = why_value_of_number(number);
  return true;
}

int why_value_compare(const why_slot* slot, const why_symbols* symbols, why_value a, why_value b) {
  if (slot->type == WHY_SLOT_SYMBOL)
    return why_symbol_compare(symbols, why_value_symbol(a), why_value_symbol(b));
  return (a.number > b.number) - (a.number < b.number);
}

int why_row_compare(const why_relation_info* relation, const why_symbols* symbols,
                    const why_value* a, const why_value* b) {
  for (unsigned i = 0; i < relation->slot_count; i++) {
    int order = why_value_compare(&relation->slots[i], symbols, a[i], b[i]);
    if (order)
      return order;
  }
  return 0;
}

const char* why_value_text(const why_slot* slot, const why_symbols* symbols, why_value value,
                           why_arena* arena) {
  if (slot->type == WHY_SLOT_SYMBOL)
    return why_symbols_text(symbols, why_value_symbol(value));
  if (slot->type == WHY_SLOT_NUMBER)
    return why_arena_print(arena, "%.10g", value.number);
  size_t rank = (size_t)value.number;
  return rank < slot->levels->levels.count
             ? why_symbols_text(symbols, slot->levels->levels.at[rank].name)
             : "";
}

const char* why_row_text(const why_relation_info* relation, const why_symbols* symbols,
                         uint32_t mask, const why_value* values, why_arena* arena) {
  why_buffer text = {.arena = arena};
  why_buffer_print(&text, "%s(", why_symbols_text(symbols, relation->name));
  const char* between = "";
  for (unsigned i = 0; i < relation->slot_count; i++) {
    if (!(mask >> i & 1))
      continue;
    const why_slot* slot = &relation->slots[i];
    why_buffer_print(&text, "%s%s=%s", between, why_symbols_text(symbols, slot->name),
                     why_value_text(slot, symbols, values[i], arena));
    between = ", ";
  }
  why_buffer_add(&text, ")");
  return why_buffer_text(&text);
}
