// SPDX-License-Identifier: GPL-3.0-or-later
/// Weighted regression of effects on moderators with the variance between studies given: the step
/// that every method of pooling repeats. A mean of effects is the regression on a column of ones.
/// Source: "A random-effects regression model for meta-analysis", Statistics in Medicine, 1995, DOI
/// 10.1002/sim.4780140406.
#ifndef WHY_POOL_REGRESS_H
#define WHY_POOL_REGRESS_H

#include "base/base.h"

#include <stdbool.h>

enum { WHY_MODERATORS = 8 }; ///< Most columns of a design.

/// Independent effects. Variances are above 0; all in one unit and its square.
typedef struct {
  size_t count;
  const double* effect;
  const double* variance; ///< By sampling.
  size_t columns;         ///< Of the design, 1 to WHY_MODERATORS.
  const double* design;   ///< count rows of `columns` numbers; NULL: one column of ones.
} why_effects;

/// Effects without moderators.
why_effects why_effects_plain(const double* effect, const double* variance, size_t count);

/// The number in that row and column of the design.
double why_effects_design(const why_effects* effects, size_t row, size_t column);

/// The result of one regression; its arrays live in the arena that it was made in.
typedef struct {
  const why_effects* effects;
  double tau2; ///< What was taken for the variance between studies.
  double coefficients[WHY_MODERATORS];
  double covariance[WHY_MODERATORS * WHY_MODERATORS]; ///< Of the coefficients, `columns` a row.
  double* weight;   ///< 1 / (variance + tau2), or what was given instead.
  double* residual; ///< effect − fitted.
  double* hat;      ///< Leverage of each effect, 0 to 1; their sum is `columns`.
  double q;         ///< Σ weight · residual².
  double log_det;   ///< ln of the determinant of X'WX.
  double* work;
} why_regression;

/// Room for regressions of these effects.
void why_regression_init(const why_effects* effects, why_arena* arena, why_regression* regression);

/// Fit with weights 1 / (variance + tau2). False when the design does not determine all
/// coefficients: then only `tau2` and the weights are set.
bool why_regression_fit(why_regression* regression, double tau2);

/// The same with the weights that stand in `regression->weight`.
bool why_regression_fit_weights(why_regression* regression);

/// Effects left over: count − columns.
double why_regression_df(const why_regression* regression);

/// An element of the matrix P that takes effects to weighted residuals: W − WX (X'WX)⁻¹ X'W.
double why_regression_projector(const why_regression* regression, size_t row, size_t column);

/// tr(P), and tr(P A P B) for diagonal A and B (NULL: ones).
double why_regression_trace(const why_regression* regression);
double why_regression_trace2(const why_regression* regression, const double* a, const double* b);

/// Log-likelihood of the effects, restricted or full, normal constants included.
double why_regression_log_likelihood(const why_regression* regression, bool restricted);

/// What the moderators at `at` (`columns` numbers) predict, with its sampling variance.
double why_regression_predict(const why_regression* regression, const double* at, double* variance);

/// Quadratic form b' C⁻¹ b of the coefficients from column `from` on, by which one tests whether
/// they are all 0; NAN when their covariance is singular.
double why_regression_test(const why_regression* regression, size_t from);

#endif
