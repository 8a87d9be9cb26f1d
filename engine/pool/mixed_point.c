// SPDX-License-Identifier: GPL-3.0-or-later
// The mixed model at given components: likelihood, coefficients, modes, and the slopes that lead to
// better components.
#include "dense.h"
#include "mixed_system.h"

#include <math.h>
#include <string.h>

static const double LOG_TWO_PI = 1.83787706640934548356;

why_mixed_point* why_mixed_point_new(const why_mixed_system* system, why_arena* arena) {
  size_t q = system->q;
  size_t p1 = system->p + 1;
  why_mixed_point* point = WHY_NEW(arena, why_mixed_point);
  point->components = WHY_NEW_ARRAY(arena, double, system->component_count + 1);
  point->scale = (why_factor_scale){.order = q};
  point->scale.scale = WHY_NEW_ARRAY(arena, double, q + 1);
  point->scale.mix = WHY_NEW_ARRAY(arena, double, q + 1);
  point->scale.other = WHY_NEW_ARRAY(arena, size_t, q + 1);
  for (size_t j = 0; j < q; j++)
    point->scale.other[j] = j;
  for (size_t c = system->data->terms.count; c < system->component_count; c++)
    for (size_t j = 0; j < system->data->terms.at[system->second[c]].level_count; j++)
      point->scale.other[system->offset[system->second[c]] + j] =
          system->offset[system->first[c]] + j;
  point->factor = why_factor_new(system->s, &point->scale, arena);
  point->e = WHY_NEW_ARRAY(arena, double, (q + 1) * p1);
  point->l = WHY_NEW_ARRAY(arena, double, p1* p1);
  point->b = WHY_NEW_ARRAY(arena, double, p1);
  point->u = WHY_NEW_ARRAY(arena, double, q + 1);
  point->z_py = WHY_NEW_ARRAY(arena, double, q + 1);
  point->work = WHY_NEW_ARRAY(arena, double, 2 * q + 1);
  return point;
}

/// Λ from the components; false when they are no covariance.
static bool set_scale(const why_mixed_system* system, why_mixed_point* point) {
  const double* g = point->components;
  size_t terms = system->data->terms.count;
  for (size_t k = 0; k < terms; k++) {
    if (!(g[k] >= 0) || !isfinite(g[k]))
      return false;
    for (size_t j = system->offset[k]; j < system->offset[k + 1]; j++)
      point->scale.scale[j] = sqrt(g[k]);
  }
  for (size_t c = terms; c < system->component_count; c++) {
    double both = g[system->first[c]] * g[system->second[c]];
    if (!(g[c] * g[c] <= both * (1 + 1e-12)))
      return false;
    double mix = g[c] == 0 ? 0 : g[c] / sqrt(g[system->first[c]]);
    double rest = sqrt(fmax(0, g[system->second[c]] - mix * mix));
    size_t k = system->second[c];
    for (size_t j = system->offset[k]; j < system->offset[k + 1]; j++) {
      point->scale.scale[j] = rest;
      point->scale.mix[j] = mix;
    }
  }
  return true;
}

/// L⁻¹PΛ'Z'R⁻¹[X y], column by column; u and z_py serve as room.
static void reduce_xy(const why_mixed_system* system, why_mixed_point* point) {
  size_t p1 = system->p + 1;
  double* from = point->u;
  double* to = point->z_py;
  for (size_t a = 0; a < p1; a++) {
    for (size_t j = 0; j < system->q; j++)
      to[j] = system->t[j * p1 + a];
    why_scale_transposed_times(&point->scale, to, from);
    why_factor_forward(point->factor, from, to);
    for (size_t j = 0; j < system->q; j++)
      point->e[j * p1 + a] = to[j];
  }
}

