// SPDX-License-Identifier: GPL-3.0-or-later
// Leave-one-out.
#include "influence.h"

#include <math.h>
#include <string.h>

/// A copy of `count` rows of `width` numbers without row `i`.
static const double* copy_without(const double* rows, size_t count, size_t width, size_t i,
                                  why_arena* arena) {
  double* copy = WHY_NEW_ARRAY(arena, double, (count - 1) * width);
  memcpy(copy, rows, i * width * sizeof *rows);
  memcpy(copy + i * width, rows + (i + 1) * width, (count - 1 - i) * width * sizeof *rows);
  return copy;
}

static const why_effects* effects_without(const why_effects* all, size_t i, why_arena* arena) {
  why_effects* rest = WHY_NEW(arena, why_effects);
  *rest = *all;
  rest->count--;
  rest->effect = copy_without(all->effect, all->count, 1, i, arena);
  rest->variance = copy_without(all->variance, all->count, 1, i, arena);
  if (all->design)
    rest->design = copy_without(all->design, all->count, all->columns, i, arena);
  return rest;
}

/// How far all fitted values move, in the metric of their covariance.
static double cook_distance(const why_meta* whole, const why_meta* rest) {
  const why_effects* effects = whole->regression.effects;
  double sum = 0;
  for (size_t k = 0; k < effects->count; k++) {
    double moved = 0;
    for (size_t j = 0; j < effects->columns; j++)
      moved += why_effects_design(effects, k, j) *
               (whole->regression.coefficients[j] - rest->regression.coefficients[j]);
    sum += whole->regression.weight[k] * moved * moved;
  }
  return sum;
}

why_status why_influence_of(const why_meta* whole, size_t i, why_arena* arena,
                            why_influence* influence) {
  const why_effects* effects = whole->regression.effects;
  if (effects->count < 2)
    return WHY_QUESTION;
  why_status status =
      why_meta_pool(effects_without(effects, i, arena), &whole->how, arena, &influence->without);
  if (status != WHY_OK)
    return status;
  const why_meta* rest = &influence->without;
  double at[WHY_MODERATORS];
  for (size_t j = 0; j < effects->columns; j++)
    at[j] = why_effects_design(effects, i, j);
  double variance = 0;
  double foreseen = why_regression_predict(&rest->regression, at, &variance);
  double fitted = effects->effect[i] - whole->regression.residual[i];
  double own = effects->variance[i] + rest->tau2;
  influence->leverage = whole->regression.hat[i];
  influence->studentised = (effects->effect[i] - foreseen) / sqrt(own + variance);
  influence->shift = (fitted - foreseen) / sqrt(influence->leverage * own);
  influence->cook = cook_distance(whole, rest);
  return WHY_OK;
}
