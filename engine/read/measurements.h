// SPDX-License-Identifier: GPL-3.0-or-later
/// The rows of evidence/measurements/*.xml that the engine and its checks use;
/// evidence/schema/measurements.rng explains what they mean. Everything lives as long as the
/// tables.
#ifndef WHY_READ_MEASUREMENTS_H
#define WHY_READ_MEASUREMENTS_H

#include "base/base.h"

#include <stdbool.h>

/// Where figures come from. Strings are "" where not noted.
typedef struct {
  why_symbol id;
  const char* title;
  const char* journal;
  const char* year;
  const char* doi;
  const char* note;
  why_symbol basis; ///< The closest reading; 0 when each figure says it for itself.
  why_place place;
} why_source;

/// A figure, bounds, or a figure with its interval; NAN where there is none.
typedef struct {
  double value;
  double low;
  double high;
  const char* unit; ///< In words; "1" for a pure number.
} why_amount;

/// One figure that is asked for by its id.
typedef struct {
  why_symbol id;
  why_symbol of; ///< What it is for; 0 for all that no other row of the id names.
  why_amount amount;
  why_symbol source;
  why_symbol basis;
  const char* says;
  why_place place;
} why_quantity;

typedef struct {
  const char* name;
  why_amount amount;
  why_symbol basis; ///< That of the measurement unless it has its own.
  why_place place;
} why_measured_figure;

/// Something that was found, with its figures.
typedef struct {
  why_symbol id;
  why_symbol topic;
  why_symbol training;  ///< 0: any.
  why_symbol certainty; ///< 0: not judged.
  const char* says;
  const char* note; ///< "" if there is none.
  why_symbol source;
  why_symbol basis;
  WHY_LIST(why_measured_figure) figures;
  why_place place;
} why_measurement;

/// A rigid part of the body. Shares are of body mass, of stature, and of its own length.
typedef struct {
  why_symbol id;
  bool paired;
  double body_share;
  double centre_share; ///< NAN for a segment without mass.
  double stature_share;
  why_symbol mass_source;
  why_symbol mass_basis;
  why_symbol length_source;
  why_symbol length_basis;
  why_place place;
} why_segment;

/// Where two segments meet: x y z in shares of stature, in the frame of the proximal one; of a pair
/// the left.
typedef struct {
  why_symbol id;
  bool paired;
  why_symbol proximal;
  why_symbol distal;
  double at[3];
  why_symbol source;
  why_symbol basis;
  why_place place;
} why_segment_joint;

enum { WHY_PATCH_POINTS = 4 }; ///< Most sub-points of a contact.

/// Where the outside world carries the body, or where a load acts (one point).
typedef struct {
  why_symbol id;
  why_symbol segment;
  bool paired; ///< Of load points; contacts are of whichever side an exercise names.
  size_t count;
  double at[WHY_PATCH_POINTS][3];
  why_symbol source;
  why_symbol basis;
  why_place place;
} why_body_point;

/// Two exercises of the catalogue that a relation between loads holds for.
typedef struct {
  why_symbol from;
  why_symbol to;
  bool each; ///< The load of `to` is that of each of two pieces.
  why_place place;
} why_load_pair;

/// The load of one exercise from that of another.
typedef struct {
  why_symbol id;
  const char* from;
  const char* to;
  why_amount factor; ///< NAN where only a line is given.
  double constant;   ///< Line: to = constant + slope · from, kg.
  double slope;
  double error; ///< Standard error of the line, kg; NAN when not noted.
  const char* says;
  const char* left_out; ///< Why it must not be used; "" for one that may.
  WHY_LIST(why_load_pair) pairs;
  why_symbol source;
  why_symbol basis;
  why_place place;
} why_load_relation;

/// Any mention of a source beside a basis, for the checks of references.
typedef struct {
  why_symbol source;
  why_symbol basis;
  why_place place;
} why_mention;

typedef struct {
  WHY_LIST(why_source) sources;
  WHY_LIST(why_quantity) quantities;
  WHY_LIST(why_measurement) measurements;
  WHY_LIST(why_segment) segments;
  WHY_LIST(why_segment_joint) joints;
  WHY_LIST(why_body_point) contacts;
  WHY_LIST(why_body_point) loads;
  WHY_LIST(why_load_relation) relations;
  WHY_LIST(why_mention) mentions; ///< In these files, one an element.
} why_measurement_table;

/// The row of that id, or NULL.
const why_source* why_source_find(const why_measurement_table* table, why_symbol id);
const why_measurement* why_measurement_find(const why_measurement_table* table, why_symbol id);
const why_segment* why_segment_find(const why_measurement_table* table, why_symbol id);
const why_body_point* why_contact_point_find(const why_measurement_table* table, why_symbol id);
const why_body_point* why_load_point_find(const why_measurement_table* table, why_symbol id);

/// The quantity called `id` (a name such as "friction") for `of`; when no row is for that, or `of`
/// is 0, the row of that name that is for nothing in particular; else NULL.
const why_quantity* why_quantity_find(const why_measurement_table* table,
                                      const why_symbols* symbols, const char* id, why_symbol of);

#endif
