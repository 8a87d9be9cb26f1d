// SPDX-License-Identifier: GPL-3.0-or-later
#include "dense_reference.h"

#include <gsl/gsl_blas.h>
#include <gsl/gsl_linalg.h>
#include <math.h>

static gsl_matrix_view matrix(why_arena* arena, size_t rows, size_t columns) {
  return gsl_matrix_view_array(WHY_NEW_ARRAY(arena, double, rows* columns), rows, columns);
}

static double log_determinant(const gsl_matrix* factor) {
  double sum = 0;
  for (size_t i = 0; i < factor->size1; i++)
    sum += 2 * log(gsl_matrix_get(factor, i, i));
  return sum;
}

/// R + Σ variance ZZ'
static void fill_covariance(const why_mixed_data* data, const double* components, gsl_matrix* v) {
  for (size_t k = 0; k < data->blocks.count; k++) {
    const why_mixed_block* block = &data->blocks.at[k];
    for (size_t i = 0; i < block->count; i++)
      for (size_t j = 0; j < block->count; j++)
        gsl_matrix_set(v, block->first + i, block->first + j,
                       block->covariance[i * block->count + j]);
  }
  for (size_t a = 0; a < data->parts.count; a++)
    for (size_t b = 0; b < data->parts.count; b++) {
      const why_mixed_part* one = &data->parts.at[a];
      const why_mixed_part* two = &data->parts.at[b];
      if (one->term == two->term && one->level == two->level)
        *gsl_matrix_ptr(v, one->row, two->row) += components[one->term] * one->weight * two->weight;
    }
}

double dense_likelihood(const why_mixed_data* data, const double* components, why_arena* arena) {
  size_t n = data->row_count;
  size_t p = data->fixed_count;
  gsl_matrix_view v = matrix(arena, n, n);
  fill_covariance(data, components, &v.matrix);
  gsl_linalg_cholesky_decomp1(&v.matrix);
  gsl_matrix_view xy = matrix(arena, n, p + 1);
  gsl_matrix_view x = matrix(arena, n, p);
  for (size_t i = 0; i < n; i++) {
    for (size_t a = 0; a < p; a++) {
      gsl_matrix_set(&xy.matrix, i, a, data->x[i * p + a]);
      gsl_matrix_set(&x.matrix, i, a, data->x[i * p + a]);
    }
    gsl_matrix_set(&xy.matrix, i, p, data->y[i]);
  }
  gsl_blas_dtrsm(CblasLeft, CblasLower, CblasNoTrans, CblasNonUnit, 1, &v.matrix, &xy.matrix);
  gsl_matrix_view inner = matrix(arena, p + 1, p + 1);
  gsl_matrix_view plain = matrix(arena, p, p);
  gsl_blas_dgemm(CblasTrans, CblasNoTrans, 1, &xy.matrix, &xy.matrix, 0, &inner.matrix);
  gsl_blas_dgemm(CblasTrans, CblasNoTrans, 1, &x.matrix, &x.matrix, 0, &plain.matrix);
  gsl_linalg_cholesky_decomp1(&inner.matrix);
  gsl_linalg_cholesky_decomp1(&plain.matrix);
  gsl_matrix_view of_x = gsl_matrix_submatrix(&inner.matrix, 0, 0, p, p);
  double residual = gsl_matrix_get(&inner.matrix, p, p);
  return -((double)(n - p) * log(2 * 3.14159265358979323846) + log_determinant(&v.matrix) +
           log_determinant(&of_x.matrix) - log_determinant(&plain.matrix) + residual * residual) /
         2;
}
