// SPDX-License-Identifier: GPL-3.0-or-later
// The mixed model beside what metafor makes of the same data, and properties that any such fit has.
#include "pool/mixed_case.h"

#include <criterion/criterion.h>
#include <math.h>
#include <string.h>

TestSuite(mixed);

static void near(const mixed_case* each, const char* what, double got, double want, double share,
                 double least) {
  cr_assert(fabs(got - want) <= share * fabs(want) + least, "%s: %s is %.12g, not %.12g", each->id,
            what, got, want);
}

static double at(const json_t* array, size_t index) {
  cr_assert(json_is_number(json_array_get(array, index)));
  return json_number_value(json_array_get(array, index));
}

static why_mixed_fit fitted(const mixed_case* each, why_arena* arena) {
  why_mixed_fit fit;
  why_mixed_trouble trouble;
  why_mixed_settings settings = {.plain = each->plain};
  cr_assert_eq(why_mixed_fit_data(&each->data, &settings, arena, &trouble, &fit), WHY_OK);
  cr_assert(fit.settled, "%s did not settle", each->id);
  return fit;
}

/// Variances of 0 are met to 1e-6 of the largest one.
static void check_components(const mixed_case* each, const why_mixed_fit* fit,
                             const json_t* expected) {
  cr_assert_eq(fit->component_count, json_array_size(expected));
  double most = 0;
  for (size_t c = 0; c < fit->component_count; c++)
    most = fmax(most, at(expected, c));
  for (size_t c = 0; c < fit->component_count; c++)
    near(each, "component", fit->components[c].value, at(expected, c), 1e-6, most * 1e-8 + 1e-12);
}

static void check_fit(const mixed_case* each, const why_mixed_fit* fit) {
  near(each, "log-likelihood", fit->log_likelihood,
       json_number_value(json_object_get(each->expect, "log_likelihood")), 0, 1e-8);
  check_components(each, fit, json_object_get(each->expect, "components"));
  const json_t* coefficients = json_object_get(each->expect, "coefficients");
  const json_t* errors = json_object_get(each->expect, "standard_errors");
  const json_t* covariance = json_object_get(each->expect, "covariance");
  for (size_t a = 0; a < fit->fixed_count; a++) {
    near(each, "coefficient", fit->coefficients[a], at(coefficients, a), 1e-6, 1e-9);
    if (errors)
      near(each, "standard error", sqrt(fit->covariance[a * (fit->fixed_count + 1)]), at(errors, a),
           1e-6, 0);
    for (size_t b = 0; covariance && b < fit->fixed_count; b++)
      near(each, "covariance", fit->covariance[a * fit->fixed_count + b],
           at(json_array_get(covariance, a), b), 1e-6, 1e-9);
  }
}

static double error_of(const why_mixed_fit* fit, const why_mixed_combination* combination,
                       why_arena* arena) {
  return sqrt(why_mixed_covariance(fit, combination, combination, arena));
}

static void check_modes(const mixed_case* each, const why_mixed_fit* fit, why_arena* arena) {
  const json_t* modes = json_object_get(each->expect, "modes");
  const double* zeros = WHY_NEW_ARRAY(arena, double, fit->fixed_count);
  for (size_t k = 0; k < each->data.terms.count; k++) {
    const json_t* of_term = json_object_get(modes, each->data.terms.at[k].name);
    for (size_t i = 0; i < json_array_size(of_term); i++) {
      const json_t* mode = json_array_get(of_term, i);
      long level = mixed_case_level(each, k, json_string_value(json_object_get(mode, "level")));
      cr_assert_geq(level, 0);
      near(each, "mode", fit->modes[k][level], json_number_value(json_object_get(mode, "mode")),
           1e-6, 1e-8);
      why_mixed_part part = {.term = k, .level = (size_t)level, .weight = 1};
      why_mixed_combination alone = {zeros, &part, 1};
      near(each, "error of mode", error_of(fit, &alone, arena),
           json_number_value(json_object_get(mode, "se")), 1e-6, 1e-8);
    }
  }
}

Test(mixed, agrees_with_metafor) {
  why_arena* arena = why_arena_new(0);
  mixed_cases cases = mixed_cases_read(arena);
  for (size_t i = 0; i < cases.count; i++) {
    why_mixed_fit fit = fitted(&cases.at[i], arena);
    check_fit(&cases.at[i], &fit);
    check_modes(&cases.at[i], &fit, arena);
  }
  why_arena_free(arena);
}

