// SPDX-License-Identifier: GPL-3.0-or-later
/// What hangs on the correlation of sizes before and after training, which few trials print: the
/// growth model refitted with another one.
#ifndef WHY_POOL_SENSITIVITY_H
#define WHY_POOL_SENSITIVITY_H

#include "outlook.h"

/// Of estimates for trained people, head by head.
typedef struct {
  double correlation; ///< Instead of the usual one.
  size_t heads;       ///< With two exercises or more.
  size_t first_moved; ///< Whose first exercise is another one than usual.
  double places;      ///< By how many places the usual first five of a head move, mean.
  double largest;     ///< Greatest change of an estimate, percentage points.
} why_sensitivity;

/// Refit with `correlation` and compare with the usual outlook. As why_growth_fit.
why_status why_sensitivity_of(const why_tables* tables, const why_outlook* usual,
                              double correlation, why_arena* arena, why_sensitivity* found);

#endif
