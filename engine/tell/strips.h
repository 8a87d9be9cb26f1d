// SPDX-License-Identifier: GPL-3.0-or-later
/// Demands over the whole repetition, one strip a coordinate, like a table with a line for numbers.
#ifndef WHY_TELL_STRIPS_H
#define WHY_TELL_STRIPS_H

#include "picture.h"

#include "pick/pick.h"

/// Draw the largest demands of the working side over the path; all strips have one scale.
void why_strips_draw(const why_moments* moments, why_picture* picture);

#endif
