// SPDX-License-Identifier: GPL-3.0-or-later
/// From where an exercise is looked at, and how its world comes onto the paper: the same view and
/// scale for all positions, so that they can be compared.
#ifndef WHY_TELL_VIEW_H
#define WHY_TELL_VIEW_H

#include "picture.h"

#include "pick/pick.h"

typedef enum {
  WHY_VIEW_SIDE,  ///< From the right: forward is to the right, the working side is near.
  WHY_VIEW_FRONT, ///< From the front: the body's left is to the right.
  WHY_VIEW_ABOVE  ///< From above: forward is to the right, the body's left is up.
} why_viewpoint;

typedef struct {
  why_viewpoint from;
  double scale;   ///< Pixels a metre.
  why_spot zero;  ///< Where the anchor of a posture falls.
  why_box bounds; ///< Of the body in all positions, pixels.
} why_view;

/// The view that shows most of the movement, with the body of all positions inside `room`, at its
/// top.
why_view why_view_of(const why_motion* motion, why_box room);

/// In words: "seen from the side".
const char* why_view_words(const why_view* view, const why_motion* motion);

/// What stays where it is while the body moves: the first held part, or the middle of the contacts.
why_vec why_view_anchor(const why_motion* motion, const why_statics* statics);

/// A point of the world, in a posture whose anchor is `anchor`; a direction, y down; and how much
/// of a direction points at the viewer.
why_spot why_view_spot(const why_view* view, why_vec anchor, why_vec point);
why_spot why_view_way(const why_view* view, why_vec direction);
double why_view_towards(const why_view* view, why_vec direction);

#endif
