// SPDX-License-Identifier: GPL-3.0-or-later
/// Covariance of the sampling errors of two effects that rest on some of the same people.
#ifndef WHY_POOL_COVARIANCE_H
#define WHY_POOL_COVARIANCE_H

/// Of two effects in the same people, whose measurements correlate.
double why_covariance_same_people(double variance_a, double variance_b, double correlation);

/// Of two contrasts against one comparison group: arms of n_a and n_b people, each against the same
/// n_shared. Source: "Stochastically dependent effect sizes" (The Handbook of Research Synthesis
/// and Meta-Analysis, 2nd edition, 2009), for groups of one variance.
double why_covariance_shared_group(double variance_a, double variance_b, double n_a, double n_b,
                                   double n_shared);

#endif
