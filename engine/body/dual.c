// SPDX-License-Identifier: GPL-3.0-or-later
// Newton's method on the prices of the equations.
#include "dual.h"

#include "cone.h"

#include <string.h>

#include <gsl/gsl_linalg.h>

enum { WARM_STEPS = 16, NEWTON_STEPS = 40, RAY_STEPS = 60 };

static const double ARMIJO = 1e-4;
static const double ROUNDING = 1e-13; ///< Of values.
static const double ROUND = 0.03;     ///< Corners to begin with: known prices, none.
static const double ROUNDEST = 1;
static const double SHARPER = 30;   ///< From one rounding of the corner to the next.
static const double ROUGHLY = 1e-2; ///< A residual that will do before the next.
static const double SHORTEST_STEP = 1e-4;
static const double LEAST_DAMPING = 1e-12; ///< Share of its own curvature added to each price.
static const double MOST_DAMPING = 1e6;
static const double MORE_DAMPING = 100;

/// Marginal cost of an unknown and its slope and integral are powers of (x + s).
typedef struct {
  double p;
  double smooth;
  double at_rest; ///< p · s^(p−1)
} curve;

static curve curve_of(const why_dual* dual, double smooth) {
  return (curve){dual->exponent, smooth, dual->exponent * pow(smooth, dual->exponent - 1)};
}

/// base^(1/(p−1)); a square root for the usual power.
static double root(const curve* c, double base) {
  return c->p == 3 ? sqrt(base) : pow(base, 1 / (c->p - 1));
}

/// base^p; a cube for the usual power.
static double power_of(const curve* c, double base) {
  return c->p == 3 ? base * base * base : pow(base, c->p);
}

/// The share x ≥ 0 at which the marginal cost is `pay` ≥ 0.
static double share_at(const curve* c, double pay) {
  return root(c, (pay + c->at_rest) / c->p) - c->smooth;
}

/// Its derivative, where it is `x`.
static double share_slope(const curve* c, double pay, double x) {
  return (x + c->smooth) / ((c->p - 1) * (pay + c->at_rest));
}

/// What is left of the pay when the cost of `x` is met.
static double surplus(const curve* c, double pay, double x) {
  double power = (x + c->smooth) * (pay + c->at_rest) / c->p;
  double rest = c->smooth * c->at_rest / c->p;
  return pay * x - (power - rest - c->at_rest * x);
}

/// Marginal cost over share, the stiffness of an unknown, and the elasticity of that.
static double stiffness_at(const curve* c, double x, double* elasticity) {
  double least = c->p * (c->p - 1) * pow(c->smooth, c->p - 2);
  *elasticity = 0;
  if (x < 1e-9 * c->smooth)
    return least;
  double power = c->p == 3 ? (x + c->smooth) : pow(x + c->smooth, c->p - 2);
  double marginal = c->p * power * (x + c->smooth) - c->at_rest;
  *elasticity = c->p * (c->p - 1) * power * x / marginal - 1;
  return marginal / x;
}

static double pay_of(const why_strand* strand, const double* prices) {
  double pay = 0;
  for (size_t i = 0; i < strand->count; i++)
    pay += strand->gives[i] * prices[strand->rows[i]];
  return pay * strand->capacity;
}

double why_dual_share(const why_dual* dual, const why_strand* strand, double pay) {
  curve c = curve_of(dual, dual->smooth);
  double per_capacity = pay * strand->capacity;
  if (per_capacity < 0 && !strand->either)
    return 0;
  return copysign(share_at(&c, fabs(per_capacity)), per_capacity);
}

double why_dual_strand(const why_dual* dual, const why_strand* strand, const double* prices) {
  return strand->capacity * why_dual_share(dual, strand, pay_of(strand, prices) / strand->capacity);
}

static why_vec wish_of(const why_support* support, const double* prices) {
  why_vec wish = {0, 0, 0};
  for (size_t i = 0; i < support->count; i++)
    wish = why_vec_add(wish, why_vec_scale(support->gives[i], prices[support->rows[i]]));
  return wish;
}

/// Where a support ends up: the point of the cone nearest to usual + reach · wish, with the reach
/// at which marginal cost and wish agree.
typedef struct {
  double reach;
  double share;
  double elasticity;
  why_vec away; ///< From the usual force.
  why_vec slope[3];
} landing;

static void land(const why_support* support, why_vec wish, double reach, landing* at) {
  why_vec aim = why_vec_add(support->usual, why_vec_scale(wish, reach));
  at->reach = reach;
  at->away = why_vec_subtract(why_cone_nearest(support->contact, aim), support->usual);
  at->share = why_vec_length(at->away) / support->capacity;
  why_cone_slope(support->contact, aim, at->slope);
}

