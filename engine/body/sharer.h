// SPDX-License-Identifier: GPL-3.0-or-later
/// What a sharer holds between calls: constants, and room for one posture and one repetition.
/// Private to body.
#ifndef WHY_BODY_SHARER_H
#define WHY_BODY_SHARER_H

#include "equations.h"
#include "feature.h"

struct why_sharer {
  const why_muscles* muscles;
  why_sharing_constants constants;
  double mover_share;
  double moving_shortening;
  why_dual dual;
  why_statics statics;
  why_pose bent;
  why_effort effort;
  why_feature* features; ///< Of the other side.
};

#endif
