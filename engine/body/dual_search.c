// SPDX-License-Identifier: GPL-3.0-or-later
// Newton's method on the prices of the equations.
#include "dual.h"

#include <string.h>

enum { NEWTON_STEPS = 40 };

static const double ARMIJO = 1e-4;
static const double ROUNDING = 1e-13; ///< Of values.
static const double ROUND = 0.03;     ///< Corners to begin with: known prices, none.
static const double ROUNDEST = 1;
static const double SHARPER = 30;   ///< From one rounding of the corner to the next.
static const double ROUGHLY = 1e-1; ///< A residual that will do before the next.
static const double SHORTEST_STEP = 1e-4;
static const double LEAST_DAMPING = 1e-12; ///< Share of its own curvature added to each price.
static const double MOST_DAMPING = 1e6;
static const double MORE_DAMPING = 100;

/// A search with one rounding of the corner: where it stands, and room for where it looks.
typedef struct {
  const why_dual* dual;
  double smooth;
  why_prices* prices;
  why_dual_point* at;
  why_dual_point* room;
} quest;

static double residual_of(const why_dual* dual, const why_dual_point* at) {
  double most = 0;
  double asked = 1;
  for (size_t i = 0; i < dual->equation_count; i++) {
    most = fmax(most, fabs(at->gradient[i]));
    asked = fmax(asked, fabs(dual->asked[i]));
  }
  return most / asked;
}

/// The lower triangle of a matrix by rows, each from its first entry that is not nothing: few
/// equations meet in a head, and what lies before that stays nothing in the factor too.
typedef struct {
  size_t n;
  size_t first[WHY_EQUATIONS];
  double at[WHY_EQUATIONS][WHY_EQUATIONS];
} triangle;

/// Factor into L Lᵀ in place; false when the matrix is not positive definite.
static bool factor(triangle* t) {
  for (size_t i = 0; i < t->n; i++) {
    double* row = t->at[i];
    double left = row[i];
    for (size_t j = t->first[i]; j < i; j++) {
      const double* other = t->at[j];
      size_t from = t->first[i] > t->first[j] ? t->first[i] : t->first[j];
      double sum = row[j];
      for (size_t k = from; k < j; k++)
        sum -= row[k] * other[k];
      row[j] = sum / other[j];
      left -= row[j] * row[j];
    }
    if (!(left > 0))
      return false;
    row[i] = sqrt(left);
  }
  return true;
}

/// x becomes the solution of L Lᵀ x = x.
static void solve(const triangle* t, double* x) {
  for (size_t i = 0; i < t->n; i++) {
    for (size_t j = t->first[i]; j < i; j++)
      x[i] -= t->at[i][j] * x[j];
    x[i] /= t->at[i][i];
  }
  for (size_t i = t->n; i-- > 0;) {
    x[i] /= t->at[i][i];
    for (size_t j = t->first[i]; j < i; j++)
      x[j] -= t->at[i][j] * x[i];
  }
}

/// The Newton step, with every price scaled so that its curvature is 1, damped in the manner of
/// Levenberg and Marquardt: where contacts lift or slide, a direction may have no curvature at all.
static bool newton_step(const quest* q, double damping, double* step) {
  triangle t;
  t.n = q->dual->equation_count;
  double scale[WHY_EQUATIONS];
  for (size_t i = 0; i < t.n; i++) {
    const double* row = q->at->curvature[i];
    scale[i] = row[i] > 0 ? 1 / sqrt(row[i]) : 1;
    step[i] = -q->at->gradient[i] * scale[i];
    t.first[i] = 0;
    while (t.first[i] < i && row[t.first[i]] == 0)
      t.first[i]++;
    for (size_t j = t.first[i]; j < i; j++)
      t.at[i][j] = row[j] * scale[i] * scale[j];
    t.at[i][i] = 1 + damping;
  }
  if (!factor(&t))
    return false;
  solve(&t, step);
  for (size_t i = 0; i < t.n; i++)
    step[i] *= scale[i];
  return true;
}

