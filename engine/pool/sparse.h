// SPDX-License-Identifier: GPL-3.0-or-later
/// Sparse symmetric matrices and their Cholesky factor, by CXSparse ("Direct Methods for Sparse
/// Linear Systems", SIAM 2006, 10.1137/1.9780898718881). Private to pool; the only place that knows
/// the library. Memory that the library cannot get counts as exhausted memory of the arena.
#ifndef WHY_POOL_SPARSE_H
#define WHY_POOL_SPARSE_H

#include "base/base.h"

#include <stdbool.h>

/// A square matrix, symmetric, held whole by columns.
typedef struct why_sparse why_sparse;

/// An entry of a matrix; several at one place add up.
typedef struct {
  size_t row;
  size_t column;
  double value;
} why_entry;

typedef WHY_LIST(why_entry) why_entries;

/// Lives as long as the arena, as all here.
why_sparse* why_sparse_new(size_t order, const why_entries* entries, why_arena* arena);

/// `to` += matrix · `from`.
void why_sparse_add_times(const why_sparse* matrix, const double* from, double* to);

/// `to` (zeros) = column `index`.
void why_sparse_column(const why_sparse* matrix, size_t index, double* to);

double why_sparse_at(const why_sparse* matrix, size_t row, size_t column);

/// Λ: diagonal `scale`, and `mix[j]` in row j at column `other[j]` where other[j] != j.
typedef struct {
  size_t order;
  double* scale;
  double* mix;
  size_t* other;
} why_factor_scale;

/// `to` = Λ · `from`, or Λ' · `from`; not in place.
void why_scale_times(const why_factor_scale* scale, const double* from, double* to);
void why_scale_transposed_times(const why_factor_scale* scale, const double* from, double* to);

/// Cholesky factor of P (I + Λ'SΛ) P'.
typedef struct why_factor why_factor;

/// Order and pattern, for every Λ that mixes at the same places.
why_factor* why_factor_new(const why_sparse* s, const why_factor_scale* scale, why_arena* arena);

/// The numbers. False when the matrix is not positive definite (overflow).
bool why_factor_set(why_factor* factor, const why_sparse* s, const why_factor_scale* scale);

double why_factor_log_determinant(const why_factor* factor);

/// `to` = L⁻¹ P `from`.
void why_factor_forward(const why_factor* factor, const double* from, double* to);

/// `to` = P' L⁻ᵀ `from`; `from` is overwritten.
void why_factor_backward(const why_factor* factor, double* from, double* to);

/// The diagonal of (I + Λ'SΛ)⁻¹ by "Formation of a sparse bus impedance matrix and its application
/// to short circuit study" (Power Industry Computer Applications Conference, 1973), which needs no
/// other elements of the inverse than those where L has some; about twice the work of the factor.
void why_factor_inverse_diagonal(const why_factor* factor, double* diagonal);

#endif
