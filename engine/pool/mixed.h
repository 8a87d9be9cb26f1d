// SPDX-License-Identifier: GPL-3.0-or-later
/// Linear mixed model with known sampling covariances:
///
///     y = X b + Σ Z_k u_k + e,   e ~ N(0, R) with R known,   u_k ~ N(0, s_k² I),
///
/// with any number of nested or crossed terms; two terms may be correlated level by level (an
/// intercept and its slope). Components are found by restricted or plain maximum likelihood.
///
/// Sources. Restricted likelihood: "Recovery of inter-block information when block sizes are
/// unequal", Biometrika 1971, 10.1093/biomet/58.3.545. Equations of coefficients and modes together
/// and their inverse as covariance of errors: "Best linear unbiased estimation and prediction under
/// a selection model", Biometrics 1975, 10.2307/2529430, eqs. 5 to 11. Average information and
/// step: "Average information REML: an efficient algorithm for variance parameter estimation in
/// linear mixed models", Biometrics 1995, 10.2307/2533274, sections 2 and 3. Scaling by relative
/// factors, which holds where a component is 0: "Fitting linear mixed-effects models using lme4",
/// Journal of Statistical Software 2015, 10.18637/jss.v067.i01, eqs. 16 to 34. (Numbers of
/// equations from memory.)
///
/// The matrix of order Σ levels, I + Λ'Z'R⁻¹ZΛ, is sparse and never depends on how many rows there
/// are; the covariance of y is not formed.
#ifndef WHY_POOL_MIXED_H
#define WHY_POOL_MIXED_H

#include "base/base.h"

#include <stdbool.h>

typedef struct {
  const char* name;
  size_t level_count;
  size_t with; ///< 1 + index of an earlier term: effects of equal level correlate; 0: independent.
               ///< Both have as many levels, and a term has one such partner at most.
} why_mixed_term;

/// `weight` times the effect of one level of a term; part of a row of Z, or of a combination.
typedef struct {
  size_t row; ///< Unused in a combination.
  size_t term;
  size_t level;
  double weight;
} why_mixed_part;

/// Sampling covariance of `count` rows from `first` on, by rows; positive definite.
typedef struct {
  size_t first;
  size_t count;
  const double* covariance;
} why_mixed_block;

/// Everything is borrowed and must outlive the fit.
typedef struct {
  size_t row_count;
  size_t fixed_count;
  const double* y;
  const double* x;                  ///< By rows, fixed_count a row.
  WHY_LIST(why_mixed_block) blocks; ///< In order, each row in one.
  WHY_LIST(why_mixed_term) terms;
  WHY_LIST(why_mixed_part) parts; ///< Ordered by row.
} why_mixed_data;

typedef struct {
  bool plain;          ///< Maximum likelihood; else the restricted one.
  const double* start; ///< Components to start from, as in the fit; NULL: starts of its own.
  size_t starts;       ///< How many of these; 0: all, two more than there are terms.
  double gain;         ///< Stop when a step promises no more log-likelihood than this; 0: when
                       ///< nothing is left to gain.
} why_mixed_settings;

typedef enum {
  WHY_MIXED_FOUND,
  WHY_MIXED_AT_BOUND,      ///< A variance of 0, or a correlation of 1 or -1.
  WHY_MIXED_NOT_IDENTIFIED ///< The likelihood does not change with it, or only as with those
                           ///< before it.
} why_mixed_state;

/// A variance (first == second), or the covariance of two correlated terms.
typedef struct {
  size_t first;
  size_t second;
  double value;
  double se; ///< By the average information; NAN unless found.
  why_mixed_state state;
} why_mixed_component;

typedef struct why_mixed_system why_mixed_system;
typedef struct why_mixed_point why_mixed_point;

typedef struct {
  const why_mixed_system* system;
  const why_mixed_point* point;
  size_t fixed_count;
  const double* coefficients;
  const double* covariance; ///< Of the coefficients, by rows.
  size_t component_count;   ///< Variances in the order of the terms, then covariances.
  why_mixed_component* components;
  const double* const* modes; ///< One array a term: conditional modes of its levels.
  double log_likelihood;      ///< The restricted one has +½ log|X'X| and n − p in its constant.
  size_t steps;               ///< Of the start that won.
  size_t starts_agreed;       ///< How many starts came within 1e-6 of its log-likelihood,
  size_t starts;              ///< of how many.
  bool settled;               ///< The score is zero, or points out of the allowed region.
} why_mixed_fit;

/// What is wrong with data that cannot be fitted.
typedef enum {
  WHY_MIXED_SOUND,
  WHY_MIXED_FEW_ROWS,       ///< No more rows than coefficients.
  WHY_MIXED_BAD_COVARIANCE, ///< `index`: a block that is not positive definite.
  WHY_MIXED_BAD_COLUMN,     ///< `index`: a column of X that others determine.
  WHY_MIXED_NOT_FINITE      ///< `index`: a row with a number that is none.
} why_mixed_fault;

typedef struct {
  why_mixed_fault fault;
  size_t index;
} why_mixed_trouble;

/// Fit; everything lives in `arena`. WHY_KNOWLEDGE when the data cannot be fitted, and `trouble`
/// says why.
why_status why_mixed_fit_data(const why_mixed_data* data, const why_mixed_settings* settings,
                              why_arena* arena, why_mixed_trouble* trouble, why_mixed_fit* fit);

/// A linear combination of coefficients and effects of levels that the data have. An effect that no
/// row knows is independent of all: its variance is added by the caller.
typedef struct {
  const double* fixed; ///< fixed_count weights.
  const why_mixed_part* parts;
  size_t part_count;
} why_mixed_combination;

/// Its value with conditional modes in the place of effects.
double why_mixed_value(const why_mixed_fit* fit, const why_mixed_combination* combination);

/// Covariance of the errors of two combinations (the squared standard error when they are the
/// same): uncertainty of the coefficients and of the modes, components taken as known.
double why_mixed_covariance(const why_mixed_fit* fit, const why_mixed_combination* a,
                            const why_mixed_combination* b, why_arena* scratch);

/// The same of several at once, count × count.
void why_mixed_covariances(const why_mixed_fit* fit, const why_mixed_combination* combinations,
                           size_t count, why_arena* scratch, double* covariance);

/// Covariances of the errors of all coefficients and of all effects of some terms, for many
/// combinations of the same.
typedef struct {
  size_t count;             ///< Coefficients first, then the levels of the terms, in order.
  const size_t* offset;     ///< Of each term's levels; 0 where it was not wanted.
  const double* covariance; ///< count × count
} why_mixed_joint;

/// `wanted`: one for each term.
why_mixed_joint why_mixed_joint_new(const why_mixed_fit* fit, const bool* wanted, why_arena* arena);

/// Log-likelihood and its slopes by the components at given components, e.g. to check the slopes by
/// differences; false where they are not allowed. `score` may be NULL.
bool why_mixed_likelihood(const why_mixed_data* data, bool plain, const double* components,
                          why_arena* arena, double* log_likelihood, double* score);

#endif
