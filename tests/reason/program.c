// SPDX-License-Identifier: GPL-3.0-or-later
#include "program.h"

#include "read/reasoning_reader.h"

#include <criterion/criterion.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

const char PROGRAM_GRAPH[] =
    "<levels name='grade'><level name='low'/><level name='middle'/><level name='high'/></levels>\n"
    "<relation name='edge'><slot name='a' kind='node'/><slot name='b' kind='node'/></relation>\n"
    "<relation name='path'><slot name='a' kind='node'/><slot name='b' kind='node'/></relation>\n"
    "<relation name='node'><slot name='a' kind='node'/></relation>\n"
    "<relation name='size'><slot name='a' kind='node'/><slot name='n' kind='number'/></relation>\n"
    "<relation name='graded'><slot name='a' kind='node'/><slot name='g' kind='grade'/></relation>\n"
    "<relation name='out'><slot name='a' kind='node'/></relation>\n"
    "<relation name='total'><slot name='a' kind='node'/><slot name='n' kind='number'/></relation>\n"
    "<relation name='result'><slot name='a' kind='node'/><slot name='g' kind='grade'/>"
    "</relation>\n";

static void print_problems(const program* made) {
  for (size_t i = 0; i < why_problems_count(made->problems); i++) {
    why_problem each = why_problems_at(made->problems, i);
    cr_log_error("%u:%u: %s: %s", each.place.line, each.place.column, each.check, each.text);
  }
}

void program_compile(program* made, uint64_t hash_seed, const char* text) {
  *made = (program){.arena = why_arena_new(0), .problems = why_problems_new()};
  made->symbols = why_symbols_new(made->arena, NULL, hash_seed);
  why_reader reader = {.arena = made->arena,
                       .symbols = made->symbols,
                       .problems = made->problems,
                       .file = "rules/reasoning/test.xml",
                       .text = why_arena_print(made->arena, "<reasoning>%s</reasoning>", text)};
  xmlDoc* doc = why_xml_parse(&reader, strlen(reader.text));
  const why_schema* schema =
      why_schema_open(&reader, WHY_HOME "/rules/schema/reasoning.rng", "reasoning.rng");
  if (!doc || !schema || !why_schema_accepts(schema, &reader, doc))
    print_problems(made);
  cr_assert_eq(why_problems_count(made->problems), 0, "not in the schema: %s", text);
  why_reasoning_add(&reader, xmlDocGetRootElement(doc), &made->reasoning);
  xmlFreeDoc(doc);
  made->status = why_program_compile(&made->reasoning, made->symbols, made->arena, made->problems,
                                     &made->program);
}

void program_start(program* made) {
  made->base = why_base_new(made->program, made->symbols, made->arena, made->limits);
  made->status = why_base_run(made->base, made->problems);
  made->overlay = why_overlay_new(made->base, made->arena, made->limits);
}

/// The values of `arguments` in order of slots.
static why_relation read_values(program* made, const char* name, va_list arguments,
                                why_symbols* symbols, why_value* values) {
  why_relation relation = why_program_find(made->program, name);
  cr_assert_neq(relation, WHY_NO_RELATION, "%s", name);
  const why_relation_info* info = why_program_relation(made->program, relation);
  for (unsigned i = 0; i < info->slot_count; i++) {
    const char* text = va_arg(arguments, const char*);
    cr_assert_not_null(text, "%s has more slots", name);
    if (info->slots[i].type == WHY_SLOT_SYMBOL)
      values[i] = why_value_of_symbol(why_symbols_add(symbols, text));
    else if (info->slots[i].type == WHY_SLOT_NUMBER)
      values[i] = why_value_of_number(strtod(text, NULL));
    else
      values[i] = why_value_of_number(
          why_program_level(made->program, why_symbols_text(symbols, info->slots[i].kind), text));
  }
  cr_assert_null(va_arg(arguments, const char*), "%s has fewer slots", name);
  return relation;
}

void program_assume(program* made, const char* relation, ...) {
  why_value values[WHY_SLOTS_LIMIT] = {{0}};
  va_list arguments;
  va_start(arguments, relation);
  why_relation found =
      read_values(made, relation, arguments, why_overlay_symbols(made->overlay), values);
  va_end(arguments);
  why_overlay_assume(made->overlay, found, values);
}

