// SPDX-License-Identifier: GPL-3.0-or-later
// Leaving studies out, within a fit and around it.
#include "growth_validate.h"
#include "dense.h"
#include "distribution.h"
#include "growth_model.h"

#include <math.h>
#include <string.h>

static const double LOG_TWO_PI = 1.83787706640934548356;

/// Expected differences smaller than this say nothing (log growth; a hundredth of a point).
static const double NOTHING = 1e-4;

/// What a model expects of some rows together.
typedef struct {
  size_t count;
  const size_t* rows; ///< Of the setup.
  double* mean;
  double* covariance; ///< Of what will be observed, sampling error included.
} forecast;

/// Error of the linear predictor of rows: mean and covariance by the mixed-model equations.
static void expect_rows(const why_growth* growth, forecast* f, why_arena* arena) {
  size_t p = growth->fit.fixed_count;
  size_t n = f->count;
  f->mean = WHY_NEW_ARRAY(arena, double, n + 1);
  f->covariance = WHY_NEW_ARRAY(arena, double, n* n + 1);
  why_mixed_combination* all = WHY_NEW_ARRAY(arena, why_mixed_combination, n + 1);
  for (size_t i = 0; i < n; i++) {
    double* x = WHY_NEW_ARRAY(arena, double, p + 1);
    why_mixed_data parts = {0};
    why_growth_design_row(&growth->setup, &growth->setup.rows->rows.at[f->rows[i]], x);
    why_growth_design_parts(&growth->setup, f->rows[i], 0, arena, &parts);
    all[i] = (why_mixed_combination){x, parts.parts.at, parts.parts.count};
    f->mean[i] = why_mixed_value(&growth->fit, &all[i]);
  }
  why_mixed_covariances(&growth->fit, all, n, arena, f->covariance);
}

static void add_sampling(const why_growth* growth, forecast* f) {
  const why_growth_row* rows = growth->setup.rows->rows.at;
  for (size_t i = 0; i < f->count; i++)
    for (size_t j = 0; j < f->count; j++)
      f->covariance[i * f->count + j] +=
          why_growth_rows_covariance(growth->findings, &rows[f->rows[i]], &rows[f->rows[j]]);
}

static double observed(const why_growth* growth, size_t row) {
  return growth->setup.rows->rows.at[row].log_growth;
}

/// Log density of the observed rows under a forecast; `covariance` is spent.
static double density(const why_growth* growth, const forecast* f, const double* mean,
                      double* covariance, why_arena* arena) {
  size_t n = f->count;
  double* rest = WHY_NEW_ARRAY(arena, double, n + 1);
  for (size_t i = 0; i < n; i++)
    rest[i] = observed(growth, f->rows[i]) - mean[i];
  if (why_dense_factor(covariance, n, 0) < n)
    return -INFINITY;
  why_dense_forward(covariance, n, rest, 1);
  return -((double)n * LOG_TWO_PI + why_dense_log_determinant(covariance, n) +
           why_dense_dot(rest, rest, n)) /
         2;
}

/// Log density of the rows of one study when it is left out and the components are kept: with H the
/// covariance of the fitted values and R that of sampling, the error of the forecast has the
/// covariance C = R (R − H)⁻¹ R, and is C R⁻¹ (y − fitted).
static double density_within(const why_growth* growth, forecast* f, why_arena* arena) {
  size_t n = f->count;
  expect_rows(growth, f, arena);
  double* r = WHY_NEW_ARRAY(arena, double, n* n + 1);
  double* inner = WHY_NEW_ARRAY(arena, double, n* n + 1);
  const why_growth_row* rows = growth->setup.rows->rows.at;
  for (size_t i = 0; i < n; i++)
    for (size_t j = 0; j < n; j++) {
      r[i * n + j] =
          why_growth_rows_covariance(growth->findings, &rows[f->rows[i]], &rows[f->rows[j]]);
      inner[i * n + j] = r[i * n + j] - f->covariance[i * n + j];
    }
  if (why_dense_factor(r, n, 0) < n)
    return -INFINITY;
  double of_r = why_dense_log_determinant(r, n);
  // |C| = |R|² / |R − H|, and the error squared by C⁻¹ is (y − fitted)' (R − H)⁻¹ (y − fitted).
  double by_inner = density(growth, f, f->mean, inner, arena);
  return by_inner + why_dense_log_determinant(inner, n) - of_r;
}

