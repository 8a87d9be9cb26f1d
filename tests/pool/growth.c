// SPDX-License-Identifier: GPL-3.0-or-later
// The growth model on the shipped trials: that it is fitted, and what must hold of any estimate
// whatever the numbers are.
#include "pool/growth_model.h"
#include "pool/pool.h"

#include <criterion/criterion.h>
#include <math.h>
#include <string.h>

static why_arena* arena;
static why_problems* problems;
static why_tables* tables;
static why_findings findings;
static why_growth* growth;
static const why_outlook* outlook;

static why_growth* fitted(const why_tables* from, const why_findings* of) {
  why_growth* made;
  why_growth_settings settings = why_growth_settings_usual();
  cr_assert_eq(why_growth_fit(from, of, &settings, arena, &made), WHY_OK);
  return made;
}

static why_tables* opened(uint64_t seed, why_findings* of) {
  why_read_settings settings = {.order_seed = seed, .hash_seed = seed};
  why_tables* made;
  cr_assert_eq(why_tables_open(WHY_HOME, &settings, arena, problems, &made), WHY_OK);
  why_imputing imputing = why_imputing_usual();
  cr_assert_eq(why_findings_collect(made, &imputing, arena, of), WHY_OK);
  return made;
}

static void open_shipped(void) {
  arena = why_arena_new(0);
  problems = why_problems_new();
  tables = opened(0, &findings);
  growth = fitted(tables, &findings);
  outlook = why_outlook_new(growth, arena);
}

static void close_shipped(void) {
  why_problems_free(problems);
  why_arena_free(arena);
}

TestSuite(growth, .init = open_shipped, .fini = close_shipped);

static size_t exercise_named(const why_tables* in, const char* id) {
  const why_exercise* row = why_exercise_find(&in->exercises, why_symbols_find(in->symbols, id));
  cr_assert_not_null(row, "%s", id);
  return (size_t)(row - in->exercises.rows.at);
}

static size_t head_named(const why_tables* in, const char* id) {
  const why_head* row = why_head_find(&in->anatomy, why_symbols_find(in->symbols, id));
  cr_assert_not_null(row, "%s", id);
  return (size_t)(row - in->anatomy.heads.at);
}

static why_estimate estimate_of(const why_growth* of, const why_tables* in, const char* exercise,
                                const char* head, double trained) {
  why_goal_head part = {head_named(in, head), 1};
  why_goal goal = {&part, 1};
  why_estimate estimate;
  why_outlook_estimate(why_outlook_new(of, arena), exercise_named(in, exercise), &goal, trained,
                       arena, &estimate);
  return estimate;
}

Test(growth, settles_with_components_that_the_data_know) {
  why_growth_summary summary = why_growth_summarise(growth);
  cr_assert(summary.settled);
  cr_assert(summary.fit->settled);
  cr_assert_gt(summary.data->row_count, 500);
  for (size_t c = 0; c < summary.fit->component_count; c++)
    cr_assert_neq(summary.fit->components[c].state, WHY_MIXED_NOT_IDENTIFIED, "%s",
                  summary.data->terms.at[c].name);
}

/// The climb from one start is the climb from all.
Test(growth, has_one_summit) {
  why_mixed_settings settings = {0};
  why_mixed_trouble trouble;
  why_mixed_fit fit;
  cr_assert_eq(why_mixed_fit_data(&growth->data, &settings, arena, &trouble, &fit), WHY_OK);
  cr_assert_eq(fit.starts_agreed, fit.starts);
  cr_assert_float_eq(fit.log_likelihood, growth->fit.log_likelihood, 1e-6);
}

/// At the end the columns of the constants have no step left to take.
Test(growth, constants_are_where_their_slopes_vanish) {
  for (int k = 0; k < WHY_CONSTANTS; k++) {
    size_t column = why_growth_column_of_constant(&growth->setup, (why_constant)k);
    if (column == SIZE_MAX)
      continue;
    double se = sqrt(growth->fit.covariance[column * (growth->fit.fixed_count + 1)]);
    cr_assert_lt(fabs(growth->fit.coefficients[column]), 0.02 * se, "constant %d", k);
  }
}

/// Slopes of the expected growth by the constants against differences.
Test(growth, slopes_of_constants_are_those_of_differences) {
  const why_growth_setup* setup = &growth->setup;
  size_t p = growth->fit.fixed_count;
  for (int k = 0; k < WHY_CONSTANTS; k++) {
    size_t column = why_growth_column_of_constant(setup, (why_constant)k);
    cr_assert_neq(column, SIZE_MAX);
    double step = 1e-5;
    double most = 0;
    for (size_t i = 0; i < growth->data.row_count; i++) {
      const why_growth_row* row = &setup->rows->rows.at[growth->kept[i]];
      double grown[2] = {0};
      double slope = 0;
      for (int side = 0; side < 2; side++) {
        why_growth_setup moved = *setup;
        moved.constants[k] += side ? step : -step;
        double* x = WHY_NEW_ARRAY(arena, double, p);
        why_growth_design_row(&moved, row, x);
        for (size_t f = 0; f < WHY_FEATURES; f++)
          grown[side] += x[why_growth_column_of_feature(setup, f)] * setup->slopes[f];
        slope += x[column] / 2;
      }
      double difference = (grown[1] - grown[0]) / (2 * step);
      cr_assert_float_eq(slope, difference, 1e-6, "constant %d, row %zu", k, i);
      most = fmax(most, fabs(slope));
    }
    cr_assert_gt(most, 1e-3);
  }
}

