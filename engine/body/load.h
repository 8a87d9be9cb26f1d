// SPDX-License-Identifier: GPL-3.0-or-later
/// What pulls on the body at one place of a repetition: the weight of its parts, and the
/// resistances of the exercise. Both are kept apart all the way to the demands.
#ifndef WHY_BODY_LOAD_H
#define WHY_BODY_LOAD_H

#include "pose.h"

enum { WHY_APPLIED = 48, WHY_LEVERS = 4 };

/// A force on a part at a point of the world frame, newtons.
typedef struct {
  int part;
  why_vec at;
  why_vec body; ///< Because of the body's own weight.
  why_vec load; ///< Because of resistances.
} why_applied;

/// The moment of a lever machine. It turns one joint and is felt by the coordinates of that joint
/// only: seat and frame take up the rest.
typedef struct {
  int part; ///< Beyond the joint.
  why_vec moment;
} why_lever;

typedef struct {
  size_t count;
  why_applied at[WHY_APPLIED];
  size_t lever_count;
  why_lever levers[WHY_LEVERS];
} why_loading;

/// Weight and resistances `at` a place of the repetition (0 to 2, as in why_stance_of); every
/// resistance is `factor` times its usual load.
///
/// A load acts on both sides in bilateral exercises, half on each; in unilateral ones on the
/// working side, except that hands in exercises for leg, trunk and neck are both loaded; the
/// exercise may say otherwise. Directions are those of the right side, mirrored for the left in
/// bilateral exercises. A lever gives load · gravity · its length · share about the action that it
/// drives, against it.
void why_loading_find(const why_body_model* model, const why_exercise* exercise,
                      const why_pose* pose, double at, double factor, why_loading* loading);

/// Sum of all weights and resistances that are forces, newtons.
double why_loading_size(const why_loading* loading);

#endif
