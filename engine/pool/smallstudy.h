// SPDX-License-Identifier: GPL-3.0-or-later
/// Do small studies find more? Regression of the effects on their standard errors: a slope may come
/// from studies that nobody published, and from much else. Sources: "Bias in meta-analysis detected
/// by a simple, graphical test", BMJ, 1997, DOI 10.1136/bmj.315.7109.629 (weighted form);
/// "Investigating and dealing with publication and other biases in meta-analysis", BMJ, 2001, DOI
/// 10.1136/bmj.323.7304.101. With fewer than ten studies no test has power; that limit is a
/// quantity of the evidence and the caller's to keep.
#ifndef WHY_POOL_SMALLSTUDY_H
#define WHY_POOL_SMALLSTUDY_H

#include "meta.h"

typedef struct {
  why_interval slope; ///< Change of the effect per unit of standard error.
  why_interval limit; ///< The effect of a study without sampling error.
  double statistic;   ///< slope over its error: z, or t with slope.df.
} why_small_study;

/// The classic test: weights 1/variance, scale of the residuals estimated, t with k − 2.
why_status why_small_study_weighted(const why_effects* effects, why_arena* arena,
                                    why_small_study* test);

/// Meta-regression with variance between studies left over, as `how` says.
why_status why_small_study_mixed(const why_effects* effects, const why_pooling* how,
                                 why_arena* arena, why_small_study* test);

#endif
