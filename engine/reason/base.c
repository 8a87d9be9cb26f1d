// SPDX-License-Identifier: GPL-3.0-or-later
// Bases and overlays: taking in given and assumed facts, and running.
#include "store.h"

#include "value.h"

#include <stdarg.h>

why_base* why_base_new(const why_program* program, why_symbols* symbols, why_arena* arena,
                       const why_limits* limits) {
  why_base* made = WHY_NEW(arena, why_base);
  why_store_init(&made->store, program, symbols, arena, NULL, NULL, limits);
  for (size_t i = 0; i < program->facts.count; i++) {
    const why_stated* fact = &program->facts.at[i];
    why_store_give(&made->store, fact->relation, fact->values, fact->row->place,
                   fact->row->from.basis ? &fact->row->from : NULL);
  }
  return made;
}

void why_base_add(why_base* base, why_relation relation, const why_value* values, why_place place,
                  const why_from* from) {
  why_store_give(&base->store, relation, values, place, from);
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

/// What a run came to, given how many errors there were before.
static why_status status_of(const why_store* store, size_t before) {
  size_t now = store->problems ? why_problems_count_from(store->problems, WHY_ERROR) : before;
  return store->failed || now != before ? WHY_KNOWLEDGE : WHY_OK;
}

/// What was at work lies in memory that goes when the knowledge base stands.
static void forget_work(why_store* store) {
  store->work = NULL;
  store->idle = NULL;
  store->matchers = NULL;
  store->doubted.at = NULL;
  store->doubted.count = store->doubted.room = 0;
}

why_status why_base_run(why_base* base, why_problems* problems) {
  base->store.problems = problems;
  size_t before = why_problems_count_from(problems, WHY_ERROR);
  why_store_run(&base->store);
  why_status status = status_of(&base->store, before);
  base->store.problems = NULL;
  why_base_plan(base, NULL);
  why_base_prove(base);
  forget_work(&base->store);
  return status;
}

void why_base_learn(why_base* base, const why_lessons* lessons) {
  why_base_plan(base, lessons);
}

/// Facts given of relations that questions reach start anew in every overlay.
static void copy_given(why_overlay* overlay, why_relation relation) {
  const why_tuples* from = &overlay->base->store.tuples[relation];
  for (uint32_t row = 0; row < from->count; row++) {
    const why_given_at* at = &overlay->base->store.givens.at[why_tuples_given(from, row) - 1];
    why_store_give(&overlay->store, relation, why_tuples_row(from, row), at->place, at->from);
  }
}

why_overlay* why_overlay_new(const why_base* base, why_arena* arena, const why_limits* limits) {
  why_overlay* made = WHY_NEW(arena, why_overlay);
  made->base = base;
  why_symbols* symbols = why_symbols_new(arena, base->store.symbols, 0);
  why_store_init(&made->store, base->store.program, symbols, arena, &base->store, &base->plans,
                 limits);
  for (size_t i = 0; i < base->plans.given.count; i++)
    copy_given(made, base->plans.given.at[i]);
  return made;
}

why_symbols* why_overlay_symbols(why_overlay* overlay) {
  return overlay->store.symbols;
}

void why_overlay_assume(why_overlay* overlay, why_relation relation, const why_value* values) {
  if (overlay->store.program->relations[relation].info.assumable)
    why_store_give(&overlay->store, relation, values, (why_place){0}, NULL);
}

void why_overlay_open(why_overlay* overlay, why_problems* problems) {
  overlay->store.problems = problems;
  overlay->store.open = true;
  overlay->errors = problems ? why_problems_count_from(problems, WHY_ERROR) : 0;
}

why_status why_overlay_status(const why_overlay* overlay) {
  return status_of(&overlay->store, overlay->errors);
}

why_status why_overlay_run(why_overlay* overlay, why_problems* problems) {
  why_overlay_open(overlay, problems);
  const why_program* program = overlay->store.program;
  for (size_t i = 0; i < program->strata.count; i++)
    for (size_t k = 0; program->strata.at[i].reached && k < program->strata.at[i].relations.count;
         k++)
      why_store_demand(&overlay->store, program->strata.at[i].relations.at[k], 0, NULL);
  return why_overlay_status(overlay);
}
