// SPDX-License-Identifier: GPL-3.0-or-later
// What the fitted growth model says of an exercise and a goal. growth_design.h has its equation; an
// estimate stands at the mean study, at standard dose, and without drift.
#include "outlook.h"

#include "distribution.h"
#include "growth_model.h"

#include <math.h>
#include <string.h>

static const uint32_t NO_CELL = 0;
static const uint32_t NO_COLUMN = UINT32_MAX;

/// Of one head in one exercise.
typedef struct {
  float response; ///< s: 0 without stress.
  float longer;   ///< Fibre length beyond the head's mean.
  uint32_t cell;  ///< 1 + number of the cell; NO_CELL.
  bool own;       ///< Trials measured the head mostly after this exercise.
} prospect;

struct why_outlook {
  size_t head_count;
  prospect* prospects; ///< Of exercise · head_count + head.
  bool* measured;      ///< By head: trials measured it.
  double trained;      ///< log of what training before makes of growth.
  uint32_t by_stress;  ///< Columns; NO_COLUMN where the model has none.
  uint32_t by_length;
  uint32_t by_trained;
  size_t fixed_count;
  double* coefficients;
  double* head_modes;
  double* cell_modes;
  double components[WHY_GROWTH_TERMS];
  size_t head_offset; ///< Of the first head, and
  size_t cell_offset; ///< of the first cell, in the joint covariance.
  size_t joint_count;
  double* covariance; ///< joint_count × joint_count
};

static double* copy(const double* from, size_t count, why_arena* arena) {
  double* made = WHY_NEW_ARRAY(arena, double, count + 1);
  memcpy(made, from, count * sizeof *from);
  return made;
}

static uint32_t column(size_t found) {
  return found == SIZE_MAX ? NO_COLUMN : (uint32_t)found;
}

static prospect look(const why_growth* growth, size_t exercise, size_t head) {
  const why_work* work = &why_workbook_exercise(growth->book, exercise)[head];
  const why_cell* cell = why_growth_cell(growth->setup.rows, exercise, head);
  return (prospect){
      .response = (float)why_growth_response(&growth->setup, work->stress),
      .longer = (float)why_growth_longer(&growth->setup, head, work->length),
      .cell = cell ? 1 + (uint32_t)(cell - growth->setup.rows->cells.at) : NO_CELL,
      .own = cell && cell->main_rows,
  };
}

static void look_at_all(const why_growth* growth, why_arena* arena, why_outlook* outlook) {
  size_t exercises = growth->tables->exercises.rows.count;
  outlook->head_count = growth->tables->anatomy.heads.count;
  outlook->prospects = WHY_NEW_ARRAY(arena, prospect, exercises * outlook->head_count + 1);
  outlook->measured = WHY_NEW_ARRAY(arena, bool, outlook->head_count + 1);
  for (size_t h = 0; h < outlook->head_count; h++) {
    outlook->measured[h] = growth->setup.rows->head_rows[h] > 0;
    for (size_t e = 0; e < exercises; e++)
      outlook->prospects[e * outlook->head_count + h] = look(growth, e, h);
  }
}

const why_outlook* why_outlook_new(const why_growth* growth, why_arena* arena) {
  const why_growth_setup* setup = &growth->setup;
  const why_mixed_fit* fit = &growth->fit;
  why_outlook* made = WHY_NEW(arena, why_outlook);
  look_at_all(growth, arena, made);
  made->trained = setup->constants[WHY_CONSTANT_TRAINED];
  made->by_stress = column(why_growth_column_of_feature(setup, WHY_GROWTH_BY_STRESS));
  made->by_length = column(why_growth_column_of_feature(setup, WHY_GROWTH_BY_LENGTH));
  made->by_trained = column(why_growth_column_of_constant(setup, WHY_CONSTANT_TRAINED));
  made->fixed_count = fit->fixed_count;
  made->coefficients = copy(fit->coefficients, fit->fixed_count, arena);
  made->head_modes = copy(fit->modes[WHY_TERM_HEAD], made->head_count, arena);
  made->cell_modes = copy(fit->modes[WHY_TERM_CELL], setup->rows->cells.count, arena);
  for (int k = 0; k < WHY_GROWTH_TERMS; k++)
    made->components[k] = fit->components[k].value;
  made->head_offset = growth->joint.offset[WHY_TERM_HEAD];
  made->cell_offset = growth->joint.offset[WHY_TERM_CELL];
  made->joint_count = growth->joint.count;
  made->covariance =
      copy(growth->joint.covariance, growth->joint.count * growth->joint.count, arena);
  return made;
}

