// SPDX-License-Identifier: GPL-3.0-or-later
/// Pools one set of trials: its samples, their mean, and what each does to it.
#ifndef WHY_PICK_TRIAL_SET_H
#define WHY_PICK_TRIAL_SET_H

#include "trials.h"

/// What all sets of an answer share.
typedef struct {
  const why_ground* ground;
  why_arena* arena;
  const why_findings* findings;
  const why_findings* tried; ///< Two collections with other correlations, rows as in `findings`.
} why_trial_pool;

/// Pool `set->members`. Returns as why_meta_pool does.
why_status why_trial_set_pool(const why_trial_pool* pool, why_trial_set* set);

#endif
