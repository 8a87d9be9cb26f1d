// SPDX-License-Identifier: GPL-3.0-or-later
/// An exercise as its image in the plane that halves the body shows it: what the working side did,
/// the other does.
#ifndef WHY_TEST_MIRROR_H
#define WHY_TEST_MIRROR_H

#include "body/body.h"

/// Whether the catalogue can tell the image: a lever machine loads the working side only.
bool mirror_exists(const why_body_model* model, const why_exercise* exercise);

/// The image, in `arena`.
why_exercise mirror_of(const why_body_model* model, const why_exercise* exercise, why_arena* arena);

/// 1, or -1 for coordinates of the middle that change their sign in the image.
double mirror_sign(const why_frame* frame, int number);

#endif
