// SPDX-License-Identifier: GPL-3.0-or-later
// Stating given facts with slots checked against their declaration in rules/reasoning/given.xml.
#include "reason.h"

#include <math.h>
#include <string.h>

static void refuse(why_giver* giver, const why_relation_info* info, const char* relation,
                   const char* what) {
  why_problems_add(giver->problems, WHY_ERROR, "given", info->place,
                   "the relation %s, which the program fills, %s", relation, what);
  why_problems_hint(giver->problems, "restore its slots as rules/reasoning/given.xml came");
}

static bool to_value(why_giver* giver, const why_slot* slot, const why_given* given,
                     why_value* value) {
  const char* text = given->kind == WHY_GIVE_SYMBOL
                         ? why_symbols_text(giver->symbols, given->symbol)
                         : given->text;
  if (slot->type == WHY_SLOT_NUMBER) {
    *value = why_value_of_number(given->number);
    return given->kind == WHY_GIVE_NUMBER && isfinite(given->number);
  }
  if (given->kind == WHY_GIVE_NUMBER)
    return false;
  if (slot->type == WHY_SLOT_LEVEL) {
    int rank =
        why_program_level(giver->program, why_symbols_text(giver->symbols, slot->kind), text);
    *value = why_value_of_number(rank);
    return rank >= 0;
  }
  *value = why_value_of_symbol(
      given->kind == WHY_GIVE_SYMBOL ? given->symbol : why_symbols_add(giver->symbols, text));
  return true;
}

void why_giver_state(why_giver* giver, const char* relation, why_place place, size_t count,
                     const why_given* values) {
  why_relation found = why_program_find(giver->program, relation);
  if (found == WHY_NO_RELATION)
    return;
  const why_relation_info* info = why_program_relation(giver->program, found);
  if (info->slot_count != count || count > WHY_SLOTS_LIMIT) {
    refuse(giver, info, relation, "has another number of slots");
    return;
  }
  why_value row[WHY_SLOTS_LIMIT];
  for (size_t i = 0; i < count; i++) {
    if (!to_value(giver, &info->slots[i], &values[i], &row[i])) {
      refuse(giver, info, relation, "has a slot of another kind");
      return;
    }
  }
  why_base_add(giver->base, found, row, place, NULL);
}

void why_given_fill(why_giver* giver) {
  why_given_anatomy(giver);
  why_given_exercises(giver);
  why_given_mechanics(giver);
  why_given_equipment(giver);
  why_given_restrictions(giver);
  why_given_studies(giver);
  why_given_measurements(giver);
  why_given_loads(giver);
  why_given_estimates(giver);
}
