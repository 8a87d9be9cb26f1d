// SPDX-License-Identifier: GPL-3.0-or-later
// Sparse matrices for the mixed model: a thin coat over CXSparse that keeps its memory in step with
// the arena.
#include "sparse.h"

#include <math.h>
#include <string.h>
#include <suitesparse/cs.h>

struct why_sparse {
  cs_di* matrix;
};

struct why_factor {
  why_arena* arena;
  cs_dis* pattern;
  cs_din* numbers; ///< NULL until set.
  double* inverse; ///< Elements of the inverse where L has some, and room for one column.
  double* column;
  int* place;
};

static void free_matrix(void* matrix) {
  cs_di_spfree(matrix);
}

static void free_factor(void* object) {
  why_factor* factor = object;
  cs_di_sfree(factor->pattern);
  cs_di_nfree(factor->numbers);
}

/// The library answers a lack of memory by NULL.
static void* got(why_arena* arena, void* object) {
  if (!object)
    why_arena_exhaust(arena);
  return object;
}

/// Triplets to columns; `triplets` is freed.
static cs_di* compressed(why_arena* arena, cs_di* triplets, bool complete) {
  cs_di* matrix = complete ? cs_di_compress(triplets) : NULL;
  cs_di_spfree(triplets);
  if (matrix && !cs_di_dupl(matrix))
    matrix = cs_di_spfree(matrix);
  return got(arena, matrix);
}

why_sparse* why_sparse_new(size_t order, const why_entries* entries, why_arena* arena) {
  why_sparse* sparse = WHY_NEW(arena, why_sparse);
  int n = (int)order;
  cs_di* triplets = got(arena, cs_di_spalloc(n, n, (int)entries->count + 1, 1, 1));
  bool complete = true;
  for (size_t i = 0; i < entries->count; i++) {
    const why_entry* each = &entries->at[i];
    complete &= cs_di_entry(triplets, (int)each->row, (int)each->column, each->value) != 0;
  }
  sparse->matrix = compressed(arena, triplets, complete);
  why_arena_defer(arena, free_matrix, sparse->matrix);
  return sparse;
}

void why_sparse_add_times(const why_sparse* sparse, const double* from, double* to) {
  cs_di_gaxpy(sparse->matrix, from, to);
}

void why_sparse_column(const why_sparse* sparse, size_t index, double* to) {
  const cs_di* matrix = sparse->matrix;
  for (int k = matrix->p[index]; k < matrix->p[index + 1]; k++)
    to[matrix->i[k]] = matrix->x[k];
}

double why_sparse_at(const why_sparse* sparse, size_t row, size_t column) {
  const cs_di* matrix = sparse->matrix;
  for (int k = matrix->p[column]; k < matrix->p[column + 1]; k++)
    if (matrix->i[k] == (int)row)
      return matrix->x[k];
  return 0;
}

void why_scale_times(const why_factor_scale* scale, const double* from, double* to) {
  for (size_t j = 0; j < scale->order; j++) {
    to[j] = scale->scale[j] * from[j];
    if (scale->other[j] != j)
      to[j] += scale->mix[j] * from[scale->other[j]];
  }
}

void why_scale_transposed_times(const why_factor_scale* scale, const double* from, double* to) {
  for (size_t j = 0; j < scale->order; j++)
    to[j] = scale->scale[j] * from[j];
  for (size_t j = 0; j < scale->order; j++)
    if (scale->other[j] != j)
      to[scale->other[j]] += scale->mix[j] * from[j];
}

static cs_di* scale_matrix(const why_factor_scale* scale, why_arena* arena) {
  int n = (int)scale->order;
  cs_di* triplets = got(arena, cs_di_spalloc(n, n, 2 * n + 1, 1, 1));
  bool complete = true;
  for (size_t j = 0; j < scale->order; j++) {
    complete &= cs_di_entry(triplets, (int)j, (int)j, scale->scale[j]) != 0;
    if (scale->other[j] != j)
      complete &= cs_di_entry(triplets, (int)j, (int)scale->other[j], scale->mix[j]) != 0;
  }
  return compressed(arena, triplets, complete);
}

