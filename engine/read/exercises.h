// SPDX-License-Identifier: GPL-3.0-or-later
/// The rows of rules/exercises/*.xml; rules/schema/exercises.rng explains what they mean. A name
/// that is not given is 0, a string "", a number its documented default. Everything lives as long
/// as the tables.
#ifndef WHY_READ_EXERCISES_H
#define WHY_READ_EXERCISES_H

#include "word.h"

#include <stdbool.h>

/// One angle of a posture, degrees; what is not listed is 0.
typedef struct {
  why_symbol coordinate;
  double deg;
} why_angle;

typedef WHY_LIST(why_angle) why_angles;

enum { WHY_POSITIONS = 3 }; ///< stretched, middle, shortened, in this order.

typedef struct {
  double pelvis_pitch_deg;
  double pelvis_roll_deg;
  double pelvis_yaw_deg;
  why_angles working;    ///< Working (right) side, and what has no side.
  why_angles other_side; ///< What differs on the other side.
  why_place place;
} why_position;

/// Where the outside world carries the body.
typedef struct {
  why_symbol point;
  why_symbol side; ///< both, working, other.
  double normal[3];
  bool directed;   ///< A normal was given; else it is up.
  double friction; ///< Coefficient; NAN: the model's own.
  double weight;   ///< Preference in sharing reactions; 1 when not given.
  bool pull;       ///< Holds in any direction.
  why_place place;
} why_contact;

/// Force of a resistance in one position.
typedef struct {
  double share;        ///< Of the nominal force or torque; 1 when not given.
  double direction[3]; ///< Of the right hand's side; zeros when not given.
  bool directed;
} why_force;

/// What the muscles work against.
typedef struct {
  why_symbol kind;    ///< mass, cable, band, lever, sled, body, manual.
  why_symbol at;      ///< Load point; 0: none.
  why_symbol side;    ///< working, other, both; 0: the rule of the exercise.
  why_symbol drives;  ///< Action that a lever machine loads; 0: none.
  double body_masses; ///< Usual load as a share of body mass over both sides; NAN when none.
  why_force forces[WHY_POSITIONS];
  const char* note;
  why_place place;
} why_resistance;

/// One alternative set of equipment; empty: nothing is needed.
typedef struct {
  why_symbol_list items;
  why_place place;
} why_needs;

/// A moved action that the load does not ask for, and why it is trained all the same.
typedef struct {
  why_symbol action;
  const char* reason;
  why_place place;
} why_undemanded;

enum { WHY_MOVES_LIMIT = 12 }; ///< Most actions of one exercise.

typedef struct {
  why_symbol id;
  const char* name;
  why_symbol pattern;
  why_symbol region;
  bool unilateral;
  why_symbol movement; ///< What twins with other equipment share; none: 0.
  bool held;           ///< Isometric.
  bool joined_hands;   ///< Both hands hold one thing.
  why_symbol basis;
  why_word_list words;
  WHY_LIST(why_needs) needs;
  why_symbol_list moves; ///< Actions.
  WHY_LIST(why_undemanded) undemanded;
  why_symbol skill;
  why_symbol stability;
  why_symbol axial_load;
  why_symbol loading_steps;
  why_symbol_list progress_by;
  why_symbol_list restricted; ///< Restrictions of kind demand.
  why_symbol_list easier;
  why_symbol_list harder;
  WHY_LIST(why_contact) contacts;
  why_symbol_list fixed; ///< Segments that a bench or machine holds.
  WHY_LIST(why_resistance) resistances;
  why_position positions[WHY_POSITIONS];
  const char* setup;
  WHY_LIST(const char*) cautions;
  const char* note;
  why_place place;
} why_exercise;

typedef struct {
  why_symbol id; ///< Slug of the pattern.
  const char* name;
  why_place place;
} why_pattern;

typedef struct {
  WHY_LIST(why_pattern) patterns;
  WHY_LIST(why_exercise) rows;
  WHY_LIST(uint32_t) numbers; ///< By id: the number of its first row, plus one.
} why_exercise_table;

/// The row of that id, or NULL.
const why_exercise* why_exercise_find(const why_exercise_table* table, why_symbol id);

/// The angle of `coordinate` on the working side, or on the other side, degrees; 0 when not listed.
/// The other side of a bilateral exercise mirrors the working side.
double why_position_angle(const why_position* position, why_symbol coordinate, bool other_side);

#endif
