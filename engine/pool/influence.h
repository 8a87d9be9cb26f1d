// SPDX-License-Identifier: GPL-3.0-or-later
/// What leaving each study out does to a pooled mean. Source: "Outlier and influence diagnostics
/// for meta-analysis", Research Synthesis Methods, 2010, DOI 10.1002/jrsm.11.
#ifndef WHY_POOL_INFLUENCE_H
#define WHY_POOL_INFLUENCE_H

#include "meta.h"

typedef struct {
  why_meta without;   ///< All others.
  double studentised; ///< How far the study lies from where the others expect it, in SDs of that.
  double shift;       ///< What it does to the mean, in standard errors.
  double cook;        ///< Squared distance that the mean moves, over its variance.
  double leverage;    ///< Share of the mean that it carries, 0 to 1.
} why_influence;

/// Pool all but effect `i` of `whole` (which may have moderators), the same way. WHY_QUESTION when
/// the rest cannot be pooled.
why_status why_influence_of(const why_meta* whole, size_t i, why_arena* arena,
                            why_influence* influence);

#endif
