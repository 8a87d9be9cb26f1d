// SPDX-License-Identifier: GPL-3.0-or-later
/// Front door of body: muscle lengths and moment arms in a posture, the statics of the whole body
/// under a load, what both make of an exercise, and what they say against one.
#ifndef WHY_BODY_H
#define WHY_BODY_H

#include "check.h"    // IWYU pragma: export
#include "demand.h"   // IWYU pragma: export
#include "effort.h"   // IWYU pragma: export
#include "feature.h"  // IWYU pragma: export
#include "hardness.h" // IWYU pragma: export
#include "length.h"   // IWYU pragma: export
#include "muscle.h"   // IWYU pragma: export
#include "posture.h"  // IWYU pragma: export
#include "share.h"    // IWYU pragma: export
#include "variant.h"  // IWYU pragma: export

#endif