/// The row of the design of a cell, and its effect.
static why_mixed_combination cell_of(const mixed_case* each, const char* cell, why_arena* arena) {
  double* fixed = WHY_NEW_ARRAY(arena, double, each->data.fixed_count);
  why_mixed_part* part = WHY_NEW(arena, why_mixed_part);
  long level = mixed_case_level(each, 1, cell);
  *part = (why_mixed_part){.term = 1, .level = level < 0 ? 0 : (size_t)level, .weight = 1};
  for (size_t i = 0; i < json_array_size(each->rows); i++) {
    const json_t* row = json_array_get(each->rows, i);
    const char* name = json_string_value(json_array_get(json_object_get(row, "levels"), 1));
    for (size_t a = 0; strcmp(name, cell) == 0 && a < each->data.fixed_count; a++)
      fixed[a] = at(json_object_get(row, "x"), a);
  }
  return (why_mixed_combination){fixed, part, level >= 0};
}

static const char* text(const json_t* json, const char* key) {
  return json_string_value(json_object_get(json, key));
}

static double number(const json_t* json, const char* key) {
  return json_number_value(json_object_get(json, key));
}

static void check_predictions(const mixed_case* each, const why_mixed_fit* fit, why_arena* arena) {
  const json_t* predictions = json_object_get(each->expect, "predictions");
  for (size_t i = 0; i < json_array_size(predictions); i++) {
    const json_t* one = json_array_get(predictions, i);
    why_mixed_combination cell = cell_of(each, text(one, "cell"), arena);
    near(each, "prediction", why_mixed_value(fit, &cell), number(one, "predicted"), 1e-6, 0);
    near(each, "its error", error_of(fit, &cell, arena), number(one, "se"), 1e-6, 0);
  }
  const json_t* news = json_object_get(each->expect, "new_cells");
  for (size_t i = 0; i < json_array_size(news); i++) {
    const json_t* one = json_array_get(news, i);
    double* fixed = WHY_NEW_ARRAY(arena, double, fit->fixed_count);
    for (size_t a = 0; a < fit->fixed_count; a++)
      fixed[a] = at(json_object_get(one, "x"), a);
    why_mixed_combination cell = {fixed, NULL, 0};
    near(each, "new cell", why_mixed_value(fit, &cell), number(one, "predicted"), 1e-6, 0);
    near(each, "its error", error_of(fit, &cell, arena), number(one, "se"), 1e-6, 0);
  }
  const json_t* contrasts = json_object_get(each->expect, "contrasts");
  for (size_t i = 0; i < json_array_size(contrasts); i++) {
    const json_t* one = json_array_get(contrasts, i);
    why_mixed_combination a = cell_of(each, text(one, "a"), arena);
    why_mixed_combination b = cell_of(each, text(one, "b"), arena);
    double variance = why_mixed_covariance(fit, &a, &a, arena) +
                      why_mixed_covariance(fit, &b, &b, arena) -
                      2 * why_mixed_covariance(fit, &a, &b, arena);
    near(each, "difference", why_mixed_value(fit, &a) - why_mixed_value(fit, &b),
         number(one, "difference"), 1e-6, 1e-9);
    near(each, "its error", sqrt(variance), number(one, "se"), 1e-6, 0);
  }
}

Test(mixed, predicts_cells_and_their_differences) {
  why_arena* arena = why_arena_new(0);
  mixed_cases cases = mixed_cases_read(arena);
  size_t checked = 0;
  for (size_t i = 0; i < cases.count; i++) {
    if (!json_object_get(cases.at[i].expect, "predictions"))
      continue;
    why_mixed_fit fit = fitted(&cases.at[i], arena);
    check_predictions(&cases.at[i], &fit, arena);
    checked++;
  }
  cr_assert_eq(checked, 2);
  why_arena_free(arena);
}

Test(mixed, predicts_a_study_that_is_left_out) {
  why_arena* arena = why_arena_new(0);
  const json_t* json = mixed_case_find("growth-model-crossed", arena);
  const json_t* runs = json_object_get(json_object_get(json, "expect"), "without");
  double squares = 0;
  size_t rows = 0;
  for (size_t i = 0; i < json_array_size(runs); i++) {
    const json_t* run = json_array_get(runs, i);
    const char* study = text(run, "study");
    mixed_case rest = mixed_case_without(json, study, arena);
    why_mixed_fit fit = fitted(&rest, arena);
    check_components(&rest, &fit, json_object_get(run, "components"));
    for (size_t a = 0; a < fit.fixed_count; a++)
      near(&rest, "coefficient", fit.coefficients[a], at(json_object_get(run, "coefficients"), a),
           1e-6, 0);
    for (size_t j = 0, seen = 0; j < json_array_size(rest.rows); j++) {
      const json_t* row = json_array_get(rest.rows, j);
      const json_t* levels = json_object_get(row, "levels");
      if (strcmp(json_string_value(json_array_get(levels, 0)), study) != 0)
        continue;
      why_mixed_combination cell =
          cell_of(&rest, json_string_value(json_array_get(levels, 1)), arena);
      double predicted = why_mixed_value(&fit, &cell);
      near(&rest, "prediction", predicted, at(json_object_get(run, "predicted"), seen++), 1e-6, 0);
      squares += pow(predicted - number(row, "y"), 2);
      rows++;
    }
  }
  cr_assert_gt(rows, 0);
  cr_assert_float_eq(sqrt(squares / (double)rows),
                     number(json_object_get(json, "expect"), "rmse_without"), 1e-5);
  why_arena_free(arena);
}

