// SPDX-License-Identifier: GPL-3.0-or-later
// Rows of the growth model as columns and effects.
#include "growth_design.h"

#include <math.h>
#include <stdint.h>

/// Standard weekly sets and weeks, at which a dose counts 1 (see the measurements
/// volume-target-position-stand; ten weeks by definition of an estimate).
static const double STANDARD_SETS = 10;
static const double STANDARD_WEEKS = 10;

/// How many of the features each choice of predictors has: they stand in this order.
static size_t feature_count(const why_growth_setup* setup) {
  static const size_t COUNTS[WHY_PREDICTORS] = {
      [WHY_BY_TRAINING] = 1, [WHY_BY_STRESS] = 2, [WHY_BY_STRESS_AND_LENGTH] = WHY_FEATURES};
  return COUNTS[setup->predictors];
}

size_t why_growth_column_of_feature(const why_growth_setup* setup, size_t feature) {
  return feature < feature_count(setup) ? 1 + feature : SIZE_MAX;
}

size_t why_growth_column_of_constant(const why_growth_setup* setup, why_constant constant) {
  if (!setup->with_constants || setup->held[constant])
    return SIZE_MAX;
  size_t column = 1 + feature_count(setup);
  for (int k = 0; k < (int)constant; k++)
    column += !setup->held[k];
  return column;
}

size_t why_growth_column_count(const why_growth_setup* setup) {
  size_t count = 1 + feature_count(setup);
  for (int k = 0; k < WHY_CONSTANTS; k++)
    count += setup->with_constants && !setup->held[k];
  return count;
}

static bool is_kept(const why_growth_setup* setup, const why_growth_row* row) {
  return row->study + 1 != setup->skip;
}

double why_growth_response(const why_growth_setup* setup, double stress) {
  return stress > 0 ? stress / (stress + exp(setup->constants[WHY_CONSTANT_HALF])) : 0;
}

/// Its slope by the constant.
static double response_slope(const why_growth_setup* setup, double stress) {
  double response = why_growth_response(setup, stress);
  return -response * (1 - response);
}

double why_growth_longer(const why_growth_setup* setup, size_t head, double length) {
  double mean = setup->head_length[head];
  return isnan(mean) ? 0 : length - mean;
}

/// Sums over rows or bouts.
typedef struct {
  double stress;
  double length;
  double rows;
} sums_of_rows;

static void add_to_heads(const why_growth_setup* setup, const why_growth_row* row,
                         sums_of_rows* sums) {
  for (size_t i = 0; i < row->heads.count; i++)
    for (size_t j = 0; j < row->heads.at[i].bouts.count; j++) {
      const why_bout* bout = &row->heads.at[i].bouts.at[j];
      double part =
          row->heads.at[i].weight * bout->share * why_growth_response(setup, bout->work.stress);
      sums[row->heads.at[i].head].stress += part;
      sums[row->heads.at[i].head].length += part * bout->work.length;
    }
}

/// Mean lengths of the heads.
static void average_heads(why_growth_setup* setup, why_arena* arena) {
  size_t heads = setup->rows->head_count;
  sums_of_rows* sums = WHY_NEW_ARRAY(arena, sums_of_rows, heads + 1);
  for (size_t r = 0; r < setup->rows->rows.count; r++)
    for (const why_growth_row* row = &setup->rows->rows.at[r]; row; row = row->minus)
      if (is_kept(setup, row))
        add_to_heads(setup, row, sums);
  setup->head_length = WHY_NEW_ARRAY(arena, double, heads + 1);
  for (size_t h = 0; h < heads; h++)
    setup->head_length[h] = sums[h].stress > 0 ? sums[h].length / sums[h].stress : NAN;
}

/// s and longer of one row, the latter times s.
static void add_to_study(const why_growth_setup* setup, const why_growth_row* row,
                         sums_of_rows* sums) {
  bool trained = false;
  for (size_t i = 0; i < row->heads.count; i++)
    for (size_t j = 0; j < row->heads.at[i].bouts.count; j++) {
      const why_bout* bout = &row->heads.at[i].bouts.at[j];
      double part =
          row->heads.at[i].weight * bout->share * why_growth_response(setup, bout->work.stress);
      sums->stress += part;
      sums->length += part * why_growth_longer(setup, row->heads.at[i].head, bout->work.length);
      trained |= part > 0;
    }
  sums->rows += trained;
}