static why_vec times(const why_vec rows[3], why_vec a) {
  return (why_vec){why_vec_dot(rows[0], a), why_vec_dot(rows[1], a), why_vec_dot(rows[2], a)};
}

/// Solve reach · stiffness(share(reach)) = capacity² for the reach: the left side grows with it.
/// Newton's method on the logarithms, kept inside a bracket.
static landing land_support(const why_support* support, why_vec wish, const curve* c) {
  landing at;
  double square = support->capacity * support->capacity;
  double elasticity = 0;
  double high = square / stiffness_at(c, 0, &elasticity);
  double low = 0;
  double length = why_vec_length(wish) * support->capacity;
  double free = share_at(c, length);
  double reach = length > 0 ? square / stiffness_at(c, free, &elasticity) : high;
  for (int i = 0; i < RAY_STEPS; i++) {
    land(support, wish, reach, &at);
    double error = log(reach * stiffness_at(c, at.share, &at.elasticity) / square);
    if (fabs(error) < 1e-12)
      break;
    if (error > 0)
      high = reach;
    else
      low = reach;
    why_vec along = times(at.slope, wish);
    double share = at.share * support->capacity;
    double growth = share > 0 ? reach * why_vec_dot(at.away, along) / (share * share) : 0;
    reach *= exp(-error / (1 + at.elasticity * growth));
    reach = fmin(reach, high);
    if (!(reach > low))
      reach = low > 0 ? sqrt(low * high) : high / 2;
  }
  return at;
}

why_vec why_dual_support(const why_dual* dual, const why_support* support, const double* prices) {
  curve c = curve_of(dual, dual->soft);
  return land_support(support, wish_of(support, prices), &c).away;
}

/// A point of the search.
typedef struct {
  double value;
  double gradient[WHY_EQUATIONS];
  double curvature[WHY_EQUATIONS * WHY_EQUATIONS]; ///< By rows.
} point;

static void add_strand(const why_dual* dual, const curve* c, const why_strand* strand,
                       const double* prices, point* at) {
  double pay = pay_of(strand, prices);
  if (pay < 0 && !strand->either)
    return;
  double size = fabs(pay);
  double x = share_at(c, size);
  double force = strand->weight * strand->capacity * copysign(x, pay);
  at->value += strand->weight * surplus(c, size, x);
  for (size_t i = 0; i < strand->count; i++)
    at->gradient[strand->rows[i]] += force * strand->gives[i];
  double slope = strand->weight * strand->capacity * strand->capacity * share_slope(c, size, x);
  for (size_t i = 0; i < strand->count; i++) {
    double* row = &at->curvature[(size_t)strand->rows[i] * dual->equation_count];
    for (size_t j = 0; j < strand->count; j++)
      row[strand->rows[j]] += slope * strand->gives[i] * strand->gives[j];
  }
}

/// ∂away/∂wish: reach · (P − k P u uᵀ P), P the slope of the cone and u the unit vector of `away`.
static void support_slope(const landing* at, why_vec rows[3]) {
  why_vec along = why_vec_unit(at->away);
  why_vec seen = times(at->slope, along);
  double k = at->elasticity / (1 + at->elasticity * why_vec_dot(along, seen));
  const double parts[3] = {seen.x, seen.y, seen.z};
  for (int i = 0; i < 3; i++)
    rows[i] =
        why_vec_scale(why_vec_subtract(at->slope[i], why_vec_scale(seen, k * parts[i])), at->reach);
}

static void add_support(const why_dual* dual, const curve* c, const why_support* support,
                        const double* prices, point* at) {
  why_vec wish = wish_of(support, prices);
  landing end = land_support(support, wish, c);
  double power = power_of(c, end.share + c->smooth) - power_of(c, c->smooth);
  at->value += support->weight * (why_vec_dot(wish, end.away) - power + c->at_rest * end.share);
  for (size_t i = 0; i < support->count; i++)
    at->gradient[support->rows[i]] += support->weight * why_vec_dot(support->gives[i], end.away);
  why_vec rows[3];
  support_slope(&end, rows);
  for (size_t i = 0; i < support->count; i++) {
    why_vec seen = times(rows, why_vec_scale(support->gives[i], support->weight));
    double* row = &at->curvature[(size_t)support->rows[i] * dual->equation_count];
    for (size_t j = 0; j < support->count; j++)
      row[support->rows[j]] += why_vec_dot(seen, support->gives[j]);
  }
}

static void look(const why_dual* dual, const curve* c, const double* prices, point* at) {

  curve soft = curve_of(dual, fmax(c->smooth, dual->soft));
  size_t n = dual->equation_count;
  at->value = 0;
  for (size_t i = 0; i < n; i++)
    at->gradient[i] = -dual->asked[i];
  for (size_t i = 0; i < n * n; i++)
    at->curvature[i] = 0;
  for (size_t i = 0; i < dual->strand_count; i++)
    add_strand(dual, c, &dual->strands[i], prices, at);
  for (size_t i = 0; i < dual->support_count; i++)
    add_support(dual, &soft, &dual->supports[i], prices, at);
  for (size_t i = 0; i < n; i++)
    at->value -= dual->asked[i] * prices[i];
}

