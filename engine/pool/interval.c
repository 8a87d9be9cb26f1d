// SPDX-License-Identifier: GPL-3.0-or-later
// Intervals and tests.
#include "interval.h"

#include "distribution.h"

#include <math.h>

static bool uses_t(const why_regression* regression, why_test test) {
  return test != WHY_TEST_NORMAL && why_regression_df(regression) >= 1;
}

double why_interval_factor(const why_regression* regression, why_test test) {
  if (!uses_t(regression, test))
    return 1;
  double factor = regression->q / why_regression_df(regression);
  return test == WHY_TEST_HARTUNG_KNAPP_GUARDED ? fmax(1, factor) : factor;
}

why_interval why_interval_around(double estimate, double error, double df) {
  double reach = why_t_quantile(0.975, df) * error;
  return (why_interval){.estimate = estimate,
                        .error = error,
                        .df = df,
                        .low = estimate - reach,
                        .high = estimate + reach,
                        .p = why_t_two_sided(estimate / error, df)};
}

static double freedom(const why_regression* regression, why_test test) {
  return uses_t(regression, test) ? why_regression_df(regression) : INFINITY;
}

why_interval why_interval_coefficient(const why_regression* regression, size_t column,
                                      why_test test) {
  double variance = regression->covariance[column * (regression->effects->columns + 1)] *
                    why_interval_factor(regression, test);
  return why_interval_around(regression->coefficients[column], sqrt(variance),
                             freedom(regression, test));
}

why_interval why_interval_predict(const why_regression* regression, const double* at,
                                  why_test test) {
  double variance = 0;
  double value = why_regression_predict(regression, at, &variance);
  return why_interval_around(value, sqrt(variance * why_interval_factor(regression, test)),
                             freedom(regression, test));
}

why_interval why_interval_new_study(const why_interval* mean, double tau2, double df) {
  if (!(df >= 1))
    return (why_interval){mean->estimate, NAN, df, NAN, NAN, NAN};
  why_interval made =
      why_interval_around(mean->estimate, sqrt(mean->error * mean->error + tau2), df);
  made.p = NAN;
  return made;
}

double why_interval_test(const why_regression* regression, size_t from, why_test test, double* p) {
  double df = (double)(regression->effects->columns - from);
  double form = why_regression_test(regression, from) / why_interval_factor(regression, test);
  if (!uses_t(regression, test)) {
    *p = why_chi2_tail(form, df);
    return form;
  }
  *p = why_f_tail(form / df, df, why_regression_df(regression));
  return form / df;
}
