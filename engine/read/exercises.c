// SPDX-License-Identifier: GPL-3.0-or-later
// From rules/exercises/*.xml to rows.
#include "exercises.h"

#include "readers.h"

#include <math.h>
#include <string.h>

static why_contact read_contact(why_reader* reader, const xmlNode* element) {
  why_contact made = {
      .point = why_xml_symbol(reader, element, "point"),
      .side = why_xml_symbol(reader, element, "side"),
      .normal = {0, 0, 1},
      .directed = why_xml_has(element, "normal"),
      .friction = why_xml_number(reader, element, "friction", NAN),
      .weight = why_xml_number(reader, element, "weight", 1),
      .pull = why_xml_flag(element, "pull"),
      .place = why_xml_place(reader, element),
  };
  if (made.directed)
    why_xml_numbers(reader, element, "normal", made.normal, 3);
  return made;
}

/// The number of a position by its name; the schema admits no other.
static int position_number(const xmlNode* element) {
  static const char* const NAMES[WHY_POSITIONS] = {"stretched", "middle", "shortened"};
  for (int i = 0; i < WHY_POSITIONS; i++)
    if (why_xml_attribute_is(element, "at", NAMES[i]))
      return i;
  return 0;
}

static void read_direction(why_reader* reader, const xmlNode* element, why_force* force) {
  if (!why_xml_has(element, "direction"))
    return;
  why_xml_numbers(reader, element, "direction", force->direction, 3);
  force->directed = true;
}

static why_resistance read_resistance(why_reader* reader, const xmlNode* element) {
  why_resistance made = {
      .kind = why_xml_symbol(reader, element, "kind"),
      .at = why_xml_symbol(reader, element, "at"),
      .side = why_xml_symbol(reader, element, "side"),
      .drives = why_xml_symbol(reader, element, "drives"),
      .body_masses = why_xml_number(reader, element, "load-body-mass", NAN),
      .note = why_xml_child_text(reader, element, "note"),
      .place = why_xml_place(reader, element),
  };
  for (int i = 0; i < WHY_POSITIONS; i++) {
    made.forces[i].share = 1;
    read_direction(reader, element, &made.forces[i]);
  }
  for (const xmlNode* n = why_xml_first(element, "force"); n; n = why_xml_next(n, "force")) {
    why_force* force = &made.forces[position_number(n)];
    force->share = why_xml_number(reader, n, "share", 1);
    read_direction(reader, n, force);
  }
  return made;
}

/// Angles on their way into a list.
typedef struct {
  why_reader* reader;
  why_angles* angles;
} angle_state;

static void add_angle(void* user, const char* name, const char* value) {
  angle_state* state = user;
  double deg = 0;
  if (why_parse_number(value, &deg))
    *WHY_LIST_ADD(state->reader->arena, *state->angles) =
        (why_angle){.coordinate = why_symbols_add(state->reader->symbols, name), .deg = deg};
}

static void read_angles(why_reader* reader, const xmlNode* element, const char* name,
                        why_angles* angles) {
  const xmlNode* child = why_xml_first(element, name);
  angle_state state = {.reader = reader, .angles = angles};
  if (child)
    why_xml_each_attribute(child, add_angle, &state);
}

static why_position read_position(why_reader* reader, const xmlNode* element) {
  why_position made = {
      .pelvis_pitch_deg = why_xml_number(reader, element, "pelvis-pitch", 0),
      .pelvis_roll_deg = why_xml_number(reader, element, "pelvis-roll", 0),
      .pelvis_yaw_deg = why_xml_number(reader, element, "pelvis-yaw", 0),
      .place = why_xml_place(reader, element),
  };
  read_angles(reader, element, "joints", &made.working);
  read_angles(reader, element, "other-side", &made.other_side);
  return made;
}

/// The names in an attribute of the first child of that name.
static why_symbol_list read_names(why_reader* reader, const xmlNode* element, const char* child,
                                  const char* attribute) {
  const xmlNode* found = why_xml_first(element, child);
  return found ? why_xml_symbols(reader, found, attribute) : (why_symbol_list){0};
}

static void read_qualities(why_reader* reader, const xmlNode* element, why_exercise* exercise) {
  const xmlNode* found = why_xml_first(element, "qualities");
  if (!found)
    return;
  exercise->skill = why_xml_symbol(reader, found, "skill");
  exercise->stability = why_xml_symbol(reader, found, "stability");
  exercise->axial_load = why_xml_symbol(reader, found, "axial-load");
  exercise->loading_steps = why_xml_symbol(reader, found, "loading-steps");
  exercise->progress_by = why_xml_symbols(reader, found, "progress-by");
}