static double residual_of(const why_dual* dual, const point* at) {
  double most = 0;
  double asked = 1;
  for (size_t i = 0; i < dual->equation_count; i++) {
    most = fmax(most, fabs(at->gradient[i]));
    asked = fmax(asked, fabs(dual->asked[i]));
  }
  return most / asked;
}

/// The Newton step, with every price scaled so that its curvature is 1, damped in the manner of
/// Levenberg and Marquardt: where contacts lift or slide, a direction may have no curvature at all.
static void newton_step(size_t n, const point* at, double damping, double* step) {
  double matrix[WHY_EQUATIONS * WHY_EQUATIONS];
  double scale[WHY_EQUATIONS];
  for (size_t i = 0; i < n; i++) {
    double own = at->curvature[i * n + i];
    scale[i] = own > 0 ? 1 / sqrt(own) : 1;
    step[i] = -at->gradient[i] * scale[i];
    for (size_t j = 0; j < i; j++)
      matrix[i * n + j] = at->curvature[i * n + j] * scale[i] * scale[j];
    matrix[i * n + i] = 1 + damping;
  }
  gsl_matrix_view a = gsl_matrix_view_array(matrix, n, n);
  gsl_vector_view x = gsl_vector_view_array(step, n);
  gsl_linalg_cholesky_decomp1(&a.matrix);
  gsl_linalg_cholesky_svx(&a.matrix, &x.vector);
  for (size_t i = 0; i < n; i++)
    step[i] *= scale[i];
}

static double dot(const double* a, const double* b, size_t n) {
  double sum = 0;
  for (size_t i = 0; i < n; i++)
    sum += a[i] * b[i];
  return sum;
}

static double size_of(const point* at, size_t n) {
  return sqrt(dot(at->gradient, at->gradient, n));
}

/// Go along the step, back to where its slope would vanish on a parabola, until the value falls
/// enough or, near the end where values no longer tell, the gradient does; `at` and `prices` become
/// where that is.
static bool search_line(const why_dual* dual, const curve* c, const double* step, point* at,
                        point* room, double* prices) {
  size_t n = dual->equation_count;
  double start[WHY_EQUATIONS];
  double slope = dot(at->gradient, step, n);
  memcpy(start, prices, n * sizeof *start);
  double before = size_of(at, n);
  for (double by = 1; by > SHORTEST_STEP;) {
    for (size_t i = 0; i < n; i++)
      prices[i] = start[i] + by * step[i];
    look(dual, c, prices, room);
    bool falls = room->value <= at->value + ARMIJO * by * slope;
    bool level = room->value <= at->value + ROUNDING * (1 + fabs(at->value));
    if (falls || (level && size_of(room, n) <= before * (1 - by / 4))) {
      *at = *room;
      return true;
    }
    double there = dot(room->gradient, step, n);
    by *= fmin(fmax(slope / (slope - there), 0.1), 0.8);
  }
  for (size_t i = 0; i < n; i++)
    prices[i] = start[i];
  return false;
}

/// From the prices where they are, with the corner of the cost rounded as `c` says.
static bool search(const why_dual* dual, const curve* c, double enough, int steps,
                   why_prices* prices) {
  point at;
  point room;
  double damping = LEAST_DAMPING;
  look(dual, c, prices->prices, &at);
  for (int i = 0; i < steps; i++, prices->steps++) {
    prices->residual = residual_of(dual, &at);
    if (prices->residual <= enough)
      return true;
    bool found = false;
    for (; !found && damping < MOST_DAMPING; damping *= found ? 1 : MORE_DAMPING) {
      double step[WHY_EQUATIONS];
      newton_step(dual->equation_count, &at, damping, step);
      found = search_line(dual, c, step, &at, &room, prices->prices);
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
  for (; smooth > dual->smooth * 1.001; smooth /= SHARPER) {
    curve round = curve_of(dual, smooth);
    search(dual, &round, ROUGHLY, NEWTON_STEPS, prices);
  }
  curve c = curve_of(dual, dual->smooth);
  return search(dual, &c, enough, NEWTON_STEPS, prices);
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
  curve c = curve_of(dual, dual->smooth);
  prices->steps = 0;
  if (!is_cold(dual, prices) &&
      (search(dual, &c, enough, WARM_STEPS, prices) || sharpen(dual, ROUND, enough, prices)))
    return true;
  for (size_t i = 0; i < dual->equation_count; i++)
    prices->prices[i] = 0;
  return sharpen(dual, ROUNDEST, enough, prices);
}
