// SPDX-License-Identifier: GPL-3.0-or-later
/// A convex sharing problem and its solution by the dual: strands and supports give to equations
/// what these ask for, at the least cost. Private to body.
///
/// Every unknown x, as a share of its capacity, costs (x + s)^p less the tangent of that at 0: the
/// power p of the sharing, its corner at nothing made smooth by a small s. The dual of
///
///   min Σ cost(x)  subject to  Σ gives · x = asked
///
/// has one unknown an equation, its price; at given prices every x follows by itself. It is smooth
/// and convex, so Newton's method with a line search finds it (Boyd and Vandenberghe, Convex
/// Optimization, 2004, chapters 5 and 9.5). The gradient is what is asked for and not given.
#ifndef WHY_BODY_DUAL_H
#define WHY_BODY_DUAL_H

#include "reaction.h"

enum {
  WHY_EQUATIONS = 56,
  WHY_STRANDS = 320,
  WHY_STRAND_ROWS = WHY_PATH_COORDINATES,
  WHY_SUPPORT_ROWS = 24,
};

/// One number, a force or a moment: what a head gives, or what helps to hold a coordinate.
typedef struct {
  double capacity;
  bool either;   ///< Gives in both senses; else not below 0.
  double weight; ///< 2: stands for its mirror image too.
  size_t count;
  int rows[WHY_STRAND_ROWS];     ///< Ascending.
  double gives[WHY_STRAND_ROWS]; ///< To each of these equations, a unit of force.
} why_strand;

/// How far the force at a contact goes from `usual`, within the contact's cone.
typedef struct {
  const why_reaction* contact;
  why_vec usual; ///< Inside the cone, newtons.
  double capacity;
  double weight;
  size_t count;
  int rows[WHY_SUPPORT_ROWS];      ///< Ascending.
  why_vec gives[WHY_SUPPORT_ROWS]; ///< To each equation: gives · force.
} why_support;

typedef struct {
  double exponent; ///< p, above 2.
  double smooth;   ///< s of strands.
  double soft;     ///< s of supports, larger: near nothing they would be far stiffer than heads.
  size_t equation_count;
  double asked[WHY_EQUATIONS];
  size_t strand_count;
  why_strand strands[WHY_STRANDS];
  size_t support_count;
  why_support supports[WHY_REACTIONS + 1];
} why_dual;

typedef struct {
  double prices[WHY_EQUATIONS];
  double residual; ///< The largest share of what is asked anywhere (at least 1) that is not given.
  int steps;
} why_prices;

/// The function that the search makes least, where some prices are.
typedef struct {
  double value;
  double gradient[WHY_EQUATIONS];                 ///< What is given less what is asked.
  double curvature[WHY_EQUATIONS][WHY_EQUATIONS]; ///< Its lower triangle only.
} why_dual_point;

/// Look at `prices`, the corner of the cost of strands rounded over `smooth`, that of supports over
/// no less than it.
void why_dual_look(const why_dual* dual, double smooth, const double* prices, why_dual_point* at);

/// Find the prices from where they are, `prices->prices` (zeros will do). False when the residual
/// did not come below `enough`.
bool why_dual_solve(const why_dual* dual, double enough, why_prices* prices);

/// The force of a strand, in the unit of its capacity.
double why_dual_strand(const why_dual* dual, const why_strand* strand, const double* prices);

/// The share of its capacity that a strand would give if it were paid `pay` a unit of force.
double why_dual_share(const why_dual* dual, const why_strand* strand, double pay);

/// By how much the force at a support differs from the usual one.
why_vec why_dual_support(const why_dual* dual, const why_support* support, const double* prices);

#endif
