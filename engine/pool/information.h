// SPDX-License-Identifier: GPL-3.0-or-later
/// How many people a trial needs to show a difference.
#ifndef WHY_POOL_INFORMATION_H
#define WHY_POOL_INFORMATION_H

/// What a trial is planned with.
typedef struct {
  double alpha;      ///< Chance of a difference where there is none, two-sided.
  double power;      ///< Chance to show the difference.
  double difference; ///< Above 0, in the unit of `spread`.
  double spread;     ///< Standard deviation of the changes of people.
} why_trial_plan;

/// People in each of two groups, whole and rounded up: 2 (z(1 - alpha/2) + z(power))^2 spread^2 /
/// difference^2, the optimal information size of "GRADE guidelines: 6. Rating the quality of
/// evidence - imprecision", Journal of Clinical Epidemiology 2011, 10.1016/j.jclinepi.2011.01.012.
double why_people_in_group(const why_trial_plan* plan);

/// People who train each of two limbs in its own way, when the changes of both are correlated by
/// `correlation`: the variance of their difference is 2 spread^2 (1 - correlation).
double why_people_within(const why_trial_plan* plan, double correlation);

#endif