void why_growth_setup_means(why_growth_setup* setup, why_arena* arena) {
  size_t studies = setup->rows->study_count;
  average_heads(setup, arena);
  sums_of_rows* sums = WHY_NEW_ARRAY(arena, sums_of_rows, studies + 1);
  setup->study_stress = WHY_NEW_ARRAY(arena, double, studies + 1);
  setup->study_length = WHY_NEW_ARRAY(arena, double, studies + 1);
  for (size_t i = 0; i < setup->rows->rows.count; i++)
    for (const why_growth_row* row = &setup->rows->rows.at[i]; row; row = row->minus)
      add_to_study(setup, row, &sums[row->study]);
  sums_of_rows over = {0};
  for (size_t s = 0; s < studies; s++) {
    bool known = sums[s].rows > 0;
    setup->study_stress[s] = known ? sums[s].stress / sums[s].rows : NAN;
    setup->study_length[s] = known ? sums[s].length / sums[s].stress : NAN;
    if (!known || s + 1 == setup->skip)
      continue;
    over.stress += setup->study_stress[s];
    over.length += setup->study_length[s];
    over.rows++;
  }
  setup->mean_stress = over.rows > 0 ? over.stress / over.rows : 1;
  setup->mean_length = over.rows > 0 ? over.length / over.rows : 0;
}

/// F: what multiplies all growth of a row beyond drift.
static double factor_of(const why_growth_setup* setup, const why_growth_row* row) {
  const double* c = setup->constants;
  double size = row->size == WHY_SIZE_THICKNESS ? c[WHY_CONSTANT_THICKNESS]
                : row->size == WHY_SIZE_VOLUME  ? c[WHY_CONSTANT_VOLUME]
                                                : 0;
  return exp(size + c[WHY_CONSTANT_TRAINED] * row->trained +
             c[WHY_CONSTANT_WEEKS] * log(row->weeks / STANDARD_WEEKS));
}

static double dose_of(const why_growth_setup* setup, const why_grown_head* grown) {
  return grown->bouts.count ? pow(grown->sets / STANDARD_SETS, setup->constants[WHY_CONSTANT_SETS])
                            : 0;
}

/// Sums of the features of one head over its exercises, without dose; `slope`: their slopes by the
/// constant of the response.
static void head_features(const why_growth_setup* setup, const why_growth_row* row,
                          const why_grown_head* grown, bool slope, double* features) {
  double stress = 0;
  double longer = 0;
  for (size_t j = 0; j < grown->bouts.count; j++) {
    const why_work* work = &grown->bouts.at[j].work;
    double part = grown->bouts.at[j].share * (slope ? response_slope(setup, work->stress)
                                                    : why_growth_response(setup, work->stress));
    stress += part;
    longer += part * why_growth_longer(setup, grown->head, work->length);
  }
  bool known = !isnan(setup->study_stress[row->study]);
  features[WHY_GROWTH_BY_STRESS] = stress;
  features[WHY_GROWTH_BY_STUDY_STRESS] =
      known ? stress * (setup->study_stress[row->study] - setup->mean_stress) : 0;
  features[WHY_GROWTH_BY_LENGTH] = longer;
  features[WHY_GROWTH_BY_STUDY_LENGTH] =
      known ? stress * (setup->study_length[row->study] - setup->mean_length) : 0;
}

/// Growth of a head without F at the present coefficients and effects.
static double head_growth(const why_growth_setup* setup, const double* features) {
  double sum = 0;
  for (size_t k = 0; k < WHY_FEATURES; k++)
    sum += features[k] * setup->slopes[k];
  return sum;
}

/// Add the columns of one arm, with a sign.
static void add_columns(const why_growth_setup* setup, const why_growth_row* row, double sign,
                        double* x) {
  double factor = factor_of(setup, row);
  double sums[WHY_FEATURES] = {0};
  double growth = 0;
  double by_sets = 0;
  double by_half = 0;
  for (size_t i = 0; i < row->heads.count; i++) {
    const why_grown_head* grown = &row->heads.at[i];
    if (!grown->bouts.count)
      continue;
    double features[WHY_FEATURES];
    head_features(setup, row, grown, false, features);
    double dose = factor * grown->weight * dose_of(setup, grown);
    for (size_t k = 0; k < WHY_FEATURES; k++)
      sums[k] += dose * features[k];
    if (setup->with_constants) {
      double of_head = dose * head_growth(setup, features);
      growth += of_head;
      by_sets += of_head * log(grown->sets / STANDARD_SETS);
      head_features(setup, row, grown, true, features);
      by_half += dose * head_growth(setup, features);
    }
  }
  x[0] += sign;
  for (size_t k = 0; k < feature_count(setup); k++)
    x[why_growth_column_of_feature(setup, k)] += sign * sums[k];
  const double by_constant[WHY_CONSTANTS] = {
      [WHY_CONSTANT_THICKNESS] = row->size == WHY_SIZE_THICKNESS ? growth : 0,
      [WHY_CONSTANT_VOLUME] = row->size == WHY_SIZE_VOLUME ? growth : 0,
      [WHY_CONSTANT_SETS] = by_sets,
      [WHY_CONSTANT_WEEKS] = growth * log(row->weeks / STANDARD_WEEKS),
      [WHY_CONSTANT_TRAINED] = growth * row->trained,
      [WHY_CONSTANT_HALF] = by_half,
  };
  for (int k = 0; k < WHY_CONSTANTS; k++) {
    size_t column = why_growth_column_of_constant(setup, (why_constant)k);
    if (column != SIZE_MAX)
      x[column] += sign * by_constant[k];
  }
}

