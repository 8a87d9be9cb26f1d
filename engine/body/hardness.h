// SPDX-License-Identifier: GPL-3.0-or-later
/// Where in its range an exercise is hardest: the resistance curve of what it moves.
#ifndef WHY_BODY_HARDNESS_H
#define WHY_BODY_HARDNESS_H

#include "effort.h"

enum { WHY_HARDNESS_PARTS = 3 }; ///< Stretched, middle, shortened third of the range.

/// Mean moment that muscles must give along all moves of an exercise together, in each third of its
/// range, as a share of the third that asks for most (which is 1).
typedef struct {
  double part[WHY_HARDNESS_PARTS];
} why_hardness;

/// The curve near the failure of a set, working side. False where nothing asks for a moment in the
/// sense of any move: `hardness` then holds zeros. `effort` is the sharer's own.
bool why_hardness_find(why_sharer* sharer, const why_effort* effort, why_hardness* hardness);

#endif
