// SPDX-License-Identifier: GPL-3.0-or-later
/// What follows from what is at hand, worked out in plain C without the rules, so that tests can
/// hold their answers against it.
#ifndef WHY_TESTS_KIT_H
#define WHY_TESTS_KIT_H

#include "pick/ground.h"

enum { KIT_ITEMS = 512 };

/// Zeroed but for the table, it holds nothing.
typedef struct {
  const why_equipment* equipment;
  bool named[KIT_ITEMS];     ///< Said to be at hand, by number of the item in the table.
  bool ruled_out[KIT_ITEMS]; ///< Said to be missing.
  bool usable[KIT_ITEMS];    ///< Filled by kit_close.
  bool served[KIT_ITEMS];    ///< Usable, or something that stands in for it is.
} kit;

void kit_add_item(kit* all, why_symbol item);
void kit_add_kind(kit* all, why_symbol kind);
void kit_add_place(kit* all, why_symbol place);
void kit_rule_out_item(kit* all, why_symbol item);
void kit_rule_out_kind(kit* all, why_symbol kind);

/// Work out what is usable, and as what. Call it once all is said.
void kit_close(kit* all);

/// Whether one of the ways to set up the exercise lacks nothing.
bool kit_can_set_up(const kit* all, const why_exercise* exercise);

#endif
