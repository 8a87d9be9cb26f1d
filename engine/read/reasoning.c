// SPDX-License-Identifier: GPL-3.0-or-later
// Reads relations, facts and rules as they are written. The schema has settled the shape of every
// element, so nothing is judged here; names and values get their places for later messages.
#include "reasoning_reader.h"

#include <string.h>

static why_named read_name(why_reader* reader, const xmlNode* element, const char* attribute) {
  const char* text = why_xml_string(reader, element, attribute);
  why_named named = {0};
  if (!*text)
    return named;
  named.name = why_symbols_add(reader->symbols, *text == '?' ? text + 1 : text);
  named.place = why_xml_place_of(reader, element, attribute);
  return named;
}

/// Variables separated by white space, without their question marks.
static why_named_list read_variables(why_reader* reader, const xmlNode* element,
                                     const char* attribute) {
  why_named_list list = {0};
  why_symbol_list names = why_xml_symbols(reader, element, attribute);
  for (size_t i = 0; i < names.count; i++) {
    const char* text = why_symbols_text(reader->symbols, names.at[i]);
    *WHY_LIST_ADD(reader->arena, list) =
        (why_named){.name = why_symbols_add(reader->symbols, *text == '?' ? text + 1 : text),
                    .place = why_xml_place_of(reader, element, attribute)};
  }
  return list;
}

static why_preference read_preference(why_reader* reader, const xmlNode* element,
                                      const char* attribute) {
  const char* text = why_xml_string(reader, element, attribute);
  if (strcmp(text, "least") == 0)
    return WHY_PREFER_LEAST;
  return strcmp(text, "most") == 0 ? WHY_PREFER_MOST : WHY_PREFER_NONE;
}

static why_from read_from(why_reader* reader, const xmlNode* parent) {
  const xmlNode* element = why_xml_first(parent, "from");
  return (why_from){.sources = why_xml_symbols(reader, element, "sources"),
                    .basis = why_xml_symbol(reader, element, "basis"),
                    .note = why_xml_text(reader, element)};
}

/// Where the attributes of one element go.
typedef struct {
  why_reader* reader;
  const xmlNode* element;
  why_slot_texts* slots;
  why_slot_texts* otherwise; ///< For else-SLOT; NULL where it has no meaning.
} slot_sink;

static void add_slot(void* user, const char* name, const char* value) {
  slot_sink* sink = user;
  if (strcmp(name, "fact") == 0 || strcmp(name, "relation") == 0)
    return;
  bool other = sink->otherwise && strncmp(name, "else-", 5) == 0;
  why_slot_texts* list = other ? sink->otherwise : sink->slots;
  *WHY_LIST_ADD(sink->reader->arena, *list) =
      (why_slot_text){.slot = why_symbols_add(sink->reader->symbols, other ? name + 5 : name),
                      .text = why_arena_copy(sink->reader->arena, value, strlen(value)),
                      .place = why_xml_place_of(sink->reader, sink->element, name)};
}

static void read_slots(why_reader* reader, const xmlNode* element, why_slot_texts* slots,
                       why_slot_texts* otherwise) {
  slot_sink sink = {reader, element, slots, otherwise};
  why_xml_each_attribute(element, add_slot, &sink);
}

static void read_levels(why_reader* reader, const xmlNode* element, why_reasoning* reasoning) {
  why_level_set* row = WHY_LIST_ADD(reader->arena, reasoning->levels);
  row->name = why_xml_symbol(reader, element, "name");
  row->place = why_xml_place(reader, element);
  for (const xmlNode* n = why_xml_first(element, "level"); n; n = why_xml_next(n, "level"))
    *WHY_LIST_ADD(reader->arena, row->levels) = read_name(reader, n, "name");
}

static void read_relation(why_reader* reader, const xmlNode* element, why_reasoning* reasoning) {
  why_relation_row* row = WHY_LIST_ADD(reader->arena, reasoning->relations);
  row->name = why_xml_symbol(reader, element, "name");
  row->place = why_xml_place(reader, element);
  row->assumable = why_xml_flag(element, "assumable");
  row->about = why_xml_child_text(reader, element, "about");
  row->say = why_xml_child_text(reader, element, "say");
  for (const xmlNode* n = why_xml_first(element, "slot"); n; n = why_xml_next(n, "slot"))
    *WHY_LIST_ADD(reader->arena, row->slots) =
        (why_slot_row){.name = why_xml_symbol(reader, n, "name"),
                       .kind = why_xml_symbol(reader, n, "kind"),
                       .place = why_xml_place(reader, n),
                       .key = why_xml_flag(n, "key"),
                       .prefer = read_preference(reader, n, "prefer")};
}

static void read_order(why_reader* reader, const xmlNode* element, why_reasoning* reasoning) {
  why_order_row* row = WHY_LIST_ADD(reader->arena, reasoning->orders);
  row->relation = read_name(reader, element, "relation");
  row->place = why_xml_place(reader, element);
  for (const xmlNode* n = why_xml_first(element, "by"); n; n = why_xml_next(n, "by"))
    *WHY_LIST_ADD(reader->arena, row->keys) =
        (why_order_key){.slot = why_xml_symbol(reader, n, "slot"),
                        .place = why_xml_place(reader, n),
                        .first = read_preference(reader, n, "first")};
}

