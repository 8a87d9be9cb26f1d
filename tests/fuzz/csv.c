// SPDX-License-Identifier: GPL-3.0-or-later
// A study as a table: whatever the bytes hold is refused with a reason, or becomes a file that is
// well-formed and plain.
#include "fuzz.h"
#include "read/study_table.h"
#include "read/xml.h"

#include <setjmp.h>
#include <stdlib.h>
#include <string.h>

/// The file can be read, and each of its bytes comes from a cell.
static void check(const char* xml, const why_cell_origins* origins, why_arena* arena,
                  why_problems* problems) {
  for (size_t i = 0; i < origins->count; i++)
    if (origins->at[i].offset >= strlen(xml) || !origins->at[i].place.line)
      abort();
  why_reader* reader = WHY_NEW(arena, why_reader);
  *reader = (why_reader){.arena = arena,
                         .symbols = why_symbols_new(arena, NULL, 0),
                         .problems = problems,
                         .file = "table.csv",
                         .text = xml,
                         .origins = origins};
  why_arena_defer(arena, why_xml_leave, reader);
  if (!why_xml_parse(reader, strlen(xml)))
    abort();
}

static void feed(const uint8_t* bytes, size_t length, why_arena* arena, why_problems* problems) {
  const char* text = why_arena_copy(arena, (const char*)bytes, length);
  why_buffer xml = {.arena = arena};
  why_cell_origins origins = {0};
  why_status status =
      why_study_table_read("table.csv", text, length, arena, problems, &xml, &origins);
  if (status == WHY_OK)
    check(why_buffer_text(&xml), &origins, arena, problems);
  else if (!why_problems_count(problems))
    abort();
}

static void feed_bytes(const uint8_t* bytes, size_t length) {
  why_arena* arena = why_arena_new(FUZZ_MEMORY);
  why_problems* problems = why_problems_new();
  jmp_buf door;
  if (!setjmp(door)) {
    why_arena_guard(arena, &door);
    feed(bytes, length, arena, problems);
  }
  why_problems_free(problems);
  why_arena_free(arena);
}

const fuzz_entrance fuzz_csv = {"csv", NULL, feed_bytes};
