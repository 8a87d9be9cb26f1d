// SPDX-License-Identifier: GPL-3.0-or-later
// Conversions into standard deviations.
#include "deviation.h"

#include "distribution.h"

#include <math.h>

/// A spread must be above 0 and finite.
static double spread(double sd) {
  return isfinite(sd) && sd > 0 ? sd : NAN;
}

double why_sd_from_error(double error, double n) {
  return spread(error * sqrt(n));
}

double why_sd_from_interval(double low, double high, double n) {
  return n > 1 ? spread(sqrt(n) * (high - low) / (2 * why_t_quantile(0.975, n - 1))) : NAN;
}

double why_sd_from_interval_large(double low, double high, double n) {
  return spread(sqrt(n) * (high - low) / (2 * why_normal_quantile(0.975)));
}

double why_sd_from_t(double change, double t, double n) {
  return spread(fabs(change) * sqrt(n) / fabs(t));
}

double why_sd_from_p(double change, double p, double n) {
  if (!(p > 0 && p < 1 && n > 1))
    return NAN;
  return why_sd_from_t(change, why_t_quantile(1 - p / 2, n - 1), n);
}

double why_sd_from_t_between(double difference, double t, double n1, double n2) {
  return spread(fabs(difference / t) / sqrt(1 / n1 + 1 / n2));
}

double why_sd_from_quartiles(double first, double third) {
  return spread((third - first) / 1.35);
}

double why_sd_of_change(double before, double after, double correlation) {
  return spread(sqrt(before * before + after * after - 2 * correlation * before * after));
}

double why_correlation_from_sds(double before, double after, double of_change) {
  double r = (before * before + after * after - of_change * of_change) / (2 * before * after);
  return fabs(r) < 1 ? r : NAN;
}

why_sample why_sample_join(const why_sample* a, const why_sample* b) {
  double n = a->n + b->n;
  double apart = a->mean - b->mean;
  double squares =
      (a->n - 1) * a->sd * a->sd + (b->n - 1) * b->sd * b->sd + a->n * b->n / n * apart * apart;
  return (why_sample){(a->n * a->mean + b->n * b->mean) / n, sqrt(squares / (n - 1)), n};
}

why_effect_size why_effect_within_people(const why_sample* a, const why_sample* b,
                                         double correlation) {
  double d = (a->mean - b->mean) / sqrt((a->sd * a->sd + b->sd * b->sd) / 2);
  return (why_effect_size){d, (1 / a->n + d * d / (2 * a->n)) * 2 * (1 - correlation)};
}
