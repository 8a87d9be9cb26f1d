// SPDX-License-Identifier: GPL-3.0-or-later
// The text of a rules file, without its root element: compiled and, when it is sound, run within
// small limits.
#include "fuzz.h"
#include "read/reasoning_reader.h"
#include "reason/reason.h"

#include <setjmp.h>
#include <string.h>

static void run(why_reader* reader, why_reasoning* reasoning) {
  const why_limits limits = {.facts = 20000, .derivations = 40000, .rounds = 200, .steps = 400000};
  const why_program* program = NULL;
  if (why_program_compile(reasoning, reader->symbols, reader->arena, reader->problems, &program) !=
      WHY_OK)
    return;
  why_base* base = why_base_new(program, reader->symbols, reader->arena, &limits);
  if (why_base_run(base, reader->problems) == WHY_OK)
    why_overlay_run(why_overlay_new(base, reader->arena, &limits), reader->problems);
}

static void feed(const uint8_t* bytes, size_t length) {
  if (memchr(bytes, 0, length))
    return;
  why_arena* arena = why_arena_new(FUZZ_MEMORY);
  why_problems* problems = why_problems_new();
  jmp_buf door;
  if (!setjmp(door)) {
    why_arena_guard(arena, &door);
    why_reader* reader = WHY_NEW(arena, why_reader);
    *reader = (why_reader){.arena = arena,
                           .symbols = why_symbols_new(arena, NULL, 0),
                           .problems = problems,
                           .file = "rules/reasoning/file.xml",
                           .text = why_arena_print(arena, "<reasoning>%.*s</reasoning>",
                                                   (int)length, (const char*)bytes)};
    why_arena_defer(arena, why_xml_leave, reader);
    why_xml_hush(true);
    if (why_xml_parse(reader, strlen(reader->text))) {
      const why_schema* schema =
          why_schema_open(reader, WHY_HOME "/rules/schema/reasoning.rng", "reasoning.rng");
      why_reasoning reasoning = {0};
      if (schema && why_schema_accepts(schema, reader, reader->doc)) {
        why_reasoning_add(reader, xmlDocGetRootElement(reader->doc), &reasoning);
        why_xml_close(reader);
        run(reader, &reasoning);
      }
    }
  }
  why_problems_sort(problems);
  why_problems_free(problems);
  why_arena_free(arena);
}

const fuzz_entrance fuzz_rules = {"rules", NULL, feed};
