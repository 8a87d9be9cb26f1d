// SPDX-License-Identifier: GPL-3.0-or-later
// Cholesky of the small matrices of the mixed model: sampling covariances of one study,
// coefficients, information.
#include "dense.h"

#include <math.h>

double why_dense_dot(const double* a, const double* b, size_t n) {
  double sum = 0;
  for (size_t i = 0; i < n; i++)
    sum += a[i] * b[i];
  return sum;
}

size_t why_dense_factor(double* a, size_t n, double least) {
  for (size_t i = 0; i < n; i++) {
    double* row = a + i * n;
    for (size_t j = 0; j < i; j++)
      row[j] = (row[j] - why_dense_dot(row, a + j * n, j)) / a[j * n + j];
    double pivot = row[i] - why_dense_dot(row, row, i);
    if (!(pivot > least * row[i]) || !isfinite(pivot))
      return i;
    row[i] = sqrt(pivot);
  }
  return n;
}

void why_dense_forward(const double* l, size_t n, double* b, size_t columns) {
  for (size_t i = 0; i < n; i++)
    for (size_t c = 0; c < columns; c++) {
      double sum = b[i * columns + c];
      for (size_t j = 0; j < i; j++)
        sum -= l[i * n + j] * b[j * columns + c];
      b[i * columns + c] = sum / l[i * n + i];
    }
}

void why_dense_backward(const double* l, size_t n, double* b) {
  for (size_t i = n; i-- > 0;) {
    for (size_t j = i + 1; j < n; j++)
      b[i] -= l[j * n + i] * b[j];
    b[i] /= l[i * n + i];
  }
}

void why_dense_inverse(const double* l, size_t n, double* inverse) {
  // Row c holds L⁻¹ e_c: what counts of it begins at c.
  for (size_t c = 0; c < n; c++) {
    double* column = inverse + c * n;
    for (size_t i = 0; i < n; i++)
      column[i] = i == c;
    why_dense_forward(l, n, column, 1);
    why_dense_backward(l, n, column);
  }
}

double why_dense_log_determinant(const double* l, size_t n) {
  double sum = 0;
  for (size_t i = 0; i < n; i++)
    sum += log(l[i * n + i]);
  return 2 * sum;
}
