// SPDX-License-Identifier: GPL-3.0-or-later
// Heterogeneity.
#include "spread.h"

#include "distribution.h"

#include <math.h>

double why_spread_i2_pct(const why_spread* spread, double tau2) {
  return spread->df < 1 ? 0 : 100 * tau2 / (tau2 + spread->typical);
}

why_spread why_spread_of(why_regression* regression, why_tau_method method, double tau2) {
  why_spread spread = {.df = why_regression_df(regression), .p = 1, .typical = NAN, .h2 = 1};
  why_regression_fit(regression, 0);
  spread.q = regression->q;
  if (spread.df >= 1) {
    spread.p = why_chi2_tail(spread.q, spread.df);
    spread.typical = spread.df / why_regression_trace(regression);
    spread.i2_pct = why_spread_i2_pct(&spread, tau2);
    spread.h2 = 1 + tau2 / spread.typical;
  }
  if (method == WHY_TAU_FIXED && spread.df >= 1) {
    spread.h2 = spread.q / spread.df;
    spread.i2_pct = spread.q > spread.df ? 100 * (1 - spread.df / spread.q) : 0;
  }
  why_regression_fit(regression, tau2);
  return spread;
}

double why_spread_tau2_at(why_regression* regression, double p, double share, size_t most) {
  why_tau tau;
  double df = why_regression_df(regression);
  if (df < 1)
    return NAN;
  why_tau_set_target(&tau, why_chi2_quantile(p, df), regression);
  return why_tau_settle(&tau, share, most) ? tau.tau2 : NAN;
}
