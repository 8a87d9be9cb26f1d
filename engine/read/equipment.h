// SPDX-License-Identifier: GPL-3.0-or-later
/// The rows of rules/equipment.xml; rules/schema/equipment.rng explains what they mean.
#ifndef WHY_READ_EQUIPMENT_H
#define WHY_READ_EQUIPMENT_H

#include "word.h"

typedef struct {
  why_symbol id;
  const char* name;
  const char* note;
  why_word_list words;
  why_place place;
} why_equipment_kind;

typedef struct {
  why_symbol id;
  const char* name;
  const char* note;
  why_symbol kind; ///< Id of its kind.
  why_symbol_list stands_in_for;
  why_symbol_list needs_one_of; ///< Empty: needs nothing.
  why_symbol_list brings;
  why_word_list words;
  why_place place;
} why_equipment_item;

/// A named set of items.
typedef struct {
  why_symbol id;
  const char* name;
  why_symbol basis;
  why_symbol bare; ///< What it is once the equipment there is told one by one; 0: the same.
  why_symbol_list has;
  why_word_list words;
  why_place place;
} why_equipment_place;

typedef struct {
  WHY_LIST(why_equipment_kind) kinds;
  WHY_LIST(why_equipment_item) items;
  WHY_LIST(why_equipment_place) places;
} why_equipment;

/// The row of that id, or NULL.
const why_equipment_item* why_equipment_item_find(const why_equipment* equipment, why_symbol id);
const why_equipment_kind* why_equipment_kind_find(const why_equipment* equipment, why_symbol id);
const why_equipment_place* why_equipment_place_find(const why_equipment* equipment, why_symbol id);

#endif
