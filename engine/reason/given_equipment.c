// SPDX-License-Identifier: GPL-3.0-or-later
// Facts of rules/equipment.xml.
#include "reason.h"

static void give_others(why_giver* giver, const char* relation, const why_equipment_item* item,
                        const why_symbol_list* others) {
  for (size_t i = 0; i < others->count; i++)
    WHY_GIVE(giver, relation, item->place, WHY_SYM(item->id), WHY_SYM(others->at[i]));
}

void why_given_equipment(why_giver* giver) {
  const why_equipment* equipment = &giver->tables->equipment;
  for (size_t i = 0; i < equipment->items.count; i++) {
    const why_equipment_item* item = &equipment->items.at[i];
    WHY_GIVE(giver, "item", item->place, WHY_SYM(item->id), WHY_SYM(item->kind));
    give_others(giver, "stands-in", item, &item->stands_in_for);
    give_others(giver, "useless-alone", item, &item->needs_one_of);
    give_others(giver, "brings", item, &item->brings);
  }
  for (size_t i = 0; i < equipment->places.count; i++) {
    const why_equipment_place* at = &equipment->places.at[i];
    for (size_t j = 0; j < at->has.count; j++)
      WHY_GIVE(giver, "place-has", at->place, WHY_SYM(at->id), WHY_SYM(at->has.at[j]));
  }
}
