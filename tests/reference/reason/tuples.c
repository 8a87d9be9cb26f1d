// SPDX-License-Identifier: GPL-3.0-or-later
// Prints what follows from a file of rules, one fact a line as "relation(a,b).". Facts of assumable
// relations are not stated but assumed by a question, so that overlays are tried too.
//   tuples FILE SCHEMA [HASH-SEED]
#include "read/reasoning_reader.h"
#include "reason/reason.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char* load(why_arena* arena, const char* path) {
  FILE* file = fopen(path, "rb");
  why_buffer text = {.arena = arena};
  char piece[4096];
  for (size_t got = 1; file && got;) {
    got = fread(piece, 1, sizeof piece, file);
    why_buffer_add_bytes(&text, piece, got);
  }
  if (file)
    fclose(file);
  return why_buffer_text(&text);
}

static bool read_rules(why_reader* reader, const char* schema, why_reasoning* reasoning) {
  xmlDoc* doc = why_xml_parse(reader, strlen(reader->text));
  const why_schema* opened = why_schema_open(reader, schema, schema);
  bool sound = doc && opened && why_schema_accepts(opened, reader, doc);
  if (sound)
    why_reasoning_add(reader, xmlDocGetRootElement(doc), reasoning);
  if (doc)
    xmlFreeDoc(doc);
  return sound;
}

static bool is_assumable(const why_reasoning* reasoning, why_symbol relation) {
  for (size_t i = 0; i < reasoning->relations.count; i++)
    if (reasoning->relations.at[i].name == relation)
      return reasoning->relations.at[i].assumable;
  return false;
}

/// Take the facts of assumable relations out of `reasoning`; they are returned in `assumed`.
static void part_facts(why_arena* arena, why_reasoning* reasoning, why_reasoning* assumed) {
  size_t kept = 0;
  for (size_t i = 0; i < reasoning->facts.count; i++) {
    why_fact_row row = reasoning->facts.at[i];
    if (is_assumable(reasoning, row.relation.name))
      *WHY_LIST_ADD(arena, assumed->facts) = row;
    else
      reasoning->facts.at[kept++] = row;
  }
  reasoning->facts.count = kept;
}

/// Assume `rows` in an order that the seed decides.
static void assume(why_overlay* overlay, const why_program* program, const why_reasoning* rows,
                   uint64_t seed) {
  why_symbols* symbols = why_overlay_symbols(overlay);
  for (size_t i = 0; i < rows->facts.count; i++) {
    size_t at = seed % 2 ? rows->facts.count - 1 - i : i;
    const why_fact_row* row = &rows->facts.at[at];
    why_relation relation =
        why_program_find(program, why_symbols_text(symbols, row->relation.name));
    why_value values[WHY_SLOTS_LIMIT] = {{0}};
    for (size_t s = 0; s < row->slots.count; s++) {
      int slot =
          why_program_slot(program, relation, why_symbols_text(symbols, row->slots.at[s].slot));
      values[slot] = why_value_of_symbol(why_symbols_add(symbols, row->slots.at[s].text));
    }
    why_overlay_assume(overlay, relation, values);
  }
}

static void print_facts(why_overlay* overlay, const why_program* program) {
  const why_symbols* symbols = why_overlay_symbols(overlay);
  for (why_relation r = 0; r < why_program_relation_count(program); r++) {
    const why_relation_info* info = why_program_relation(program, r);
    why_facts facts = why_facts_find(overlay, r, 0, NULL);
    for (size_t i = 0; i < facts.count; i++) {
      printf("%s(", why_symbols_text(symbols, info->name));
      for (unsigned s = 0; s < info->slot_count; s++)
        printf("%s%s", s ? "," : "",
               why_symbols_text(symbols, why_fact_symbol(overlay, facts.at[i], (int)s)));
      printf(").\n");
    }
  }
}

static void print_problems(const why_problems* problems) {
  for (size_t i = 0; i < why_problems_count(problems); i++) {
    why_problem each = why_problems_at(problems, i);
    fprintf(stderr, "%s:%u:%u: %s: %s\n", each.place.file ? each.place.file : "", each.place.line,
            each.place.column, each.check, each.text);
  }
}

static bool run(why_reader* reader, const char* schema, uint64_t seed) {
  why_reasoning reasoning = {0};
  why_reasoning assumed = {0};
  const why_program* program = NULL;
  if (!read_rules(reader, schema, &reasoning))
    return false;
  part_facts(reader->arena, &reasoning, &assumed);
  if (why_program_compile(&reasoning, reader->symbols, reader->arena, reader->problems, &program))
    return false;
  why_base* base = why_base_new(program, reader->symbols, reader->arena, NULL);
  if (why_base_run(base, reader->problems))
    return false;
  why_overlay* overlay = why_overlay_new(base, reader->arena, NULL);
  assume(overlay, program, &assumed, seed);
  if (why_overlay_run(overlay, reader->problems))
    return false;
  print_facts(overlay, program);
  return true;
}

int main(int argc, char** argv) {
  if (argc < 3) {
    fputs("usage: tuples FILE SCHEMA [HASH-SEED]\n", stderr);
    return 2;
  }
  uint64_t seed = argc > 3 ? strtoull(argv[3], NULL, 10) : 0;
  why_reader reader = {.arena = why_arena_new(0), .problems = why_problems_new(), .file = argv[1]};
  reader.symbols = why_symbols_new(reader.arena, NULL, seed);
  reader.text = load(reader.arena, argv[1]);
  bool sound = run(&reader, argv[2], seed);
  print_problems(reader.problems);
  why_problems_free(reader.problems);
  why_arena_free(reader.arena);
  return sound ? 0 : 3;
}
