// SPDX-License-Identifier: GPL-3.0-or-later
// Estimators of the variance between studies.
#include "tau.h"

#include <math.h>

enum { TRIALS = 60 }; ///< Values of τ² tried before a search, over twelve orders of magnitude.

static double square(double x) {
  return x * x;
}

static double smallest_variance(const why_effects* effects) {
  double least = INFINITY;
  for (size_t i = 0; i < effects->count; i++)
    least = fmin(least, effects->variance[i]);
  return least;
}

static double mean_of(const double* values, size_t count) {
  double sum = 0;
  for (size_t i = 0; i < count; i++)
    sum += values[i];
  return sum / (double)count;
}

/// Mean square of the effects about their mean.
static double plain_variance(const why_effects* effects) {
  double mean = mean_of(effects->effect, effects->count);
  double sum = 0;
  for (size_t i = 0; i < effects->count; i++)
    sum += square(effects->effect[i] - mean);
  return sum / (double)effects->count;
}

static double sum_of(const double* values, size_t count) {
  return mean_of(values, count) * (double)count;
}

static double hunter_schmidt(const why_regression* regression) {
  size_t count = regression->effects->count;
  return (regression->q - (double)count) / sum_of(regression->weight, count);
}

/// Moments with equal weights: the residual sum of squares less what sampling adds to it.
static double hedges(why_regression* regression) {
  const why_effects* effects = regression->effects;
  for (size_t i = 0; i < effects->count; i++)
    regression->weight[i] = 1;
  why_regression_fit_weights(regression);
  double by_sampling = 0;
  for (size_t i = 0; i < effects->count; i++)
    by_sampling += effects->variance[i] * (1 - regression->hat[i]);
  return (regression->q - by_sampling) / why_regression_df(regression);
}

static double sidik_jonkman(why_regression* regression) {
  double first = plain_variance(regression->effects);
  why_regression_fit(regression, first);
  return first * regression->q / why_regression_df(regression);
}

static double closed_form(why_tau_method method, why_regression* regression) {
  why_regression_fit(regression, 0);
  switch (method) {
  case WHY_TAU_DERSIMONIAN_LAIRD:
    return (regression->q - why_regression_df(regression)) / why_regression_trace(regression);
  case WHY_TAU_HEDGES:
    return hedges(regression);
  case WHY_TAU_HUNTER_SCHMIDT:
    return hunter_schmidt(regression);
  case WHY_TAU_SIDIK_JONKMAN:
    return sidik_jonkman(regression);
  default:
    return 0;
  }
}

static bool is_search(why_tau_method method) {
  return method >= WHY_TAU_PAULE_MANDEL;
}

static bool is_restricted(why_tau_method method) {
  return method == WHY_TAU_REML;
}

/// Σ w² e², what every search compares with its expectation.
static double squares(const why_regression* regression) {
  double sum = 0;
  for (size_t i = 0; i < regression->effects->count; i++)
    sum += square(regression->weight[i] * regression->residual[i]);
  return sum;
}

/// What Σ w² e² is compared with: tr(P) or tr(W).
static double expected(const why_tau* tau) {
  const why_regression* regression = tau->regression;
  return is_restricted(tau->method) ? why_regression_trace(regression)
                                    : sum_of(regression->weight, regression->effects->count);
}

static void note_residual(why_tau* tau) {
  const why_regression* regression = tau->regression;
  if (tau->method == WHY_TAU_PAULE_MANDEL)
    tau->residual = regression->q / tau->target - 1;
  else
    tau->residual = squares(regression) / expected(tau) - 1;
}

/// τ² with the greatest likelihood among trial values.
static double best_trial(why_tau* tau) {
  why_regression* regression = tau->regression;
  double widest = plain_variance(regression->effects) + smallest_variance(regression->effects);
  double best = 0;
  double most = -INFINITY;
  for (int i = 0; i <= TRIALS; i++) {
    double trial = i ? widest * pow(10, 1 - 12.0 * (i - 1) / (TRIALS - 1)) : 0;
    why_regression_fit(regression, trial);
    double there = why_regression_log_likelihood(regression, is_restricted(tau->method));
    if (there > most) {
      most = there;
      best = trial;
    }
  }
  return best;
}

static void move_to(why_tau* tau, double tau2) {
  tau->step = fabs(tau2 - tau->tau2);
  tau->tau2 = tau2;
  why_regression_fit(tau->regression, tau2);
  note_residual(tau);
}

static void start(why_tau* tau) {
  tau->determined = why_regression_fit(tau->regression, 0);
  if (!tau->determined || why_regression_df(tau->regression) < 1)
    return;
  if (!is_search(tau->method)) {
    tau->tau2 = fmax(0, closed_form(tau->method, tau->regression));
    why_regression_fit(tau->regression, tau->tau2);
    return;
  }
  move_to(tau, tau->method == WHY_TAU_PAULE_MANDEL ? 0 : best_trial(tau));
  tau->step = INFINITY;
}

