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

void why_abstracts_read(why_reader* reader, const xmlNode* root, why_tables* tables) {
  why_abstracts* abstracts = &tables->abstracts;
  for (const xmlNode* n = why_xml_first(root, "sign"); n; n = why_xml_next(n, "sign"))
    *WHY_LIST_ADD(reader->arena, abstracts->tellings) =
        (why_telling){.tells = why_xml_string(reader, n, "tells"),
                      .is = why_xml_string(reader, n, "is"),
                      .pattern = why_xml_child_text(reader, n, "pattern"),
                      .place = why_xml_place(reader, n)};
  for (const xmlNode* n = why_xml_first(root, "form"); n; n = why_xml_next(n, "form"))
    *WHY_LIST_ADD(reader->arena, abstracts->forms) =
        (why_form){.id = why_xml_symbol(reader, n, "id"),
                   .gives = gives_named(why_xml_string(reader, n, "gives")),
                   .by_case = why_xml_flag(n, "case"),
                   .says = why_xml_string(reader, n, "says"),
                   .example = why_xml_child_text(reader, n, "example"),
                   .pattern = why_xml_child_text(reader, n, "pattern"),
                   .place = why_xml_place(reader, n)};
}
