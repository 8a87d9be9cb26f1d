// SPDX-License-Identifier: GPL-3.0-or-later
/// Small dense systems by Cholesky, which say no instead of ending the process where a matrix is
/// not positive definite. Matrices are by rows. Private to pool.
#ifndef WHY_POOL_DENSE_H
#define WHY_POOL_DENSE_H

#include <stdbool.h>
#include <stddef.h>

/// Replace the lower triangle of `a`, order n, by its factor L; the upper one is not touched. The
/// pivots must be above `least` times their diagonal; returns the index of the first
/// that is not, or n.
size_t why_dense_factor(double* a, size_t n, double least);

/// `b` = L⁻¹ b, `b` being n × columns by rows.
void why_dense_forward(const double* l, size_t n, double* b, size_t columns);

/// `b` = L⁻ᵀ b, one column.
void why_dense_backward(const double* l, size_t n, double* b);

/// The inverse of L L' into `inverse`.
void why_dense_inverse(const double* l, size_t n, double* inverse);

double why_dense_log_determinant(const double* l, size_t n);

double why_dense_dot(const double* a, const double* b, size_t n);

#endif
