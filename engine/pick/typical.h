// SPDX-License-Identifier: GPL-3.0-or-later
/// A few questions as they are asked every day, tried when a knowledge base has been read.
#ifndef WHY_PICK_TYPICAL_H
#define WHY_PICK_TYPICAL_H

#include "ground.h"

/// Let `base`, that of `ground`, learn from them how to evaluate others. In `scratch`.
void why_typical_teach(const why_ground* ground, why_base* base, why_arena* scratch);

#endif