bool why_mixed_point_move(const why_mixed_system* system, why_mixed_point* point,
                          const double* components) {
  size_t p = system->p;
  size_t p1 = p + 1;
  memmove(point->components, components, system->component_count * sizeof *components);
  if (!set_scale(system, point) || !why_factor_set(point->factor, system->s, &point->scale))
    return false;
  reduce_xy(system, point);
  memcpy(point->l, system->a, p1 * p1 * sizeof *point->l);
  for (size_t j = 0; j < system->q; j++)
    for (size_t a = 0; a < p1; a++)
      for (size_t b = 0; b <= a; b++)
        point->l[a * p1 + b] -= point->e[j * p1 + a] * point->e[j * p1 + b];
  // The last pivot is y'Py: nothing is left of it where X explains y fully.
  size_t bad = why_dense_factor(point->l, p1, 0);
  if (bad < p)
    return false;
  double* residual = &point->l[p * p1 + p];
  if (bad == p)
    *residual = 0;
  double log_det_xvx = 0;
  for (size_t a = 0; a < p; a++)
    log_det_xvx += 2 * log(point->l[a * p1 + a]);
  double n = (double)system->data->row_count;
  double twice =
      system->log_det_r + why_factor_log_determinant(point->factor) + *residual * *residual;
  if (system->plain)
    twice += n * LOG_TWO_PI;
  else
    twice += (n - (double)p) * LOG_TWO_PI + log_det_xvx - system->log_det_xx;
  point->log_likelihood = -twice / 2;
  return isfinite(twice);
}

void why_mixed_point_settle(const why_mixed_system* system, why_mixed_point* point) {
  size_t p = system->p;
  size_t p1 = p + 1;
  size_t q = system->q;
  // The last row of l is L⁻¹X'V⁻¹y.
  memcpy(point->b, point->l + p * p1, p * sizeof *point->b);
  for (size_t i = p; i-- > 0;) {
    for (size_t j = i + 1; j < p; j++)
      point->b[i] -= point->l[j * p1 + i] * point->b[j];
    point->b[i] /= point->l[i * p1 + i];
  }
  double* reduced = point->work;
  double* spherical = point->work + q;
  for (size_t j = 0; j < q; j++)
    reduced[j] = point->e[j * p1 + p] - why_dense_dot(point->e + j * p1, point->b, p);
  why_factor_backward(point->factor, reduced, spherical);
  why_scale_times(&point->scale, spherical, point->u);
  memset(point->z_py, 0, q * sizeof *point->z_py);
  why_sparse_add_times(system->s, point->u, point->z_py);
  for (size_t j = 0; j < q; j++)
    point->z_py[j] =
        system->t[j * p1 + p] - why_dense_dot(system->t + j * p1, point->b, p) - point->z_py[j];
}

void why_mixed_reduce(const why_mixed_system* system, const why_mixed_point* point, const double* c,
                      double* x, double* f) {
  size_t p = system->p;
  why_scale_transposed_times(&point->scale, c, point->work);
  why_factor_forward(point->factor, point->work, x);
  for (size_t j = 0; j < system->q; j++)
    if (x[j] != 0)
      for (size_t a = 0; a < p; a++)
        f[a] -= point->e[j * (p + 1) + a] * x[j];
  // The rows of l are p + 1 apart.
  for (size_t a = 0; a < p; a++) {
    const double* row = point->l + a * (p + 1);
    f[a] = (f[a] - why_dense_dot(row, f, a)) / row[a];
  }
}

/// Below this share of the information that rows have about a level, the diagonal of the inverse
/// has lost too many digits.
static const double LEAST_SHARE = 1e-6;

/// trace(Z_a' V⁻¹ Z_b) over the levels of a component, level by level.
static double trace_by_levels(const why_mixed_system* system, const why_mixed_point* point,
                              size_t component, double* room) {
  size_t q = system->q;
  double* c = room;
  double* x[2] = {room + q, room + 2 * q};
  size_t at[2] = {system->offset[system->first[component]],
                  system->offset[system->second[component]]};
  int sides = at[0] == at[1] ? 1 : 2;
  size_t levels = system->data->terms.at[system->first[component]].level_count;
  double sum = 0;
  for (size_t level = 0; level < levels; level++) {
    for (int side = 0; side < sides; side++) {
      memset(c, 0, q * sizeof *c);
      why_sparse_column(system->s, at[side] + level, c);
      why_scale_transposed_times(&point->scale, c, point->work);
      why_factor_forward(point->factor, point->work, x[side]);
    }
    sum += why_sparse_at(system->s, at[0] + level, at[sides - 1] + level) -
           why_dense_dot(x[0], x[sides - 1], q);
  }
  return sum;
}

/// The same for a variance without partners that is not near 0: with M = I + Λ'SΛ, each level has
/// (1 − (M⁻¹)jj) / variance. `diagonal`: of M⁻¹.
static double trace(const why_mixed_system* system, const why_mixed_point* point, size_t component,
                    const double* diagonal, double* room) {
  size_t k = system->first[component];
  double sum = 0;
  bool alone = k == system->second[component];
  for (size_t c = system->data->terms.count; c < system->component_count; c++)
    alone &= system->first[c] != k && system->second[c] != k;
  for (size_t j = system->offset[k]; alone && j < system->offset[k + 1]; j++)
    sum += 1 - diagonal[j];
  size_t levels = system->data->terms.at[k].level_count;
  if (!alone || sum < LEAST_SHARE * (double)levels)
    return trace_by_levels(system, point, component, room);
  return sum / point->components[component];
}

