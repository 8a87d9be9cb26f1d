// SPDX-License-Identifier: GPL-3.0-or-later
// Reads what the arms of a study did. One text of a study may count as several exercises of the
// catalogue; each of these becomes a row of its own that repeats the text.
#include "trained.h"

#include <math.h>

why_answer_known why_known_read(const xmlNode* element, const char* attribute) {
  if (!why_xml_has(element, attribute))
    return WHY_NOT_KNOWN;
  return why_xml_flag(element, attribute) ? WHY_YES : WHY_NO;
}

why_left_out why_left_out_read(why_reader* reader, const xmlNode* element) {
  const xmlNode* child = why_xml_first(element, "left-out");
  if (!child)
    return (why_left_out){.text = why_arena_copy(reader->arena, "", 0)};
  return (why_left_out){.reason = why_xml_symbol(reader, child, "reason"),
                        .text = why_xml_text(reader, child),
                        .place = why_xml_place(reader, child)};
}

/// A word of a fixed choice, with the default that the schema states for an absent one.
static why_symbol word_or(why_reader* reader, const xmlNode* element, const char* attribute,
                          const char* otherwise) {
  if (!why_xml_has(element, attribute))
    return why_symbols_add(reader->symbols, otherwise);
  return why_xml_symbol(reader, element, attribute);
}

static void read_joint_ranges(why_reader* reader, const xmlNode* element, why_trained* row) {
  const xmlNode* n = why_xml_first(element, "joint-range");
  for (; n; n = why_xml_next(n, "joint-range"))
    *WHY_LIST_ADD(reader->arena, row->joint_ranges) =
        (why_joint_range){.coordinate = why_xml_symbol(reader, n, "coordinate"),
                          .from_deg = why_xml_number(reader, n, "from-deg", NAN),
                          .to_deg = why_xml_number(reader, n, "to-deg", NAN),
                          .place = why_xml_place(reader, n)};
}

/// What the study wrote, shared by all rows of one text.
static why_trained read_text(why_reader* reader, const xmlNode* element) {
  return (why_trained){.as_written = why_xml_child_text(reader, element, "as-written"),
                       .sets_per_session = why_xml_number(reader, element, "sets-per-session", NAN),
                       .sets_said = why_xml_string(reader, element, "sets-said"),
                       .reps = why_xml_string(reader, element, "reps"),
                       .load = why_xml_string(reader, element, "load"),
                       .to_failure = why_known_read(element, "to-failure")};
}

static why_trained read_mapping(why_reader* reader, const xmlNode* element, why_trained text) {
  why_trained row = text;
  bool mapped = why_xml_is(element, "counts-as");
  row.place = why_xml_place(reader, element);
  row.exercise = why_xml_symbol(reader, element, "exercise");
  row.fit = why_xml_symbol(reader, element, "fit");
  row.share = why_xml_number(reader, element, "share", NAN);
  row.range = word_or(reader, element, "range", "full");
  row.sides = word_or(reader, element, "sides", "unknown");
  row.mode = word_or(reader, element, "mode", "dynamic");
  row.unmapped = why_xml_text(reader, mapped ? NULL : element);
  row.note = why_xml_child_text(reader, element, "note");
  read_joint_ranges(reader, element, &row);
  return row;
}

static void read_trained(why_reader* reader, const xmlNode* element, why_arm* arm) {
  why_trained text = read_text(reader, element);
  for (const xmlNode* n = why_xml_first(element, NULL); n; n = why_xml_next(n, NULL))
    if (why_xml_is(n, "counts-as") || why_xml_is(n, "unmapped"))
      *WHY_LIST_ADD(reader->arena, arm->trained) = read_mapping(reader, n, text);
}

why_arm why_arm_read(why_reader* reader, const xmlNode* element) {
  why_arm arm = {.id = why_xml_symbol(reader, element, "id"),
                 .place = why_xml_place(reader, element),
                 .n = why_xml_number(reader, element, "n", NAN),
                 .control = why_xml_flag(element, "control"),
                 .same_people_as = why_xml_symbol(reader, element, "same-people-as"),
                 .pools = why_xml_symbols(reader, element, "pools"),
                 .left_out = why_left_out_read(reader, element)};
  for (const xmlNode* n = why_xml_first(element, "trained"); n; n = why_xml_next(n, "trained"))
    read_trained(reader, n, &arm);
  return arm;
}
