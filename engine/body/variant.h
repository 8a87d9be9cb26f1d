// SPDX-License-Identifier: GPL-3.0-or-later
/// An exercise as an arm of a study did it: cut to its own range of movement, another joint held at
/// its own angle, or one posture held.
#ifndef WHY_BODY_VARIANT_H
#define WHY_BODY_VARIANT_H

#include "posture.h"

/// `exercise` as `trained` says, in `arena`; `exercise` itself where that says nothing of its own.
///
/// A range of a coordinate that the exercise moves cuts the path to the places where it is kept
/// (one angle: the posture nearest to it is held); of any other coordinate, both sides are set to
/// the middle of the range. Where no range of a moved coordinate is stated, the words long, short
/// and mid stand for the stretched half, the shortened half and the middle half of the path.
const why_exercise* why_variant_of(const why_frame* frame, const why_exercise* exercise,
                                   const why_trained* trained, why_arena* arena);

#endif
