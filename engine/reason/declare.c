// SPDX-License-Identifier: GPL-3.0-or-later
// The part of compiling that comes before rules: kinds, relations, orders and stated facts.
#include "program.h"

#include "value.h"

#include <stdlib.h>
#include <string.h>

static const char* text_of(const why_compiler* compiler, why_symbol symbol) {
  return why_symbols_text(compiler->symbols, symbol);
}

why_slot why_slot_of_kind(const why_program* program, const why_symbols* symbols, why_symbol kind) {
  why_slot slot = {.kind = kind, .type = WHY_SLOT_SYMBOL};
  if (strcmp(why_symbols_text(symbols, kind), "number") == 0)
    slot.type = WHY_SLOT_NUMBER;
  for (size_t i = 0; i < program->reasoning->levels.count; i++) {
    if (program->reasoning->levels.at[i].name != kind)
      continue;
    slot.type = WHY_SLOT_LEVEL;
    slot.levels = &program->reasoning->levels.at[i];
  }
  return slot;
}

static void check_level_set(why_compiler* compiler, const why_level_set* levels) {
  for (size_t i = 0; i < levels->levels.count; i++) {
    if (why_levels_rank(levels, levels->levels.at[i].name) == (int)i)
      continue;
    why_problems_add(compiler->problems, WHY_ERROR, "twice", levels->levels.at[i].place,
                     "level %s stands twice in %s", text_of(compiler, levels->levels.at[i].name),
                     text_of(compiler, levels->name));
  }
  const char* name = text_of(compiler, levels->name);
  if (strcmp(name, "number") == 0 || strcmp(name, "any") == 0)
    why_problems_add(compiler->problems, WHY_ERROR, "twice", levels->place,
                     "%s is a kind already and cannot have levels", name);
}

static void check_levels(why_compiler* compiler) {
  const why_reasoning* reasoning = compiler->reasoning;
  for (size_t i = 0; i < reasoning->levels.count; i++) {
    check_level_set(compiler, &reasoning->levels.at[i]);
    for (size_t k = 0; k < i; k++) {
      if (reasoning->levels.at[k].name != reasoning->levels.at[i].name)
        continue;
      why_problems_add(compiler->problems, WHY_ERROR, "twice", reasoning->levels.at[i].place,
                       "levels %s are defined twice",
                       text_of(compiler, reasoning->levels.at[i].name));
      why_problems_also(compiler->problems, reasoning->levels.at[k].place);
    }
  }
}

/// Slots that are doubtful whatever the rules say.
static void check_slots(why_compiler* compiler, const why_relation_row* row,
                        const why_relation_inner* made) {
  bool prefers = false;
  for (size_t i = 0; i < row->slots.count; i++) {
    const why_slot_row* slot = &row->slots.at[i];
    prefers = prefers || slot->prefer != WHY_PREFER_NONE;
    for (size_t k = 0; k < i; k++)
      if (row->slots.at[k].name == slot->name)
        why_problems_add(compiler->problems, WHY_ERROR, "twice", slot->place,
                         "slot %s stands twice in %s", text_of(compiler, slot->name),
                         text_of(compiler, row->name));
    if (slot->key && slot->prefer != WHY_PREFER_NONE)
      why_problems_add(compiler->problems, WHY_ERROR, "key", slot->place,
                       "slot %s cannot be part of the key and decide between rows of one key",
                       text_of(compiler, slot->name));
  }
  if (prefers && !made->key_mask)
    why_problems_add(compiler->problems, WHY_ERROR, "key", row->place,
                     "relation %s has a slot with prefer, but no key",
                     text_of(compiler, row->name));
}