void why_tau_set(why_tau* tau, why_tau_method method, why_regression* regression) {
  *tau = (why_tau){.method = method, .regression = regression};
  tau->target = why_regression_df(regression);
  start(tau);
}

void why_tau_set_target(why_tau* tau, double target, why_regression* regression) {
  *tau = (why_tau){.method = WHY_TAU_PAULE_MANDEL, .target = target, .regression = regression};
  start(tau);
}

/// Newton's step for Q(τ²) = target. Q falls and is convex, so that steps from the left never pass
/// it: "Random-effects model for meta-analysis of clinical trials: an update", Contemporary
/// Clinical Trials, 2007, DOI 10.1016/j.cct.2006.04.004.
static double step_of_moments(const why_tau* tau) {
  return (tau->regression->q - tau->target) / squares(tau->regression);
}

/// Fisher's scoring step for a likelihood.
static double step_of_likelihood(const why_tau* tau) {
  const why_regression* regression = tau->regression;
  double information = 0;
  if (is_restricted(tau->method))
    information = why_regression_trace2(regression, NULL, NULL);
  else
    for (size_t i = 0; i < regression->effects->count; i++)
      information += square(regression->weight[i]);
  return (squares(regression) - expected(tau)) / information;
}

/// Take the step, halved until the likelihood does not fall.
static void climb(why_tau* tau, double step) {
  bool restricted = is_restricted(tau->method);
  double from = tau->tau2;
  double before = why_regression_log_likelihood(tau->regression, restricted);
  for (double by = 1; by > 1e-4; by /= 2) {
    move_to(tau, fmax(0, from + by * step));
    if (why_regression_log_likelihood(tau->regression, restricted) >= before - 1e-13 * fabs(before))
      break;
  }
  tau->step = fabs(tau->tau2 - from);
}

void why_tau_iterate(why_tau* tau) {
  if (!is_search(tau->method) || !tau->determined || why_regression_df(tau->regression) < 1)
    return;
  tau->steps++;
  if (tau->method == WHY_TAU_PAULE_MANDEL)
    move_to(tau, fmax(0, tau->tau2 + step_of_moments(tau)));
  else
    climb(tau, step_of_likelihood(tau));
}

bool why_tau_test(const why_tau* tau, double share) {
  return tau->step <= share * fmax(tau->tau2, smallest_variance(tau->regression->effects));
}

bool why_tau_settle(why_tau* tau, double share, size_t most) {
  while (tau->steps < most && !why_tau_test(tau, share))
    why_tau_iterate(tau);
  return why_tau_test(tau, share);
}

/// Of the moment estimators: P belongs to their own weights, not to those at τ².
static double error_of_moments(const why_tau* tau, const why_regression* own, double over) {
  double df = why_regression_df(own);
  double trace = why_regression_trace(own);
  double sum = 2 * df + 4 * tau->tau2 * trace +
               2 * square(tau->tau2) * why_regression_trace2(own, NULL, NULL);
  return sqrt(sum) / over;
}

static double error_of_squares(const why_tau* tau, const why_regression* own) {
  const double* v = own->effects->variance;
  double df = why_regression_df(own);
  double sum = 2 * why_regression_trace2(own, v, v) +
               4 * tau->tau2 * why_regression_trace2(own, v, NULL) +
               2 * square(tau->tau2) * why_regression_trace2(own, NULL, NULL);
  return sqrt(sum) / df;
}

/// The error of a closed form; refits with its own weights and leaves the regression at τ² again.
static double error_of_closed_form(const why_tau* tau) {
  why_regression* own = tau->regression;
  double first = tau->method == WHY_TAU_SIDIK_JONKMAN ? plain_variance(own->effects) : 0;
  why_regression_fit(own, first);
  double error = NAN;
  switch (tau->method) {
  case WHY_TAU_DERSIMONIAN_LAIRD:
    error = error_of_moments(tau, own, why_regression_trace(own));
    break;
  case WHY_TAU_HUNTER_SCHMIDT:
    error = error_of_moments(tau, own, sum_of(own->weight, own->effects->count));
    break;
  case WHY_TAU_HEDGES:
    hedges(own);
    error = error_of_squares(tau, own);
    break;
  case WHY_TAU_SIDIK_JONKMAN:
    error = first * error_of_squares(tau, own);
    break;
  default:
    break;
  }
  why_regression_fit(own, tau->tau2);
  return error;
}

double why_tau_error(const why_tau* tau) {
  const why_regression* regression = tau->regression;
  double df = why_regression_df(regression);
  size_t count = regression->effects->count;
  if (!tau->determined || df < 1)
    return NAN;
  if (!is_search(tau->method))
    return error_of_closed_form(tau);
  if (tau->method == WHY_TAU_PAULE_MANDEL)
    return sqrt(2 / df) * (double)count / sum_of(regression->weight, count);
  if (is_restricted(tau->method))
    return sqrt(2 / why_regression_trace2(regression, NULL, NULL));
  double sum = 0;
  for (size_t i = 0; i < count; i++)
    sum += square(regression->weight[i]);
  return sqrt(2 / sum);
}