/// A study that prints differences only says nothing of drift, and something of both exercises.
Test(growth, takes_differences_where_arms_are_not_told) {
  const why_growth_rows* rows = growth->setup.rows;
  size_t seen = 0;
  for (size_t i = 0; i < rows->rows.count; i++) {
    const why_growth_row* row = &rows->rows.at[i];
    cr_assert_eq(row->finding == NULL, row->minus != NULL);
    if (!row->minus)
      continue;
    double* x = WHY_NEW_ARRAY(arena, double, growth->fit.fixed_count);
    why_growth_design_row(&growth->setup, row, x);
    cr_assert_eq(x[0], 0);
    cr_assert_eq(row->study, row->minus->study);
    cr_assert_neq(row->arm, row->minus->arm);
    cr_assert_gt(row->variance, 0);
    seen++;
  }
  cr_assert_eq(seen, rows->differences);
  cr_assert_eq(estimate_of(growth, tables, "barbell-hip-thrust", "gluteus-maximus-lower", 1).basis,
               WHY_BASIS_OWN_TRIALS);
}

Test(growth, is_zero_without_stress_and_without_trials) {
  const why_growth_rows* rows = growth->setup.rows;
  size_t seen = 0;
  for (size_t e = 0; e < tables->exercises.rows.count; e += 7) {
    const why_work* work = why_workbook_exercise(growth->book, e);
    for (size_t h = 0; h < tables->anatomy.heads.count; h++) {
      if (work[h].stress > 0 || why_growth_cell(rows, e, h))
        continue;
      why_goal_head part = {h, 1};
      why_goal goal = {&part, 1};
      why_estimate estimate;
      why_outlook_estimate(outlook, e, &goal, 0, arena, &estimate);
      cr_assert_eq(estimate.percent, 0);
      cr_assert(estimate.low < 0 && estimate.high > 0 && estimate.new_low < estimate.low);
      seen++;
    }
  }
  cr_assert_gt(seen, 100);
}

Test(growth, scales_with_training_as_its_constant_says) {
  double factor = exp(growth->setup.constants[WHY_CONSTANT_TRAINED]);
  why_estimate new = estimate_of(growth, tables, "barbell-back-squat", "vastus-lateralis", 0);
  why_estimate old = estimate_of(growth, tables, "barbell-back-squat", "vastus-lateralis", 1);
  cr_assert_float_eq(log1p(old.percent / 100), factor * log1p(new.percent / 100), 1e-12);
  cr_assert_eq(new.basis, WHY_BASIS_OWN_TRIALS);
}

/// One covariance for all levels, and one combination at a time, are the same.
Test(growth, joint_covariance_is_that_of_combinations) {
  const why_mixed_joint* joint = &growth->joint;
  double* zeros = WHY_NEW_ARRAY(arena, double, growth->fit.fixed_count);
  double* ones = WHY_NEW_ARRAY(arena, double, growth->fit.fixed_count);
  ones[1] = 1;
  for (size_t i = 0; i < 40; i++) {
    why_mixed_part parts[] = {{.term = WHY_TERM_CELL, .level = 3 * i, .weight = 1},
                              {.term = WHY_TERM_HEAD, .level = i, .weight = 1}};
    why_mixed_combination cell = {zeros, &parts[0], 1};
    why_mixed_combination head = {zeros, &parts[1], 1};
    why_mixed_combination slope = {ones, NULL, 0};
    size_t c = joint->offset[WHY_TERM_CELL] + 3 * i;
    size_t h = joint->offset[WHY_TERM_HEAD] + i;
    const double* known = joint->covariance;
    size_t n = joint->count;
    cr_assert_float_eq(known[c * n + h], why_mixed_covariance(&growth->fit, &cell, &head, arena),
                       1e-14);
    cr_assert_float_eq(known[c * n + c], why_mixed_covariance(&growth->fit, &cell, &cell, arena),
                       1e-14);
    cr_assert_float_eq(known[1 * n + c], why_mixed_covariance(&growth->fit, &slope, &cell, arena),
                       1e-14);
  }
}

