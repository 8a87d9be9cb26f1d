// SPDX-License-Identifier: GPL-3.0-or-later
/// Where the bytes of a text that was made from a table come from.
#ifndef WHY_READ_ORIGIN_H
#define WHY_READ_ORIGIN_H

#include "base/base.h"

/// From `offset` up to the next one, the text was made from what stands at `place`.
typedef struct {
  size_t offset;
  why_place place;
} why_cell_origin;

typedef WHY_LIST(why_cell_origin) why_cell_origins;

#endif
