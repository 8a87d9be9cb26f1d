// SPDX-License-Identifier: GPL-3.0-or-later
// A program drawn from a seed, with numbers and totals: written for a grounder, or evaluated here
// with all facts in the grounder's notation.
//   totals logic|facts SEED
#include "read/reasoning_reader.h"
#include "reason/random.h"
#include "reason/reason.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/// Both notations of a program.
typedef struct {
  why_buffer xml;
  why_buffer logic;
} pair;

static void make_random(pair* to, uint64_t seed) {
  why_arena* arena = to->xml.arena;
  const random_program* drawn = random_program_new(arena, seed);
  for (unsigned i = 0; i < RANDOM_RELATIONS; i++)
    why_buffer_add(&to->xml, random_relation_xml(arena, drawn, i, false));
  for (size_t i = 0; i < drawn->facts.count; i++) {
    why_buffer_add(&to->xml, random_fact_xml(arena, drawn, i));
    why_buffer_add(&to->logic, random_fact_logic(arena, drawn, i));
  }
  for (size_t i = 0; i < drawn->rules.count; i++)
    why_buffer_add(&to->xml, drawn->rules.at[i]);
  why_buffer_add(&to->logic, why_buffer_text(&drawn->logic));
}

static void print_facts(const why_program* program, why_overlay* overlay) {
  const why_symbols* symbols = why_overlay_symbols(overlay);
  for (why_relation r = 0; r < why_program_relation_count(program); r++) {
    const why_relation_info* info = why_program_relation(program, r);
    why_facts facts = why_facts_find(overlay, r, 0, NULL);
    for (size_t i = 0; i < facts.count; i++) {
      const why_value* values = why_fact_values(overlay, facts.at[i]);
      printf("%s", why_symbols_text(symbols, info->name));
      for (unsigned s = 0; s < info->slot_count; s++) {
        if (info->slots[s].type == WHY_SLOT_NUMBER)
          printf("%s%.17g", s ? "," : "(", values[s].number);
        else
          printf("%s%s", s ? "," : "(", why_symbols_text(symbols, why_value_symbol(values[s])));
      }
      printf(").\n");
    }
  }
}

/// Read, compile and run; false when a problem was reported.
static bool evaluate(const char* xml, why_arena* arena, why_problems* problems) {
  why_reader reader = {.arena = arena,
                       .symbols = why_symbols_new(arena, NULL, 0),
                       .problems = problems,
                       .file = "rules/reasoning/totals.xml",
                       .text = why_arena_print(arena, "<reasoning>%s</reasoning>", xml)};
  why_reasoning reasoning = {0};
  const why_program* program = NULL;
  xmlDoc* doc = why_xml_parse(&reader, strlen(reader.text));
  if (!doc)
    return false;
  why_reasoning_add(&reader, xmlDocGetRootElement(doc), &reasoning);
  xmlFreeDoc(doc);
  if (why_program_compile(&reasoning, reader.symbols, arena, problems, &program) != WHY_OK)
    return false;
  why_base* base = why_base_new(program, reader.symbols, arena, NULL);
  why_overlay* overlay = NULL;
  if (why_base_run(base, problems) == WHY_OK)
    overlay = why_overlay_new(base, arena, NULL);
  if (!overlay || why_overlay_run(overlay, problems) != WHY_OK)
    return false;
  print_facts(program, overlay);
  return true;
}

int main(int count, char** words) {
  if (count != 3) {
    fprintf(stderr, "usage: totals logic|facts SEED\n");
    return 2;
  }
  why_arena* arena = why_arena_new(0);
  why_problems* problems = why_problems_new();
  pair made = {{.arena = arena}, {.arena = arena}};
  make_random(&made, strtoull(words[2], NULL, 10));
  bool sound = true;
  if (strcmp(words[1], "logic") == 0)
    printf("%s", why_buffer_text(&made.logic));
  else
    sound = evaluate(why_buffer_text(&made.xml), arena, problems);
  for (size_t i = 0; i < why_problems_count(problems); i++)
    fprintf(stderr, "%s\n", why_problems_at(problems, i).text);
  why_problems_free(problems);
  why_arena_free(arena);
  return sound ? 0 : 1;
}
