// SPDX-License-Identifier: GPL-3.0-or-later
/// How much effects differ beyond chance: Q, I², H², and intervals for τ² and I² from the profile
/// of Q. Sources: "Quantifying heterogeneity in a meta-analysis", Statistics in Medicine, 2002, DOI
/// 10.1002/sim.1186, equations 9 to 12; "Confidence intervals for the amount of heterogeneity in
/// meta-analysis", Statistics in Medicine, 2007, DOI 10.1002/sim.2514, section 3.1.
#ifndef WHY_POOL_SPREAD_H
#define WHY_POOL_SPREAD_H

#include "tau.h"

typedef struct {
  double q;       ///< Σ residual² / variance with τ² = 0.
  double df;      ///< Of Q.
  double p;       ///< Chance of a Q as large without differences; 1 when df is 0.
  double typical; ///< A typical sampling variance; NAN when df is 0.
  double i2_pct;  ///< Share of the differences that is not chance, from τ².
  double h2;      ///< Whole over chance alone, from τ².
} why_spread;

/// Of effects whose variance between studies was estimated as `tau2`; by Q itself when the method
/// was WHY_TAU_FIXED. `regression` is refitted and left at tau2.
why_spread why_spread_of(why_regression* regression, why_tau_method method, double tau2);

/// I² in per cent that goes with a τ².
double why_spread_i2_pct(const why_spread* spread, double tau2);

/// The τ² at which Q has just the chance `p` of being smaller; 0 where it is below 0, NAN when df
/// is 0 or `share` was not reached in `most` steps (see why_tau_settle). With p = 0.975 and 0.025
/// these are the ends of a 95 % interval. `regression` is left at what is returned.
double why_spread_tau2_at(why_regression* regression, double p, double share, size_t most);

#endif
