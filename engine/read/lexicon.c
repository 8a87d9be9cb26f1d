// SPDX-License-Identifier: GPL-3.0-or-later
// Reads words with their meanings.
#include "lexicon.h"

#include "readers.h"

#include <math.h>
#include <string.h>

static why_lexicon_entry read_entry(why_reader* reader, const xmlNode* element) {
  return (why_lexicon_entry){
      .kind = why_meaning_named(why_xml_string(reader, element, "kind")),
      .kind_name = why_xml_symbol(reader, element, "kind"),
      .id = why_xml_symbol(reader, element, "id"),
      .name = why_xml_string(reader, element, "name"),
      .of = why_xml_symbols(reader, element, "of"),
      .held = why_xml_flag(element, "held"),
      .note = why_xml_child_text(reader, element, "note"),
      .words = why_words_read(reader, element),
      .place = why_xml_place(reader, element),
  };
}

static why_lexicon_target read_target(why_reader* reader, const xmlNode* element, const char* kind,
                                      const char* id) {
  return (why_lexicon_target){
      .kind = why_meaning_named(why_xml_string(reader, element, kind)),
      .id = why_xml_symbol(reader, element, id),
      .place = why_xml_place(reader, element),
  };
}

static void read_ambiguous(why_reader* reader, const xmlNode* element, why_lexicon* lexicon) {
  why_lexicon_ambiguous* row = WHY_LIST_ADD(reader->arena, lexicon->ambiguous);
  row->word = why_xml_string(reader, element, "word");
  row->note = why_xml_child_text(reader, element, "note");
  row->place = why_xml_place(reader, element);
  for (const xmlNode* n = why_xml_first(element, "either"); n; n = why_xml_next(n, "either"))
    *WHY_LIST_ADD(reader->arena, row->either) = read_target(reader, n, "kind", "id");
}

static why_lexicon_unmapped read_unmapped(why_reader* reader, const xmlNode* element) {
  return (why_lexicon_unmapped){
      .kind = why_meaning_named(why_xml_string(reader, element, "kind")),
      .name = why_xml_string(reader, element, "name"),
      .reason = why_xml_string(reader, element, "reason"),
      .near = read_target(reader, element, "near-kind", "near"),
      .words = why_words_read(reader, element),
      .place = why_xml_place(reader, element),
  };
}

/// The place of `name` in `names`, which ends in NULL; 0 when it is not there, as the schema
/// forbids.
static unsigned index_of(const char* const* names, const char* name) {
  for (unsigned i = 0; names[i]; i++)
    if (strcmp(names[i], name) == 0)
      return i;
  return 0;
}

static why_lexicon_phrases read_phrases(why_reader* reader, const xmlNode* element) {
  static const char* const ROLES[] = {
      "filler", "other",  "article", "join",  "either", "break", "have", "without", "complaint",
      "harms",  "limit",  "swap",    "why",   "choose", "level", "unit", "number",  "aged",
      "taken",  "beyond", "dose",    "works", "plan",   "audit", NULL};
  static const char* const MEASURES[] = {"", "load", "time", "age", "days", NULL};
  return (why_lexicon_phrases){
      .role = (why_phrase_role)index_of(ROLES, why_xml_string(reader, element, "role")),
      .measure = (why_measure)index_of(MEASURES, why_xml_string(reader, element, "measure")),
      .factor = why_xml_number(reader, element, "factor", 0),
      .value = why_xml_string(reader, element, "value"),
      .denies = why_xml_flag(element, "denies"),
      .say = why_xml_child_text(reader, element, "say"),
      .words = why_words_read(reader, element),
      .place = why_xml_place(reader, element),
  };
}

static void read_signs(why_reader* reader, const xmlNode* element, why_lexicon* lexicon) {
  why_symbol restriction = why_xml_symbol(reader, element, "restriction");
  for (const xmlNode* n = why_xml_first(element, "pattern"); n; n = why_xml_next(n, "pattern"))
    *WHY_LIST_ADD(reader->arena, lexicon->signs) =
        (why_lexicon_sign){.restriction = restriction,
                           .pattern = why_xml_text(reader, n),
                           .place = why_xml_place(reader, n)};
}

/// How people ask: false for an element that is about something else.
static bool read_asking(why_reader* reader, const xmlNode* element, why_lexicon* lexicon) {
  if (why_xml_is(element, "phrases"))
    *WHY_LIST_ADD(reader->arena, lexicon->phrases) = read_phrases(reader, element);
  else if (why_xml_is(element, "missing"))
    *WHY_LIST_ADD(reader->arena, lexicon->missing) =
        (why_lexicon_missing){.word = why_xml_string(reader, element, "word"),
                              .items = why_xml_symbols(reader, element, "items"),
                              .place = why_xml_place(reader, element)};
  else if (why_xml_is(element, "signs"))
    read_signs(reader, element, lexicon);
  else if (why_xml_is(element, "age"))
    *WHY_LIST_ADD(reader->arena, lexicon->ages) =
        (why_lexicon_age){.restriction = why_xml_symbol(reader, element, "restriction"),
                          .from = why_xml_number(reader, element, "from", -INFINITY),
                          .below = why_xml_number(reader, element, "below", INFINITY),
                          .place = why_xml_place(reader, element)};
  else
    return false;
  return true;
}

void why_lexicon_read(why_reader* reader, const xmlNode* root, why_tables* tables) {
  why_lexicon* lexicon = &tables->lexicon;
  for (const xmlNode* n = why_xml_first(root, NULL); n; n = why_xml_next(n, NULL)) {
    if (read_asking(reader, n, lexicon))
      continue;
    if (why_xml_is(n, "means"))
      *WHY_LIST_ADD(reader->arena, lexicon->entries) = read_entry(reader, n);
    else if (why_xml_is(n, "ambiguous"))
      read_ambiguous(reader, n, lexicon);
    else if (why_xml_is(n, "unmapped"))
      *WHY_LIST_ADD(reader->arena, lexicon->unmapped) = read_unmapped(reader, n);
    else
      *WHY_LIST_ADD(reader->arena, lexicon->names) =
          (why_lexicon_name){.id = why_xml_symbol(reader, n, "id"),
                             .text = why_xml_text(reader, n),
                             .place = why_xml_place(reader, n)};
  }
}

const why_lexicon_entry* why_lexicon_set_find(const why_lexicon* lexicon, why_symbol id) {
  for (size_t i = 0; i < lexicon->entries.count; i++)
    if (lexicon->entries.at[i].kind == WHY_MEANS_SET && lexicon->entries.at[i].id == id)
      return &lexicon->entries.at[i];
  return NULL;
}

const char* why_lexicon_name_of(const why_lexicon* lexicon, const why_symbols* symbols,
                                why_arena* arena, why_symbol id) {
  for (size_t i = 0; i < lexicon->names.count; i++)
    if (lexicon->names.at[i].id == id)
      return lexicon->names.at[i].text;
  const char* text = why_symbols_text(symbols, id);
  char* name = why_arena_copy(arena, text, strlen(text));
  for (char* c = name; *c; c++)
    if (*c == '-')
      *c = ' ';
  return name;
}
