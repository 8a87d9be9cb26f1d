// SPDX-License-Identifier: GPL-3.0-or-later
// Weighted least squares by QR of the design with rows scaled by the roots of their weights: stable
// where the normal equations would square the condition (variances over many orders of magnitude).
#include "regress.h"

#include <gsl/gsl_linalg.h>
#include <gsl/gsl_math.h>

why_effects why_effects_plain(const double* effect, const double* variance, size_t count) {
  return (why_effects){.count = count, .effect = effect, .variance = variance, .columns = 1};
}

double why_effects_design(const why_effects* effects, size_t row, size_t column) {
  return effects->design ? effects->design[row * effects->columns + column] : 1;
}

void why_regression_init(const why_effects* effects, why_arena* arena, why_regression* regression) {
  size_t count = effects->count;
  *regression =
      (why_regression){.effects = effects,
                       .weight = WHY_NEW_ARRAY(arena, double, count),
                       .residual = WHY_NEW_ARRAY(arena, double, count),
                       .hat = WHY_NEW_ARRAY(arena, double, count),
                       .work = WHY_NEW_ARRAY(arena, double, count*(effects->columns + 1))};
}

bool why_regression_fit(why_regression* regression, double tau2) {
  regression->tau2 = tau2;
  for (size_t i = 0; i < regression->effects->count; i++)
    regression->weight[i] = 1 / (regression->effects->variance[i] + tau2);
  return why_regression_fit_weights(regression);
}

double why_regression_df(const why_regression* regression) {
  return (double)regression->effects->count - (double)regression->effects->columns;
}

/// Fill `inverse` with R⁻¹ of the upper triangle of `qr`; false when R is singular to rounding.
static bool invert_triangle(const gsl_matrix* qr, size_t p, double* inverse) {
  double largest = 0;
  for (size_t j = 0; j < p; j++)
    largest = fmax(largest, fabs(gsl_matrix_get(qr, j, j)));
  for (size_t j = 0; j < p; j++)
    if (!(fabs(gsl_matrix_get(qr, j, j)) > largest * (double)p * 1e-13))
      return false;
  for (size_t j = 0; j < p; j++)
    for (size_t i = p; i-- > 0;) {
      double sum = i == j;
      for (size_t k = i + 1; k <= j; k++)
        sum -= gsl_matrix_get(qr, i, k) * inverse[k * p + j];
      inverse[i * p + j] = i > j ? 0 : sum / gsl_matrix_get(qr, i, i);
    }
  return true;
}

static void set_covariance(why_regression* regression, const double* inverse) {
  size_t p = regression->effects->columns;
  for (size_t i = 0; i < p; i++)
    for (size_t j = 0; j < p; j++) {
      double sum = 0;
      for (size_t k = 0; k < p; k++)
        sum += inverse[i * p + k] * inverse[j * p + k];
      regression->covariance[i * p + j] = sum;
    }
}

/// x_i' C x_j.
static double between(const why_regression* regression, size_t row, size_t column) {
  const why_effects* effects = regression->effects;
  double sum = 0;
  for (size_t a = 0; a < effects->columns; a++)
    for (size_t b = 0; b < effects->columns; b++)
      sum += why_effects_design(effects, row, a) *
             regression->covariance[a * effects->columns + b] *
             why_effects_design(effects, column, b);
  return sum;
}

static void set_residuals(why_regression* regression) {
  const why_effects* effects = regression->effects;
  regression->q = 0;
  for (size_t i = 0; i < effects->count; i++) {
    double fitted = 0;
    for (size_t j = 0; j < effects->columns; j++)
      fitted += why_effects_design(effects, i, j) * regression->coefficients[j];
    regression->residual[i] = effects->effect[i] - fitted;
    regression->q += regression->weight[i] * regression->residual[i] * regression->residual[i];
    regression->hat[i] = regression->weight[i] * between(regression, i, i);
  }
}