/// Rows of a study, which stand together in the setup.
static forecast rows_of_study(const why_growth_rows* rows, size_t study, why_arena* arena) {
  forecast f = {0};
  size_t* at = WHY_NEW_ARRAY(arena, size_t, rows->rows.count + 1);
  for (size_t i = 0; i < rows->rows.count; i++)
    if (rows->rows.at[i].study == study)
      at[f.count++] = i;
  f.rows = at;
  return f;
}

double why_growth_density_of(const why_growth* growth, size_t study, bool within,
                             why_arena* arena) {
  forecast f = rows_of_study(growth->setup.rows, study, arena);
  if (within)
    return density_within(growth, &f, arena);
  expect_rows(growth, &f, arena);
  add_sampling(growth, &f);
  return density(growth, &f, f.mean, f.covariance, arena);
}

double why_growth_density(const why_growth* growth, why_arena* arena) {
  double sum = 0;
  for (size_t s = 0; s < growth->setup.rows->study_count; s++)
    if (s + 1 != growth->setup.skip)
      sum += why_growth_density_of(growth, s, true, arena);
  return sum;
}

/// All choices of predictors, fitted.
typedef struct {
  why_growth of[WHY_PREDICTORS];
} candidates;

/// Among those with mechanics: without, no exercise could be told from another.
static why_predictors best_of(const candidates* all, why_arena* arena) {
  double most = -INFINITY;
  why_predictors best = WHY_BY_STRESS;
  for (int k = WHY_BY_STRESS; k < WHY_PREDICTORS; k++) {
    double score = why_growth_density(&all->of[k], arena);
    if (score > most) {
      most = score;
      best = (why_predictors)k;
    }
  }
  return best;
}

static why_status fit_all(const why_tables* tables, const why_findings* findings, why_arena* arena,
                          candidates* all) {
  for (int k = 0; k < WHY_PREDICTORS; k++) {
    why_growth* growth;
    why_growth_settings settings = {.predictors = (why_predictors)k};
    why_status status = why_growth_fit(tables, findings, &settings, arena, &growth);
    if (status != WHY_OK)
      return status;
    all->of[k] = *growth;
  }
  return WHY_OK;
}

why_status why_growth_choose(const why_tables* tables, const why_findings* findings,
                             why_arena* arena, why_predictors* predictors) {
  candidates all;
  why_status status = fit_all(tables, findings, arena, &all);
  if (status == WHY_OK)
    *predictors = best_of(&all, arena);
  return status;
}

/// Fit the candidates without a study, from where they stand with it.
static bool refit(const candidates* all, size_t study, why_arena* arena, candidates* without) {
  bool settled = true;
  for (int k = 0; k < WHY_PREDICTORS; k++) {
    why_growth* growth = &without->of[k];
    *growth = all->of[k];
    double components[WHY_GROWTH_TERMS];
    for (int c = 0; c < WHY_GROWTH_TERMS; c++)
      components[c] = growth->fit.components[c].value;
    growth->setup.skip = study + 1;
    settled &= why_growth_model_fit(growth, components, arena) == WHY_OK && growth->settled;
  }
  return settled;
}

static void add_findings(const why_growth* growth, const forecast* f, why_arena* arena,
                         why_validated_findings* sums) {
  double wide = why_normal_quantile(0.975);
  for (size_t i = 0; i < f->count; i++) {
    if (growth->setup.rows->rows.at[f->rows[i]].minus)
      continue;
    double rest = 100 * (observed(growth, f->rows[i]) - f->mean[i]);
    double half = 100 * wide * sqrt(f->covariance[i * f->count + i]);
    sums->error += rest * rest;
    sums->width += 2 * half;
    sums->covered += fabs(rest) <= half;
  }
  double* spent = WHY_NEW_ARRAY(arena, double, f->count * f->count + 1);
  memcpy(spent, f->covariance, f->count * f->count * sizeof *spent);
  sums->score += density(growth, f, f->mean, spent, arena);
}

static long place_of(const why_growth* growth, const forecast* f, const why_finding* finding) {
  for (size_t i = 0; i < f->count; i++)
    if (growth->setup.rows->rows.at[f->rows[i]].finding == finding)
      return (long)i;
  return -1;
}

