// SPDX-License-Identifier: GPL-3.0-or-later
/// What the paths of muscles say about an exercise, before any load is known: what a head could
/// give along each moved action, how much each moved action shortens it, and how long its fibres
/// are at the stretched end.
#ifndef WHY_BODY_REPETITION_H
#define WHY_BODY_REPETITION_H

#include "length.h"

/// The three postures of the working side, stretched, middle, shortened.
typedef struct {
  const why_frame* frame;
  const why_exercise* exercise;
  why_posture at[WHY_POSITIONS];
} why_repetition;

why_repetition why_repetition_of(const why_frame* frame, const why_exercise* exercise);

/// Greatest force times moment arm along `action`, mean over the three postures, N m; 0 where the
/// head pulls the other way.
double why_feature_pull(const why_repetition* repetition, const why_head* head,
                        const why_action* action);

/// Shortening because of `action` alone from the stretched to the shortened posture, centimetres;
/// below zero: it lengthens.
double why_feature_travel_cm(const why_repetition* repetition, const why_head* head,
                             const why_action* action);

/// Shortening from the stretched to the shortened posture, all coordinates together, centimetres;
/// below zero: the head ends longer than it began.
double why_feature_net_cm(const why_repetition* repetition, const why_head* head);

/// Fibre length in the stretched posture, in optimal fibre lengths. `outside` (may be NULL) says
/// that a range of the path or of the fibre was left.
double why_feature_stretch(const why_repetition* repetition, const why_head* head, bool* outside);

#endif
