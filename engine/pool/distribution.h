// SPDX-License-Identifier: GPL-3.0-or-later
/// Quantiles and tails of the distributions that pooling needs, computed by GSL.
#ifndef WHY_POOL_DISTRIBUTION_H
#define WHY_POOL_DISTRIBUTION_H

/// The value below which a share `p` (0 to 1) of the distribution lies. `df` degrees of freedom,
/// above 0 and not necessarily whole. An infinite df of t means the normal distribution.
double why_normal_quantile(double p);
double why_t_quantile(double p, double df);
double why_chi2_quantile(double p, double df);

/// Chance of a value at least as far from 0, on either side.
double why_normal_two_sided(double z);
double why_t_two_sided(double t, double df);

/// Chance of a value at least as large.
double why_chi2_tail(double x, double df);
double why_f_tail(double f, double df1, double df2);

#endif
