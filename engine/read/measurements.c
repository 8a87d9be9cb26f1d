// SPDX-License-Identifier: GPL-3.0-or-later
// From evidence/measurements/*.xml to rows. What is only for people (advice, how grading works) has
// no rows of its own; its quantities and its mentions of sources are found wherever they stand.
#include "measurements.h"

#include "readers.h"

#include <math.h>

static why_amount read_amount(why_reader* reader, const xmlNode* element) {
  return (why_amount){
      .value = why_xml_number(reader, element, "value", NAN),
      .low = why_xml_number(reader, element, "low", NAN),
      .high = why_xml_number(reader, element, "high", NAN),
      .unit = why_xml_string(reader, element, "unit"),
  };
}

static void read_source(why_reader* reader, const xmlNode* element, why_measurement_table* table) {
  *WHY_LIST_ADD(reader->arena, table->sources) = (why_source){
      .id = why_xml_symbol(reader, element, "id"),
      .title = why_xml_child_text(reader, element, "title"),
      .journal = why_xml_child_text(reader, element, "journal"),
      .year = why_xml_string(reader, element, "year"),
      .doi = why_xml_string(reader, element, "doi"),
      .note = why_xml_child_text(reader, element, "note"),
      .basis = why_xml_symbol(reader, element, "basis"),
      .place = why_xml_place(reader, element),
  };
}

static void read_quantity(why_reader* reader, const xmlNode* element,
                          why_measurement_table* table) {
  *WHY_LIST_ADD(reader->arena, table->quantities) = (why_quantity){
      .id = why_xml_symbol(reader, element, "id"),
      .of = why_xml_symbol(reader, element, "for"),
      .amount = read_amount(reader, element),
      .source = why_xml_symbol(reader, element, "source"),
      .basis = why_xml_symbol(reader, element, "basis"),
      .says = why_xml_text(reader, element),
      .place = why_xml_place(reader, element),
  };
}

static void read_figures(why_reader* reader, const xmlNode* element, why_measurement* row) {
  for (const xmlNode* n = why_xml_first(element, "figure"); n; n = why_xml_next(n, "figure"))
    *WHY_LIST_ADD(reader->arena, row->figures) = (why_measured_figure){
        .name = why_xml_string(reader, n, "name"),
        .amount = read_amount(reader, n),
        .basis = why_xml_has(n, "basis") ? why_xml_symbol(reader, n, "basis") : row->basis,
        .place = why_xml_place(reader, n),
    };
}

static void read_measurement(why_reader* reader, const xmlNode* element,
                             why_measurement_table* table) {
  why_measurement made = {
      .id = why_xml_symbol(reader, element, "id"),
      .topic = why_xml_symbol(reader, element, "topic"),
      .training = why_xml_symbol(reader, element, "training"),
      .certainty = why_xml_symbol(reader, element, "certainty"),
      .says = why_xml_child_text(reader, element, "says"),
      .note = why_xml_child_text(reader, element, "note"),
      .source = why_xml_symbol(reader, element, "source"),
      .basis = why_xml_symbol(reader, element, "basis"),
      .place = why_xml_place(reader, element),
  };
  read_figures(reader, element, &made);
  *WHY_LIST_ADD(reader->arena, table->measurements) = made;
}

static void read_segment(why_reader* reader, const xmlNode* element, why_measurement_table* table) {
  const xmlNode* mass = why_xml_first(element, "mass");
  const xmlNode* length = why_xml_first(element, "length");
  *WHY_LIST_ADD(reader->arena, table->segments) = (why_segment){
      .id = why_xml_symbol(reader, element, "id"),
      .paired = why_xml_flag(element, "paired"),
      .body_share = why_xml_number(reader, mass, "body-share", NAN),
      .centre_share = why_xml_number(reader, mass, "centre-share", NAN),
      .stature_share = why_xml_number(reader, length, "stature-share", NAN),
      .mass_source = why_xml_symbol(reader, mass, "source"),
      .mass_basis = why_xml_symbol(reader, mass, "basis"),
      .length_source = why_xml_symbol(reader, length, "source"),
      .length_basis = why_xml_symbol(reader, length, "basis"),
      .place = why_xml_place(reader, element),
  };
}

static void read_joint(why_reader* reader, const xmlNode* element, why_measurement_table* table) {
  why_segment_joint made = {
      .id = why_xml_symbol(reader, element, "id"),
      .paired = why_xml_flag(element, "paired"),
      .proximal = why_xml_symbol(reader, element, "proximal"),
      .distal = why_xml_symbol(reader, element, "distal"),
      .source = why_xml_symbol(reader, element, "source"),
      .basis = why_xml_symbol(reader, element, "basis"),
      .place = why_xml_place(reader, element),
  };
  why_xml_numbers(reader, element, "at-statures", made.at, 3);
  *WHY_LIST_ADD(reader->arena, table->joints) = made;
}

static why_body_point read_point(why_reader* reader, const xmlNode* element) {
  why_body_point made = {
      .id = why_xml_symbol(reader, element, "id"),
      .segment = why_xml_symbol(reader, element, "segment"),
      .paired = why_xml_flag(element, "paired"),
      .source = why_xml_symbol(reader, element, "source"),
      .basis = why_xml_symbol(reader, element, "basis"),
      .place = why_xml_place(reader, element),
  };
  if (why_xml_numbers(reader, element, "at-statures", made.at[0], 3))
    made.count = 1;
  for (const xmlNode* n = why_xml_first(element, "patch"); n; n = why_xml_next(n, "patch")) {
    if (made.count == WHY_PATCH_POINTS) {
      why_problems_add(reader->problems, WHY_ERROR, "patch-size", why_xml_place(reader, n),
                       "a contact has more than %d sub-points", WHY_PATCH_POINTS);
      break;
    }
    why_xml_numbers(reader, n, "at-statures", made.at[made.count++], 3);
  }
  return made;
}