/// I + Λ'SΛ; zeros keep their places, so that the pattern is the same for every Λ.
static cs_di* scaled(const why_sparse* s, const why_factor_scale* scale, why_arena* arena) {
  cs_di* lambda = scale_matrix(scale, arena);
  cs_di* turned = cs_di_transpose(lambda, 1);
  cs_di* right = turned ? cs_di_multiply(s->matrix, lambda) : NULL;
  cs_di* both = right ? cs_di_multiply(turned, right) : NULL;
  // Λ has done its work: its arrays become those of the identity.
  for (int k = 0; k < lambda->p[lambda->n]; k++)
    lambda->x[k] = 0;
  for (int j = 0; j < lambda->n; j++)
    for (int k = lambda->p[j]; k < lambda->p[j + 1]; k++)
      if (lambda->i[k] == j)
        lambda->x[k] = 1;
  cs_di* sum = both ? cs_di_add(lambda, both, 1, 1) : NULL;
  cs_di_spfree(lambda);
  cs_di_spfree(turned);
  cs_di_spfree(right);
  cs_di_spfree(both);
  return got(arena, sum);
}

why_factor* why_factor_new(const why_sparse* s, const why_factor_scale* scale, why_arena* arena) {
  why_factor* factor = WHY_NEW(arena, why_factor);
  factor->arena = arena;
  cs_di* matrix = scaled(s, scale, arena);
  factor->pattern = cs_di_schol(1, matrix);
  cs_di_spfree(matrix);
  got(arena, factor->pattern);
  why_arena_defer(arena, free_factor, factor);
  factor->inverse = WHY_NEW_ARRAY(arena, double, (size_t)factor->pattern->lnz + 1);
  factor->column = WHY_NEW_ARRAY(arena, double, scale->order + 1);
  factor->place = WHY_NEW_ARRAY(arena, int, scale->order + 1);
  return factor;
}

bool why_factor_set(why_factor* factor, const why_sparse* s, const why_factor_scale* scale) {
  cs_di* matrix = scaled(s, scale, factor->arena);
  cs_di_nfree(factor->numbers);
  factor->numbers = cs_di_chol(matrix, factor->pattern);
  cs_di_spfree(matrix);
  return factor->numbers != NULL;
}

double why_factor_log_determinant(const why_factor* factor) {
  const cs_di* l = factor->numbers->L;
  double sum = 0;
  for (int j = 0; j < l->n; j++)
    sum += log(l->x[l->p[j]]); // The diagonal comes first in each column.
  return 2 * sum;
}

void why_factor_forward(const why_factor* factor, const double* from, double* to) {
  const cs_di* l = factor->numbers->L;
  cs_di_ipvec(factor->pattern->pinv, from, to, l->n);
  cs_di_lsolve(l, to);
}

void why_factor_backward(const why_factor* factor, double* from, double* to) {
  const cs_di* l = factor->numbers->L;
  cs_di_ltsolve(l, from);
  cs_di_pvec(factor->pattern->pinv, from, to, l->n);
}

/// Σ over k of inverse(i, k) L(k, j) for each i of column j below the diagonal, into `column`. Both
/// i and k are rows of the column, and the inverse is known there in the columns behind j.
static void gather(const why_factor* factor, int j) {
  const cs_di* l = factor->numbers->L;
  int first = l->p[j] + 1;
  int end = l->p[j + 1];
  for (int a = first; a < end; a++) {
    factor->place[l->i[a]] = a - first + 1;
    factor->column[a - first] = 0;
  }
  for (int b = first; b < end; b++) {
    int k = l->i[b];
    for (int at = l->p[k]; at < l->p[k + 1]; at++) {
      int a = factor->place[l->i[at]] - 1;
      if (a < 0)
        continue;
      factor->column[a] += factor->inverse[at] * l->x[b];
      if (a != b - first)
        factor->column[b - first] += factor->inverse[at] * l->x[first + a];
    }
  }
  for (int a = first; a < end; a++)
    factor->place[l->i[a]] = 0;
}

void why_factor_inverse_diagonal(const why_factor* factor, double* diagonal) {
  const cs_di* l = factor->numbers->L;
  for (int j = l->n - 1; j >= 0; j--) {
    int at = l->p[j];
    gather(factor, j);
    double sum = 0;
    for (int a = at + 1; a < l->p[j + 1]; a++) {
      factor->inverse[a] = -factor->column[a - at - 1] / l->x[at];
      sum += factor->inverse[a] * l->x[a];
    }
    factor->inverse[at] = (1 / l->x[at] - sum) / l->x[at];
  }
  for (int j = 0; j < l->n; j++) {
    int to = factor->pattern->pinv[j];
    diagonal[j] = factor->inverse[l->p[to]];
  }
}