static double dot(const double* a, const double* b, size_t n) {
  double sum = 0;
  for (size_t i = 0; i < n; i++)
    sum += a[i] * b[i];
  return sum;
}

static double size_of(const why_dual_point* at, size_t n) {
  return sqrt(dot(at->gradient, at->gradient, n));
}

/// Whether the point in the room is enough better than where the search stands, `by` of the way.
static bool is_better(const quest* q, double by, double slope) {
  size_t n = q->dual->equation_count;
  if (q->room->value <= q->at->value + ARMIJO * by * slope)
    return true;
  bool level = q->room->value <= q->at->value + ROUNDING * (1 + fabs(q->at->value));
  return level && size_of(q->room, n) <= size_of(q->at, n) * (1 - by / 4);
}

/// Go along the step, back to where its slope would vanish on a parabola, until the value falls
/// enough or, near the end where values no longer tell, the gradient does.
static bool search_line(quest* q, const double* step) {
  size_t n = q->dual->equation_count;
  double* prices = q->prices->prices;
  double start[WHY_EQUATIONS];
  double slope = dot(q->at->gradient, step, n);
  memcpy(start, prices, n * sizeof *start);
  for (double by = 1; by > SHORTEST_STEP;) {
    for (size_t i = 0; i < n; i++)
      prices[i] = start[i] + by * step[i];
    why_dual_look(q->dual, q->smooth, prices, q->room);
    if (is_better(q, by, slope)) {
      why_dual_point* left = q->at;
      q->at = q->room;
      q->room = left;
      return true;
    }
    double there = dot(q->room->gradient, step, n);
    by *= fmin(fmax(slope / (slope - there), 0.3), 0.8);
  }
  memcpy(prices, start, n * sizeof *start);
  return false;
}

/// From the prices where they are, with the corner of the cost rounded over `smooth`.
static bool search(const why_dual* dual, double smooth, double enough, why_prices* prices) {
  why_dual_point points[2];
  quest q = {dual, smooth, prices, &points[0], &points[1]};
  double damping = LEAST_DAMPING;
  why_dual_look(dual, smooth, prices->prices, q.at);
  for (int i = 0; i < NEWTON_STEPS; i++, prices->steps++) {
    prices->residual = residual_of(dual, q.at);
    if (prices->residual <= enough)
      return true;
    bool found = false;
    for (; !found && damping < MOST_DAMPING; damping *= found ? 1 : MORE_DAMPING) {
      double step[WHY_EQUATIONS];
      found = newton_step(&q, damping, step) && search_line(&q, step);
    }
    if (!found)
      return false;
    damping = fmax(LEAST_DAMPING, damping / MORE_DAMPING);
  }
  return false;
}

/// Sharpen the corner of the cost from `smooth` by and by: the rounder it is, the further Newton's
/// steps reach.
static bool sharpen(const why_dual* dual, double smooth, double enough, why_prices* prices) {
  for (; smooth > dual->smooth * 1.001; smooth /= SHARPER)
    search(dual, smooth, ROUGHLY, prices);
  return search(dual, dual->smooth, enough, prices);
}

static bool is_cold(const why_dual* dual, const why_prices* prices) {
  for (size_t i = 0; i < dual->equation_count; i++)
    if (prices->prices[i] != 0)
      return false;
  return true;
}

/// Known prices are tried as they are, then with a rounder corner; cold, the search begins with a
/// cost that is nearly a square.
bool why_dual_solve(const why_dual* dual, double enough, why_prices* prices) {
  prices->steps = 0;
  if (!is_cold(dual, prices) &&
      (search(dual, dual->smooth, enough, prices) || sharpen(dual, ROUND, enough, prices)))
    return true;
  for (size_t i = 0; i < dual->equation_count; i++)
    prices->prices[i] = 0;
  return sharpen(dual, ROUNDEST, enough, prices);
}
