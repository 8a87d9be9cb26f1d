// SPDX-License-Identifier: GPL-3.0-or-later
// From rows to products: R is factored block by block, and Z, X and y are whitened by it, after
// which the number of rows plays no part any more.
#include "mixed_system.h"
#include "dense.h"

#include <math.h>
#include <string.h>

/// A pivot smaller than this share of its diagonal counts as zero.
static const double LEAST_PIVOT = 1e-10;

/// One block of rows, whitened.
typedef struct {
  size_t count;
  double* l;  ///< Factor of R.
  double* xy; ///< L⁻¹[X y], count × (p+1).
  size_t column_count;
  size_t* columns; ///< Levels that its rows touch.
  double* z;       ///< L⁻¹Z over these, count × column_count.
} whitened;

static size_t level_of(const why_mixed_system* system, const why_mixed_part* part) {
  return system->offset[part->term] + part->level;
}

static why_status report(why_mixed_trouble* trouble, why_mixed_fault fault, size_t index) {
  *trouble = (why_mixed_trouble){fault, index};
  return WHY_KNOWLEDGE;
}

/// The parts of the rows of a block; they are ordered by row.
static void find_parts(const why_mixed_data* data, const why_mixed_block* block, size_t* from,
                       size_t* to) {
  while (*from < data->parts.count && data->parts.at[*from].row < block->first)
    ++*from;
  *to = *from;
  while (*to < data->parts.count && data->parts.at[*to].row < block->first + block->count)
    ++*to;
}

/// `seen`: q numbers, 1 + place among the columns of the block, or 0; left as zeros.
static void whiten_z(const why_mixed_system* system, const why_mixed_block* block, size_t from,
                     size_t to, size_t* seen, why_arena* arena, whitened* w) {
  const why_mixed_data* data = system->data;
  w->columns = WHY_NEW_ARRAY(arena, size_t, to - from + 1);
  for (size_t i = from; i < to; i++) {
    size_t level = level_of(system, &data->parts.at[i]);
    if (!seen[level]) {
      w->columns[w->column_count++] = level;
      seen[level] = w->column_count;
    }
  }
  w->z = WHY_NEW_ARRAY(arena, double, w->count * w->column_count + 1);
  for (size_t i = from; i < to; i++) {
    const why_mixed_part* part = &data->parts.at[i];
    size_t place = seen[level_of(system, part)] - 1;
    w->z[(part->row - block->first) * w->column_count + place] += part->weight;
  }
  for (size_t i = 0; i < w->column_count; i++)
    seen[w->columns[i]] = 0;
  why_dense_forward(w->l, w->count, w->z, w->column_count);
}

static bool whiten(const why_mixed_system* system, const why_mixed_block* block, why_arena* arena,
                   whitened* w) {
  const why_mixed_data* data = system->data;
  size_t n = block->count;
  size_t p = system->p;
  *w = (whitened){.count = n};
  w->l = WHY_NEW_ARRAY(arena, double, n* n);
  memcpy(w->l, block->covariance, n * n * sizeof *w->l);
  if (why_dense_factor(w->l, n, LEAST_PIVOT) < n)
    return false;
  w->xy = WHY_NEW_ARRAY(arena, double, n*(p + 1));
  for (size_t i = 0; i < n; i++) {
    memcpy(w->xy + i * (p + 1), data->x + (block->first + i) * p, p * sizeof(double));
    w->xy[i * (p + 1) + p] = data->y[block->first + i];
  }
  why_dense_forward(w->l, n, w->xy, p + 1);
  return true;
}

/// Coefficients by R alone; takes them out of the whitened y.
static why_status centre(why_mixed_system* system, whitened* blocks, size_t block_count,
                         why_arena* arena, why_mixed_trouble* trouble) {
  size_t p = system->p;
  double* l = WHY_NEW_ARRAY(arena, double, p* p + 1);
  for (size_t k = 0; k < block_count; k++)
    for (size_t i = 0; i < blocks[k].count; i++) {
      const double* row = blocks[k].xy + i * (p + 1);
      for (size_t a = 0; a < p; a++) {
        system->centre[a] += row[a] * row[p];
        for (size_t b = 0; b < p; b++)
          l[a * p + b] += row[a] * row[b];
      }
    }
  size_t bad = why_dense_factor(l, p, LEAST_PIVOT);
  if (bad < p)
    return report(trouble, WHY_MIXED_BAD_COLUMN, bad);
  why_dense_forward(l, p, system->centre, 1);
  why_dense_backward(l, p, system->centre);
  for (size_t k = 0; k < block_count; k++)
    for (size_t i = 0; i < blocks[k].count; i++) {
      double* row = blocks[k].xy + i * (p + 1);
      row[p] -= why_dense_dot(row, system->centre, p);
    }
  return WHY_OK;
}

