// SPDX-License-Identifier: GPL-3.0-or-later
/// The body of a posture as lines between joints, and as what ends them: head, knuckles and soles.
#ifndef WHY_TELL_BONES_H
#define WHY_TELL_BONES_H

#include "pick/pick.h"

typedef struct {
  int part; ///< That it draws.
  int side; ///< WHY_WORKING or WHY_OTHER; trunk and neck count as working.
  bool paired;
  why_vec from;
  why_vec to;
} why_bone;

enum { WHY_BONES = 2 * WHY_BODY_PARTS };

typedef struct {
  size_t count;
  why_bone at[WHY_BONES];
  why_vec head;  ///< Middle of the head.
  double head_m; ///< Its radius.
} why_bones;

/// The bones of a pose. A foot that stands on its ball ends there: its toes would bend.
why_bones why_bones_of(const why_motion* motion, const why_pose* pose);

#endif
