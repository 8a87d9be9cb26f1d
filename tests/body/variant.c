// SPDX-License-Identifier: GPL-3.0-or-later
// Exercises as arms of studies did them: what is cut, set and held, and what stays.
#include "body/body.h"

#include <criterion/criterion.h>
#include <math.h>

static why_arena* arena;
static why_problems* problems;
static why_tables* tables;
static const why_frame* frame;

static void open_knowledge(void) {
  arena = why_arena_new(0);
  problems = why_problems_new();
  why_tables_open(WHY_HOME, NULL, arena, problems, &tables);
  frame = why_frame_new(tables, arena);
}

static void close_knowledge(void) {
  why_problems_free(problems);
  why_arena_free(arena);
}

TestSuite(variant, .init = open_knowledge, .fini = close_knowledge);

static why_symbol name(const char* text) {
  return why_symbols_find(tables->symbols, text);
}

static double knee(const why_exercise* exercise, int position) {
  return why_position_angle(&exercise->positions[position], name("knee-flexion"), false);
}

static const why_exercise* variant_of(const char* exercise, const char* coordinate, double from,
                                      double to, const char* range) {
  why_joint_range rows[] = {{.coordinate = name(coordinate), .from_deg = from, .to_deg = to}};
  why_trained trained = {.range = name(range)};
  trained.joint_ranges.at = rows;
  trained.joint_ranges.count = coordinate[0] ? 1 : 0;
  return why_variant_of(frame, why_exercise_find(&tables->exercises, name(exercise)), &trained,
                        arena);
}

Test(variant, nothing_of_its_own_is_the_exercise_itself) {
  const why_exercise* plain = why_exercise_find(&tables->exercises, name("leg-extension"));
  cr_expect_eq(variant_of("leg-extension", "", 0, 0, "full"), plain);
}

Test(variant, range_cuts_the_path) {
  const why_exercise* cut = variant_of("leg-extension", "knee-flexion", 30, 65, "full");
  cr_expect_float_eq(knee(cut, 0), 65, 1);
  cr_expect_float_eq(knee(cut, 2), 30, 1);
  cr_expect_not(cut->held);
}

Test(variant, range_beyond_the_path_is_the_whole_path) {
  const why_exercise* plain = why_exercise_find(&tables->exercises, name("leg-extension"));
  const why_exercise* cut = variant_of("leg-extension", "knee-flexion", -20, 160, "full");
  cr_expect_eq(cut, plain);
}

Test(variant, one_angle_is_held) {
  const why_exercise* held = variant_of("leg-extension", "knee-flexion", 60, 60, "full");
  cr_expect(held->held);
  for (int i = 0; i < WHY_POSITIONS; i++)
    cr_expect_float_eq(knee(held, i), 60, 1);
}

Test(variant, joint_that_does_not_move_is_set) {
  const why_exercise* set = variant_of("seated-leg-curl", "hip-flexion", 30, 30, "full");
  const why_exercise* plain = why_exercise_find(&tables->exercises, name("seated-leg-curl"));
  for (int i = 0; i < WHY_POSITIONS; i++) {
    cr_expect_float_eq(why_position_angle(&set->positions[i], name("hip-flexion"), false), 30,
                       1e-9);
    cr_expect_float_eq(knee(set, i), knee(plain, i), 1e-9);
  }
}

Test(variant, word_stands_for_a_half) {
  const why_exercise* plain = why_exercise_find(&tables->exercises, name("leg-extension"));
  const why_exercise* longer = variant_of("leg-extension", "", 0, 0, "long");
  cr_expect_float_eq(knee(longer, 0), knee(plain, 0), 1e-9);
  cr_expect_float_eq(knee(longer, 2), knee(plain, 1), 1e-9);
}

/// A lengthened partial holds the vasti longer under load than the shortened one.
Test(variant, long_half_is_longer) {
  const why_body_model* model = NULL;
  why_muscles* muscles = NULL;
  why_sharer* sharer = NULL;
  cr_assert_eq(why_body_model_new(frame, tables, 0, 0, arena, &model), WHY_OK);
  cr_assert_eq(why_muscles_new(model, arena, &muscles), WHY_OK);
  cr_assert_eq(why_sharer_new(muscles, arena, &sharer), WHY_OK);
  why_feature* a = WHY_NEW_ARRAY(arena, why_feature, muscles->count);
  why_feature* b = WHY_NEW_ARRAY(arena, why_feature, muscles->count);
  why_features_find(
      sharer, why_effort_find(sharer, variant_of("leg-extension", "knee-flexion", 65, 100, "full")),
      a);
  why_features_find(
      sharer, why_effort_find(sharer, variant_of("leg-extension", "knee-flexion", 30, 65, "full")),
      b);
  for (size_t i = 0; i < muscles->count; i++)
    if (muscles->at[i].head->id == name("vastus-lateralis"))
      cr_expect_gt(a[i].moving_length / a[i].moving, b[i].moving_length / b[i].moving + 0.1);
}
