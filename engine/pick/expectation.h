// SPDX-License-Identifier: GPL-3.0-or-later
/// How much an exercise is expected to grow of a goal, by the growth model, in people whom the
/// rules choose.
#ifndef WHY_PICK_EXPECTATION_H
#define WHY_PICK_EXPECTATION_H

#include "answer.h"

/// Read the wanted heads with their weights, and for whom growth is expected.
void why_expectation_read(why_picked* answer);

/// Fill the estimates of a pick whose heads are read: of each of them, and of the whole goal, of
/// which no other head is counted. In the answer's arena; NULL without a model.
void why_expectation_fill(const why_picked* answer, why_pick_row* pick);

#endif