static void read_undemanded(why_reader* reader, const xmlNode* element, why_exercise* exercise) {
  const xmlNode* moves = why_xml_first(element, "moves");
  const xmlNode* n = moves ? why_xml_first(moves, "not-demanded") : NULL;
  for (; n; n = why_xml_next(n, "not-demanded"))
    *WHY_LIST_ADD(reader->arena, exercise->undemanded) =
        (why_undemanded){.action = why_xml_symbol(reader, n, "action"),
                         .reason = why_xml_text(reader, n),
                         .place = why_xml_place(reader, n)};
}

static void read_lists(why_reader* reader, const xmlNode* element, why_exercise* exercise) {
  why_arena* arena = reader->arena;
  for (const xmlNode* n = why_xml_first(element, "needs"); n; n = why_xml_next(n, "needs"))
    *WHY_LIST_ADD(arena, exercise->needs) = (why_needs){
        .items = why_xml_symbols(reader, n, "items"), .place = why_xml_place(reader, n)};
  for (const xmlNode* n = why_xml_first(element, "contact"); n; n = why_xml_next(n, "contact"))
    *WHY_LIST_ADD(arena, exercise->contacts) = read_contact(reader, n);
  for (const xmlNode* n = why_xml_first(element, "resistance"); n;
       n = why_xml_next(n, "resistance"))
    *WHY_LIST_ADD(arena, exercise->resistances) = read_resistance(reader, n);
  for (const xmlNode* n = why_xml_first(element, "position"); n; n = why_xml_next(n, "position"))
    exercise->positions[position_number(n)] = read_position(reader, n);
  for (const xmlNode* n = why_xml_first(element, "caution"); n; n = why_xml_next(n, "caution"))
    *WHY_LIST_ADD(arena, exercise->cautions) = why_xml_text(reader, n);
}

static void read_exercise(why_reader* reader, const xmlNode* element, why_symbol pattern,
                          why_exercise* exercise) {
  *exercise = (why_exercise){
      .id = why_xml_symbol(reader, element, "id"),
      .name = why_xml_string(reader, element, "name"),
      .pattern = pattern,
      .region = why_xml_symbol(reader, element, "region"),
      .movement = why_xml_symbol(reader, element, "movement"),
      .unilateral = why_xml_attribute_is(element, "sides", "unilateral"),
      .held = why_xml_flag(element, "isometric"),
      .joined_hands = why_xml_flag(element, "held-by-both-hands"),
      .basis = why_xml_symbol(reader, element, "basis"),
      .words = why_words_read(reader, element),
      .moves = read_names(reader, element, "moves", "actions"),
      .restricted = read_names(reader, element, "restricted", "tags"),
      .easier = read_names(reader, element, "easier", "exercises"),
      .harder = read_names(reader, element, "harder", "exercises"),
      .fixed = read_names(reader, element, "fixed", "segments"),
      .setup = why_xml_child_text(reader, element, "setup"),
      .note = why_xml_child_text(reader, element, "note"),
      .place = why_xml_place(reader, element),
  };
  read_qualities(reader, element, exercise);
  read_undemanded(reader, element, exercise);
  read_lists(reader, element, exercise);
}

/// Note where the newest row is found.
static void number_row(why_reader* reader, why_exercise_table* table) {
  why_symbol id = table->rows.at[table->rows.count - 1].id;
  while (table->numbers.count <= id)
    *WHY_LIST_ADD(reader->arena, table->numbers) = 0;
  if (!table->numbers.at[id])
    table->numbers.at[id] = (uint32_t)table->rows.count;
}

void why_exercises_read(why_reader* reader, const xmlNode* root, why_tables* tables) {
  why_symbol pattern = why_xml_symbol(reader, root, "pattern");
  *WHY_LIST_ADD(reader->arena, tables->exercises.patterns) =
      (why_pattern){.id = pattern,
                    .name = why_xml_string(reader, root, "name"),
                    .place = why_xml_place(reader, root)};
  for (const xmlNode* n = why_xml_first(root, "exercise"); n; n = why_xml_next(n, "exercise")) {
    read_exercise(reader, n, pattern, WHY_LIST_ADD(reader->arena, tables->exercises.rows));
    number_row(reader, &tables->exercises);
  }
}

const why_exercise* why_exercise_find(const why_exercise_table* table, why_symbol id) {
  uint32_t number = id < table->numbers.count ? table->numbers.at[id] : 0;
  return number ? &table->rows.at[number - 1] : NULL;
}

static bool find_angle(const why_angles* angles, why_symbol coordinate, double* deg) {
  for (size_t i = 0; i < angles->count; i++) {
    if (angles->at[i].coordinate == coordinate) {
      *deg = angles->at[i].deg;
      return true;
    }
  }
  return false;
}

double why_position_angle(const why_position* position, why_symbol coordinate, bool other_side) {
  double deg = 0;
  if (other_side && find_angle(&position->other_side, coordinate, &deg))
    return deg;
  find_angle(&position->working, coordinate, &deg);
  return deg;
}
