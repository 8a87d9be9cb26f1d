// SPDX-License-Identifier: GPL-3.0-or-later
/// How the heads share an exercise near the failure of a set, as tables.
#ifndef WHY_TELL_WORKING_H
#define WHY_TELL_WORKING_H

#include "node.h"

#include "pick/pick.h"

/// The load that ends a set, and the stress and fibre length of the heads that move the exercise
/// and of those that hold hard.
void why_part_working(const why_exertion* exertion, why_arena* arena, why_node* root);

#endif
