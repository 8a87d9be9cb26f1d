// SPDX-License-Identifier: GPL-3.0-or-later
/// The mixed model in products: what the data come down to once R is factored, and what follows
/// from them at given variance components. Private to pool.
#ifndef WHY_POOL_MIXED_SYSTEM_H
#define WHY_POOL_MIXED_SYSTEM_H

#include "mixed.h"
#include "sparse.h"

/// Products of [Z X y] with R⁻¹ between. y is centred: the part that the coefficients explain when
/// there are no random effects is taken out first, so that little cancels.
struct why_mixed_system {
  const why_mixed_data* data;
  bool plain;
  size_t q;       ///< Levels of all terms.
  size_t p;       ///< Coefficients.
  size_t* offset; ///< Of each term's levels.
  why_sparse* s;  ///< Z'R⁻¹Z.
  double* t;      ///< Z'R⁻¹[X y], q × (p+1).
  double* a;      ///< [X y]'R⁻¹[X y], (p+1) × (p+1).
  double* centre; ///< Coefficients that were taken out.
  double log_det_r;
  double log_det_xx; ///< log|X'X|
  size_t component_count;
  size_t* first; ///< Terms of each component.
  size_t* second;
};

/// Everything at one set of components.
struct why_mixed_point {
  double* components;
  why_factor_scale scale; ///< Λ.
  why_factor* factor;
  double* e;    ///< L⁻¹PΛ'Z'R⁻¹[X y], q × (p+1).
  double* l;    ///< Factor of [X y]'V⁻¹[X y], (p+1) × (p+1).
  double* b;    ///< Coefficients of the centred y.
  double* u;    ///< Conditional modes.
  double* z_py; ///< Z'Py
  double* work; ///< Room for 2 q numbers.
  double log_likelihood;
};

why_status why_mixed_system_new(const why_mixed_data* data, bool plain, why_arena* arena,
                                why_mixed_trouble* trouble, why_mixed_system** system);

/// Room for a point of the system.
why_mixed_point* why_mixed_point_new(const why_mixed_system* system, why_arena* arena);

/// Go to other components; false where they are not allowed or numbers overflow. Fills everything
/// up to the log-likelihood.
bool why_mixed_point_move(const why_mixed_system* system, why_mixed_point* point,
                          const double* components);

/// Coefficients, modes and Z'Py of the point where it stands.
void why_mixed_point_settle(const why_mixed_system* system, why_mixed_point* point);

/// Slopes of the log-likelihood by the components, and their average information, by rows, of a
/// settled point, in a room made for the system.
double* why_mixed_score_room(const why_mixed_system* system, why_arena* arena);
void why_mixed_score(const why_mixed_system* system, const why_mixed_point* point, double* room,
                     double* score, double* information);

/// Reduce weights for products with V⁻¹ or the inverse of the mixed-model equations: x = L⁻¹PΛ'c, q
/// numbers, and f, p numbers, becomes (factor of X'V⁻¹X)⁻¹ (f − E'x).
void why_mixed_reduce(const why_mixed_system* system, const why_mixed_point* point, const double* c,
                      double* x, double* f);

#endif
