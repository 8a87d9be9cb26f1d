// SPDX-License-Identifier: GPL-3.0-or-later
// What strands and supports give at prices: the value of the dual, its gradient and its curvature.
#include "dual.h"

#include "cone.h"

enum { RAY_STEPS = 60 };

/// Marginal cost of an unknown and its slope and integral are powers of (x + s).
typedef struct {
  double p;
  double smooth;
  double at_rest; ///< p · s^(p−1)
} curve;

static curve curve_of(const why_dual* dual, double smooth) {
  double p = dual->exponent;
  return (curve){p, smooth, p * (p == 3 ? smooth * smooth : pow(smooth, p - 1))};
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
  double least = (c->p - 1) * c->at_rest / c->smooth;
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
    if (fabs(error) < 1e-10)
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

static void add_strand(const curve* c, const why_strand* strand, const double* prices,
                       why_dual_point* at) {
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
    double* row = at->curvature[strand->rows[i]];
    for (size_t j = 0; j <= i; j++)
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

static void add_support(const curve* c, const why_support* support, const double* prices,
                        why_dual_point* at) {
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
    double* row = at->curvature[support->rows[i]];
    for (size_t j = 0; j <= i; j++)
      row[support->rows[j]] += why_vec_dot(seen, support->gives[j]);
  }
}

void why_dual_look(const why_dual* dual, double smooth, const double* prices, why_dual_point* at) {
  curve sharp = curve_of(dual, smooth);
  curve soft = curve_of(dual, fmax(smooth, dual->soft));
  size_t n = dual->equation_count;
  at->value = 0;
  for (size_t i = 0; i < n; i++) {
    at->gradient[i] = -dual->asked[i];
    for (size_t j = 0; j <= i; j++)
      at->curvature[i][j] = 0;
  }
  for (size_t i = 0; i < dual->strand_count; i++)
    add_strand(&sharp, &dual->strands[i], prices, at);
  for (size_t i = 0; i < dual->support_count; i++)
    add_support(&soft, &dual->supports[i], prices, at);
  for (size_t i = 0; i < n; i++)
    at->value -= dual->asked[i] * prices[i];
}
