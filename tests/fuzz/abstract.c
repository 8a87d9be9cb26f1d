// SPDX-License-Identifier: GPL-3.0-or-later
// Pasted abstracts: the input is a text, through the public headers. The file that is drafted must
// be well-formed and plain, and say of every number what became of it.
#include "fuzz.h"
#include "read/xml.h"
#include "serve/bytes.h"

#include <jansson.h>
#include <setjmp.h>
#include <stdlib.h>
#include <string.h>

static void check_file(const why_bytes* xml) {
  why_arena* arena = why_arena_new(FUZZ_MEMORY);
  why_problems* problems = why_problems_new();
  jmp_buf door;
  if (!setjmp(door)) {
    why_arena_guard(arena, &door);
    why_reader* reader = WHY_NEW(arena, why_reader);
    *reader = (why_reader){.arena = arena,
                           .symbols = why_symbols_new(arena, NULL, 0),
                           .problems = problems,
                           .file = "draft.xml",
                           .text = xml->at};
    why_arena_defer(arena, why_xml_leave, reader);
    if (!why_xml_parse(reader, xml->length))
      abort();
  }
  why_problems_free(problems);
  why_arena_free(arena);
}

static void check_fates(const why_bytes* json) {
  json_t* read = json_loadb(json->at, json->length, 0, NULL);
  const json_t* numbers = json_object_get(read, "numbers");
  for (size_t i = 0; i < json_array_size(numbers); i++)
    if (!json_string_length(json_object_get(json_array_get(numbers, i), "what")))
      abort();
  if (!json_array_size(numbers))
    abort();
  json_decref(read);
}

static void check(const why_answer* answer, const char* format,
                  void (*inspect)(const why_bytes* told)) {
  why_bytes told = {0};
  if (why_tell(answer, format, why_bytes_sink, &told) != WHY_OK)
    abort();
  inspect(&told);
  why_bytes_free(&told);
}

static void feed(const uint8_t* bytes, size_t length) {
  char* text = strndup((const char*)bytes, length);
  why_query* query = why_query_new(fuzz_knowledge());
  if (!text || !query)
    abort();
  why_answer* answer = NULL;
  why_status status = why_query_set(query, WHY_TEXT, text);
  if (status == WHY_OK)
    status = why_run(query, WHY_DRAFT, &answer);
  if (!answer && !why_problems_count(why_query_problems(query)))
    abort();
  if (answer) {
    check(answer, "xml", check_file);
    check(answer, "json", check_fates);
  }
  why_answer_free(answer);
  why_query_free(query);
  free(text);
}

const fuzz_entrance fuzz_abstract = {"abstract", NULL, feed};
