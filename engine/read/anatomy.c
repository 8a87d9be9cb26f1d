// SPDX-License-Identifier: GPL-3.0-or-later
// From the heads and groups of rules/anatomy/*.xml to rows; joints.c reads the joints.
#include "anatomy.h"

#include "readers.h"

#include <math.h>
#include <string.h>

static why_figure read_figure(why_reader* reader, const xmlNode* head, const char* name,
                              const char* unit) {
  why_figure made = {.value = NAN, .sd = NAN, .note = why_arena_copy(reader->arena, "", 0)};
  const xmlNode* element = why_xml_first(head, name);
  if (!element)
    return made;
  return (why_figure){.value = why_xml_number(reader, element, unit, NAN),
                      .sd = why_xml_number(reader, element, "sd", NAN),
                      .source = why_xml_symbol(reader, element, "source"),
                      .basis = why_xml_symbol(reader, element, "basis"),
                      .note = why_xml_has(element, "unmapped")
                                  ? why_xml_string(reader, element, "unmapped")
                                  : why_xml_text(reader, element),
                      .place = why_xml_place(reader, element)};
}

static void read_acts(why_reader* reader, const xmlNode* element, why_head* head) {
  for (const xmlNode* n = why_xml_first(element, "acts"); n; n = why_xml_next(n, "acts"))
    *WHY_LIST_ADD(reader->arena, head->acts) =
        (why_acts){.action = why_xml_symbol(reader, n, "action"),
                   .least_mm = why_xml_number(reader, n, "least-mm", NAN),
                   .most_mm = why_xml_number(reader, n, "most-mm", NAN),
                   .basis = why_xml_symbol(reader, n, "basis"),
                   .where = why_xml_text(reader, n),
                   .place = why_xml_place(reader, n)};
}

static why_span read_span(why_reader* reader, const xmlNode* element) {
  return (why_span){.coordinate = why_xml_symbol(reader, element, "coordinate"),
                    .least_deg = why_xml_number(reader, element, "least-deg", -INFINITY),
                    .most_deg = why_xml_number(reader, element, "most-deg", INFINITY)};
}

/// A term on its way in: every attribute but the coefficient is an exponent.
typedef struct {
  why_reader* reader;
  why_path* path;
  const xmlNode* element;
  why_path_term term;
} term_state;

static unsigned path_coordinate(term_state* state, const char* name) {
  why_symbol id = why_symbols_add(state->reader->symbols, name);
  why_path* path = state->path;
  unsigned i = 0;
  while (i < path->coordinate_count && path->coordinates[i] != id)
    i++;
  if (i == path->coordinate_count && i < WHY_PATH_COORDINATES)
    path->coordinates[path->coordinate_count++] = id;
  return i;
}

static void read_exponent(void* user, const char* name, const char* value) {
  term_state* state = user;
  double number = 0;
  if (!why_parse_number(value, &number))
    return;
  if (strcmp(name, "coefficient") == 0) {
    state->term.coefficient = number;
    return;
  }
  unsigned i = path_coordinate(state, name);
  if (i < WHY_PATH_COORDINATES && number >= 0 && number <= WHY_PATH_EXPONENT)
    state->term.exponents[i] = (unsigned char)number;
  else
    why_problems_add(state->reader->problems, WHY_ERROR, "path-size",
                     why_xml_place_of(state->reader, state->element, name),
                     "a path has at most %d coordinates and exponents from 0 to %d",
                     WHY_PATH_COORDINATES, WHY_PATH_EXPONENT);
}

static void read_path(why_reader* reader, const xmlNode* head, why_path* path) {
  const xmlNode* element = why_xml_first(head, "path");
  if (!element)
    return;
  path->source = why_xml_symbol(reader, element, "source");
  path->basis = why_xml_symbol(reader, element, "basis");
  path->method = why_xml_symbol(reader, element, "method");
  path->place = why_xml_place(reader, element);
  for (const xmlNode* n = why_xml_first(element, "range"); n; n = why_xml_next(n, "range"))
    *WHY_LIST_ADD(reader->arena, path->ranges) = read_span(reader, n);
  for (const xmlNode* n = why_xml_first(element, "modelled"); n; n = why_xml_next(n, "modelled"))
    *WHY_LIST_ADD(reader->arena, path->modelled) = read_span(reader, n);
  for (const xmlNode* n = why_xml_first(element, "term"); n; n = why_xml_next(n, "term")) {
    term_state state = {.reader = reader, .path = path, .element = n};
    why_xml_each_attribute(n, read_exponent, &state);
    *WHY_LIST_ADD(reader->arena, path->terms) = state.term;
  }
  const xmlNode* fit = why_xml_first(element, "fit");
  path->rms_mm = fit ? why_xml_number(reader, fit, "rms-mm", NAN) : NAN;
  path->most_mm = fit ? why_xml_number(reader, fit, "most-mm", NAN) : NAN;
}

