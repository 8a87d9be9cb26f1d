// SPDX-License-Identifier: GPL-3.0-or-later
// The normal approximation, as GRADE's guidance gives it.
#include "information.h"

#include "distribution.h"

#include <math.h>

static double exact(const why_trial_plan* plan) {
  double z = why_normal_quantile(1 - plan->alpha / 2) + why_normal_quantile(plan->power);
  double standardised = plan->difference / plan->spread;
  return 2 * z * z / (standardised * standardised);
}

double why_people_in_group(const why_trial_plan* plan) {
  return ceil(exact(plan));
}

double why_people_within(const why_trial_plan* plan, double correlation) {
  return ceil(exact(plan) * (1 - correlation));
}
