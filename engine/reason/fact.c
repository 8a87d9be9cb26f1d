// SPDX-License-Identifier: GPL-3.0-or-later
// Reading facts, in an order that depends on what they say and on nothing else.
#include "store.h"

#include "value.h"

#include <stdlib.h>

/// A fact on its way through qsort, with all that comparing needs.
typedef struct {
  why_fact fact;
  const why_value* values;
  const why_relation_inner* relation;
  const why_symbols* symbols;
} sorted_fact;

static int compare_facts(const void* left, const void* right) {
  const sorted_fact* a = left;
  const sorted_fact* b = right;
  for (size_t i = 0; i < a->relation->order_count; i++) {
    const why_sort_key* key = &a->relation->order[i];
    int order = why_value_compare(&a->relation->info.slots[key->slot], a->symbols,
                                  a->values[key->slot], b->values[key->slot]);
    if (order)
      return key->first == WHY_PREFER_MOST ? -order : order;
  }
  return why_row_compare(&a->relation->info, a->symbols, a->values, b->values);
}

static why_facts sort_facts(why_overlay* overlay, why_relation relation, const why_fact* facts,
                            size_t count) {
  if (count < 2)
    return (why_facts){.at = facts, .count = count};
  why_arena* arena = overlay->store.arena;
  sorted_fact* all = WHY_NEW_ARRAY(arena, sorted_fact, count + 1);
  for (size_t i = 0; i < count; i++)
    all[i] = (sorted_fact){facts[i], why_fact_values(overlay, facts[i]),
                           &overlay->store.program->relations[relation], overlay->store.symbols};
  qsort(all, count, sizeof *all, compare_facts);
  why_fact* made = WHY_NEW_ARRAY(arena, why_fact, count + 1);
  for (size_t i = 0; i < count; i++)
    made[i] = all[i].fact;
  return (why_facts){.at = made, .count = count};
}

/// The number of the relation's index with this mask, or -1.
static int find_index(const why_tuples* tuples, uint32_t mask) {
  for (size_t i = 0; mask && i < tuples->index_count; i++)
    if (tuples->indexes[i].mask == mask)
      return (int)i;
  return -1;
}

/// Call for every visible row that fits, until `each` returns false.
static void each_row(why_overlay* overlay, why_relation relation, uint32_t mask,
                     const why_value* values, bool (*each)(void* user, uint32_t row), void* user) {
  why_tuples* tuples = why_store_tuples(&overlay->store, relation);
  if (!tuples->complete)
    why_store_demand(&overlay->store, relation, mask, values);
  int index = find_index(tuples, mask);
  if (index >= 0) {
    why_index_reader at = why_tuples_first(tuples, overlay->store.arena, (unsigned)index, values);
    while (at.row != WHY_NO_ROW && (why_tuples_hides(tuples, at.row) || each(user, at.row)))
      why_index_next(&tuples->indexes[index], &at);
    return;
  }
  for (uint32_t row = 0; row < tuples->count; row++)
    if (!why_tuples_hides(tuples, row) &&
        (!mask || why_index_same(mask, why_tuples_row(tuples, row), values)) && !each(user, row))
      return;
}

typedef struct {
  why_overlay* overlay;
  why_relation relation;
  WHY_LIST(why_fact) facts;
} found;

static bool add_found(void* user, uint32_t row) {
  found* all = user;
  *WHY_LIST_ADD(all->overlay->store.arena, all->facts) = (why_fact){all->relation, row};
  return true;
}

why_facts why_facts_find(why_overlay* overlay, why_relation relation, uint32_t mask,
                         const why_value* values) {
  found all = {.overlay = overlay, .relation = relation};
  each_row(overlay, relation, mask, values, add_found, &all);
  return sort_facts(overlay, relation, all.facts.at, all.facts.count);
}

static bool note_one(void* user, uint32_t row) {
  (void)row;
  *(bool*)user = true;
  return false;
}

bool why_facts_exist(why_overlay* overlay, why_relation relation, uint32_t mask,
                     const why_value* values) {
  bool any = false;
  each_row(overlay, relation, mask, values, note_one, &any);
  return any;
}

const why_value* why_fact_values(const why_overlay* overlay, why_fact fact) {
  return why_tuples_row(why_store_tuples(&overlay->store, fact.relation), fact.row);
}

why_symbol why_fact_symbol(const why_overlay* overlay, why_fact fact, int slot) {
  return why_value_symbol(why_fact_values(overlay, fact)[slot]);
}

double why_fact_number(const why_overlay* overlay, why_fact fact, int slot) {
  return why_fact_values(overlay, fact)[slot].number;
}

const char* why_fact_text(const why_overlay* overlay, why_fact fact, why_arena* arena) {
  const why_relation_info* info = &overlay->store.program->relations[fact.relation].info;
  return why_row_text(info, overlay->store.symbols, why_slots_all(info->slot_count),
                      why_fact_values(overlay, fact), arena);
}
