// SPDX-License-Identifier: GPL-3.0-or-later
// One door to GSL's distributions, so that the sense of each tail is settled once.
#include "distribution.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

double why_normal_quantile(double p) {
  return gsl_cdf_ugaussian_Pinv(p);
}

double why_t_quantile(double p, double df) {
  return isinf(df) ? gsl_cdf_ugaussian_Pinv(p) : gsl_cdf_tdist_Pinv(p, df);
}

double why_chi2_quantile(double p, double df) {
  return gsl_cdf_chisq_Pinv(p, df);
}

double why_normal_two_sided(double z) {
  return 2 * gsl_cdf_ugaussian_Q(fabs(z));
}

double why_t_two_sided(double t, double df) {
  return isinf(df) ? why_normal_two_sided(t) : 2 * gsl_cdf_tdist_Q(fabs(t), df);
}

double why_chi2_tail(double x, double df) {
  return gsl_cdf_chisq_Q(x, df);
}

double why_f_tail(double f, double df1, double df2) {
  return gsl_cdf_fdist_Q(f, df1, df2);
}
