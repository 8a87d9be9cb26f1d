// SPDX-License-Identifier: GPL-3.0-or-later
// Bases and overlays: taking in given and assumed facts, and running.
#include "store.h"

#include "value.h"

#include <stdarg.h>

/// Add a row that is not derived; the first place it was given at is kept.
static void add_given(why_store* store, why_relation relation, const why_value* values,
                      why_place place, const why_from* from) {
  uint32_t row = why_store_add(store, relation, values);
  uint32_t* given = &store->tuples[relation].given[row];
  if (*given) {
    // The same fact given twice: the place that comes first, whatever the order of reading.
    why_given_at* known = &store->givens.at[*given - 1];
    if (why_place_compare(&place, &known->place) < 0)
      *known = (why_given_at){place, from};
    return;
  }
  *WHY_LIST_ADD(store->arena, store->givens) = (why_given_at){place, from};
  *given = (uint32_t)store->givens.count;
}

why_base* why_base_new(const why_program* program, why_symbols* symbols, why_arena* arena,
                       const why_limits* limits) {
  why_base* made = WHY_NEW(arena, why_base);
  why_store_init(&made->store, program, symbols, arena, NULL, limits);
  for (size_t i = 0; i < program->facts.count; i++) {
    const why_stated* fact = &program->facts.at[i];
    add_given(&made->store, fact->relation, fact->values, fact->row->place,
              fact->row->from.basis ? &fact->row->from : NULL);
  }
  return made;
}

void why_base_add(why_base* base, why_relation relation, const why_value* values, why_place place,
                  const why_from* from) {
  add_given(&base->store, relation, values, place, from);
}

/// Read the texts of `arguments` as values; the number of those that fit, or -1 after reporting.
static int read_texts(why_base* base, why_problems* problems, why_place place,
                      why_relation relation, va_list arguments, why_value* values) {
  const why_relation_info* info = &base->store.program->relations[relation].info;
  unsigned count = 0;
  for (const char* text = va_arg(arguments, const char*); text;
       text = va_arg(arguments, const char*)) {
    if (count == info->slot_count ||
        !why_value_parse(&info->slots[count], base->store.symbols, text, &values[count])) {
      why_problems_add(problems, WHY_ERROR, "value", place, "\"%s\" does not fit relation %s", text,
                       why_symbols_text(base->store.symbols, info->name));
      return -1;
    }
    count++;
  }
  return (int)count;
}

bool why_base_state(why_base* base, why_problems* problems, why_place place, const char* relation,
                    ...) {
  why_relation found = why_program_find(base->store.program, relation);
  if (found == WHY_NO_RELATION) {
    why_problems_add(problems, WHY_ERROR, "relation", place, "there is no relation %s", relation);
    return false;
  }
  why_value values[WHY_SLOTS_LIMIT] = {{0}};
  va_list arguments;
  va_start(arguments, relation);
  int count = read_texts(base, problems, place, found, arguments, values);
  va_end(arguments);
  if (count < 0)
    return false;
  if ((unsigned)count != base->store.program->relations[found].info.slot_count) {
    why_problems_add(problems, WHY_ERROR, "value", place, "relation %s has another number of slots",
                     relation);
    return false;
  }
  why_base_add(base, found, values, place, NULL);
  return true;
}

why_status why_base_run(why_base* base, why_problems* problems) {
  return why_store_run(&base->store, problems);
}

/// Facts given of relations that questions reach start anew in every overlay.
static void copy_given(why_overlay* overlay, why_relation relation) {
  const why_tuples* from = &overlay->base->store.tuples[relation];
  for (uint32_t row = 0; row < from->count; row++) {
    if (!from->given[row])
      continue;
    const why_given_at* at = &overlay->base->store.givens.at[from->given[row] - 1];
    add_given(&overlay->store, relation, why_tuples_row(from, row), at->place, at->from);
  }
}

why_overlay* why_overlay_new(const why_base* base, why_arena* arena, const why_limits* limits) {
  why_overlay* made = WHY_NEW(arena, why_overlay);
  made->base = base;
  why_symbols* symbols = why_symbols_new(arena, base->store.symbols, 0);
  why_store_init(&made->store, base->store.program, symbols, arena, &base->store, limits);
  for (size_t i = 0; i < base->store.program->relation_count; i++)
    if (base->store.program->relations[i].info.reached)
      copy_given(made, (why_relation)i);
  return made;
}

why_symbols* why_overlay_symbols(why_overlay* overlay) {
  return overlay->store.symbols;
}

void why_overlay_assume(why_overlay* overlay, why_relation relation, const why_value* values) {
  if (overlay->store.program->relations[relation].info.assumable)
    add_given(&overlay->store, relation, values, (why_place){0}, NULL);
}

why_status why_overlay_run(why_overlay* overlay, why_problems* problems) {
  return why_store_run(&overlay->store, problems);
}
