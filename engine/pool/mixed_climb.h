// SPDX-License-Identifier: GPL-3.0-or-later
/// Climbing to the components of greatest likelihood. Private to pool.
#ifndef WHY_POOL_MIXED_CLIMB_H
#define WHY_POOL_MIXED_CLIMB_H

#include "mixed_system.h"

typedef struct {
  why_mixed_point* point; ///< Settled.
  double* score;
  double* se;
  why_mixed_state* state;
  size_t steps;
  bool settled;
} why_mixed_climb;

/// Average-information steps from `start`, projected to where variances are not negative and
/// correlations within -1 and 1, and shortened until the likelihood rises; where such a step fails,
/// a step of expectation and maximisation, which cannot fail. Ends where a step promises less than
/// `gain`. False when the start is not allowed.
bool why_mixed_climb_from(const why_mixed_system* system, const double* start, double gain,
                          why_arena* arena, why_mixed_climb* climb);

#endif
