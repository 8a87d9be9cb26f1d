// SPDX-License-Identifier: GPL-3.0-or-later
// The XML form of a programme. Its schema is built in: it is part of the interface, not of a
// knowledge base.
#include "programme.h"

#include "xml.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

extern const char WHY_PROGRAMME_SCHEMA[]; ///< Bytes of include/whylift/programme.rng.

why_programme_row why_programme_row_empty(void) {
  const why_from_to none = {NAN, NAN};
  return (why_programme_row){
      .name = "", .repetitions = none, .seconds = none, .reserve = none, .load_kg = NAN};
}

bool why_programme_is_xml(const char* text) {
  static const char MARK[] = "\xEF\xBB\xBF"; // that of UTF-8
  if (strncmp(text, MARK, 3) == 0)
    text += 3;
  return text[strspn(text, " \t\r\n")] == '<';
}

/// "8" or "8-10", as the schema has it.
static why_from_to read_span(why_reader* reader, const xmlNode* element, const char* attribute) {
  const char* text = why_xml_string(reader, element, attribute);
  if (!*text)
    return (why_from_to){NAN, NAN};
  const char* dash = strchr(text, '-');
  double low = (double)strtol(text, NULL, 10); // at most three digits, by the schema
  double high = dash ? (double)strtol(dash + 1, NULL, 10) : low;
  return (why_from_to){fmin(low, high), fmax(low, high)};
}

static void read_row(why_reader* reader, const xmlNode* element, why_programme_day* day) {
  why_programme_row row = why_programme_row_empty();
  row.name = why_xml_string(reader, element, "name");
  row.sets = why_xml_whole(reader, element, "sets");
  row.repetitions = read_span(reader, element, "repetitions");
  row.seconds = read_span(reader, element, "seconds");
  row.reserve = read_span(reader, element, "reserve");
  row.load_kg = why_xml_number(reader, element, "kg", NAN);
  row.warm_up = why_xml_flag(element, "warm-up");
  row.place = why_xml_place(reader, element);
  *WHY_LIST_ADD(reader->arena, day->rows) = row;
}

static void read_day(why_reader* reader, const xmlNode* element, why_programme* programme,
                     size_t* rows) {
  why_programme_day* day = WHY_LIST_ADD(reader->arena, programme->days);
  *day = (why_programme_day){.name = why_xml_string(reader, element, "name"),
                             .times = why_xml_whole(reader, element, "times"),
                             .place = why_xml_place(reader, element)};
  for (const xmlNode* each = why_xml_first(element, "exercise"); each && *rows < WHY_PROGRAMME_ROWS;
       each = why_xml_next(each, "exercise"), ++*rows)
    read_row(reader, each, day);
}

static void read_days(why_reader* reader, const xmlNode* root, why_programme* programme) {
  size_t rows = 0;
  for (const xmlNode* each = why_xml_first(root, "day");
       each && programme->days.count < WHY_PROGRAMME_DAYS; each = why_xml_next(each, "day"))
    read_day(reader, each, programme, &rows);
  if (rows < WHY_PROGRAMME_ROWS && why_xml_count(root, "day") <= WHY_PROGRAMME_DAYS)
    return;
  why_problems_add(reader->problems, WHY_ERROR, "programme", (why_place){.file = reader->file},
                   "the programme is too long");
  why_problems_hint(reader->problems, "at most %d days and %d lines with an exercise",
                    WHY_PROGRAMME_DAYS, WHY_PROGRAMME_ROWS - 1);
}

why_status why_programme_from_xml(why_arena* arena, why_problems* problems, const char* file,
                                  const char* text, size_t length, why_programme* programme) {
  size_t before = why_problems_count_from(problems, WHY_ERROR);
  why_reader* reader = WHY_NEW(arena, why_reader);
  *reader = (why_reader){.arena = arena, .problems = problems, .file = file, .text = text};
  why_arena_defer(arena, why_xml_leave, reader);
  const why_schema* schema =
      why_schema_read(reader, WHY_PROGRAMME_SCHEMA, strlen(WHY_PROGRAMME_SCHEMA), "programme.rng");
  why_xml_hush(true);
  if (schema && why_xml_parse(reader, length) && why_schema_accepts(schema, reader, reader->doc))
    read_days(reader, xmlDocGetRootElement(reader->doc), programme);
  why_xml_hush(false);
  why_xml_close(reader);
  return why_problems_count_from(problems, WHY_ERROR) > before ? WHY_QUESTION : WHY_OK;
}