/// Every {slot} of a relation's sentence must be one of its slots.
static void check_say(why_compiler* compiler, const why_relation_row* row) {
  for (const char* open = strchr(row->say, '{'); open; open = strchr(open + 1, '{')) {
    size_t length = strcspn(open + 1, ":}");
    bool known = false;
    for (size_t i = 0; i < row->slots.count; i++) {
      const char* name = text_of(compiler, row->slots.at[i].name);
      known = known || (strlen(name) == length && strncmp(name, open + 1, length) == 0);
    }
    if (!known)
      why_problems_add(compiler->problems, WHY_ERROR, "say", row->place,
                       "the sentence of %s speaks of {%.*s}, which is no slot",
                       text_of(compiler, row->name), (int)(length < 60 ? length : 60), open + 1);
    else if (!why_say_ends(open + 1 + length))
      why_problems_add(compiler->problems, WHY_ERROR, "say", row->place,
                       "the sentence of %s has a { that does not end as {slot} or {slot:1}",
                       text_of(compiler, row->name));
  }
}

static bool declare_relation(why_compiler* compiler, const why_relation_row* row,
                             why_relation_inner* made) {
  if (row->slots.count > WHY_SLOTS_LIMIT) {
    why_problems_add(compiler->problems, WHY_ERROR, "limit", row->place,
                     "relation %s has more than %d slots", text_of(compiler, row->name),
                     WHY_SLOTS_LIMIT);
    return false;
  }
  why_slot* slots = WHY_NEW_ARRAY(compiler->arena, why_slot, row->slots.count);
  for (size_t i = 0; i < row->slots.count; i++) {
    const why_slot_row* slot = &row->slots.at[i];
    slots[i] = why_slot_of_kind(compiler->program, compiler->symbols, slot->kind);
    slots[i].name = slot->name;
    slots[i].key = slot->key;
    slots[i].prefer = slot->prefer;
    made->key_mask |= slot->key ? UINT32_C(1) << i : 0;
    made->prefers = made->prefers || slot->prefer != WHY_PREFER_NONE;
  }
  made->info = (why_relation_info){.name = row->name,
                                   .place = row->place,
                                   .assumable = row->assumable,
                                   .say = row->say,
                                   .slot_count = (unsigned)row->slots.count,
                                   .slots = slots};
  why_masks_number(compiler->arena, &made->indexes, why_slots_all((unsigned)row->slots.count));
  if (made->key_mask)
    why_masks_number(compiler->arena, &made->indexes, made->key_mask);
  check_slots(compiler, row, made);
  check_say(compiler, row);
  return true;
}

/// For sorting rows by name without a global: each item carries the table.
typedef struct {
  const why_relation_row* row;
  const why_symbols* symbols;
} named_row;

static int by_name(const void* left, const void* right) {
  const named_row* a = left;
  const named_row* b = right;
  int order = why_symbol_compare(a->symbols, a->row->name, b->row->name);
  if (order)
    return order;
  order = strcmp(a->row->place.file, b->row->place.file);
  if (order || a->row->place.line == b->row->place.line)
    return order ? order : (a->row->place.column > b->row->place.column) * 2 - 1;
  return (a->row->place.line > b->row->place.line) * 2 - 1;
}

static void declare_relations(why_compiler* compiler) {
  size_t count = compiler->reasoning->relations.count;
  if (count > WHY_RELATIONS_LIMIT) {
    why_problems_add(compiler->problems, WHY_ERROR, "limit",
                     compiler->reasoning->relations.at[WHY_RELATIONS_LIMIT].place,
                     "there are more than %d relations", WHY_RELATIONS_LIMIT);
    count = WHY_RELATIONS_LIMIT;
  }
  named_row* rows = WHY_NEW_ARRAY(compiler->arena, named_row, count);
  for (size_t i = 0; i < count; i++)
    rows[i] = (named_row){&compiler->reasoning->relations.at[i], compiler->symbols};
  if (count)
    qsort(rows, count, sizeof *rows, by_name);
  why_program* program = compiler->program;
  program->relations = WHY_NEW_ARRAY(compiler->arena, why_relation_inner, count);
  for (size_t i = 0; i < count; i++) {
    const why_relation_row* row = rows[i].row;
    if (i && rows[i - 1].row->name == row->name) {
      why_problems_add(compiler->problems, WHY_ERROR, "twice", row->place,
                       "relation %s is declared twice", text_of(compiler, row->name));
      why_problems_also(compiler->problems, rows[i - 1].row->place);
    } else if (declare_relation(compiler, row, &program->relations[program->relation_count])) {
      program->relation_count++;
    }
  }
}