/// `variance`: of what was seen, by sampling; `of_forecast`: of what was expected to be seen.
static void add_difference(double seen, double variance, double expected, double of_forecast,
                           why_validated_differences* sums) {
  double wide = why_normal_quantile(0.975);
  double half = wide * sqrt(of_forecast);
  double rest = seen - expected;
  sums->count++;
  sums->error += 1e4 * rest * rest;
  sums->error_none += 1e4 * seen * seen;
  if (fabs(seen) > wide * sqrt(variance)) {
    sums->decided++;
    bool told = fabs(expected) > NOTHING;
    sums->told += told;
    sums->right += told && (expected > 0) == (seen > 0);
  } else {
    sums->others++;
    sums->covered += fabs(rest) <= half;
    sums->width += 200 * half;
  }
}

/// Between two findings.
static void add_between(const why_growth* growth, const forecast* f,
                        const why_difference* difference, why_validation* v) {
  long a = place_of(growth, f, difference->a);
  long b = place_of(growth, f, difference->b);
  if (a < 0 || b < 0)
    return;
  size_t n = f->count;
  size_t i = (size_t)a;
  size_t j = (size_t)b;
  add_difference(difference->log_difference, difference->variance, f->mean[i] - f->mean[j],
                 f->covariance[i * n + i] + f->covariance[j * n + j] - 2 * f->covariance[i * n + j],
                 difference->b->arm->control ? &v->controls : &v->exercises);
}

/// A row that is a difference itself.
static void add_printed(const why_growth* growth, const forecast* f, why_validation* v) {
  for (size_t i = 0; i < f->count; i++) {
    const why_growth_row* row = &growth->setup.rows->rows.at[f->rows[i]];
    if (row->minus)
      add_difference(row->log_growth, row->variance, f->mean[i], f->covariance[i * f->count + i],
                     row->minus->of_arm->control ? &v->controls : &v->exercises);
    else
      v->findings++;
  }
}

static void finish_findings(why_validated_findings* sums, size_t findings) {
  double n = findings ? (double)findings : 1;
  sums->error = sqrt(sums->error / n);
  sums->width /= n;
  sums->score /= n;
}

static void finish_differences(why_validated_differences* sums) {
  double n = sums->count ? (double)sums->count : 1;
  sums->error = sqrt(sums->error / n);
  sums->error_none = sqrt(sums->error_none / n);
  sums->width /= sums->others ? (double)sums->others : 1;
}

static void validate_study(const candidates* all, size_t study, const why_differences* differences,
                           why_arena* scratch, why_validation* v) {
  candidates without;
  v->failed += !refit(all, study, scratch, &without);
  why_predictors best = best_of(&without, scratch);
  v->chosen[best]++;
  for (int k = 0; k < WHY_PREDICTORS; k++) {
    const why_growth* growth = &without.of[k];
    forecast f = rows_of_study(growth->setup.rows, study, scratch);
    expect_rows(growth, &f, scratch);
    add_sampling(growth, &f);
    add_findings(growth, &f, scratch, &v->alone[k]);
    if (k != (int)best)
      continue;
    add_findings(growth, &f, scratch, &v->model);
    for (size_t i = 0; i < differences->count; i++)
      add_between(growth, &f, &differences->at[i], v);
    add_printed(growth, &f, v);
  }
}

why_status why_growth_validate(const why_tables* tables, const why_findings* findings,
                               why_arena* arena, why_validation* validation) {
  *validation = (why_validation){0};
  candidates all;
  why_status status = fit_all(tables, findings, arena, &all);
  if (status != WHY_OK)
    return status;
  why_differences differences = {0};
  why_differences_of(tables, findings, arena, &differences);
  validation->studies = all.of[0].setup.rows->study_count;
  for (size_t study = 0; study < validation->studies; study++) {
    why_arena* scratch = why_arena_new(0);
    if (!scratch)
      return WHY_MACHINE;
    validate_study(&all, study, &differences, scratch, validation);
    why_arena_free(scratch);
  }
  finish_findings(&validation->model, validation->findings);
  for (int k = 0; k < WHY_PREDICTORS; k++)
    finish_findings(&validation->alone[k], validation->findings);
  finish_differences(&validation->exercises);
  finish_differences(&validation->controls);
  return WHY_OK;
}
