// SPDX-License-Identifier: GPL-3.0-or-later
/// What a trial's words for method and muscle mean: evidence/studies/muscles.xml as rows.
#ifndef WHY_READ_MEASURED_MUSCLES_H
#define WHY_READ_MEASURED_MUSCLES_H

#include "base/base.h"

/// A way of measuring.
typedef struct {
  why_symbol name; ///< As results write it.
  why_place place;
  why_symbol image;    ///< ultrasound, mri, ct, none, unknown.
  why_symbol quantity; ///< thickness, area, volume, unknown.
  const char* note;    ///< "" when absent, as all strings here.
} why_method;

/// The heads that count instead when a method sees only part of a muscle.
typedef struct {
  why_symbol method;
  why_place place;
  why_symbol_list heads;
  const char* note;
} why_by_method;

/// A muscle as trials name it. The heads are in no special order; the weight of each is its share
/// of the volume of those listed.
typedef struct {
  why_symbol name;
  why_place place;
  why_symbol kind;       ///< head, part, group, compartment, whole-limb, no-muscle.
  why_symbol group;      ///< The group that the value answers for; 0: none.
  why_symbol_list heads; ///< Empty when the name maps to no head.
  const char* unmapped;  ///< What of it is no head, or why none is.
  const char* note;
  WHY_LIST(why_by_method) by_method;
} why_measured;

typedef struct {
  WHY_LIST(why_method) methods;
  WHY_LIST(why_measured) muscles;
} why_measured_table;

/// NULL when there is none of that name.
const why_method* why_method_find(const why_measured_table* table, why_symbol name);
const why_measured* why_measured_find(const why_measured_table* table, why_symbol name);

/// The heads that `method` (0: not known) sees under `name`; empty for a name that is not listed.
why_symbol_list why_measured_heads(const why_measured_table* table, why_symbol name,
                                   why_symbol method);

#endif
