// SPDX-License-Identifier: GPL-3.0-or-later
// One file of a knowledge base: the first byte chooses the kind, the rest is the file. It goes
// through parser, schema, reader and checks. An even first byte leaves the schema out, so that
// readers and checks meet what a schema would have kept away from them.
#include "fuzz.h"
#include "read/check.h"
#include "read/kind.h"
#include "read/read.h"
#include "read/readers.h"

#include <setjmp.h>
#include <string.h>

static size_t count_kinds(void) {
  size_t count = 0;
  while (why_kinds_at(count))
    count++;
  return count;
}

static void read_file(why_reader* reader, size_t length, const why_kind* kind, bool by_schema) {
  why_tables* tables = WHY_NEW(reader->arena, why_tables);
  tables->arena = reader->arena;
  tables->symbols = reader->symbols;
  xmlDoc* doc = why_xml_parse(reader, length);
  if (!doc)
    return;
  bool fits = true;
  if (by_schema) {
    const char* path = why_arena_print(reader->arena, "%s/%s", WHY_HOME, kind->schema);
    const why_schema* schema = why_schema_open(reader, path, kind->schema);
    fits = schema && why_schema_accepts(schema, reader, doc);
  }
  if (fits) {
    kind->read(reader, xmlDocGetRootElement(doc), tables);
    why_census_read(reader, xmlDocGetRootElement(doc), tables);
    why_checks_run(tables, reader->problems, true);
  }
  why_xml_close(reader);
}

static void feed(const uint8_t* bytes, size_t length) {
  if (length < 2 || memchr(bytes + 1, 0, length - 1))
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
                           .file = "rules/file.xml",
                           .text = why_arena_copy(arena, (const char*)bytes + 1, length - 1)};
    why_arena_defer(arena, why_xml_leave, reader);
    why_xml_hush(true);
    read_file(reader, length - 1, why_kinds_at(bytes[0] / 2 % count_kinds()), bytes[0] % 2);
  }
  why_problems_sort(problems);
  why_problems_free(problems);
  why_arena_free(arena);
}

const fuzz_entrance fuzz_xml = {"xml", NULL, feed};
