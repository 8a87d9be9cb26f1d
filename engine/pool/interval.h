// SPDX-License-Identifier: GPL-3.0-or-later
/// Confidence and prediction intervals of pooled effects.
#ifndef WHY_POOL_INTERVAL_H
#define WHY_POOL_INTERVAL_H

#include "regress.h"

/// How an estimate is tested. Hartung–Knapp scales the variance by how far the effects really lie
/// apart and uses t: "A refined method for the meta-analysis of controlled clinical trials with
/// binary outcome", Statistics in Medicine, 2001, DOI 10.1002/sim.1009. Where effects agree by
/// chance it can come out narrower than the usual interval, which few would defend; the guarded
/// form never scales down ("The Hartung-Knapp-Sidik-Jonkman method for random effects meta-analysis
/// is straightforward and considerably outperforms the standard DerSimonian-Laird method", BMC
/// Medical Research Methodology, 2014, DOI 10.1186/1471-2288-14-25, discusses both).
typedef enum {
  WHY_TEST_NORMAL,
  WHY_TEST_HARTUNG_KNAPP,
  WHY_TEST_HARTUNG_KNAPP_GUARDED,
} why_test;

/// An estimate in the effects' unit.
typedef struct {
  double estimate;
  double error; ///< Standard error.
  double df;    ///< Of t; infinite for the normal distribution.
  double low;   ///< 95 %.
  double high;
  double p; ///< That the true value is 0, two-sided.
} why_interval;

/// The interval of an estimate by its standard error and t of `df`.
why_interval why_interval_around(double estimate, double error, double df);

/// Σ weight · residual² over the degrees of freedom, by which Hartung–Knapp multiplies variances; 1
/// when there are none.
double why_interval_factor(const why_regression* regression, why_test test);

/// Interval of the coefficient `column`. Without degrees of freedom it is the normal one.
why_interval why_interval_coefficient(const why_regression* regression, size_t column,
                                      why_test test);

/// Interval of what moderators at `at` predict for the mean.
why_interval why_interval_predict(const why_regression* regression, const double* at,
                                  why_test test);

/// Make of an interval for the mean one for the true effect in a new study, wider by tau2, with t
/// of `df`. For a plain mean of k effects df = k − 2 is usual: "A re-evaluation of random-effects
/// meta-analysis", Journal of the Royal Statistical Society A, 2009, DOI
/// 10.1111/j.1467-985X.2008.00552.x, equation 12. Both ends are NAN when df is below 1.
why_interval why_interval_new_study(const why_interval* mean, double tau2, double df);

/// F or χ² over its df that the coefficients from `from` on are all 0, and its p.
double why_interval_test(const why_regression* regression, size_t from, why_test test, double* p);

#endif
