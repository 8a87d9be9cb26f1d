// SPDX-License-Identifier: GPL-3.0-or-later
/// An exercise near the failure of a set: how its heads share the work along the repetition.
#ifndef WHY_PICK_EXERTION_H
#define WHY_PICK_EXERTION_H

#include "motion.h"

typedef struct {
  const why_motion* motion;
  const why_muscles* muscles;
  const why_effort* effort;
  const why_feature* features; ///< One a head, in order of the tables.
} why_exertion;

/// Solve it, in `arena`. WHY_KNOWLEDGE when the tables lack a constant.
why_status why_exertion_new(const why_motion* motion, why_arena* arena,
                            const why_exertion** exertion);

#endif
