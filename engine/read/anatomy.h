// SPDX-License-Identifier: GPL-3.0-or-later
/// The rows of rules/anatomy/*.xml; rules/schema/anatomy.rng explains what they mean. Figures are
/// in the units of the files; NAN where a file has none. Everything lives as long as the tables.
#ifndef WHY_READ_ANATOMY_H
#define WHY_READ_ANATOMY_H

#include "word.h"

#include <stdbool.h>

/// A figure with where it comes from.
typedef struct {
  double value; ///< NAN: not given.
  double sd;
  why_symbol source;
  why_symbol basis;
  const char* note;
  why_place place;
} why_figure;

/// An angle of a joint, degrees.
typedef struct {
  why_symbol id;
  const char* name;
  why_symbol joint;
  double least_deg; ///< Useful range.
  double most_deg;
  bool posture; ///< Part of a posture; scapular upward rotation follows from others.
  why_place place;
} why_coordinate;

/// A signed movement along a coordinate, or along several that change by the same amount.
typedef struct {
  why_symbol id;
  const char* name;
  why_symbol_list along; ///< Coordinates of the posture or of the shoulder pair.
  int sign;              ///< +1 raises them, -1 lowers them.
  why_symbol opposite;   ///< 0 when there is none.
  why_place place;
} why_action;

/// Corner of the region in which shoulder paths hold.
typedef struct {
  double plane_deg;
  double most_elevation_deg;
} why_corner;

/// Rotations that hold between two planes.
typedef struct {
  double from_plane_deg;
  double to_plane_deg;
  double least_deg;
  double most_deg;
} why_rotation_span;

/// The shoulder's own geometry: the smooth pair (elevation · cos plane, elevation · sin plane), the
/// region in which paths hold, what to do overhead, and the rhythm of the scapula. Coordinates are
/// 0 where the files name none.
typedef struct {
  why_symbol plane;
  why_symbol elevation;
  why_symbol rotation;
  why_symbol cosine_part;
  why_symbol sine_part;
  WHY_LIST(why_corner) corners; ///< By plane, least first.
  WHY_LIST(why_rotation_span) rotations;
  double overhead_deg; ///< Elevation above which plane and rotation may be rewritten.
  double overhead_least_plane_deg;
  double overhead_most_plane_deg;
  why_symbol rhythm_coordinate;
  double rhythm_per_degree;
  double rhythm_full_from_plane_deg;
  double rhythm_none_below_plane_deg;
  why_place place; ///< Of the region.
} why_shoulder;

/// An action that a head pulls into, and its moment arm over the range, millimetres.
typedef struct {
  why_symbol action;
  double least_mm; ///< NAN when not computed.
  double most_mm;
  why_symbol basis;
  const char* where;
  why_place place;
} why_acts;

enum { WHY_PATH_COORDINATES = 8, WHY_PATH_EXPONENT = 12 }; ///< Most of one path.

/// coefficient · Π coordinate^exponent; angles in radians; metres.
typedef struct {
  double coefficient;
  unsigned char exponents[WHY_PATH_COORDINATES]; ///< In order of the path's coordinates.
} why_path_term;

/// A span of an angle; the coordinate is one of the posture, also where the path itself is in terms
/// of the shoulder pair.
typedef struct {
  why_symbol coordinate;
  double least_deg;
  double most_deg;
} why_span;

/// Muscle–tendon length as a polynomial of the coordinates crossed.
typedef struct {
  unsigned coordinate_count;
  why_symbol coordinates[WHY_PATH_COORDINATES]; ///< Of the posture, or the shoulder pair.
  WHY_LIST(why_span) ranges;                    ///< Where it was fitted.
  WHY_LIST(why_span) modelled;                  ///< Where the model holds, if narrower.
  WHY_LIST(why_path_term) terms;
  double rms_mm; ///< Error of the fit.
  double most_mm;
  why_symbol source;
  why_symbol basis;
  why_symbol method; ///< How it was computed.
  why_place place;
} why_path;

/// How paths were computed.
typedef struct {
  why_symbol id;
  const char* text;
  why_place place;
} why_path_method;

typedef struct {
  why_symbol id;
  const char* name;
  why_symbol group; ///< The one it is shown with.
  why_symbol region;
  why_word_list words;
  why_symbol_list crosses; ///< Coordinates.
  WHY_LIST(why_acts) acts;
  why_figure volume_cm3;
  why_figure cross_section_cm2;
  why_figure force_n;
  why_figure fibre_length_cm; ///< Optimal.
  why_figure slack_length_cm; ///< Of the tendon.
  why_figure pennation_deg;
  why_figure fast_fibre_share;
  why_path path;
  const char* uberon; ///< Open-ontology ids, "" where unknown.
  const char* fma;
  double model_stature_m;  ///< Body that the lengths belong to.
  double stress_n_per_cm2; ///< That the force rests on.
  why_place place;
} why_head;

typedef struct {
  why_symbol id;
  const char* name;
  why_symbol_list heads;
  why_word_list words;
  why_place place;
} why_group;

typedef struct {
  WHY_LIST(why_coordinate) coordinates;
  WHY_LIST(why_action) actions;
  WHY_LIST(why_head) heads;
  WHY_LIST(why_group) groups;
  WHY_LIST(why_path_method) methods;
  why_shoulder shoulder;
} why_anatomy;

/// The row of that id, or NULL.
const why_coordinate* why_coordinate_find(const why_anatomy* anatomy, why_symbol id);
const why_action* why_action_find(const why_anatomy* anatomy, why_symbol id);
const why_head* why_head_find(const why_anatomy* anatomy, why_symbol id);
const why_group* why_group_find(const why_anatomy* anatomy, why_symbol id);

#endif