static void declare_order(why_compiler* compiler, const why_order_row* row) {
  const char* name = text_of(compiler, row->relation.name);
  why_relation relation = why_program_find(compiler->program, name);
  if (relation == WHY_NO_RELATION) {
    why_problems_add(compiler->problems, WHY_ERROR, "relation", row->relation.place,
                     "there is no relation %s", name);
    return;
  }
  why_relation_inner* inner = &compiler->program->relations[relation];
  if (inner->order)
    why_problems_add(compiler->problems, WHY_ERROR, "twice", row->place,
                     "the order of %s is stated twice", name);
  why_sort_key* keys = WHY_NEW_ARRAY(compiler->arena, why_sort_key, row->keys.count);
  for (size_t i = 0; i < row->keys.count; i++) {
    int slot =
        why_program_slot(compiler->program, relation, text_of(compiler, row->keys.at[i].slot));
    if (slot < 0)
      why_problems_add(compiler->problems, WHY_ERROR, "slot", row->keys.at[i].place,
                       "relation %s has no slot %s", name, text_of(compiler, row->keys.at[i].slot));
    else
      keys[i] = (why_sort_key){.slot = (unsigned)slot, .first = row->keys.at[i].first};
  }
  inner->order = keys;
  inner->order_count = row->keys.count;
}

/// The values of a stated fact; false after reporting.
static bool read_values(why_compiler* compiler, const why_fact_row* row, why_relation relation,
                        why_value* values) {
  const why_relation_info* info = &compiler->program->relations[relation].info;
  const char* name = text_of(compiler, info->name);
  uint32_t seen = 0;
  bool sound = true;
  for (size_t i = 0; i < row->slots.count; i++) {
    const why_slot_text* given = &row->slots.at[i];
    int slot = why_program_slot(compiler->program, relation, text_of(compiler, given->slot));
    if (slot < 0) {
      why_problems_add(compiler->problems, WHY_ERROR, "slot", given->place,
                       "relation %s has no slot %s", name, text_of(compiler, given->slot));
      sound = false;
      continue;
    }
    seen |= UINT32_C(1) << slot;
    if (*given->text && *given->text != '?' && strcmp(given->text, "_") != 0 &&
        why_value_parse(&info->slots[slot], compiler->symbols, given->text, &values[slot]))
      continue;
    why_problems_add(compiler->problems, WHY_ERROR, "value", given->place,
                     "%s=\"%s\" is no value of kind %s", text_of(compiler, given->slot),
                     given->text, text_of(compiler, info->slots[slot].kind));
    sound = false;
  }
  for (unsigned i = 0; i < info->slot_count; i++) {
    if (seen >> i & 1)
      continue;
    why_problems_add(compiler->problems, WHY_ERROR, "slot", row->place,
                     "a fact of %s needs a value for %s", name,
                     text_of(compiler, info->slots[i].name));
    sound = false;
  }
  return sound;
}

static void declare_fact(why_compiler* compiler, const why_fact_row* row) {
  const char* name = text_of(compiler, row->relation.name);
  why_relation relation = why_program_find(compiler->program, name);
  if (relation == WHY_NO_RELATION) {
    why_problems_add(compiler->problems, WHY_ERROR, "relation", row->relation.place,
                     "there is no relation %s", name);
    why_problems_hint(compiler->problems, "declare it with <relation name=\"%s\">", name);
    return;
  }
  why_value* values = WHY_NEW_ARRAY(compiler->arena, why_value, WHY_SLOTS_LIMIT);
  if (read_values(compiler, row, relation, values))
    *WHY_LIST_ADD(compiler->arena, compiler->program->facts) =
        (why_stated){.relation = relation, .values = values, .row = row};
}

void why_declare(why_compiler* compiler) {
  check_levels(compiler);
  declare_relations(compiler);
  for (size_t i = 0; i < compiler->reasoning->orders.count; i++)
    declare_order(compiler, &compiler->reasoning->orders.at[i]);
  for (size_t i = 0; i < compiler->reasoning->facts.count; i++)
    declare_fact(compiler, &compiler->reasoning->facts.at[i]);
}
