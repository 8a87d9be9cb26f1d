// SPDX-License-Identifier: GPL-3.0-or-later
// Effect sizes with sampling variances, one function each.
#include "effect.h"

#include <gsl/gsl_sf_gamma.h>
#include <math.h>

static double square(double x) {
  return x * x;
}

double why_small_sample(double df) {
  return exp(gsl_sf_lngamma(df / 2) - gsl_sf_lngamma((df - 1) / 2)) / sqrt(df / 2);
}

double why_pooled_sd(const why_sample* a, const why_sample* b) {
  return sqrt(((a->n - 1) * square(a->sd) + (b->n - 1) * square(b->sd)) / (a->n + b->n - 2));
}

why_effect_size why_effect_mean(const why_sample* group) {
  return (why_effect_size){group->mean, square(group->sd) / group->n};
}

/// Squared standard error of a mean relative to it: the variance of its logarithm.
static double relative(const why_sample* group) {
  return square(group->sd / group->mean) / group->n;
}

why_effect_size why_effect_log_mean(const why_sample* group) {
  return (why_effect_size){log(group->mean), relative(group)};
}

why_effect_size why_effect_difference(const why_sample* a, const why_sample* b) {
  return (why_effect_size){a->mean - b->mean, square(a->sd) / a->n + square(b->sd) / b->n};
}

why_effect_size why_effect_difference_alike(const why_sample* a, const why_sample* b) {
  return (why_effect_size){a->mean - b->mean, square(why_pooled_sd(a, b)) * (1 / a->n + 1 / b->n)};
}

/// Sampling variance of a difference of means in units of the SD, before its own share.
static double of_sizes(const why_sample* a, const why_sample* b) {
  return 1 / a->n + 1 / b->n;
}

why_effect_size why_effect_standardised_raw(const why_sample* a, const why_sample* b) {
  double d = (a->mean - b->mean) / why_pooled_sd(a, b);
  return (why_effect_size){d, of_sizes(a, b) + square(d) / (2 * (a->n + b->n))};
}

why_effect_size why_effect_standardised(const why_sample* a, const why_sample* b,
                                        why_smd_variance how) {
  double df = a->n + b->n - 2;
  double correction = why_small_sample(df);
  why_effect_size raw = why_effect_standardised_raw(a, b);
  double g = correction * raw.value;
  switch (how) {
  case WHY_CORRECTED_AFTER:
    return (why_effect_size){g, square(correction) * raw.variance};
  case WHY_UNBIASED:
    return (why_effect_size){g, of_sizes(a, b) +
                                    (1 - (df - 2) / (df * square(correction))) * square(g)};
  default:
    return (why_effect_size){g, of_sizes(a, b) + square(g) / (2 * (a->n + b->n))};
  }
}

why_effect_size why_effect_standardised_by_b(const why_sample* a, const why_sample* b) {
  double g = why_small_sample(b->n - 1) * (a->mean - b->mean) / b->sd;
  return (why_effect_size){g, of_sizes(a, b) + square(g) / (2 * b->n)};
}

why_effect_size why_effect_standardised_unlike(const why_sample* a, const why_sample* b) {
  double mean_variance = (square(a->sd) + square(b->sd)) / 2;
  double correction = why_small_sample(a->n + b->n - 2);
  double g = correction * (a->mean - b->mean) / sqrt(mean_variance);
  double of_sds = square(square(a->sd)) / (a->n - 1) + square(square(b->sd)) / (b->n - 1);
  double of_means = square(a->sd) / (a->n - 1) + square(b->sd) / (b->n - 1);
  return (why_effect_size){
      g, square(correction) *
             (square(g) * of_sds / (8 * square(mean_variance)) + of_means / mean_variance)};
}

why_effect_size why_effect_log_ratio(const why_sample* a, const why_sample* b) {
  return (why_effect_size){log(a->mean / b->mean), relative(a) + relative(b)};
}

