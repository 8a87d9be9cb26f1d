// SPDX-License-Identifier: GPL-3.0-or-later
/// Standard deviations that a paper does not print, from what it does print, and the correlation
/// between two measurements. Formulas: Cochrane Handbook for Systematic Reviews of Interventions,
/// version 6, sections 6.5.2 and 6.5.2.8; for two conditions in one person version 5.1, 16.4.6.
/// All results are NAN when the inputs allow none.
#ifndef WHY_POOL_DEVIATION_H
#define WHY_POOL_DEVIATION_H

#include "effect.h"

/// From the standard error of the mean of n people.
double why_sd_from_error(double error, double n);

/// From a 95 % interval of a mean: by t with n − 1 degrees of freedom, or by the normal
/// distribution for large samples (n of 60 or more in each group is the handbook's advice).
double why_sd_from_interval(double low, double high, double n);
double why_sd_from_interval_large(double low, double high, double n);

/// Of changes, from t or an exact two-sided p of the mean change. From a bound of p comes a bound
/// only: p at or below it, the SD is at most this; at or above it, at least this.
double why_sd_from_t(double change, double t, double n);
double why_sd_from_p(double change, double p, double n);

/// Within groups, from t of the difference of two means.
double why_sd_from_t_between(double difference, double t, double n1, double n2);

/// Between people, from the quartiles of a large and roughly normal sample.
double why_sd_from_quartiles(double first, double third);

/// Of changes, from the SDs before and after and their correlation; and the correlation back.
double why_sd_of_change(double before, double after, double correlation);
double why_correlation_from_sds(double before, double after, double of_change);

/// Two groups as one.
why_sample why_sample_join(const why_sample* a, const why_sample* b);

/// The standardised difference (not corrected) of two conditions in the same n people.
why_effect_size why_effect_within_people(const why_sample* a, const why_sample* b,
                                         double correlation);

#endif
