// SPDX-License-Identifier: GPL-3.0-or-later
/// What figures of evidence/measurements an answer rests on, as sources. Private to tell.
#ifndef WHY_TELL_MEASURED_PART_H
#define WHY_TELL_MEASURED_PART_H

#include "node.h"

#include "pick/pick.h"

/// One measurement as a source, under its id: what it says, where it comes from, on which basis;
/// nothing when there is none of that id.
void why_part_measurement(const why_ground* ground, why_arena* arena, why_node* list,
                          const char* id);

#endif