static void read_head(why_reader* reader, const xmlNode* element, const xmlNode* root,
                      why_head* head) {
  const xmlNode* model = why_xml_first(root, "model");
  const xmlNode* ontology = why_xml_first(element, "ontology");
  *head = (why_head){
      .id = why_xml_symbol(reader, element, "id"),
      .name = why_xml_string(reader, element, "name"),
      .group = why_xml_symbol(reader, element, "group"),
      .region = why_xml_symbol(reader, root, "region"),
      .words = why_words_read(reader, element),
      .crosses = why_xml_symbols(reader, element, "crosses"),
      .volume_cm3 = read_figure(reader, element, "volume", "cm3"),
      .cross_section_cm2 = read_figure(reader, element, "cross-section", "cm2"),
      .force_n = read_figure(reader, element, "force", "n"),
      .fibre_length_cm = read_figure(reader, element, "fibre-length", "cm"),
      .slack_length_cm = read_figure(reader, element, "slack-length", "cm"),
      .pennation_deg = read_figure(reader, element, "pennation", "deg"),
      .fast_fibre_share = read_figure(reader, element, "fast-fibres", "share"),
      .uberon = why_xml_string(reader, ontology, "uberon"),
      .fma = why_xml_string(reader, ontology, "fma"),
      .model_stature_m = model ? why_xml_number(reader, model, "stature-m", NAN) : NAN,
      .stress_n_per_cm2 = model ? why_xml_number(reader, model, "stress-n-per-cm2", NAN) : NAN,
      .place = why_xml_place(reader, element),
  };
  const xmlNode* force = why_xml_first(element, "force");
  if (force)
    head->stress_n_per_cm2 =
        why_xml_number(reader, force, "stress-n-per-cm2", head->stress_n_per_cm2);
  read_acts(reader, element, head);
  read_path(reader, element, &head->path);
}

static void read_groups(why_reader* reader, const xmlNode* root, why_anatomy* anatomy) {
  for (const xmlNode* n = why_xml_first(root, "group"); n; n = why_xml_next(n, "group"))
    *WHY_LIST_ADD(reader->arena, anatomy->groups) =
        (why_group){.id = why_xml_symbol(reader, n, "id"),
                    .name = why_xml_string(reader, n, "name"),
                    .heads = why_xml_symbols(reader, n, "heads"),
                    .words = why_words_read(reader, n),
                    .place = why_xml_place(reader, n)};
}

static void read_methods(why_reader* reader, const xmlNode* root, why_anatomy* anatomy) {
  for (const xmlNode* n = why_xml_first(root, "method"); n; n = why_xml_next(n, "method"))
    *WHY_LIST_ADD(reader->arena, anatomy->methods) =
        (why_path_method){.id = why_xml_symbol(reader, n, "id"),
                          .text = why_xml_text(reader, n),
                          .place = why_xml_place(reader, n)};
}

void why_anatomy_read(why_reader* reader, const xmlNode* root, why_tables* tables) {
  for (const xmlNode* n = why_xml_first(root, "head"); n; n = why_xml_next(n, "head"))
    read_head(reader, n, root, WHY_LIST_ADD(reader->arena, tables->anatomy.heads));
  read_groups(reader, root, &tables->anatomy);
  read_methods(reader, root, &tables->anatomy);
  why_joints_read(reader, root, &tables->anatomy);
}

// Ids are few and looked for by number; a straight search is fast enough.

const why_coordinate* why_coordinate_find(const why_anatomy* anatomy, why_symbol id) {
  for (size_t i = 0; i < anatomy->coordinates.count; i++)
    if (anatomy->coordinates.at[i].id == id)
      return &anatomy->coordinates.at[i];
  return NULL;
}

const why_action* why_action_find(const why_anatomy* anatomy, why_symbol id) {
  for (size_t i = 0; i < anatomy->actions.count; i++)
    if (anatomy->actions.at[i].id == id)
      return &anatomy->actions.at[i];
  return NULL;
}

const why_head* why_head_find(const why_anatomy* anatomy, why_symbol id) {
  for (size_t i = 0; i < anatomy->heads.count; i++)
    if (anatomy->heads.at[i].id == id)
      return &anatomy->heads.at[i];
  return NULL;
}

const why_group* why_group_find(const why_anatomy* anatomy, why_symbol id) {
  for (size_t i = 0; i < anatomy->groups.count; i++)
    if (anatomy->groups.at[i].id == id)
      return &anatomy->groups.at[i];
  return NULL;
}