Test(growth, difference_is_antisymmetric_and_nothing_with_itself) {
  why_goal_head parts[] = {{head_named(tables, "semitendinosus"), 0.5},
                           {head_named(tables, "biceps-femoris-long-head"), 0.5}};
  why_goal goal = {parts, 2};
  size_t seated = exercise_named(tables, "seated-leg-curl");
  size_t prone = exercise_named(tables, "prone-leg-curl");
  why_estimate there;
  why_estimate back;
  why_estimate same;
  const why_aim a = {seated, goal};
  const why_aim b = {prone, goal};
  why_outlook_difference(outlook, &a, &b, 1, arena, &there);
  why_outlook_difference(outlook, &b, &a, 1, arena, &back);
  why_outlook_difference(outlook, &a, &a, 1, arena, &same);
  cr_assert_float_eq(there.percent, -back.percent, 1e-10);
  cr_assert_float_eq(there.low, -back.high, 1e-10);
  cr_assert_float_eq(same.percent, 0, 1e-12);
  cr_assert_float_eq(same.high, 0, 1e-6);
}

/// Where nothing of a goal is counted for the other exercise, the difference is the estimate, but
/// for the symmetric interval.
Test(growth, difference_with_nothing_is_the_estimate) {
  why_goal_head part = {head_named(tables, "semitendinosus"), 0.5};
  const why_aim a = {exercise_named(tables, "seated-leg-curl"), {&part, 1}};
  const why_aim nothing = {exercise_named(tables, "barbell-back-squat"), {0}};
  why_estimate alone;
  why_estimate difference;
  why_outlook_estimate(outlook, a.exercise, &a.goal, 1, arena, &alone);
  why_outlook_difference(outlook, &a, &nothing, 1, arena, &difference);
  cr_assert_float_eq(difference.percent, alone.percent, 1e-12);
  cr_assert_float_eq(difference.high - difference.low, alone.high - alone.low, 0.05);
  cr_assert_eq(difference.basis, alone.basis);
}

/// A goal is no more uncertain than the weighted sum of its heads, and between them in size.
Test(growth, goal_joins_its_heads) {
  const char* names[] = {"vastus-lateralis", "vastus-medialis", "rectus-femoris"};
  const double weights[] = {0.5, 0.3, 0.2};
  why_goal_head parts[3];
  double least = INFINITY;
  double most = -INFINITY;
  double wide = 0;
  for (size_t i = 0; i < 3; i++) {
    parts[i] = (why_goal_head){head_named(tables, names[i]), weights[i]};
    why_estimate one = estimate_of(growth, tables, "leg-press", names[i], 0);
    least = fmin(least, one.percent);
    most = fmax(most, one.percent);
    wide += weights[i] * (log1p(one.high / 100) - log1p(one.low / 100));
  }
  why_goal goal = {parts, 3};
  why_estimate all;
  why_outlook_estimate(outlook, exercise_named(tables, "leg-press"), &goal, 0, arena, &all);
  cr_assert(all.percent >= least && all.percent <= most);
  cr_assert_leq(log1p(all.high / 100) - log1p(all.low / 100), wide + 1e-12);
}

/// What leaving a study out within the fit says is what a fit without it at the same components and
/// constants says.
Test(growth, leaves_out_within_a_fit_as_around_it) {
  double sum = 0;
  why_growth rest = *growth;
  double components[WHY_GROWTH_TERMS];
  for (int c = 0; c < WHY_GROWTH_TERMS; c++)
    components[c] = growth->fit.components[c].value;
  why_mixed_settings settings = {.start = components, .gain = INFINITY};
  size_t left = 3;
  why_mixed_data data;
  why_mixed_trouble trouble;
  rest.setup.skip = left + 1;
  why_growth_design_new(&rest.setup, &findings, arena, &data, &rest.kept);
  cr_assert_eq(why_mixed_fit_data(&data, &settings, arena, &trouble, &rest.fit), WHY_OK);
  for (size_t s = 0; s < 2; s++)
    sum += why_growth_density_of(s ? growth : &rest, left, s == 1, arena) * (s ? 1 : -1);
  cr_assert_float_eq(sum, 0, 1e-6);
}

Test(growth, does_not_depend_on_reading_order_or_hashing) {
  why_findings again;
  why_tables* other = opened(99, &again);
  why_growth* refit = fitted(other, &again);
  static const char* const PAIRS[][2] = {{"barbell-back-squat", "vastus-lateralis"},
                                         {"seated-leg-curl", "semitendinosus"},
                                         {"barbell-hip-thrust", "gluteus-maximus-lower"},
                                         {"standing-calf-raise", "soleus"}};
  for (size_t i = 0; i < sizeof PAIRS / sizeof *PAIRS; i++) {
    why_estimate one = estimate_of(growth, tables, PAIRS[i][0], PAIRS[i][1], 1);
    why_estimate two = estimate_of(refit, other, PAIRS[i][0], PAIRS[i][1], 1);
    cr_assert_float_eq(one.percent, two.percent, 1e-6);
    cr_assert_float_eq(one.low, two.low, 1e-6);
  }
}