static const char* reason_left_out(why_reader* reader, const xmlNode* element) {
  return why_xml_string(reader, why_xml_first(element, "left-out"), "reason");
}

static void read_relation(why_reader* reader, const xmlNode* element,
                          why_measurement_table* table) {
  const xmlNode* line = why_xml_first(element, "line");
  why_amount factor = read_amount(reader, element);
  factor.value = why_xml_number(reader, element, "factor", NAN);
  why_load_relation* made = WHY_LIST_ADD(reader->arena, table->relations);
  *made = (why_load_relation){
      .id = why_xml_symbol(reader, element, "id"),
      .from = why_xml_string(reader, element, "from"),
      .to = why_xml_string(reader, element, "to"),
      .factor = factor,
      .constant = line ? why_xml_number(reader, line, "constant", NAN) : NAN,
      .slope = line ? why_xml_number(reader, line, "slope", NAN) : NAN,
      .error = line ? why_xml_number(reader, line, "standard-error", NAN) : NAN,
      .says = why_xml_child_text(reader, element, "says"),
      .left_out = reason_left_out(reader, element),
      .source = why_xml_symbol(reader, element, "source"),
      .basis = why_xml_symbol(reader, element, "basis"),
      .place = why_xml_place(reader, element),
  };
  for (const xmlNode* n = why_xml_first(element, "between"); n; n = why_xml_next(n, "between"))
    *WHY_LIST_ADD(reader->arena, made->pairs) = (why_load_pair){
        .from = why_xml_symbol(reader, n, "from"),
        .to = why_xml_symbol(reader, n, "to"),
        .each = why_xml_flag(n, "each"),
        .place = why_xml_place(reader, n),
    };
}

/// Quantities and mentions of sources stand at any depth.
static void read_everywhere(why_reader* reader, const xmlNode* element,
                            why_measurement_table* table) {
  if (why_xml_is(element, "quantity"))
    read_quantity(reader, element, table);
  if (why_xml_has(element, "source"))
    *WHY_LIST_ADD(reader->arena, table->mentions) =
        (why_mention){.source = why_xml_symbol(reader, element, "source"),
                      .basis = why_xml_symbol(reader, element, "basis"),
                      .place = why_xml_place(reader, element)};
  if (why_xml_has(element, "threshold-source"))
    *WHY_LIST_ADD(reader->arena, table->mentions) =
        (why_mention){.source = why_xml_symbol(reader, element, "threshold-source"),
                      .basis = why_xml_symbol(reader, element, "threshold-basis"),
                      .place = why_xml_place(reader, element)};
  for (const xmlNode* n = why_xml_first(element, NULL); n; n = why_xml_next(n, NULL))
    read_everywhere(reader, n, table);
}

void why_measurements_read(why_reader* reader, const xmlNode* root, why_tables* tables) {
  why_measurement_table* table = &tables->measurements;
  for (const xmlNode* n = why_xml_first(root, NULL); n; n = why_xml_next(n, NULL)) {
    if (why_xml_is(n, "source"))
      read_source(reader, n, table);
    else if (why_xml_is(n, "measurement"))
      read_measurement(reader, n, table);
    else if (why_xml_is(n, "segment"))
      read_segment(reader, n, table);
    else if (why_xml_is(n, "joint"))
      read_joint(reader, n, table);
    else if (why_xml_is(n, "contact-point"))
      *WHY_LIST_ADD(reader->arena, table->contacts) = read_point(reader, n);
    else if (why_xml_is(n, "load-point"))
      *WHY_LIST_ADD(reader->arena, table->loads) = read_point(reader, n);
    else if (why_xml_is(n, "relation"))
      read_relation(reader, n, table);
  }
  read_everywhere(reader, root, table);
}

const why_source* why_source_find(const why_measurement_table* table, why_symbol id) {
  for (size_t i = 0; i < table->sources.count; i++)
    if (table->sources.at[i].id == id)
      return &table->sources.at[i];
  return NULL;
}

const why_measurement* why_measurement_find(const why_measurement_table* table, why_symbol id) {
  for (size_t i = 0; i < table->measurements.count; i++)
    if (table->measurements.at[i].id == id)
      return &table->measurements.at[i];
  return NULL;
}

const why_segment* why_segment_find(const why_measurement_table* table, why_symbol id) {
  for (size_t i = 0; i < table->segments.count; i++)
    if (table->segments.at[i].id == id)
      return &table->segments.at[i];
  return NULL;
}

static const why_body_point* find_point(const why_body_point* points, size_t count, why_symbol id) {
  for (size_t i = 0; i < count; i++)
    if (points[i].id == id)
      return &points[i];
  return NULL;
}

const why_body_point* why_contact_point_find(const why_measurement_table* table, why_symbol id) {
  return find_point(table->contacts.at, table->contacts.count, id);
}

const why_body_point* why_load_point_find(const why_measurement_table* table, why_symbol id) {
  return find_point(table->loads.at, table->loads.count, id);
}

const why_quantity* why_quantity_find(const why_measurement_table* table,
                                      const why_symbols* symbols, const char* id, why_symbol of) {
  why_symbol name = why_symbols_find(symbols, id);
  const why_quantity* general = NULL;
  for (size_t i = 0; name && i < table->quantities.count; i++) {
    const why_quantity* row = &table->quantities.at[i];
    if (row->id != name)
      continue;
    if (row->of == of)
      return row;
    if (!row->of)
      general = row;
  }
  return general;
}
