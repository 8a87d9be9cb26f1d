// SPDX-License-Identifier: GPL-3.0-or-later
/// What completes a goal beside its first pick: the fewest exercises that fill every gap which the
/// rules find (rules/reasoning/pairing.xml), and how the weekly work is shared among them all.
#ifndef WHY_PICK_PAIRING_H
#define WHY_PICK_PAIRING_H

#include "answer.h"

/// Fill `complement` and the shares of an answer whose wanted heads are read. Of sets of the same
/// size, the one whose exercises are worth most (relation "fills") is taken.
void why_pairing_read(why_picked* answer);

#endif