static const prospect* prospect_of(const why_outlook* outlook, size_t exercise, size_t head) {
  return &outlook->prospects[exercise * outlook->head_count + head];
}

bool why_outlook_knows(const why_outlook* outlook, size_t exercise, size_t head) {
  const prospect* seen = prospect_of(outlook, exercise, head);
  return seen->response > 0 || seen->own;
}

/// Log growth of a goal, with its slopes by all that the fit knows jointly.
typedef struct {
  double value;
  double slope;  ///< By what studies and arms vary in.
  double alone;  ///< Variance of what the fit does not know: cells without a trial.
  double all;    ///< Weight of all heads,
  double own;    ///< of those that trials of the exercise measured,
  double same;   ///< and of those that any trials measured.
  double* fixed; ///< Slopes by the coefficients.
  size_t count;
  size_t* index; ///< Of effects among those known jointly,
  double* slopes;
} expectation;

/// Log growth of one head; `factor`: of training before.
static double head_value(const why_outlook* outlook, size_t exercise, size_t head, double factor) {
  const prospect* seen = prospect_of(outlook, exercise, head);
  double growth = outlook->coefficients[outlook->by_stress] + outlook->head_modes[head];
  if (outlook->by_length != NO_COLUMN)
    growth += outlook->coefficients[outlook->by_length] * (double)seen->longer;
  growth *= (double)seen->response;
  if (seen->cell != NO_CELL)
    growth += outlook->cell_modes[seen->cell - 1];
  return factor * growth;
}

static void add_effect(expectation* e, size_t index, double slope) {
  e->index[e->count] = index;
  e->slopes[e->count++] = slope;
}

/// Add the slopes of one head, times `weight`.
static void add_head(const why_outlook* outlook, size_t exercise, size_t head, double weight,
                     expectation* e) {
  const prospect* seen = prospect_of(outlook, exercise, head);
  double response = weight * (double)seen->response;
  e->slope += response;
  e->fixed[outlook->by_stress] += response;
  if (outlook->by_length != NO_COLUMN)
    e->fixed[outlook->by_length] += response * (double)seen->longer;
  add_effect(e, outlook->head_offset + head, response);
  if (seen->cell != NO_CELL)
    add_effect(e, outlook->cell_offset + seen->cell - 1, weight);
  else
    e->alone += weight * weight * outlook->components[WHY_TERM_CELL];
}

/// The volume of the goal grows to T = 1 + Σ w (exp(v) − 1) over its heads, so that log T has the
/// slope w exp(v) / T by each v.
static void expect(const why_outlook* outlook, size_t exercise, const why_goal* goal,
                   double trained, why_arena* scratch, expectation* e) {
  *e = (expectation){.fixed = WHY_NEW_ARRAY(scratch, double, outlook->fixed_count + 1),
                     .index = WHY_NEW_ARRAY(scratch, size_t, 2 * goal->count + 1),
                     .slopes = WHY_NEW_ARRAY(scratch, double, 2 * goal->count + 1)};
  double factor = exp(outlook->trained * trained);
  double volume = 1;
  for (size_t i = 0; i < goal->count; i++)
    volume += goal->at[i].weight * expm1(head_value(outlook, exercise, goal->at[i].head, factor));
  double by_trained = 0;
  for (size_t i = 0; i < goal->count; i++) {
    const why_goal_head* part = &goal->at[i];
    double value = head_value(outlook, exercise, part->head, factor);
    double weight = part->weight * exp(value) / volume;
    add_head(outlook, exercise, part->head, weight * factor, e);
    by_trained += weight * value * trained;
    e->all += part->weight;
    e->own += prospect_of(outlook, exercise, part->head)->own ? part->weight : 0;
    e->same += outlook->measured[part->head] ? part->weight : 0;
  }
  if (outlook->by_trained != NO_COLUMN)
    e->fixed[outlook->by_trained] = by_trained;
  e->value = log(volume);
}

