// SPDX-License-Identifier: GPL-3.0-or-later
/// Why an exercise that is asked about is no pick and what would make it one; or what stands before
/// it when it is.
#ifndef WHY_PICK_ABSENCE_H
#define WHY_PICK_ABSENCE_H

#include "answer.h"

/// Look at `question->exercise` of an answer that has run.
const why_absence* why_absence_find(const why_picked* answer);

/// What keeps `exercise` from being a pick in `overlay`, which stands for another question or for
/// that of the answer.
why_failure why_absence_failed(const why_picked* answer, why_overlay* overlay, why_symbol exercise);

/// The smallest sets of changes that make `exercise` a pick, into `absence`.
void why_absence_ways(const why_picked* answer, why_symbol exercise, why_absence* absence);

/// Add a step below `parent`, behind those that are there.
why_step* why_step_add(why_arena* arena, why_step* parent, const char* say, const char* mark);

/// Where a derivation comes from: a rule with its grounds, or a line of the knowledge base.
const char* why_step_mark(const why_picked* answer, const why_derivation* step);

#endif
