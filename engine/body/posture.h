// SPDX-License-Identifier: GPL-3.0-or-later
/// Postures as the paths of muscles see them: one angle for every coordinate of the knowledge base,
/// the shoulder pair and the scapular rhythm included.
///
/// Angles are degrees at this door and radians inside. The signs and zeros are those that
/// rules/anatomy/coordinates.xml states.
#ifndef WHY_BODY_POSTURE_H
#define WHY_BODY_POSTURE_H

#include "read/read.h"

#include <stdbool.h>

enum { WHY_COORDINATES_LIMIT = 64 };

/// Numbers of coordinates that have a part of their own in the shoulder's geometry; -1 where the
/// knowledge base does not name them.
typedef struct {
  int plane;
  int elevation;
  int rotation;
  int cosine_part; ///< elevation · cos(plane): abduction
  int sine_part;   ///< elevation · sin(plane): flexion
  int upward_rotation;
} why_shoulder_numbers;

/// All coordinates, numbered; made once from the tables, then only read.
typedef struct {
  const why_anatomy* anatomy;
  const why_symbols* symbols;
  size_t count;
  why_symbol ids[WHY_COORDINATES_LIMIT];
  size_t known;               ///< Symbols below this may have a number.
  const signed char* numbers; ///< By symbol; -1: none.
  why_shoulder_numbers shoulder;
  double least_fibre; ///< Bounds of fibre lengths, in optimal ones; infinite where none is stated.
  double most_fibre;
} why_frame;

/// Number the coordinates of `tables`, in `arena`.
const why_frame* why_frame_new(const why_tables* tables, why_arena* arena);

/// The number of a coordinate, or -1.
int why_frame_number(const why_frame* frame, why_symbol coordinate);

/// One angle a coordinate, radians.
typedef struct {
  double rad[WHY_COORDINATES_LIMIT];
  bool outside; ///< The shoulder was brought back into the region where its paths hold.
} why_posture;

/// The posture of the working side, or of the other side, of a position.
why_posture why_posture_of(const why_frame* frame, const why_position* position, bool other_side);

/// A posture from degrees, in order of the frame's coordinates, without the derived ones.
void why_posture_set_deg(const why_frame* frame, why_posture* posture, why_symbol coordinate,
                         double deg);

/// Fill in what follows from the rest: the shoulder pair, clamped to the region where its paths
/// hold, and the rhythm of the scapula. Call after the last why_posture_set_deg.
void why_posture_complete(const why_frame* frame, why_posture* posture);

#endif
