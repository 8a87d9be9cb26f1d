// SPDX-License-Identifier: GPL-3.0-or-later
// Checks of rules/equipment.xml that its schema cannot make.
#include "check_rows.h"

static const char* text_of(const why_inspection* inspection, why_symbol id) {
  return why_symbols_text(inspection->tables->symbols, id);
}

/// An id with its place, whatever kind of row it names.
typedef struct {
  why_symbol id;
  why_place place;
} owned_id;

typedef WHY_LIST(owned_id) owned_ids;

static owned_ids all_ids(const why_inspection* inspection) {
  const why_equipment* equipment = &inspection->tables->equipment;
  owned_ids ids = {0};
  for (size_t i = 0; i < equipment->kinds.count; i++)
    *WHY_LIST_ADD(inspection->scratch, ids) =
        (owned_id){equipment->kinds.at[i].id, equipment->kinds.at[i].place};
  for (size_t i = 0; i < equipment->items.count; i++)
    *WHY_LIST_ADD(inspection->scratch, ids) =
        (owned_id){equipment->items.at[i].id, equipment->items.at[i].place};
  for (size_t i = 0; i < equipment->places.count; i++)
    *WHY_LIST_ADD(inspection->scratch, ids) =
        (owned_id){equipment->places.at[i].id, equipment->places.at[i].place};
  return ids;
}

/// A list of equipment may name any of the three, so their ids must differ.
static void check_twice(const why_inspection* inspection) {
  owned_ids ids = all_ids(inspection);
  for (size_t i = 0; i < ids.count; i++)
    for (size_t j = 0; j < i; j++)
      if (ids.at[i].id == ids.at[j].id) {
        why_inspection_report(inspection, ids.at[i].place, "\"%s\" is already the id of something",
                              text_of(inspection, ids.at[i].id));
        why_problems_also(inspection->problems, ids.at[j].place);
        break;
      }
}

static void check_items_known(const why_inspection* inspection, why_symbol_list ids,
                              why_place place, const char* what) {
  for (size_t i = 0; i < ids.count; i++)
    if (!why_equipment_item_find(&inspection->tables->equipment, ids.at[i])) {
      why_inspection_report(inspection, place, "%s names \"%s\", which is no item", what,
                            text_of(inspection, ids.at[i]));
      why_hint_words(inspection, text_of(inspection, ids.at[i]), WHY_MEANS_ITEM);
    }
}

static void check_unknown(const why_inspection* inspection) {
  const why_equipment* equipment = &inspection->tables->equipment;
  for (size_t i = 0; i < equipment->items.count; i++) {
    const why_equipment_item* item = &equipment->items.at[i];
    check_items_known(inspection, item->stands_in_for, item->place, "stands-in-for");
    check_items_known(inspection, item->needs_one_of, item->place, "needs-one-of");
    check_items_known(inspection, item->brings, item->place, "brings");
  }
  for (size_t i = 0; i < equipment->places.count; i++)
    check_items_known(inspection, equipment->places.at[i].has, equipment->places.at[i].place,
                      "has");
}

static void check_bare(const why_inspection* inspection) {
  const why_equipment* equipment = &inspection->tables->equipment;
  for (size_t i = 0; i < equipment->places.count; i++) {
    const why_equipment_place* place = &equipment->places.at[i];
    if (place->bare && !why_equipment_place_find(equipment, place->bare))
      why_inspection_report(inspection, place->place, "bare: there is no place \"%s\"",
                            text_of(inspection, place->bare));
  }
}

static bool holds(why_symbol_list ids, why_symbol id) {
  for (size_t i = 0; i < ids.count; i++)
    if (ids.at[i] == id)
      return true;
  return false;
}

static void check_self(const why_inspection* inspection) {
  const why_equipment* equipment = &inspection->tables->equipment;
  for (size_t i = 0; i < equipment->items.count; i++) {
    const why_equipment_item* item = &equipment->items.at[i];
    if (holds(item->stands_in_for, item->id) || holds(item->needs_one_of, item->id) ||
        holds(item->brings, item->id))
      why_inspection_report(inspection, item->place, "\"%s\" stands in for, needs or brings itself",
                            text_of(inspection, item->id));
  }
}

/// Whether `place` has, or gets with another item, something that can serve as `id`.
static bool place_offers(const why_equipment* equipment, const why_equipment_place* place,
                         why_symbol id) {
  if (holds(place->has, id))
    return true;
  for (size_t i = 0; i < place->has.count; i++) {
    const why_equipment_item* item = why_equipment_item_find(equipment, place->has.at[i]);
    if (item && (holds(item->brings, id) || holds(item->stands_in_for, id)))
      return true;
  }
  return false;
}

static bool is_usable(const why_equipment* equipment, const why_equipment_place* place,
                      const why_equipment_item* item) {
  for (size_t i = 0; i < item->needs_one_of.count; i++)
    if (place_offers(equipment, place, item->needs_one_of.at[i]))
      return true;
  return item->needs_one_of.count == 0;
}

static void check_useless(const why_inspection* inspection) {
  const why_equipment* equipment = &inspection->tables->equipment;
  for (size_t p = 0; p < equipment->places.count; p++) {
    const why_equipment_place* place = &equipment->places.at[p];
    for (size_t i = 0; i < place->has.count; i++) {
      const why_equipment_item* item = why_equipment_item_find(equipment, place->has.at[i]);
      if (item && !is_usable(equipment, place, item))
        why_inspection_report(inspection, place->place,
                              "\"%s\" has \"%s\" but nothing that it needs",
                              text_of(inspection, place->id), text_of(inspection, item->id));
    }
  }
}

why_check_rows why_equipment_checks = {
    {"equipment-twice", WHY_ERROR, check_twice, "files",
     "an id that two items, kinds or places share"},
    {"equipment-unknown", WHY_ERROR, check_unknown, "files",
     "an item or place that names an item which does not exist"},
    {"equipment-self", WHY_ERROR, check_self, "files",
     "an item that stands in for, needs or brings itself"},
    {"place-bare", WHY_ERROR, check_bare, "files",
     "a place that becomes another one which does not exist"},
    {"place-useless", WHY_WARNING, check_useless, "equipment-unknown",
     "a place with an item and nothing that the item needs"},
    {0},
};
