// SPDX-License-Identifier: GPL-3.0-or-later
// Covariances of dependent effects.
#include "covariance.h"

#include <math.h>

double why_covariance_same_people(double variance_a, double variance_b, double correlation) {
  return correlation * sqrt(variance_a * variance_b);
}

double why_covariance_shared_group(double variance_a, double variance_b, double n_a, double n_b,
                                   double n_shared) {
  double shared = 1 / n_shared;
  double correlation = shared / sqrt((1 / n_a + shared) * (1 / n_b + shared));
  return why_covariance_same_people(variance_a, variance_b, correlation);
}
