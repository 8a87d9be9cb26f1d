// SPDX-License-Identifier: GPL-3.0-or-later
/// Forward kinematics: where every part of the body is in a stance, and how each coordinate would
/// move what lies beyond its joint.
///
/// The pelvis stays at the origin. A part hangs on its parent by hinges in the order that
/// segment.c lists, each in the frame that those before it have turned. The upper arm is the
/// exception: it is swung and twisted against the thorax, while the clavicle only carries its upper
/// end; so scapular coordinates shift the arm without turning it, as the paths of muscles from the
/// trunk to the arm assume.
#ifndef WHY_BODY_POSE_H
#define WHY_BODY_POSE_H

#include "segment.h"

enum { WHY_FREEDOMS = 2 * WHY_COORDINATES_LIMIT };

/// ∂point/∂coordinate for points that hang on `part`: turn × (point − pivot) + shift.
typedef struct {
  int number; ///< Of the coordinate, in the frame.
  int side;
  int part;
  why_vec turn;
  why_vec pivot;
  why_vec shift;
} why_freedom;

typedef struct {
  why_axes axes[WHY_BODY_PARTS];
  why_vec origin[WHY_BODY_PARTS];
  size_t count;
  why_freedom
      freedoms[WHY_FREEDOMS]; ///< By part; both shoulder pairs, angles and smooth, included.
} why_pose;

void why_pose_find(const why_body_model* model, const why_stance* stance, why_pose* pose);

/// A point of a part's own frame, in the world.
why_vec why_pose_point(const why_pose* pose, int part, why_vec local);

/// Centre of mass of the whole body.
why_vec why_pose_centre(const why_body_model* model, const why_pose* pose);

/// How fast `point` of the far side moves with the coordinate.
why_vec why_freedom_move(const why_freedom* freedom, why_vec point);

/// The freedom of that coordinate and side, or NULL.
const why_freedom* why_pose_freedom(const why_pose* pose, int number, int side);

#endif
