// SPDX-License-Identifier: GPL-3.0-or-later
// Reads rules/abstracts.xml.
#include "abstracts.h"

#include "readers.h"

#include <string.h>

static const char* const GIVES[] = {
    "people",   "sexes",         "arm",    "arm-each",   "weeks",       "weeks-said",
    "sessions", "age",           "sets",   "load",       "maximum",     "growth",
    "percent",  "percent-aside", "change", "difference", "effect-size", "interval",
    "p",        "site",          "noted",  "nothing"};

const char* why_gives_name(why_gives gives) {
  return GIVES[gives];
}

static why_gives gives_named(const char* name) {
  unsigned gives = WHY_GIVES_PEOPLE;
  while (gives < WHY_GIVES_NOTHING && strcmp(GIVES[gives], name) != 0)
    gives++;
  return (why_gives)gives;
}

const why_regex* why_abstracts_compile(why_arena* arena, const char* pattern, bool by_case,
                                       why_problems* problems, why_place place) {
  const char* whole = why_arena_print(arena, "(*UCP)%s%s", by_case ? "" : "(?i)", pattern);
  return why_regex_new(arena, whole, problems, "form-pattern", place);
}

static void read_sign(why_reader* reader, const xmlNode* n, why_abstracts* abstracts) {
  why_telling* sign = WHY_LIST_ADD(reader->arena, abstracts->tellings);
  *sign = (why_telling){.tells = why_xml_string(reader, n, "tells"),
                        .is = why_xml_string(reader, n, "is"),
                        .pattern = why_xml_child_text(reader, n, "pattern"),
                        .place = why_xml_place(reader, n)};
  sign->regex = why_abstracts_compile(reader->arena, sign->pattern, false, NULL, sign->place);
}

static void read_form(why_reader* reader, const xmlNode* n, why_abstracts* abstracts) {
  why_form* form = WHY_LIST_ADD(reader->arena, abstracts->forms);
  *form = (why_form){.id = why_xml_symbol(reader, n, "id"),
                     .gives = gives_named(why_xml_string(reader, n, "gives")),
                     .by_case = why_xml_flag(n, "case"),
                     .says = why_xml_string(reader, n, "says"),
                     .example = why_xml_child_text(reader, n, "example"),
                     .pattern = why_xml_child_text(reader, n, "pattern"),
                     .place = why_xml_place(reader, n)};
  form->regex =
      why_abstracts_compile(reader->arena, form->pattern, form->by_case, NULL, form->place);
}

void why_abstracts_read(why_reader* reader, const xmlNode* root, why_tables* tables) {
  for (const xmlNode* n = why_xml_first(root, "sign"); n; n = why_xml_next(n, "sign"))
    read_sign(reader, n, &tables->abstracts);
  for (const xmlNode* n = why_xml_first(root, "form"); n; n = why_xml_next(n, "form"))
    read_form(reader, n, &tables->abstracts);
}
