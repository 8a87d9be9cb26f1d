// SPDX-License-Identifier: GPL-3.0-or-later
/// An exercise in motion: the statics of its three positions and of the path between them, for the
/// model body under the usual load.
#ifndef WHY_PICK_MOTION_H
#define WHY_PICK_MOTION_H

#include "ground.h"

#include "body/body.h"

typedef struct {
  const why_ground* ground;
  const why_exercise* exercise;
  const why_body_model* model;
  const why_statics* positions; ///< WHY_POSITIONS of them.
  const why_mechanics* path;    ///< From stretched to shortened, at even distances.
} why_motion;

/// Solve them for `exercise`, in `arena`. WHY_KNOWLEDGE when the tables lack a part of the body.
why_status why_motion_new(const why_ground* ground, why_symbol exercise, why_arena* arena,
                          const why_motion** motion);

#endif