void program_ask(program* made) {
  made->status = why_overlay_run(made->overlay, made->problems);
}

void program_run(program* made, const char* text) {
  program_compile(made, 0, text);
  if (made->status == WHY_OK)
    program_start(made);
  if (made->status == WHY_OK)
    program_ask(made);
  if (why_problems_count(made->problems))
    print_problems(made);
  cr_assert_eq(why_problems_count(made->problems), 0, "%s", text);
}

void program_free(program* made) {
  why_arena_free(made->arena);
  why_problems_free(made->problems);
}

static const char* value_text(program* made, const why_slot* slot, why_value value) {
  if (slot->type == WHY_SLOT_SYMBOL)
    return why_symbols_text(why_overlay_symbols(made->overlay), why_value_symbol(value));
  if (slot->type == WHY_SLOT_LEVEL)
    return why_slot_level(made->program, slot, value.number);
  return why_arena_print(made->arena, "%.12g", value.number);
}

const char* program_dump(program* made, const char* name) {
  why_relation relation = why_program_find(made->program, name);
  cr_assert_neq(relation, WHY_NO_RELATION, "%s", name);
  const why_relation_info* info = why_program_relation(made->program, relation);
  why_facts facts = why_facts_find(made->overlay, relation, 0, NULL);
  why_buffer text = {.arena = made->arena};
  for (size_t i = 0; i < facts.count; i++) {
    const why_value* values = why_fact_values(made->overlay, facts.at[i]);
    why_buffer_add(&text, i ? "; " : "");
    for (unsigned s = 0; s < info->slot_count; s++)
      why_buffer_print(&text, "%s%s", s ? " " : "", value_text(made, &info->slots[s], values[s]));
  }
  return why_buffer_text(&text);
}

why_fact program_fact(program* made, const char* relation, ...) {
  why_value values[WHY_SLOTS_LIMIT] = {{0}};
  va_list arguments;
  va_start(arguments, relation);
  why_relation found =
      read_values(made, relation, arguments, why_overlay_symbols(made->overlay), values);
  va_end(arguments);
  unsigned slot_count = why_program_relation(made->program, found)->slot_count;
  why_facts facts = why_facts_find(made->overlay, found, (UINT32_C(1) << slot_count) - 1, values);
  cr_assert_eq(facts.count, 1, "%s has no such fact", relation);
  return facts.at[0];
}

const char* program_problem(program* made) {
  if (!why_problems_count(made->problems))
    return "";
  why_problems_sort(made->problems);
  why_problem first = why_problems_at(made->problems, 0);
  return why_arena_print(made->arena, "%s %u:%u", first.check, first.place.line,
                         first.place.column);
}

const char* program_say(program* made, why_fact fact) {
  const why_proof* proof = why_proof_best(made->overlay, fact);
  cr_assert_not_null(proof);
  return why_say(made->overlay, &proof->step, NULL, made->arena);
}

void expect_refused(const char* declared, const char* rules, const char* check) {
  program made;
  const char* mark = strchr(rules, '^');
  cr_assert_not_null(mark, "no place is marked in %s", rules);
  why_arena* arena = why_arena_new(0);
  const char* before =
      why_arena_print(arena, "<reasoning>%s%.*s", declared, (int)(mark - rules), rules);
  unsigned line = 1;
  const char* start = before;
  for (const char* at = before; *at; at++)
    if (*at == '\n') {
      line++;
      start = at + 1;
    }
  const char* wanted = why_arena_print(arena, "%s %u:%zu", check, line, strlen(start) + 1);
  program_compile(
      &made, 0, why_arena_print(arena, "%s%.*s%s", declared, (int)(mark - rules), rules, mark + 1));
  cr_expect_eq(made.status, WHY_KNOWLEDGE, "%s", rules);
  cr_expect_str_eq(program_problem(&made), wanted, "%s instead of %s: %s", program_problem(&made),
                   wanted, rules);
  program_free(&made);
  why_arena_free(arena);
}

void expect_facts(const char* text, const char* relation, const char* facts) {
  program made;
  program_run(&made, text);
  const char* found = program_dump(&made, relation);
  cr_expect_str_eq(found, facts, "%s holds \"%s\" instead of \"%s\"", relation, found, facts);
  program_free(&made);
}