static void add_products(why_mixed_system* system, const whitened* w, why_arena* arena,
                         why_entries* entries) {
  size_t p1 = system->p + 1;
  for (size_t i = 0; i < w->count; i++) {
    const double* xy = w->xy + i * p1;
    const double* z = w->z + i * w->column_count;
    for (size_t a = 0; a < p1; a++)
      for (size_t b = 0; b < p1; b++)
        system->a[a * p1 + b] += xy[a] * xy[b];
    for (size_t c = 0; c < w->column_count; c++)
      for (size_t a = 0; a < p1; a++)
        system->t[w->columns[c] * p1 + a] += z[c] * xy[a];
  }
  for (size_t c = 0; c < w->column_count; c++)
    for (size_t d = 0; d < w->column_count; d++) {
      double sum = 0;
      for (size_t i = 0; i < w->count; i++)
        sum += w->z[i * w->column_count + c] * w->z[i * w->column_count + d];
      *WHY_LIST_ADD(arena, *entries) = (why_entry){w->columns[c], w->columns[d], sum};
    }
}

static double log_det_xx(const why_mixed_data* data, why_arena* arena) {
  size_t p = data->fixed_count;
  double* l = WHY_NEW_ARRAY(arena, double, p* p + 1);
  for (size_t i = 0; i < data->row_count; i++)
    for (size_t a = 0; a < p; a++)
      for (size_t b = 0; b < p; b++)
        l[a * p + b] += data->x[i * p + a] * data->x[i * p + b];
  return why_dense_factor(l, p, 0) == p ? why_dense_log_determinant(l, p) : NAN;
}

static void list_components(why_mixed_system* system, why_arena* arena) {
  const why_mixed_data* data = system->data;
  size_t terms = data->terms.count;
  system->first = WHY_NEW_ARRAY(arena, size_t, 2 * terms + 1);
  system->second = WHY_NEW_ARRAY(arena, size_t, 2 * terms + 1);
  for (size_t k = 0; k < terms; k++)
    system->first[k] = system->second[k] = k;
  system->component_count = terms;
  for (size_t k = 0; k < terms; k++)
    if (data->terms.at[k].with) {
      system->first[system->component_count] = data->terms.at[k].with - 1;
      system->second[system->component_count++] = k;
    }
}

static size_t first_not_finite(const why_mixed_data* data) {
  for (size_t i = 0; i < data->row_count; i++) {
    bool finite = isfinite(data->y[i]);
    for (size_t a = 0; a < data->fixed_count; a++)
      finite &= isfinite(data->x[i * data->fixed_count + a]);
    if (!finite)
      return i;
  }
  for (size_t i = 0; i < data->parts.count; i++)
    if (!isfinite(data->parts.at[i].weight))
      return data->parts.at[i].row;
  return data->row_count;
}

static why_mixed_system* begin(const why_mixed_data* data, bool plain, why_arena* arena) {
  why_mixed_system* system = WHY_NEW(arena, why_mixed_system);
  *system = (why_mixed_system){.data = data, .plain = plain, .p = data->fixed_count};
  system->offset = WHY_NEW_ARRAY(arena, size_t, data->terms.count + 1);
  for (size_t k = 0; k < data->terms.count; k++) {
    system->offset[k] = system->q;
    system->q += data->terms.at[k].level_count;
  }
  system->offset[data->terms.count] = system->q;
  system->t = WHY_NEW_ARRAY(arena, double, (system->q + 1) * (system->p + 1));
  system->a = WHY_NEW_ARRAY(arena, double, (system->p + 1) * (system->p + 1));
  system->centre = WHY_NEW_ARRAY(arena, double, system->p + 1);
  list_components(system, arena);
  return system;
}

why_status why_mixed_system_new(const why_mixed_data* data, bool plain, why_arena* arena,
                                why_mixed_trouble* trouble, why_mixed_system** result) {
  if (data->row_count <= data->fixed_count)
    return report(trouble, WHY_MIXED_FEW_ROWS, data->row_count);
  size_t row = first_not_finite(data);
  if (row < data->row_count)
    return report(trouble, WHY_MIXED_NOT_FINITE, row);
  why_mixed_system* system = begin(data, plain, arena);
  whitened* blocks = WHY_NEW_ARRAY(arena, whitened, data->blocks.count + 1);
  size_t* seen = WHY_NEW_ARRAY(arena, size_t, system->q + 1);
  size_t from = 0;
  for (size_t k = 0; k < data->blocks.count; k++) {
    const why_mixed_block* block = &data->blocks.at[k];
    if (!whiten(system, block, arena, &blocks[k]))
      return report(trouble, WHY_MIXED_BAD_COVARIANCE, k);
    size_t to;
    find_parts(data, block, &from, &to);
    whiten_z(system, block, from, to, seen, arena, &blocks[k]);
    system->log_det_r += why_dense_log_determinant(blocks[k].l, block->count);
    from = to;
  }
  why_status status = centre(system, blocks, data->blocks.count, arena, trouble);
  if (status != WHY_OK)
    return status;
  why_entries entries = {0};
  for (size_t k = 0; k < data->blocks.count; k++)
    entries.room += blocks[k].column_count * blocks[k].column_count;
  entries.at = WHY_NEW_ARRAY(arena, why_entry, entries.room + 1);
  for (size_t k = 0; k < data->blocks.count; k++)
    add_products(system, &blocks[k], arena, &entries);
  system->s = why_sparse_new(system->q, &entries, arena);
  system->log_det_xx = log_det_xx(data, arena);
  *trouble = (why_mixed_trouble){0};
  *result = system;
  return WHY_OK;
}
