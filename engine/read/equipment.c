// SPDX-License-Identifier: GPL-3.0-or-later
// Reads kinds with their items, and places.
#include "equipment.h"

#include "readers.h"

why_word_list why_words_read(why_reader* reader, const xmlNode* element) {
  why_word_list list = {0};
  for (const xmlNode* n = why_xml_first(element, "word"); n; n = why_xml_next(n, "word"))
    *WHY_LIST_ADD(reader->arena, list) =
        (why_word){.text = why_xml_text(reader, n), .place = why_xml_place(reader, n)};
  return list;
}

static void read_item(why_reader* reader, const xmlNode* element, why_symbol kind,
                      why_equipment* equipment) {
  *WHY_LIST_ADD(reader->arena, equipment->items) = (why_equipment_item){
      .id = why_xml_symbol(reader, element, "id"),
      .name = why_xml_string(reader, element, "name"),
      .note = why_xml_child_text(reader, element, "note"),
      .kind = kind,
      .stands_in_for = why_xml_symbols(reader, element, "stands-in-for"),
      .needs_one_of = why_xml_symbols(reader, element, "needs-one-of"),
      .brings = why_xml_symbols(reader, element, "brings"),
      .words = why_words_read(reader, element),
      .place = why_xml_place(reader, element),
  };
}

static void read_kind(why_reader* reader, const xmlNode* element, why_equipment* equipment) {
  why_symbol id = why_xml_symbol(reader, element, "id");
  *WHY_LIST_ADD(reader->arena, equipment->kinds) = (why_equipment_kind){
      .id = id,
      .name = why_xml_string(reader, element, "name"),
      .note = why_xml_child_text(reader, element, "note"),
      .words = why_words_read(reader, element),
      .place = why_xml_place(reader, element),
  };
  for (const xmlNode* n = why_xml_first(element, "item"); n; n = why_xml_next(n, "item"))
    read_item(reader, n, id, equipment);
}

static void read_place(why_reader* reader, const xmlNode* element, why_equipment* equipment) {
  *WHY_LIST_ADD(reader->arena, equipment->places) = (why_equipment_place){
      .id = why_xml_symbol(reader, element, "id"),
      .name = why_xml_string(reader, element, "name"),
      .basis = why_xml_symbol(reader, element, "basis"),
      .bare = why_xml_symbol(reader, element, "bare"),
      .has = why_xml_symbols(reader, element, "has"),
      .words = why_words_read(reader, element),
      .place = why_xml_place(reader, element),
  };
}

void why_equipment_read(why_reader* reader, const xmlNode* root, why_tables* tables) {
  for (const xmlNode* n = why_xml_first(root, "kind"); n; n = why_xml_next(n, "kind"))
    read_kind(reader, n, &tables->equipment);
  for (const xmlNode* n = why_xml_first(root, "place"); n; n = why_xml_next(n, "place"))
    read_place(reader, n, &tables->equipment);
}

const why_equipment_item* why_equipment_item_find(const why_equipment* equipment, why_symbol id) {
  for (size_t i = 0; i < equipment->items.count; i++)
    if (equipment->items.at[i].id == id)
      return &equipment->items.at[i];
  return NULL;
}

const why_equipment_kind* why_equipment_kind_find(const why_equipment* equipment, why_symbol id) {
  for (size_t i = 0; i < equipment->kinds.count; i++)
    if (equipment->kinds.at[i].id == id)
      return &equipment->kinds.at[i];
  return NULL;
}

const why_equipment_place* why_equipment_place_find(const why_equipment* equipment, why_symbol id) {
  for (size_t i = 0; i < equipment->places.count; i++)
    if (equipment->places.at[i].id == id)
      return &equipment->places.at[i];
  return NULL;
}
