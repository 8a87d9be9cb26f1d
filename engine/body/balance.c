// SPDX-License-Identifier: GPL-3.0-or-later
// Least-norm reactions by a proximal-point iteration on the dual: min ½ Σ w |nearest(Gᵀλ)|² − b·λ,
// whose gradient is the residual of the six equations. The inner Newton steps are an active-set
// method: which contacts carry, slide or lift follows from λ.
#include "balance.h"

#include <gsl/gsl_linalg.h>

enum { NEWTON_STEPS = 200, PROXIMAL_STEPS = 40 };

static const double SMALLEST_PULL = 1e-7; ///< Of the proximal term, once it has been lowered.
static const double ZERO_SHARE = 1e-10;   ///< Of the largest singular value.
static const double GRADIENT_ENOUGH = 1e-13;
static const double ROUNDING = 1e-14; ///< Of forces, a share of the multipliers they come from.
static const double RESIDUAL_ENOUGH = 1e-12;

why_wrench why_wrench_of(why_vec arm, why_vec force) {
  why_vec moment = why_vec_cross(arm, force);
  return (why_wrench){{force.x, force.y, force.z, moment.x, moment.y, moment.z}};
}

why_vec why_wrench_at(const why_wrench* wrench, why_vec arm) {
  why_vec force = why_vec_of(&wrench->at[0]);
  return why_vec_add(force, why_vec_cross(why_vec_of(&wrench->at[3]), arm));
}

static double norm(const why_wrench* w) {
  double sum = 0;
  for (int i = 0; i < WHY_SIX; i++)
    sum += w->at[i] * w->at[i];
  return sqrt(sum);
}

static void forces_at(const why_balance* balance, const why_wrench* multipliers, why_vec* forces) {
  for (size_t i = 0; i < balance->count; i++) {
    const why_reaction* point = &balance->points[i];
    why_vec wish = why_wrench_at(multipliers, balance->arms[i]);
    forces[i] = why_vec_scale(why_cone_nearest(point, wish), point->weight);
  }
}

/// Σ wrenches of the forces.
static why_wrench carried(const why_balance* balance, const why_vec* forces) {
  why_wrench sum = {{0}};
  for (size_t i = 0; i < balance->count; i++) {
    why_wrench each = why_wrench_of(balance->arms[i], forces[i]);
    for (int j = 0; j < WHY_SIX; j++)
      sum.at[j] += each.at[j];
  }
  return sum;
}

/// One inner problem: pulled by `pull` towards `centre`.
typedef struct {
  const why_balance* balance;
  why_wrench centre;
  double pull;
} inner;

static double inner_value(const inner* p, const why_wrench* at, why_wrench* gradient) {
  why_vec forces[WHY_REACTIONS];
  forces_at(p->balance, at, forces);
  *gradient = carried(p->balance, forces);
  double value = 0;
  for (size_t i = 0; i < p->balance->count; i++)
    value += why_vec_dot(forces[i], forces[i]) / p->balance->points[i].weight / 2;
  for (int i = 0; i < WHY_SIX; i++) {
    double away = at->at[i] - p->centre.at[i];
    value += p->pull * away * away / 2 - p->balance->wanted.at[i] * at->at[i];
    gradient->at[i] += p->pull * away - p->balance->wanted.at[i];
  }
  return value;
}

/// Σ w G D Gᵀ over the points, D the slope of the cone.
static void stiffness(const why_balance* balance, const why_wrench* at, double* matrix) {
  for (int i = 0; i < WHY_SIX * WHY_SIX; i++)
    matrix[i] = 0;
  for (size_t p = 0; p < balance->count; p++) {
    why_vec rows[3];
    why_vec arm = balance->arms[p];
    why_cone_slope(&balance->points[p], why_wrench_at(at, arm), rows);
    for (int j = 0; j < WHY_SIX; j++) {
      why_wrench unit = {{0}};
      unit.at[j] = 1;
      why_vec wish = why_wrench_at(&unit, arm);
      why_vec force = {why_vec_dot(rows[0], wish), why_vec_dot(rows[1], wish),
                       why_vec_dot(rows[2], wish)};
      why_wrench column = why_wrench_of(arm, why_vec_scale(force, balance->points[p].weight));
      for (int i = 0; i < WHY_SIX; i++)
        matrix[i * WHY_SIX + j] += column.at[i];
    }
  }
}

static void newton_step(const inner* p, const why_wrench* at, const why_wrench* gradient,
                        why_wrench* step) {
  double matrix[WHY_SIX * WHY_SIX];
  stiffness(p->balance, at, matrix);
  for (int i = 0; i < WHY_SIX; i++)
    matrix[i * WHY_SIX + i] += p->pull;
  why_wrench down = *gradient;
  gsl_matrix_view a = gsl_matrix_view_array(matrix, WHY_SIX, WHY_SIX);
  gsl_vector_view b = gsl_vector_view_array(down.at, WHY_SIX);
  gsl_vector_view x = gsl_vector_view_array(step->at, WHY_SIX);
  gsl_linalg_cholesky_decomp1(&a.matrix);
  gsl_linalg_cholesky_solve(&a.matrix, &b.vector, &x.vector);
  for (int i = 0; i < WHY_SIX; i++)
    step->at[i] = -step->at[i];
}