void why_growth_design_row(const why_growth_setup* setup, const why_growth_row* row, double* x) {
  add_columns(setup, row, 1, x);
  if (row->minus)
    add_columns(setup, row->minus, -1, x);
}

static void add_part(why_mixed_data* data, size_t row, why_growth_term term, size_t level,
                     double weight, why_arena* arena) {
  if (weight != 0)
    *WHY_LIST_ADD(arena, data->parts) = (why_mixed_part){row, term, level, weight};
}

/// Add the effects of one arm, with a sign.
static void add_arm(const why_growth_setup* setup, const why_growth_row* row, double sign,
                    size_t at, why_arena* arena, why_mixed_data* data) {
  double factor = sign * factor_of(setup, row);
  double whole = 0;
  for (size_t i = 0; i < row->heads.count; i++) {
    const why_grown_head* grown = &row->heads.at[i];
    double dose = factor * grown->weight * dose_of(setup, grown);
    double stress = 0;
    for (size_t j = 0; j < grown->bouts.count; j++) {
      const why_bout* bout = &grown->bouts.at[j];
      stress += bout->share * why_growth_response(setup, bout->work.stress);
      add_part(data, at, WHY_TERM_CELL, bout->cell, dose * bout->share, arena);
    }
    add_part(data, at, WHY_TERM_HEAD, grown->head, dose * stress, arena);
    whole += dose * stress;
  }
  add_part(data, at, WHY_TERM_STUDY, row->study, whole, arena);
  add_part(data, at, WHY_TERM_ARM, row->arm, whole, arena);
}

void why_growth_design_parts(const why_growth_setup* setup, size_t index, size_t at,
                             why_arena* arena, why_mixed_data* data) {
  const why_growth_row* row = &setup->rows->rows.at[index];
  add_arm(setup, row, 1, at, arena, data);
  if (row->minus)
    add_arm(setup, row->minus, -1, at, arena, data);
  // A difference has what two findings have of their own.
  add_part(data, at, WHY_TERM_FINDING, index, row->minus ? sqrt(2) : 1, arena);
}

static void add_block(const why_growth_setup* setup, const why_findings* findings,
                      const size_t* kept, size_t first, size_t count, why_arena* arena,
                      why_mixed_data* data) {
  double* covariance = WHY_NEW_ARRAY(arena, double, count* count);
  for (size_t i = 0; i < count; i++)
    for (size_t j = 0; j < count; j++)
      covariance[i * count + j] = why_growth_rows_covariance(
          findings, &setup->rows->rows.at[kept[first + i]], &setup->rows->rows.at[kept[first + j]]);
  *WHY_LIST_ADD(arena, data->blocks) = (why_mixed_block){first, count, covariance};
}

static void add_terms(const why_growth_setup* setup, why_arena* arena, why_mixed_data* data) {
  const why_mixed_term terms[WHY_GROWTH_TERMS] = {
      [WHY_TERM_STUDY] = {"study", setup->rows->study_count, 0},
      [WHY_TERM_ARM] = {"arm", setup->rows->arm_count, 0},
      [WHY_TERM_HEAD] = {"head", setup->rows->head_count, 0},
      [WHY_TERM_CELL] = {"exercise and head", setup->rows->cells.count, 0},
      [WHY_TERM_FINDING] = {"finding", setup->rows->rows.count, 0},
  };
  for (int k = 0; k < WHY_GROWTH_TERMS; k++)
    *WHY_LIST_ADD(arena, data->terms) = terms[k];
}

void why_growth_design_new(const why_growth_setup* setup, const why_findings* findings,
                           why_arena* arena, why_mixed_data* data, size_t** kept) {
  size_t most = setup->rows->rows.count;
  *data = (why_mixed_data){.fixed_count = why_growth_column_count(setup)};
  double* y = WHY_NEW_ARRAY(arena, double, most + 1);
  double* x = WHY_NEW_ARRAY(arena, double, most * data->fixed_count + 1);
  *kept = WHY_NEW_ARRAY(arena, size_t, most + 1);
  size_t first = 0;
  for (size_t i = 0; i < most; i++) {
    const why_growth_row* row = &setup->rows->rows.at[i];
    if (!is_kept(setup, row))
      continue;
    size_t at = data->row_count++;
    (*kept)[at] = i;
    y[at] = row->log_growth;
    why_growth_design_row(setup, row, x + at * data->fixed_count);
    why_growth_design_parts(setup, i, at, arena, data);
    if (i + 1 == most || row[1].study != row->study) {
      add_block(setup, findings, *kept, first, at + 1 - first, arena, data);
      first = at + 1;
    }
  }
  add_terms(setup, arena, data);
  data->y = y;
  data->x = x;
}
