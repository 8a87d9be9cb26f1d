// SPDX-License-Identifier: GPL-3.0-or-later
/// What two fits of the growth model expect of the same exercise and head.
#ifndef WHY_PICK_REFIT_H
#define WHY_PICK_REFIT_H

#include "answer.h"

typedef struct {
  why_symbol exercise; ///< In the later ground, as the head.
  why_symbol head;
  why_estimate before;
  why_estimate after;
  size_t number; ///< In order of the tables: decides between equal shifts.
} why_moved;

typedef WHY_LIST(why_moved) why_moved_list;

/// Where both fits know exercise and head, and the growth that they expect differs by `worth`
/// percentage points or more; the largest first. `goals`: heads that count
/// (indexes in the later tables), by a flag each. In `arena`.
why_moved_list why_refit_moved(const why_ground* before, const why_ground* after, const bool* goals,
                               double trained, double worth, why_arena* arena);

#endif
