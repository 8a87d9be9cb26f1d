// SPDX-License-Identifier: GPL-3.0-or-later
/// Rows of a relation, read slot by slot by the names that the rules give them. A relation or slot
/// that the rules do not declare reads as empty: a teacher may leave it out.
#ifndef WHY_PICK_ROWS_H
#define WHY_PICK_ROWS_H

#include "ground.h"

typedef struct {
  const why_program* program;
  why_overlay* overlay;
  why_relation relation;
  why_facts facts;
} why_rows;

/// All rows of the relation called `name`, in its order; then those about one symbol.
why_rows why_rows_find(const why_program* program, why_overlay* overlay, const char* name);
why_rows why_rows_about(const why_program* program, why_overlay* overlay, const char* name,
                        const char* slot, why_symbol symbol);

/// Slot `slot` of row `index`: 0 when there is no such slot.
why_symbol why_rows_symbol(const why_rows* rows, size_t index, const char* slot);
double why_rows_number(const why_rows* rows, size_t index, const char* slot);

/// A `setting` of the rules; `otherwise` when there is none of that name.
double why_rows_setting(const why_program* program, why_overlay* overlay,
                        const why_symbols* symbols, const char* name, double otherwise);

#endif
