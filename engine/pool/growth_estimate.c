// SPDX-License-Identifier: GPL-3.0-or-later
// What the fitted growth model says of an exercise and a goal.
#include "distribution.h"
#include "growth_model.h"

#include <math.h>
#include <string.h>

enum { MOST_PARTS = 512 }; ///< Of one combination; a goal has at most half as many heads.

/// An estimate on its way: log growth as a combination of what the fit knows jointly.
typedef struct {
  double value;  ///< Log growth.
  double slope;  ///< Its weight of the response that studies and arms vary in.
  double alone;  ///< Variance of what the fit does not know: cells without a trial.
  double own;    ///< Share of the goal that its own trials measured,
  double same;   ///< or trials of the head.
  double* fixed; ///< Weights of the coefficients.
  size_t count;
  size_t index[MOST_PARTS]; ///< Of effects among those known jointly.
  double weight[MOST_PARTS];
} combination;

static double component(const why_growth* growth, why_growth_term term) {
  return growth->fit.components[term].value;
}

static void add(combination* c, size_t index, double weight, double mode) {
  if (c->count == MOST_PARTS)
    return;
  c->index[c->count] = index;
  c->weight[c->count++] = weight;
  c->value += weight * mode;
}

static void add_head(const why_growth* growth, size_t exercise, const why_goal_head* part,
                     double factor, combination* c) {
  const why_growth_setup* setup = &growth->setup;
  const why_work* work = &why_workbook_exercise(growth->book, exercise)[part->head];
  double weight = factor * part->weight;
  double stress = weight * why_growth_response(setup, work->stress);
  size_t length = why_growth_column_of_feature(setup, WHY_GROWTH_BY_LENGTH);
  c->slope += stress;
  c->fixed[why_growth_column_of_feature(setup, WHY_GROWTH_BY_STRESS)] += stress;
  if (length != SIZE_MAX)
    c->fixed[length] += stress * why_growth_longer(setup, part->head, work->length);
  add(c, growth->joint.offset[WHY_TERM_HEAD] + part->head, stress,
      growth->fit.modes[WHY_TERM_HEAD][part->head]);
  const why_cell* cell = why_growth_cell(setup->rows, exercise, part->head);
  if (cell) {
    size_t number = (size_t)(cell - setup->rows->cells.at);
    add(c, growth->joint.offset[WHY_TERM_CELL] + number, weight,
        growth->fit.modes[WHY_TERM_CELL][number]);
  } else {
    c->alone += weight * weight * component(growth, WHY_TERM_CELL);
  }
  c->own += cell && cell->main_rows ? part->weight : 0;
  c->same += setup->rows->head_rows[part->head] ? part->weight : 0;
}

static void combine(const why_growth* growth, size_t exercise, const why_goal* goal, double trained,
                    why_arena* scratch, combination* c) {
  const why_growth_setup* setup = &growth->setup;
  *c = (combination){.fixed = WHY_NEW_ARRAY(scratch, double, growth->fit.fixed_count)};
  double factor = exp(setup->constants[WHY_CONSTANT_TRAINED] * trained);
  for (size_t i = 0; i < goal->count; i++)
    add_head(growth, exercise, &goal->at[i], factor, c);
  for (size_t a = 0; a < growth->fit.fixed_count; a++)
    c->value += c->fixed[a] * growth->fit.coefficients[a];
  // All of it moves with the constant for trained people.
  size_t column = why_growth_column_of_constant(setup, WHY_CONSTANT_TRAINED);
  if (column != SIZE_MAX)
    c->fixed[column] = c->value * trained;
}

/// Covariance of two combinations, beside what is alone in each.
static double covariance(const why_growth* growth, const combination* a, const combination* b) {
  size_t n = growth->joint.count;
  size_t p = growth->fit.fixed_count;
  const double* known = growth->joint.covariance;
  double sum = 0;
  for (size_t i = 0; i < p + a->count; i++) {
    const double* row = known + (i < p ? i : a->index[i - p]) * n;
    double inner = 0;
    for (size_t j = 0; j < p; j++)
      inner += row[j] * b->fixed[j];
    for (size_t j = 0; j < b->count; j++)
      inner += row[b->index[j]] * b->weight[j];
    sum += inner * (i < p ? a->fixed[i] : a->weight[i - p]);
  }
  return sum;
}

static double percent_of(double log_growth) {
  return 100 * expm1(log_growth);
}

static why_growth_basis basis_of(const combination* c) {
  return c->own >= 0.5    ? WHY_BASIS_OWN_TRIALS
         : c->same >= 0.5 ? WHY_BASIS_SAME_HEAD
                          : WHY_BASIS_MECHANICS;
}

/// What differs between studies of one thing.
static double between_studies(const why_growth* growth, double slope) {
  return slope * slope * (component(growth, WHY_TERM_STUDY) + component(growth, WHY_TERM_ARM)) +
         component(growth, WHY_TERM_FINDING);
}

bool why_growth_knows(const why_growth* growth, size_t exercise, size_t head) {
  const why_cell* cell = why_growth_cell(growth->setup.rows, exercise, head);
  return why_workbook_exercise(growth->book, exercise)[head].stress > 0 ||
         (cell && cell->main_rows);
}

void why_growth_estimate(const why_growth* growth, size_t exercise, const why_goal* goal,
                         double trained, why_arena* scratch, why_estimate* estimate) {
  combination c;
  combine(growth, exercise, goal, trained, scratch, &c);
  double variance = covariance(growth, &c, &c) + c.alone;
  double wide = why_normal_quantile(0.975);
  double mean = wide * sqrt(variance);
  double study = wide * sqrt(variance + between_studies(growth, c.slope));
  *estimate = (why_estimate){.percent = percent_of(c.value),
                             .low = percent_of(c.value - mean),
                             .high = percent_of(c.value + mean),
                             .new_low = percent_of(c.value - study),
                             .new_high = percent_of(c.value + study),
                             .basis = basis_of(&c)};
}

void why_growth_difference(const why_growth* growth, size_t a, size_t b, const why_goal* goal,
                           double trained, why_arena* scratch, why_estimate* difference) {
  combination left;
  combination right;
  combine(growth, a, goal, trained, scratch, &left);
  combine(growth, b, goal, trained, scratch, &right);
  // On the scale of per cent, by the slopes of the exponential.
  double l = 100 * exp(left.value);
  double r = 100 * exp(right.value);
  double variance = l * l * (covariance(growth, &left, &left) + left.alone) +
                    r * r * (covariance(growth, &right, &right) + right.alone) -
                    2 * l * r * covariance(growth, &left, &right);
  // A study shares its people between both; arms and findings are its own.
  double slope = l * left.slope - r * right.slope;
  double arms = l * l * left.slope * left.slope + r * r * right.slope * right.slope;
  double study = slope * slope * component(growth, WHY_TERM_STUDY) +
                 arms * component(growth, WHY_TERM_ARM) +
                 (l * l + r * r) * component(growth, WHY_TERM_FINDING);
  double wide = why_normal_quantile(0.975);
  double mean = wide * sqrt(fmax(0, variance));
  double value = percent_of(left.value) - percent_of(right.value);
  why_growth_basis basis = basis_of(&left);
  *difference = (why_estimate){.percent = value,
                               .low = value - mean,
                               .high = value + mean,
                               .new_low = value - wide * sqrt(fmax(0, variance) + study),
                               .new_high = value + wide * sqrt(fmax(0, variance) + study),
                               .basis = basis_of(&right) < basis ? basis_of(&right) : basis};
}
