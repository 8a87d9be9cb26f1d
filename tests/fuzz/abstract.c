// SPDX-License-Identifier: GPL-3.0-or-later
// Pasted abstracts: the input is a text. It is drafted over the shipped tables, and the file that
// comes out must be well-formed and plain.
#include "fuzz.h"
#include "read/read.h"
#include "read/xml.h"

#include <setjmp.h>
#include <stdlib.h>
#include <string.h>

typedef struct {
  const why_tables* tables;
  const why_words* words;
} shipped;

static const shipped* open_shipped(void) {
  static shipped kept;
  if (kept.tables)
    return &kept;
  why_arena* arena = why_arena_new(0);
  why_tables* tables = NULL;
  if (!arena || why_tables_open(WHY_HOME, NULL, arena, why_problems_new(), &tables) != WHY_OK)
    abort();
  kept = (shipped){tables, why_words_new(arena, tables)};
  return &kept;
}

/// Every number has its fate, and the file can be read.
static void check(const why_draft* draft, why_arena* arena, why_problems* problems) {
  for (size_t i = 0; i < draft->text.numbers.count; i++)
    if (!draft->text.numbers.at[i].what)
      abort();
  why_reader* reader = WHY_NEW(arena, why_reader);
  *reader = (why_reader){.arena = arena,
                         .symbols = draft->symbols,
                         .problems = problems,
                         .file = "draft.xml",
                         .text = why_draft_xml(draft, arena)};
  why_arena_defer(arena, why_xml_leave, reader);
  if (!why_xml_parse(reader, strlen(reader->text)))
    abort();
}

int LLVMFuzzerTestOneInput(const uint8_t* bytes, size_t length) {
  const shipped* base = open_shipped();
  why_arena* arena = why_arena_new(FUZZ_MEMORY);
  why_problems* problems = why_problems_new();
  jmp_buf door;
  if (!setjmp(door)) {
    why_arena_guard(arena, &door);
    char* text = why_arena_copy(arena, (const char*)bytes, length);
    why_draft* draft = NULL;
    if (why_draft_new(base->tables, base->words, text, arena, problems, &draft) == WHY_OK)
      check(draft, arena, problems);
  }
  why_problems_free(problems);
  why_arena_free(arena);
  return 0;
}
