// SPDX-License-Identifier: GPL-3.0-or-later
// Reads the words for methods and muscles, and looks them up.
#include "measured_muscles.h"

#include "evidence_reader.h"

const why_method* why_method_find(const why_measured_table* table, why_symbol name) {
  for (size_t i = 0; i < table->methods.count; i++)
    if (table->methods.at[i].name == name)
      return &table->methods.at[i];
  return NULL;
}

const why_measured* why_measured_find(const why_measured_table* table, why_symbol name) {
  for (size_t i = 0; i < table->muscles.count; i++)
    if (table->muscles.at[i].name == name)
      return &table->muscles.at[i];
  return NULL;
}

why_symbol_list why_measured_heads(const why_measured_table* table, why_symbol name,
                                   why_symbol method) {
  const why_measured* muscle = why_measured_find(table, name);
  if (!muscle)
    return (why_symbol_list){0};
  for (size_t i = 0; i < muscle->by_method.count; i++)
    if (muscle->by_method.at[i].method == method)
      return muscle->by_method.at[i].heads;
  return muscle->heads;
}

static why_method read_method(why_reader* reader, const xmlNode* element) {
  return (why_method){.name = why_xml_symbol(reader, element, "name"),
                      .place = why_xml_place(reader, element),
                      .image = why_xml_symbol(reader, element, "image"),
                      .quantity = why_xml_symbol(reader, element, "quantity"),
                      .note = why_xml_child_text(reader, element, "note")};
}

static why_by_method read_by_method(why_reader* reader, const xmlNode* element) {
  return (why_by_method){.method = why_xml_symbol(reader, element, "method"),
                         .place = why_xml_place(reader, element),
                         .heads = why_xml_symbols(reader, element, "heads"),
                         .note = why_xml_child_text(reader, element, "note")};
}

static why_measured read_muscle(why_reader* reader, const xmlNode* element) {
  why_measured muscle = {.name = why_xml_symbol(reader, element, "name"),
                         .place = why_xml_place(reader, element),
                         .kind = why_xml_symbol(reader, element, "kind"),
                         .group = why_xml_symbol(reader, element, "group"),
                         .heads = why_xml_symbols(reader, element, "heads"),
                         .unmapped = why_xml_child_text(reader, element, "unmapped"),
                         .note = why_xml_child_text(reader, element, "note")};
  const xmlNode* each = why_xml_first(element, "by-method");
  for (; each; each = why_xml_next(each, "by-method"))
    *WHY_LIST_ADD(reader->arena, muscle.by_method) = read_by_method(reader, each);
  return muscle;
}

void why_measured_muscles_read(why_reader* reader, const xmlNode* root, why_tables* tables) {
  why_measured_table* table = &tables->measured_muscles;
  for (const xmlNode* n = why_xml_first(root, "method"); n; n = why_xml_next(n, "method"))
    *WHY_LIST_ADD(reader->arena, table->methods) = read_method(reader, n);
  for (const xmlNode* n = why_xml_first(root, "measured"); n; n = why_xml_next(n, "measured"))
    *WHY_LIST_ADD(reader->arena, table->muscles) = read_muscle(reader, n);
}