static double likelihood(const mixed_case* each, const double* components, double* score,
                         why_arena* arena) {
  double value;
  cr_assert(why_mixed_likelihood(&each->data, each->plain, components, arena, &value, score));
  return value;
}

Test(mixed, slopes_are_those_of_differences) {
  why_arena* arena = why_arena_new(0);
  mixed_cases cases = mixed_cases_read(arena);
  for (size_t i = 0; i < cases.count; i++) {
    const mixed_case* each = &cases.at[i];
    double at_components[3] = {0.07, 0.11, 0.03};
    double score[3];
    size_t count = each->terms.count + each->data.terms.at[each->terms.count - 1].with;
    likelihood(each, at_components, score, arena);
    for (size_t c = 0; c < count; c++) {
      double before = at_components[c];
      double step = before * 1e-4;
      at_components[c] = before + step;
      double above = likelihood(each, at_components, NULL, arena);
      at_components[c] = before - step;
      double below = likelihood(each, at_components, NULL, arena);
      at_components[c] = before;
      near(each, "slope", score[c], (above - below) / (2 * step), 1e-6, 1e-5);
    }
  }
  why_arena_free(arena);
}

/// Slopes where a component is exactly 0, from one side.
Test(mixed, slopes_hold_at_zero) {
  why_arena* arena = why_arena_new(0);
  const json_t* json = mixed_case_find("growth-model-crossed", arena);
  mixed_case each = mixed_case_without(json, NULL, arena);
  double score[2];
  double zero[2] = {0, 0.8};
  double half = 1e-5;
  double here = likelihood(&each, zero, score, arena);
  double one = likelihood(&each, (double[]){half, 0.8}, NULL, arena);
  double two = likelihood(&each, (double[]){2 * half, 0.8}, NULL, arena);
  near(&each, "slope at zero", score[0], (4 * one - two - 3 * here) / (2 * half), 1e-6, 0);
  why_arena_free(arena);
}

static void scale_case(mixed_case* each, double factor, why_arena* arena) {
  double* y = WHY_NEW_ARRAY(arena, double, each->data.row_count);
  for (size_t i = 0; i < each->data.row_count; i++)
    y[i] = factor * each->data.y[i];
  each->data.y = y;
  for (size_t k = 0; k < each->data.blocks.count; k++) {
    why_mixed_block* block = &each->data.blocks.at[k];
    double* covariance = WHY_NEW_ARRAY(arena, double, block->count * block->count);
    for (size_t i = 0; i < block->count * block->count; i++)
      covariance[i] = factor * factor * block->covariance[i];
    block->covariance = covariance;
  }
}

Test(mixed, does_not_depend_on_the_unit) {
  why_arena* arena = why_arena_new(0);
  mixed_cases cases = mixed_cases_read(arena);
  for (size_t i = 0; i < cases.count; i++) {
    why_mixed_fit fit = fitted(&cases.at[i], arena);
    scale_case(&cases.at[i], 1000, arena);
    why_mixed_fit other = fitted(&cases.at[i], arena);
    for (size_t c = 0; c < fit.component_count; c++)
      near(&cases.at[i], "component", other.components[c].value, 1e6 * fit.components[c].value,
           1e-6, 1e-6);
    for (size_t a = 0; a < fit.fixed_count; a++)
      near(&cases.at[i], "coefficient", other.coefficients[a], 1000 * fit.coefficients[a], 1e-6,
           1e-6);
  }
  why_arena_free(arena);
}

/// Blocks, and rows within them, the other way round.
static why_mixed_data turned(const why_mixed_data* data, why_arena* arena) {
  why_mixed_data other = {.row_count = data->row_count, .fixed_count = data->fixed_count};
  size_t n = data->row_count;
  size_t p = data->fixed_count;
  double* y = WHY_NEW_ARRAY(arena, double, n);
  double* x = WHY_NEW_ARRAY(arena, double, n* p);
  for (size_t i = 0; i < n; i++) {
    y[n - 1 - i] = data->y[i];
    memcpy(x + (n - 1 - i) * p, data->x + i * p, p * sizeof *x);
  }
  for (size_t k = data->blocks.count; k-- > 0;) {
    const why_mixed_block* block = &data->blocks.at[k];
    size_t size = block->count * block->count;
    double* covariance = WHY_NEW_ARRAY(arena, double, size);
    for (size_t i = 0; i < size; i++)
      covariance[size - 1 - i] = block->covariance[i];
    *WHY_LIST_ADD(arena, other.blocks) =
        (why_mixed_block){n - block->first - block->count, block->count, covariance};
  }
  for (size_t i = data->parts.count; i-- > 0;) {
    why_mixed_part part = data->parts.at[i];
    part.row = n - 1 - part.row;
    part.level = data->terms.at[part.term].level_count - 1 - part.level;
    *WHY_LIST_ADD(arena, other.parts) = part;
  }
  other.terms = data->terms;
  other.y = y;
  other.x = x;
  return other;
}