bool why_regression_fit_weights(why_regression* regression) {
  const why_effects* effects = regression->effects;
  size_t count = effects->count;
  size_t p = effects->columns;
  if (count < p || p > WHY_MODERATORS)
    return false;
  double tau[WHY_MODERATORS];
  double inverse[WHY_MODERATORS * WHY_MODERATORS];
  gsl_matrix_view qr = gsl_matrix_view_array(regression->work, count, p);
  gsl_vector_view right = gsl_vector_view_array(regression->work + count * p, count);
  gsl_vector_view reflectors = gsl_vector_view_array(tau, p);
  for (size_t i = 0; i < count; i++) {
    double root = sqrt(regression->weight[i]);
    for (size_t j = 0; j < p; j++)
      gsl_matrix_set(&qr.matrix, i, j, root * why_effects_design(effects, i, j));
    gsl_vector_set(&right.vector, i, root * effects->effect[i]);
  }
  gsl_linalg_QR_decomp(&qr.matrix, &reflectors.vector);
  if (!invert_triangle(&qr.matrix, p, inverse))
    return false;
  gsl_linalg_QR_QTvec(&qr.matrix, &reflectors.vector, &right.vector);
  regression->log_det = 0;
  for (size_t i = 0; i < p; i++) {
    regression->coefficients[i] = 0;
    for (size_t j = i; j < p; j++)
      regression->coefficients[i] += inverse[i * p + j] * gsl_vector_get(&right.vector, j);
    regression->log_det += 2 * log(fabs(gsl_matrix_get(&qr.matrix, i, i)));
  }
  set_covariance(regression, inverse);
  set_residuals(regression);
  return true;
}

double why_regression_projector(const why_regression* regression, size_t row, size_t column) {
  double w = regression->weight[row];
  return (row == column ? w : 0) -
         w * regression->weight[column] * between(regression, row, column);
}

double why_regression_trace(const why_regression* regression) {
  double sum = 0;
  for (size_t i = 0; i < regression->effects->count; i++)
    sum += regression->weight[i] * (1 - regression->hat[i]);
  return sum;
}

double why_regression_trace2(const why_regression* regression, const double* a, const double* b) {
  double sum = 0;
  for (size_t i = 0; i < regression->effects->count; i++)
    for (size_t j = 0; j < regression->effects->count; j++) {
      double p = why_regression_projector(regression, i, j);
      sum += p * p * (a ? a[i] : 1) * (b ? b[j] : 1);
    }
  return sum;
}

/// ln of the determinant of X'X.
static double plain_log_det(const why_regression* regression) {
  const why_effects* effects = regression->effects;
  double tau[WHY_MODERATORS];
  gsl_matrix_view qr = gsl_matrix_view_array(regression->work, effects->count, effects->columns);
  gsl_vector_view reflectors = gsl_vector_view_array(tau, effects->columns);
  for (size_t i = 0; i < effects->count; i++)
    for (size_t j = 0; j < effects->columns; j++)
      gsl_matrix_set(&qr.matrix, i, j, why_effects_design(effects, i, j));
  gsl_linalg_QR_decomp(&qr.matrix, &reflectors.vector);
  double sum = 0;
  for (size_t j = 0; j < effects->columns; j++)
    sum += 2 * log(fabs(gsl_matrix_get(&qr.matrix, j, j)));
  return sum;
}

double why_regression_log_likelihood(const why_regression* regression, bool restricted) {
  const why_effects* effects = regression->effects;
  double sum = regression->q;
  for (size_t i = 0; i < effects->count; i++)
    sum -= log(regression->weight[i]);
  double free = restricted ? why_regression_df(regression) : (double)effects->count;
  sum += free * log(2 * M_PI);
  if (restricted)
    sum += regression->log_det - plain_log_det(regression);
  return -sum / 2;
}

double why_regression_predict(const why_regression* regression, const double* at,
                              double* variance) {
  size_t p = regression->effects->columns;
  double value = 0;
  *variance = 0;
  for (size_t i = 0; i < p; i++) {
    value += at[i] * regression->coefficients[i];
    for (size_t j = 0; j < p; j++)
      *variance += at[i] * regression->covariance[i * p + j] * at[j];
  }
  return value;
}

double why_regression_test(const why_regression* regression, size_t from) {
  size_t p = regression->effects->columns;
  size_t count = p - from;
  double block[WHY_MODERATORS * WHY_MODERATORS];
  double solved[WHY_MODERATORS];
  for (size_t i = 0; i < count; i++) {
    solved[i] = regression->coefficients[from + i];
    for (size_t j = 0; j < count; j++)
      block[i * count + j] = regression->covariance[(from + i) * p + from + j];
  }
  double tau[WHY_MODERATORS];
  gsl_matrix_view matrix = gsl_matrix_view_array(block, count, count);
  gsl_vector_view vector = gsl_vector_view_array(solved, count);
  gsl_vector_view reflectors = gsl_vector_view_array(tau, count);
  gsl_linalg_QR_decomp(&matrix.matrix, &reflectors.vector);
  gsl_linalg_QR_svx(&matrix.matrix, &reflectors.vector, &vector.vector);
  double sum = 0;
  for (size_t i = 0; i < count; i++)
    sum += solved[i] * regression->coefficients[from + i];
  return sum;
}
