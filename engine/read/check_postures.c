// SPDX-License-Identifier: GPL-3.0-or-later
// Checks of what an exercise asks of the body: postures, support and loads.
#include "check_rows.h"

#include <math.h>
#include <string.h>

/// Feet that are called flat may be this far from level: with the legs turned out, the rule of one
/// plane is off by up to 2.5 degrees in the catalogue's squats and sumo deadlifts.
static const double FLAT_TOLERANCE_DEG = 3;

/// A move against its own action by more than this is no rounding.
static const double AGAINST_DEG = 2;

/// Nobody trains with more than this; a larger load is a slip of the decimal point.
static const double MOST_BODY_MASSES = 5;

static const char* const POSITION_NAMES[WHY_POSITIONS] = {"stretched", "middle", "shortened"};

static const char* text_of(const why_inspection* inspection, why_symbol id) {
  return why_inspection_text(inspection, id);
}

/// Run `check` over the angles of both sides of all positions.
typedef void angle_check(const why_inspection* inspection, const why_position* position,
                         const why_angle* angle);

static void each_angle(const why_inspection* inspection, angle_check* check) {
  const why_exercise_table* table = &inspection->tables->exercises;
  for (size_t i = 0; i < table->rows.count; i++)
    for (int k = 0; k < WHY_POSITIONS; k++) {
      const why_position* position = &table->rows.at[i].positions[k];
      for (size_t a = 0; a < position->working.count; a++)
        check(inspection, position, &position->working.at[a]);
      for (size_t a = 0; a < position->other_side.count; a++)
        check(inspection, position, &position->other_side.at[a]);
    }
}

static void check_coordinate(const why_inspection* inspection, const why_position* position,
                             const why_angle* angle) {
  const why_coordinate* found =
      why_coordinate_find(&inspection->tables->anatomy, angle->coordinate);
  if (!found) {
    why_inspection_report(inspection, position->place, "there is no coordinate \"%s\"",
                          text_of(inspection, angle->coordinate));
    why_problems_hint(inspection->problems, "coordinates stand in rules/anatomy/coordinates.xml");
  } else if (!found->posture) {
    why_inspection_report(inspection, position->place,
                          "\"%s\" follows from other angles and cannot be set",
                          text_of(inspection, angle->coordinate));
  }
}

static void coordinate(const why_inspection* inspection) {
  each_angle(inspection, check_coordinate);
}

static void check_range(const why_inspection* inspection, const why_position* position,
                        const why_angle* angle) {
  const why_coordinate* found =
      why_coordinate_find(&inspection->tables->anatomy, angle->coordinate);
  if (found && (angle->deg < found->least_deg || angle->deg > found->most_deg))
    why_inspection_report(
        inspection, position->place, "%s of %g degrees is outside its useful range, %g to %g",
        text_of(inspection, angle->coordinate), angle->deg, found->least_deg, found->most_deg);
}

static void range(const why_inspection* inspection) {
  each_angle(inspection, check_range);
}

static bool is(const why_inspection* inspection, why_symbol name, const char* text) {
  return strcmp(text_of(inspection, name), text) == 0;
}

/// Whether the floor carries `point` of that side and nothing holds it in another way.
static bool stands_on(const why_inspection* inspection, const why_exercise* exercise,
                      const char* point, bool other_side) {
  for (size_t i = 0; i < exercise->contacts.count; i++) {
    const why_contact* contact = &exercise->contacts.at[i];
    bool there = is(inspection, contact->side, "both") ||
                 is(inspection, contact->side, other_side ? "other" : "working");
    if (there && !contact->pull && is(inspection, contact->point, point))
      return true;
  }
  return false;
}

/// Degrees by which the sole is off the level: positive when the heel would lift.
static double sole_tilt(const why_inspection* inspection, const why_position* position,
                        bool other_side) {
  const why_symbols* symbols = inspection->tables->symbols;
  double hip = why_position_angle(position, why_symbols_find(symbols, "hip-flexion"), other_side);
  double knee = why_position_angle(position, why_symbols_find(symbols, "knee-flexion"), other_side);
  double ankle =
      why_position_angle(position, why_symbols_find(symbols, "ankle-dorsiflexion"), other_side);
  return position->pelvis_pitch_deg - (hip - knee + ankle);
}

static void report_tilt(const why_inspection* inspection, const why_exercise* exercise,
                        const why_position* position, bool other_side) {
  double tilt = sole_tilt(inspection, position, other_side);
  if (fabs(tilt) <= FLAT_TOLERANCE_DEG)
    return;
  why_inspection_report(inspection, position->place,
                        "heel and ball carry the %s foot of \"%s\", but the sole is %.1f degrees "
                        "off the level",
                        other_side ? "other" : "working", text_of(inspection, exercise->id), tilt);
  why_problems_hint(inspection->problems,
                    "pelvis-pitch = hip-flexion - knee-flexion + ankle-dorsiflexion");
}

/// A foot that only mirrors the working one is not reported again.
static void check_flat(const why_inspection* inspection, const why_exercise* exercise) {
  bool stands[2];
  for (int side = 0; side < 2; side++)
    stands[side] = stands_on(inspection, exercise, "heel", side) &&
                   stands_on(inspection, exercise, "ball", side);
  for (int i = 0; i < WHY_POSITIONS; i++) {
    const why_position* position = &exercise->positions[i];
    if (stands[0])
      report_tilt(inspection, exercise, position, false);
    if (stands[1] && (!stands[0] || position->other_side.count))
      report_tilt(inspection, exercise, position, true);
  }
}

