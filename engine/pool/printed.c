// SPDX-License-Identifier: GPL-3.0-or-later
// Papers print growth in many ways: means before and after, a mean change, per cent; and its spread
// in more. Everything becomes a log ratio with the SD of its changes.
#include "printed.h"

#include "deviation.h"

#include <math.h>

/// What is known so far. Sizes are in the unit of the result.
typedef struct {
  const why_result* result;
  double people;
  double before; ///< Mean size; NAN: not known.
  double after;
  double sd_before;
  double sd_after;
  why_printed made;
} finder;

static bool known(double value) {
  return isfinite(value) && value > 0;
}

static double sd_of(const why_reading* reading, double people) {
  return isfinite(reading->sd) ? reading->sd : why_sd_from_error(reading->se, people);
}

static finder begin(const why_result* result, double people) {
  finder f = {.result = result,
              .people = people,
              .before = result->pre.mean,
              .after = result->post.mean,
              .sd_before = sd_of(&result->pre, people),
              .sd_after = sd_of(&result->post, people),
              .made = {.log_growth = NAN, .change_sd = NAN, .correlation = NAN}};
  if (isnan(f.after))
    f.after = f.before + result->change;
  if (isnan(f.before))
    f.before = f.after - result->change;
  return f;
}

static bool has_means(const finder* f) {
  return known(f->before) && known(f->after);
}

static bool has_percent(const finder* f) {
  return isfinite(f->result->change_pct) && f->result->change_pct > -100;
}

/// An SD in per cent of the start, about the mean per cent, on the log scale.
static double log_sd_of_percent(const finder* f, double sd_pct) {
  return sd_pct / 100 / exp(f->made.log_growth);
}

/// By the delta method for correlated sizes; NAN when an SD is missing.
static double log_sd_of_sizes(const finder* f, double correlation) {
  why_pairs pairs = {1, f->before, f->sd_before, f->after, f->sd_after, correlation};
  return sqrt(why_effect_log_growth(&pairs).variance);
}

/// From the SD of the changes in the unit: with the SDs of the sizes the delta method, else the
/// start is taken for fixed.
static double log_sd_of_change(finder* f, double change_sd) {
  double r = why_correlation_from_sds(f->sd_before, f->sd_after, change_sd);
  double sd = log_sd_of_sizes(f, r);
  if (!known(sd))
    return change_sd / f->after;
  f->made.correlation = r;
  return sd;
}

/// Take the spread if it is one and none was taken yet.
static void take(finder* f, double sd, why_spread_from from) {
  if (known(f->made.change_sd) || !known(sd))
    return;
  f->made.change_sd = sd;
  f->made.spread_from = from;
}

static void take_printed(finder* f) {
  const why_result* result = f->result;
  if (f->made.from_percent)
    take(f, log_sd_of_percent(f, result->change_pct_sd), WHY_SPREAD_CHANGE);
  if (!has_means(f))
    return;
  if (known(result->change_sd))
    take(f, log_sd_of_change(f, result->change_sd), WHY_SPREAD_CHANGE);
  double sd = why_sd_from_interval(result->change_ci95.low, result->change_ci95.high, f->people);
  if (known(sd))
    take(f, log_sd_of_change(f, sd), WHY_SPREAD_INTERVAL);
}

/// The log growth itself over its t is near enough its standard error.
static double log_sd_from_p(const finder* f, double p) {
  return why_sd_from_p(f->made.log_growth, p, f->people);
}

static void take_from_p(finder* f) {
  if (f->made.from_percent)
    take(f, log_sd_of_percent(f, f->result->change_pct_sd_from_p), WHY_SPREAD_P);
  take(f, log_sd_from_p(f, f->result->p.exact), WHY_SPREAD_P);
}

/// A bound of p bounds an imputed spread: significant growth cannot be that noisy, growth that is
/// not significant cannot be that clear.
static void keep_within_p(finder* f) {
  double most = log_sd_from_p(f, f->result->p.below);
  double least = log_sd_from_p(f, f->result->p.above);
  double printed = log_sd_of_percent(f, f->result->change_pct_sd_at_most);
  if (known(printed))
    most = known(most) ? fmin(most, printed) : printed;
  double sd = f->made.change_sd;
  if (known(most))
    sd = fmin(sd, most);
  if (known(least))
    sd = fmax(sd, least);
  f->made.spread_bounded = sd != f->made.change_sd;
  f->made.change_sd = sd;
}

static void take_imputed(finder* f, const why_usual* usual) {
  if (known(f->made.change_sd))
    return;
  if (has_means(f))
    take(f, log_sd_of_sizes(f, usual->correlation), WHY_SPREAD_CORRELATION);
  if (known(f->made.change_sd))
    f->made.correlation = usual->correlation;
  take(f, usual->spread / exp(f->made.log_growth), WHY_SPREAD_METHOD);
  keep_within_p(f);
}

why_printed why_printed_growth(const why_result* result, double people, const why_usual* usual) {
  finder f = begin(result, people);
  bool spread_in_percent = has_percent(&f) && known(result->change_pct_sd);
  if (has_means(&f) && !spread_in_percent)
    f.made.log_growth = log(f.after / f.before);
  else if (has_percent(&f))
    f.made.log_growth = log1p(result->change_pct / 100);
  f.made.from_percent = isfinite(f.made.log_growth) && !(has_means(&f) && !spread_in_percent);
  if (isnan(f.made.log_growth))
    return f.made;
  take_printed(&f);
  take_from_p(&f);
  take_imputed(&f, usual);
  return f.made;
}
