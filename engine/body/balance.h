// SPDX-License-Identifier: GPL-3.0-or-later
/// The six equations of equilibrium as a small optimisation, and their linear algebra. Private to
/// body.
#ifndef WHY_BODY_BALANCE_H
#define WHY_BODY_BALANCE_H

#include "cone.h"

enum { WHY_SIX = 6 };

/// Force and moment about one point.
typedef struct {
  double at[WHY_SIX];
} why_wrench;

/// Force `force` at `arm` from the point of reference.
why_wrench why_wrench_of(why_vec arm, why_vec force);

/// The part of a wrench that works at `arm`: force + moment × arm.
why_vec why_wrench_at(const why_wrench* wrench, why_vec arm);

/// A problem of balance: which forces, one a point inside its cone, carry `wanted` with the least
/// Σ|f|²/weight.
typedef struct {
  size_t count;
  const why_reaction* points;
  const why_vec* arms; ///< Of the points from the point of reference.
  why_wrench wanted;
} why_balance;

/// Solve by the dual: the multipliers are six, f = weight · nearest(multipliers at the point). Each
/// step of a proximal-point iteration is a smooth convex problem solved by Newton's method with a
/// line search; where balance is impossible the residual tends to the least one. Returns whether it
/// settled; `multipliers` and `forces` get the result.
bool why_balance_solve(const why_balance* balance, why_wrench* multipliers, why_vec* forces);

/// With cones frozen as they are at `multipliers`: the linear answer of the forces to a wrench.
void why_balance_answer(const why_balance* balance, const why_wrench* multipliers,
                        const why_wrench* wanted, why_vec* forces);

/// The pseudo-inverse of a symmetric 6 × 6 matrix by rows, with which a product is the solution of
/// least squares and least norm; singular values below 1e-10 of the largest count as zero.
void why_six_invert(const double* a, double* inverse);

why_wrench why_six_times(const double* a, const why_wrench* b);

#endif