static void feet_flat(const why_inspection* inspection) {
  why_each_exercise(inspection, check_flat);
}

/// A movement must go from stretched to shortened the way its action goes.
static void check_direction(const why_inspection* inspection, const why_exercise* exercise) {
  for (size_t i = 0; i < exercise->moves.count; i++) {
    const why_action* action = why_action_find(&inspection->tables->anatomy, exercise->moves.at[i]);
    if (!action || action->along.count != 1)
      continue;
    why_symbol along = action->along.at[0];
    double from = why_position_angle(&exercise->positions[0], along, false);
    double to = why_position_angle(&exercise->positions[WHY_POSITIONS - 1], along, false);
    if (action->sign * (to - from) < -AGAINST_DEG)
      why_inspection_report(inspection, exercise->place,
                            "\"%s\" moves %s, but %s goes from %g in %s to %g in %s",
                            text_of(inspection, exercise->id), text_of(inspection, action->id),
                            text_of(inspection, along), from, POSITION_NAMES[0], to,
                            POSITION_NAMES[WHY_POSITIONS - 1]);
  }
}

static void against(const why_inspection* inspection) {
  why_each_exercise(inspection, check_direction);
}

static void check_support(const why_inspection* inspection, const why_exercise* exercise) {
  if (!exercise->contacts.count && !exercise->fixed.count)
    why_inspection_report(inspection, exercise->place, "nothing carries the body in \"%s\"",
                          text_of(inspection, exercise->id));
}

static void support(const why_inspection* inspection) {
  why_each_exercise(inspection, check_support);
}

static bool is_zero(const double vector[3]) {
  return vector[0] == 0 && vector[1] == 0 && vector[2] == 0;
}

static void check_vectors(const why_inspection* inspection, const why_exercise* exercise) {
  for (size_t i = 0; i < exercise->contacts.count; i++)
    if (exercise->contacts.at[i].directed && is_zero(exercise->contacts.at[i].normal))
      why_inspection_report(inspection, exercise->contacts.at[i].place,
                            "a normal without length points nowhere");
  for (size_t i = 0; i < exercise->resistances.count; i++)
    for (int k = 0; k < WHY_POSITIONS; k++) {
      const why_force* force = &exercise->resistances.at[i].forces[k];
      if (force->directed && is_zero(force->direction))
        why_inspection_report(inspection, exercise->resistances.at[i].place,
                              "a direction without length points nowhere (%s)", POSITION_NAMES[k]);
    }
}

static void vectors(const why_inspection* inspection) {
  why_each_exercise(inspection, check_vectors);
}

/// What is missing from a resistance of its kind, or NULL.
static const char* missing_from(const why_inspection* inspection, const why_resistance* row) {
  if (is(inspection, row->kind, "body"))
    return NULL;
  if (isnan(row->body_masses))
    return "load-body-mass";
  if (is(inspection, row->kind, "lever"))
    return row->drives ? NULL : "drives";
  if (!row->at)
    return "at";
  if (is(inspection, row->kind, "mass"))
    return NULL;
  for (int i = 0; i < WHY_POSITIONS; i++)
    if (!row->forces[i].directed)
      return "direction";
  return NULL;
}

static void check_resistances(const why_inspection* inspection, const why_exercise* exercise) {
  for (size_t i = 0; i < exercise->resistances.count; i++) {
    const why_resistance* row = &exercise->resistances.at[i];
    const char* missing = missing_from(inspection, row);
    if (missing)
      why_inspection_report(inspection, row->place, "a resistance of kind %s needs %s",
                            text_of(inspection, row->kind), missing);
  }
}

static void incomplete(const why_inspection* inspection) {
  why_each_exercise(inspection, check_resistances);
}

static void check_load(const why_inspection* inspection, const why_exercise* exercise) {
  for (size_t i = 0; i < exercise->resistances.count; i++) {
    const why_resistance* row = &exercise->resistances.at[i];
    if (row->body_masses > MOST_BODY_MASSES)
      why_inspection_report(inspection, row->place, "%g times body mass is no usual load",
                            row->body_masses);
  }
}

static void load(const why_inspection* inspection) {
  why_each_exercise(inspection, check_load);
}

why_check_rows why_posture_checks = {
    {"posture-coordinate", WHY_ERROR, coordinate, "files",
     "an angle of a coordinate that does not exist or follows from others"},
    {"posture-range", WHY_ERROR, range, "files", "an angle outside its coordinate's useful range"},
    {"posture-feet", WHY_WARNING, feet_flat, "posture-coordinate",
     "a foot carried by heel and ball whose sole is more than 3 degrees off the level"},
    {"posture-against", WHY_WARNING, against, "posture-coordinate",
     "a movement that goes against its own action from stretched to shortened"},
    {"exercise-support", WHY_ERROR, support, NULL, "an exercise in which nothing carries the body"},
    {"direction-zero", WHY_ERROR, vectors, NULL, "a normal or direction without length"},
    {"resistance-incomplete", WHY_ERROR, incomplete, NULL,
     "a resistance that lacks what its kind needs"},
    {"load-size", WHY_WARNING, load, NULL, "a usual load above five times body mass"},
    {0},
};