why_effect_size why_effect_log_sd_ratio(const why_sample* a, const why_sample* b) {
  double in_a = 1 / (2 * (a->n - 1));
  double in_b = 1 / (2 * (b->n - 1));
  return (why_effect_size){log(a->sd / b->sd) + in_a - in_b, in_a + in_b};
}

why_effect_size why_effect_log_variation_ratio(const why_sample* a, const why_sample* b) {
  why_effect_size sds = why_effect_log_sd_ratio(a, b);
  why_effect_size means = why_effect_log_ratio(a, b);
  return (why_effect_size){sds.value - means.value, sds.variance + means.variance};
}

static double change_of(const why_pairs* pairs) {
  return pairs->mean_after - pairs->mean_before;
}

static double change_variance(const why_pairs* pairs) {
  return square(pairs->sd_before) + square(pairs->sd_after) -
         2 * pairs->correlation * pairs->sd_before * pairs->sd_after;
}

why_effect_size why_effect_change(const why_pairs* pairs) {
  return (why_effect_size){change_of(pairs), change_variance(pairs) / pairs->n};
}

why_effect_size why_effect_log_growth(const why_pairs* pairs) {
  double before = pairs->sd_before / pairs->mean_before;
  double after = pairs->sd_after / pairs->mean_after;
  double spread = square(before) + square(after) - 2 * pairs->correlation * before * after;
  return (why_effect_size){log(pairs->mean_after / pairs->mean_before), spread / pairs->n};
}

why_effect_size why_effect_percent(const why_pairs* pairs) {
  double ratio = pairs->mean_after / pairs->mean_before;
  return (why_effect_size){100 * (ratio - 1),
                           square(100 * ratio) * why_effect_log_growth(pairs).variance};
}

why_effect_size why_effect_standardised_change(const why_pairs* pairs) {
  double g = why_small_sample(pairs->n - 1) * change_of(pairs) / sqrt(change_variance(pairs));
  return (why_effect_size){g, 1 / pairs->n + square(g) / (2 * pairs->n)};
}

why_effect_size why_effect_change_by_before(const why_pairs* pairs) {
  double g = why_small_sample(pairs->n - 1) * change_of(pairs) / pairs->sd_before;
  return (why_effect_size){g, 2 * (1 - pairs->correlation) / pairs->n + square(g) / (2 * pairs->n)};
}

why_effect_size why_effect_change_by_after_unlike(const why_pairs* pairs) {
  double correction = why_small_sample(pairs->n - 1);
  double g = correction * change_of(pairs) / pairs->sd_after;
  double df = pairs->n - 1;
  return (why_effect_size){
      g, square(correction) *
             (change_variance(pairs) / (square(pairs->sd_after) * df) + square(g) / (2 * df))};
}

why_effect_size why_effect_controlled_change(const why_pairs* a, const why_pairs* b) {
  why_sample before_a = {a->mean_before, a->sd_before, a->n};
  why_sample before_b = {b->mean_before, b->sd_before, b->n};
  double df = a->n + b->n - 2;
  double correction = why_small_sample(df);
  double g = correction * (change_of(a) - change_of(b)) / why_pooled_sd(&before_a, &before_b);
  double unit = 2 * (1 - a->correlation) * (1 / a->n + 1 / b->n);
  double variance = square(correction) * unit * df / (df - 2) * (1 + square(g) / unit) - square(g);
  return (why_effect_size){g, variance};
}

why_effect_size why_effect_fisher_z(double correlation, double n) {
  return (why_effect_size){atanh(correlation), 1 / (n - 3)};
}

why_effect_size why_effect_log_risk_ratio(double a, double b, double c, double d) {
  return (why_effect_size){log(a / (a + b) / (c / (c + d))),
                           1 / a - 1 / (a + b) + 1 / c - 1 / (c + d)};
}

why_effect_size why_effect_log_odds_ratio(double a, double b, double c, double d) {
  return (why_effect_size){log(a * d / (b * c)), 1 / a + 1 / b + 1 / c + 1 / d};
}