Test(mixed, does_not_depend_on_the_order_of_rows) {
  why_arena* arena = why_arena_new(0);
  mixed_cases cases = mixed_cases_read(arena);
  for (size_t i = 0; i < cases.count; i++) {
    mixed_case other = cases.at[i];
    other.data = turned(&other.data, arena);
    why_mixed_fit fit = fitted(&other, arena);
    check_fit(&other, &fit);
  }
  why_arena_free(arena);
}

Test(mixed, says_where_a_component_lies) {
  why_arena* arena = why_arena_new(0);
  mixed_case each = mixed_case_without(
      mixed_case_find("growth-model-crossed-correlated-errors", arena), NULL, arena);
  why_mixed_fit fit = fitted(&each, arena);
  cr_assert_eq(fit.components[0].state, WHY_MIXED_AT_BOUND);
  cr_assert(isnan(fit.components[0].se));
  cr_assert_eq(fit.components[1].state, WHY_MIXED_FOUND);
  cr_assert_gt(fit.components[1].se, 0);
  // A term that says the same as another.
  why_mixed_data again = each.data;
  again.parts.at = NULL;
  again.parts.count = again.parts.room = 0;
  for (size_t i = 0; i < each.data.parts.count; i++) {
    why_mixed_part part = each.data.parts.at[i];
    *WHY_LIST_ADD(arena, again.parts) = part;
    part.term = 2;
    if (each.data.parts.at[i].term == 1)
      *WHY_LIST_ADD(arena, again.parts) = part;
  }
  *WHY_LIST_ADD(arena, again.terms) = (why_mixed_term){"again", each.terms.at[1].count, 0};
  each.data = again;
  why_mixed_fit twice = fitted(&each, arena);
  cr_assert_eq(twice.components[2].state, WHY_MIXED_NOT_IDENTIFIED);
  near(&each, "sum", twice.components[1].value + twice.components[2].value, fit.components[1].value,
       1e-6, 0);
  near(&each, "log-likelihood", twice.log_likelihood, fit.log_likelihood, 0, 1e-8);
  why_arena_free(arena);
}

Test(mixed, refuses_what_cannot_be_fitted) {
  why_arena* arena = why_arena_new(0);
  mixed_case each = mixed_case_without(mixed_case_find("growth-model-crossed", arena), NULL, arena);
  size_t n = each.data.row_count;
  why_mixed_settings settings = {0};
  why_mixed_trouble trouble;
  why_mixed_fit fit;
  double* x = WHY_NEW_ARRAY(arena, double, n * 2);
  for (size_t i = 0; i < n; i++)
    x[2 * i] = 1, x[2 * i + 1] = 3;
  why_mixed_data twice = each.data;
  twice.fixed_count = 2;
  twice.x = x;
  cr_assert_eq(why_mixed_fit_data(&twice, &settings, arena, &trouble, &fit), WHY_KNOWLEDGE);
  cr_assert_eq(trouble.fault, WHY_MIXED_BAD_COLUMN);
  cr_assert_eq(trouble.index, 1);
  why_mixed_data few = each.data;
  few.row_count = 3;
  cr_assert_eq(why_mixed_fit_data(&few, &settings, arena, &trouble, &fit), WHY_KNOWLEDGE);
  cr_assert_eq(trouble.fault, WHY_MIXED_FEW_ROWS);
  double* y = WHY_NEW_ARRAY(arena, double, n);
  memcpy(y, each.data.y, n * sizeof *y);
  y[4] = NAN;
  why_mixed_data gap = each.data;
  gap.y = y;
  cr_assert_eq(why_mixed_fit_data(&gap, &settings, arena, &trouble, &fit), WHY_KNOWLEDGE);
  cr_assert_eq(trouble.fault, WHY_MIXED_NOT_FINITE);
  cr_assert_eq(trouble.index, 4);
  double zero = 0;
  each.data.blocks.at[2] = (why_mixed_block){each.data.blocks.at[2].first, 1, &zero};
  cr_assert_eq(why_mixed_fit_data(&each.data, &settings, arena, &trouble, &fit), WHY_KNOWLEDGE);
  cr_assert_eq(trouble.fault, WHY_MIXED_BAD_COVARIANCE);
  cr_assert_eq(trouble.index, 2);
  why_arena_free(arena);
}