static void read_fact(why_reader* reader, const xmlNode* element, why_reasoning* reasoning) {
  why_fact_row* row = WHY_LIST_ADD(reader->arena, reasoning->facts);
  row->relation = read_name(reader, element, "relation");
  row->place = why_xml_place(reader, element);
  read_slots(reader, element, &row->slots, NULL);
  row->from = read_from(reader, element);
}

/// The attributes of each kind of condition; those that an element lacks read as zero or "".
static void read_condition(why_reader* reader, const xmlNode* element, why_condition_row* row) {
  row->place = why_xml_place(reader, element);
  row->relation = read_name(reader, element, "fact");
  if (row->kind == WHY_IF || row->kind == WHY_UNLESS)
    read_slots(reader, element, &row->slots, row->kind == WHY_IF ? &row->otherwise : NULL);
  row->say = why_xml_child_text(reader, element, "say");
  row->left = why_xml_string(
      reader, element,
      row->kind == WHY_WHERE ? "left" : (row->kind == WHY_MATCHES ? "pattern" : "is"));
  row->right = why_xml_string(reader, element, "right");
  row->compare = why_xml_string(reader, row->kind == WHY_WHERE ? element : NULL, "is");
  row->name = read_name(reader, element, row->kind == WHY_MATCHES ? "text" : "name");
  row->of = read_name(reader, element, "of");
  row->over = read_variables(reader, element, "over");
  row->by = read_variables(reader, element, "by");
  row->keep = read_variables(reader, element, "keep");
  row->first_tie = strcmp(why_xml_string(reader, element, "ties"), "first") == 0;
  row->none = why_xml_has(element, "else") ? why_xml_string(reader, element, "else") : NULL;
}

static const struct {
  const char* element;
  why_condition_kind kind;
} CONDITIONS[] = {{"if", WHY_IF},   {"unless", WHY_UNLESS},   {"where", WHY_WHERE},
                  {"let", WHY_LET}, {"matches", WHY_MATCHES}, {"count", WHY_COUNT},
                  {"sum", WHY_SUM}, {"least", WHY_LEAST},     {"most", WHY_MOST}};

/// All conditions among the children of a rule or an aggregate; an aggregate holds plain ones only,
/// so this nests once.
static void read_conditions(why_reader* reader, const xmlNode* parent, why_condition_list* list) {
  for (const xmlNode* n = why_xml_first(parent, NULL); n; n = why_xml_next(n, NULL)) {
    for (size_t k = 0; k < sizeof CONDITIONS / sizeof *CONDITIONS; k++) {
      if (!why_xml_is(n, CONDITIONS[k].element))
        continue;
      why_condition_row* row = WHY_LIST_ADD(reader->arena, *list);
      row->kind = CONDITIONS[k].kind;
      read_condition(reader, n, row);
      if (row->kind >= WHY_COUNT)
        read_conditions(reader, n, &row->inside);
    }
  }
}

static void read_rule(why_reader* reader, const xmlNode* element, why_reasoning* reasoning) {
  why_rule_row* row = WHY_LIST_ADD(reader->arena, reasoning->rules);
  row->id = why_xml_symbol(reader, element, "id");
  row->place = why_xml_place(reader, element);
  row->grounds = why_xml_symbol(reader, element, "grounds");
  row->title = why_xml_child_text(reader, element, "title");
  row->say = why_xml_child_text(reader, element, "say");
  const xmlNode* say = why_xml_first(element, "say");
  row->say_place = say ? why_xml_place(reader, say) : row->place;
  row->from = read_from(reader, element);
  read_conditions(reader, element, &row->conditions);
  for (const xmlNode* n = why_xml_first(element, "then"); n; n = why_xml_next(n, "then")) {
    why_conclusion_row* then = WHY_LIST_ADD(reader->arena, row->conclusions);
    then->relation = read_name(reader, n, "fact");
    then->place = why_xml_place(reader, n);
    read_slots(reader, n, &then->slots, NULL);
  }
}

void why_reasoning_add(why_reader* reader, const xmlNode* root, why_reasoning* reasoning) {
  for (const xmlNode* n = why_xml_first(root, NULL); n; n = why_xml_next(n, NULL)) {
    if (why_xml_is(n, "levels"))
      read_levels(reader, n, reasoning);
    else if (why_xml_is(n, "relation"))
      read_relation(reader, n, reasoning);
    else if (why_xml_is(n, "order"))
      read_order(reader, n, reasoning);
    else if (why_xml_is(n, "fact"))
      read_fact(reader, n, reasoning);
    else
      read_rule(reader, n, reasoning);
  }
}

void why_reasoning_read(why_reader* reader, const xmlNode* root, why_tables* tables) {
  why_reasoning_add(reader, root, &tables->reasoning);
}
