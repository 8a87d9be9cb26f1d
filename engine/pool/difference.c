// SPDX-License-Identifier: GPL-3.0-or-later
// Pairs the findings of a study, and takes the study's own p where spreads would be guessed.
#include "difference.h"

#include "distribution.h"

#include <math.h>

static const why_contrast* reported(const why_tables* tables, const why_finding* a,
                                    const why_finding* b) {
  for (size_t i = 0; i < a->study->contrasts.count; i++) {
    const why_contrast* each = &a->study->contrasts.at[i];
    bool arms = (each->a == a->arm->id && each->b == b->arm->id) ||
                (each->a == b->arm->id && each->b == a->arm->id);
    if (arms && each->muscle == a->result->muscle && each->site == a->result->site &&
        !why_contrast_uncounted(tables, a->study, each))
      return each;
  }
  return NULL;
}

static bool is_imputed(const why_finding* finding) {
  return finding->spread_from >= WHY_SPREAD_CORRELATION;
}

/// Above this p both the difference and its t are near 0, and their quotient is all rounding.
static const double TELLING_P = 0.5;

/// Standard error of the difference from its p: a paired test for the same people, else one of two
/// groups. NAN when p is no p of the difference.
static double error_from_p(const why_difference* d, bool paired) {
  if (!d->reported || d->reported->p_of[0] || !(d->reported->p.exact > 0) ||
      !(d->reported->p.exact <= TELLING_P))
    return NAN;
  double people = d->a->people + d->b->people;
  double df = paired ? fmin(d->a->people, d->b->people) - 1 : people - 2;
  double error = fabs(d->log_difference) / why_t_quantile(1 - d->reported->p.exact / 2, df);
  return error > 0 ? error : NAN;
}

static why_difference between(const why_tables* tables, const why_findings* findings,
                              const why_finding* a, const why_finding* b) {
  double shared = why_finding_covariance(findings, a, b);
  why_difference d = {.a = a,
                      .b = b,
                      .reported = reported(tables, a, b),
                      .log_difference = a->log_growth - b->log_growth,
                      .variance = a->variance + b->variance - 2 * shared};
  double error = error_from_p(&d, shared > 0);
  d.from_p = isfinite(error) && (is_imputed(a) || is_imputed(b));
  if (d.from_p)
    d.variance = error * error;
  return d;
}

static bool are_comparable(const why_finding* a, const why_finding* b) {
  const why_result* one = a->result;
  const why_result* other = b->result;
  return a->study == b->study && a->arm != b->arm && one->muscle == other->muscle &&
         one->site == other->site && one->side == other->side && one->method == other->method;
}

void why_differences_of(const why_tables* tables, const why_findings* findings, why_arena* arena,
                        why_differences* differences) {
  *differences = (why_differences){0};
  for (size_t i = 0; i < findings->rows.count; i++)
    for (size_t k = i + 1; k < findings->rows.count; k++) {
      const why_finding* a = &findings->rows.at[i];
      const why_finding* b = &findings->rows.at[k];
      if (!are_comparable(a, b))
        continue;
      bool turn = a->arm->control && !b->arm->control;
      *WHY_LIST_ADD(arena, *differences) = between(tables, findings, turn ? b : a, turn ? a : b);
    }
}
