// SPDX-License-Identifier: GPL-3.0-or-later
/// Front door of body: muscle lengths and moment arms in a posture, and what they make of an
/// exercise.
#ifndef WHY_BODY_H
#define WHY_BODY_H

#include "feature.h" // IWYU pragma: export
#include "length.h"  // IWYU pragma: export
#include "posture.h" // IWYU pragma: export

#endif
