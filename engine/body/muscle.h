// SPDX-License-Identifier: GPL-3.0-or-later
/// What every head is able to in a posture: its moment arms, the length of its fibres, and the
/// force it could give at that length.
#ifndef WHY_BODY_MUSCLE_H
#define WHY_BODY_MUSCLE_H

#include "length.h"
#include "segment.h"

/// A head of the tables, its coordinates numbered.
typedef struct {
  const why_head* head;
  double scale; ///< From the model body of its path to this body.
  size_t count;
  int numbers[WHY_PATH_COORDINATES]; ///< Of its path's coordinates, in the frame.
} why_muscle;

/// The heads of a body, in order of the tables.
typedef struct {
  const why_body_model* model;
  double capacity_width;
  double capacity_floor;
  size_t count;
  const why_muscle* at;
  bool turned[WHY_COORDINATES_LIMIT]; ///< Coordinates of the middle that the mirror turns round:
                                      ///< for heads of the other side their sign is reversed.
} why_muscles;

/// In `arena`; `model` must outlive it. WHY_KNOWLEDGE when a constant of capacity is missing.
why_status why_muscles_new(const why_body_model* model, why_arena* arena, why_muscles** made);

/// The posture of one side of a stance, as the paths of the heads of that side see it.
why_posture why_muscles_posture(const why_muscles* muscles, const why_stance* stance, int side);

/// A head in a posture.
typedef struct {
  double fibre;                      ///< Optimal fibre lengths.
  double active;                     ///< Share of the greatest force that contraction can give.
  double capacity_n;                 ///< Greatest force at this length, passive part included.
  double arms[WHY_PATH_COORDINATES]; ///< Metres; above 0: shortening raises the coordinate, in the
                                     ///< sense of the head's own side.
  bool outside;                      ///< A range of the path or of the fibre was left.
} why_muscle_state;

void why_muscle_find(const why_muscles* muscles, const why_muscle* muscle,
                     const why_posture* posture, why_muscle_state* state);

/// Share of the greatest force that a head has at a fibre length l: exp(−((l − 1)/width)²) below
/// the optimum, but at least the floor; 1 above it, where passive tension makes up for what
/// contraction loses. Width and floor are those of evidence/measurements.
double why_muscles_capacity(const why_muscles* muscles, double fibre);

/// Moment arm along an action, metres, in the sense of the head's own side: of the state's arms,
/// the shoulder's plane and elevation by the chain rule through the smooth pair.
double why_muscle_arm(const why_muscles* muscles, const why_muscle* muscle,
                      const why_posture* posture, const why_muscle_state* state,
                      const why_action* action);

#endif