/// L⁻¹ of the rows of Z'V⁻¹X, q × p.
static void reduce_zx(const why_mixed_system* system, const why_mixed_point* point, double* d,
                      double* room) {
  size_t p = system->p;
  size_t q = system->q;
  double* modes = room;
  double* product = room + q;
  for (size_t a = 0; a < p; a++) {
    for (size_t j = 0; j < q; j++)
      point->work[j] = point->e[j * (p + 1) + a];
    why_factor_backward(point->factor, point->work, point->work + q);
    why_scale_times(&point->scale, point->work + q, modes);
    memset(product, 0, q * sizeof *product);
    why_sparse_add_times(system->s, modes, product);
    for (size_t j = 0; j < q; j++)
      d[j * p + a] = system->t[j * (p + 1) + a] - product[j];
  }
  for (size_t j = 0; j < q; j++)
    for (size_t a = 0; a < p; a++) {
      const double* row = point->l + a * (p + 1);
      d[j * p + a] = (d[j * p + a] - why_dense_dot(row, d + j * p, a)) / row[a];
    }
}

/// What the coefficients take from the trace of a component.
static double fixed_part(const why_mixed_system* system, size_t component, const double* d) {
  const double* first = d + system->offset[system->first[component]] * system->p;
  const double* second = d + system->offset[system->second[component]] * system->p;
  size_t levels = system->data->terms.at[system->first[component]].level_count;
  return why_dense_dot(first, second, levels * system->p);
}

/// ∂V Py = Z a of a component: the weights a, q numbers (zeros before).
static void working(const why_mixed_system* system, const why_mixed_point* point, size_t component,
                    double* a) {
  size_t first = system->offset[system->first[component]];
  size_t second = system->offset[system->second[component]];
  for (size_t i = 0; i < system->data->terms.at[system->first[component]].level_count; i++) {
    a[first + i] = point->z_py[second + i];
    a[second + i] = point->z_py[first + i];
  }
}

double* why_mixed_score_room(const why_mixed_system* system, why_arena* arena) {
  size_t wide = 3 * system->q + system->p;
  return WHY_NEW_ARRAY(arena, double,
                       (system->component_count + 1) * wide + system->q * (system->p + 1) + 1);
}

void why_mixed_score(const why_mixed_system* system, const why_mixed_point* point, double* room,
                     double* score, double* information) {
  size_t p = system->p;
  size_t q = system->q;
  size_t k = system->component_count;
  size_t wide = 3 * q + p; // Weights a, S a, x, f of each component; then room for traces, the
                           // diagonal of the inverse and Z'V⁻¹X.
  double* all = room;
  double* spare = all + k * wide;
  double* diagonal = spare + wide;
  double* d = diagonal + q;
  memset(all, 0, k * wide * sizeof *all);
  why_factor_inverse_diagonal(point->factor, diagonal);
  if (!system->plain)
    reduce_zx(system, point, d, spare);
  for (size_t c = 0; c < k; c++) {
    double* a = all + c * wide;
    working(system, point, c, a);
    why_sparse_add_times(system->s, a, a + q);
    double* f = a + 3 * q;
    for (size_t j = 0; j < q; j++)
      for (size_t i = 0; i < p && a[j] != 0; i++)
        f[i] += system->t[j * (p + 1) + i] * a[j];
    why_mixed_reduce(system, point, a + q, a + 2 * q, f);
    double of_trace = trace(system, point, c, diagonal, spare);
    if (!system->plain)
      of_trace -= fixed_part(system, c, d);
    double sides = system->first[c] == system->second[c] ? 1 : 2;
    score[c] = (why_dense_dot(a, point->z_py, q) - sides * of_trace) / 2;
    for (size_t e = 0; e <= c; e++) {
      const double* b = all + e * wide;
      information[c * k + e] = information[e * k + c] =
          (why_dense_dot(a, b + q, q) - why_dense_dot(a + 2 * q, b + 2 * q, q) -
           why_dense_dot(f, b + 3 * q, p)) /
          2;
    }
  }
}