/// Covariance of two expectations, beside what is alone in each.
static double covariance(const why_outlook* outlook, const expectation* a, const expectation* b) {
  size_t p = outlook->fixed_count;
  double sum = 0;
  for (size_t i = 0; i < p + a->count; i++) {
    const double* row = outlook->covariance + (i < p ? i : a->index[i - p]) * outlook->joint_count;
    double inner = 0;
    for (size_t j = 0; j < p; j++)
      inner += row[j] * b->fixed[j];
    for (size_t j = 0; j < b->count; j++)
      inner += row[b->index[j]] * b->slopes[j];
    sum += inner * (i < p ? a->fixed[i] : a->slopes[i - p]);
  }
  return sum;
}

static double variance(const why_outlook* outlook, const expectation* e) {
  return covariance(outlook, e, e) + e->alone;
}

const char* why_growth_basis_id(why_growth_basis basis) {
  static const char* const IDS[] = {[WHY_BASIS_MECHANICS] = "mechanics-only",
                                    [WHY_BASIS_SAME_HEAD] = "same-head",
                                    [WHY_BASIS_OWN_TRIALS] = "own-trials"};
  return IDS[basis];
}

static double percent_of(double log_growth) {
  return 100 * expm1(log_growth);
}

static why_growth_basis basis_of(const expectation* e) {
  return e->own >= e->all / 2    ? WHY_BASIS_OWN_TRIALS
         : e->same >= e->all / 2 ? WHY_BASIS_SAME_HEAD
                                 : WHY_BASIS_MECHANICS;
}

void why_outlook_estimate(const why_outlook* outlook, size_t exercise, const why_goal* goal,
                          double trained, why_arena* scratch, why_estimate* estimate) {
  expectation e;
  expect(outlook, exercise, goal, trained, scratch, &e);
  const double* parts = outlook->components;
  double of_mean = variance(outlook, &e);
  double of_study = of_mean + parts[WHY_TERM_FINDING] +
                    e.slope * e.slope * (parts[WHY_TERM_STUDY] + parts[WHY_TERM_ARM]);
  double wide = why_normal_quantile(0.975);
  double mean = wide * sqrt(of_mean);
  double study = wide * sqrt(of_study);
  *estimate = (why_estimate){.percent = percent_of(e.value),
                             .low = percent_of(e.value - mean),
                             .high = percent_of(e.value + mean),
                             .new_low = percent_of(e.value - study),
                             .new_high = percent_of(e.value + study),
                             .basis = basis_of(&e)};
}

/// What counts nothing has no basis of its own.
static why_growth_basis lesser(const expectation* a, const expectation* b) {
  why_growth_basis of_a = basis_of(a);
  why_growth_basis of_b = basis_of(b);
  return a->all > 0 && (b->all <= 0 || of_a < of_b) ? of_a : of_b;
}

void why_outlook_difference(const why_outlook* outlook, const why_aim* a, const why_aim* b,
                            double trained, why_arena* scratch, why_estimate* difference) {
  expectation left;
  expectation right;
  expect(outlook, a->exercise, &a->goal, trained, scratch, &left);
  expect(outlook, b->exercise, &b->goal, trained, scratch, &right);
  // On the scale of per cent, by the slopes of the exponential. A cell that is alone is alone in
  // one of two exercises.
  double l = 100 * exp(left.value);
  double r = 100 * exp(right.value);
  double of_mean = a->exercise == b->exercise
                       ? 0
                       : l * l * variance(outlook, &left) + r * r * variance(outlook, &right) -
                             2 * l * r * covariance(outlook, &left, &right);
  // A study shares its people between both; arms and findings are its own.
  const double* parts = outlook->components;
  double slope = l * left.slope - r * right.slope;
  double arms = l * l * left.slope * left.slope + r * r * right.slope * right.slope;
  double of_study = of_mean + slope * slope * parts[WHY_TERM_STUDY] + arms * parts[WHY_TERM_ARM] +
                    (l * l + r * r) * parts[WHY_TERM_FINDING];
  double wide = why_normal_quantile(0.975);
  double mean = wide * sqrt(fmax(0, of_mean));
  double study = wide * sqrt(fmax(0, of_study));
  double value = percent_of(left.value) - percent_of(right.value);
  *difference = (why_estimate){.percent = value,
                               .low = value - mean,
                               .high = value + mean,
                               .new_low = value - study,
                               .new_high = value + study,
                               .basis = lesser(&left, &right)};
}