static why_wrench moved(const why_wrench* from, const why_wrench* step, double by) {
  why_wrench to = *from;
  for (int i = 0; i < WHY_SIX; i++)
    to.at[i] += by * step->at[i];
  return to;
}

/// Go down along `step` until the value falls enough (Armijo's rule) or, near the end where values
/// no longer tell, the gradient does. False when neither happens.
static bool search_line(const inner* p, why_wrench* at, const why_wrench* step) {
  why_wrench gradient;
  double value = inner_value(p, at, &gradient);
  double before = norm(&gradient);
  double slope = 0;
  for (int i = 0; i < WHY_SIX; i++)
    slope += gradient.at[i] * step->at[i];
  for (double by = 1; by > 1e-12; by /= 2) {
    why_wrench next = moved(at, step, by);
    double there = inner_value(p, &next, &gradient);
    if (there <= value + 1e-4 * by * slope || norm(&gradient) <= before * (1 - 0.1 * by)) {
      *at = next;
      return true;
    }
  }
  return false;
}

static bool solve_inner(const inner* p, why_wrench* at) {
  for (int i = 0; i < NEWTON_STEPS; i++) {
    // Out of balance the multipliers grow without bound, and rounding with them.
    double enough = GRADIENT_ENOUGH * (1 + norm(&p->balance->wanted)) + ROUNDING * norm(at);
    why_wrench gradient;
    why_wrench step;
    inner_value(p, at, &gradient);
    if (norm(&gradient) <= enough)
      return true;
    newton_step(p, at, &gradient, &step);
    if (!search_line(p, at, &step))
      return norm(&gradient) <= 1e3 * enough;
  }
  return false;
}

bool why_balance_solve(const why_balance* balance, why_wrench* multipliers, why_vec* forces) {
  inner p = {.balance = balance, .pull = 1};
  *multipliers = (why_wrench){{0}};
  bool settled = true;
  double last = INFINITY;
  for (int i = 0; i < PROXIMAL_STEPS; i++) {
    p.centre = *multipliers;
    settled = solve_inner(&p, multipliers);
    forces_at(balance, multipliers, forces);
    why_wrench residual = carried(balance, forces);
    for (int j = 0; j < WHY_SIX; j++)
      residual.at[j] -= balance->wanted.at[j];
    double left = norm(&residual);
    bool lowest = p.pull <= SMALLEST_PULL;
    if (left <= RESIDUAL_ENOUGH || (lowest && left > last * (1 - 1e-6)))
      break;
    last = left;
    p.pull = fmax(p.pull / 10, SMALLEST_PULL);
  }
  return settled;
}

void why_six_invert(const double* a, double* inverse) {
  double left[WHY_SIX * WHY_SIX];
  double right[WHY_SIX * WHY_SIX];
  double values[WHY_SIX];
  for (int i = 0; i < WHY_SIX * WHY_SIX; i++) {
    left[i] = a[i];
    inverse[i] = 0;
  }
  gsl_matrix_view u = gsl_matrix_view_array(left, WHY_SIX, WHY_SIX);
  gsl_matrix_view v = gsl_matrix_view_array(right, WHY_SIX, WHY_SIX);
  gsl_vector_view s = gsl_vector_view_array(values, WHY_SIX);
  gsl_linalg_SV_decomp_jacobi(&u.matrix, &v.matrix, &s.vector);
  for (int k = 0; k < WHY_SIX && values[k] > ZERO_SHARE * values[0]; k++)
    for (int i = 0; i < WHY_SIX; i++)
      for (int j = 0; j < WHY_SIX; j++)
        inverse[i * WHY_SIX + j] += right[i * WHY_SIX + k] * left[j * WHY_SIX + k] / values[k];
}

why_wrench why_six_times(const double* a, const why_wrench* b) {
  why_wrench product = {{0}};
  for (int i = 0; i < WHY_SIX; i++)
    for (int j = 0; j < WHY_SIX; j++)
      product.at[i] += a[i * WHY_SIX + j] * b->at[j];
  return product;
}

void why_balance_answer(const why_balance* balance, const why_wrench* multipliers,
                        const why_wrench* wanted, why_vec* forces) {
  double matrix[WHY_SIX * WHY_SIX];
  double inverse[WHY_SIX * WHY_SIX];
  stiffness(balance, multipliers, matrix);
  why_six_invert(matrix, inverse);
  why_wrench answer = why_six_times(inverse, wanted);
  for (size_t i = 0; i < balance->count; i++) {
    why_vec rows[3];
    why_cone_slope(&balance->points[i], why_wrench_at(multipliers, balance->arms[i]), rows);
    why_vec wish = why_wrench_at(&answer, balance->arms[i]);
    why_vec force = {why_vec_dot(rows[0], wish), why_vec_dot(rows[1], wish),
                     why_vec_dot(rows[2], wish)};
    forces[i] = why_vec_scale(force, balance->points[i].weight);
  }
}
