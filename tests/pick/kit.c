// SPDX-License-Identifier: GPL-3.0-or-later
#include "kit.h"

static size_t number_of(const why_equipment* equipment, why_symbol id) {
  size_t i = 0;
  while (i < equipment->items.count && equipment->items.at[i].id != id)
    i++;
  return i;
}

static void set(const kit* all, bool* flags, why_symbol item) {
  size_t at = number_of(all->equipment, item);
  if (at < all->equipment->items.count && at < KIT_ITEMS)
    flags[at] = true;
}

static bool is_set(const kit* all, const bool* flags, why_symbol item) {
  size_t at = number_of(all->equipment, item);
  return at < all->equipment->items.count && at < KIT_ITEMS && flags[at];
}

static void set_kind(const kit* all, bool* flags, why_symbol kind) {
  for (size_t i = 0; i < all->equipment->items.count && i < KIT_ITEMS; i++)
    flags[i] = flags[i] || all->equipment->items.at[i].kind == kind;
}

void kit_add_item(kit* all, why_symbol item) {
  set(all, all->named, item);
}

void kit_add_kind(kit* all, why_symbol kind) {
  set_kind(all, all->named, kind);
}

void kit_add_place(kit* all, why_symbol place) {
  const why_equipment_place* row = why_equipment_place_find(all->equipment, place);
  for (size_t i = 0; row && i < row->has.count; i++)
    set(all, all->named, row->has.at[i]);
}

void kit_rule_out_item(kit* all, why_symbol item) {
  set(all, all->ruled_out, item);
}

void kit_rule_out_kind(kit* all, why_symbol kind) {
  set_kind(all, all->ruled_out, kind);
}

/// What comes with what is there.
static void bring(kit* all, bool* at_hand) {
  for (bool changed = true; changed;) {
    changed = false;
    for (size_t i = 0; i < all->equipment->items.count; i++) {
      const why_symbol_list* brings = &all->equipment->items.at[i].brings;
      for (size_t k = 0; at_hand[i] && k < brings->count; k++) {
        if (is_set(all, all->ruled_out, brings->at[k]) || is_set(all, at_hand, brings->at[k]))
          continue;
        set(all, at_hand, brings->at[k]);
        changed = true;
      }
    }
  }
}

static bool needs_are_met(const kit* all, const why_equipment_item* item) {
  bool met = item->needs_one_of.count == 0;
  for (size_t i = 0; i < item->needs_one_of.count; i++)
    met = met || is_set(all, all->served, item->needs_one_of.at[i]);
  return met;
}

void kit_close(kit* all) {
  bool at_hand[KIT_ITEMS] = {false};
  for (size_t i = 0; i < KIT_ITEMS; i++)
    at_hand[i] = all->named[i] && !all->ruled_out[i];
  bring(all, at_hand);
  for (bool changed = true; changed;) {
    changed = false;
    for (size_t i = 0; i < all->equipment->items.count; i++) {
      const why_equipment_item* item = &all->equipment->items.at[i];
      if (at_hand[i] && !all->usable[i] && needs_are_met(all, item))
        all->usable[i] = all->served[i] = changed = true;
      for (size_t k = 0; all->served[i] && k < item->stands_in_for.count; k++) {
        changed = changed || !is_set(all, all->served, item->stands_in_for.at[k]);
        set(all, all->served, item->stands_in_for.at[k]);
      }
    }
  }
}

bool kit_can_set_up(const kit* all, const why_exercise* exercise) {
  for (size_t i = 0; i < exercise->needs.count; i++) {
    bool whole = true;
    for (size_t k = 0; k < exercise->needs.at[i].items.count; k++)
      whole = whole && is_set(all, all->served, exercise->needs.at[i].items.at[k]);
    if (whole)
      return true;
  }
  return false;
}
