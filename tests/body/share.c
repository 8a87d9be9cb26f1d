// SPDX-License-Identifier: GPL-3.0-or-later
// Sharing among heads: against the closed form that one joint alone allows, and against what must
// hold whatever the numbers are.
#include "body/body.h"

#include <criterion/criterion.h>
#include <math.h>

static why_arena* arena;
static why_problems* problems;
static why_tables* tables;
static const why_body_model* model;
static why_muscles* muscles;
static why_sharer* sharer;

static void open_knowledge(void) {
  arena = why_arena_new(0);
  problems = why_problems_new();
  why_tables_open(WHY_HOME, NULL, arena, problems, &tables);
  cr_assert_eq(why_body_model_new(why_frame_new(tables, arena), tables, 0, 0, arena, &model),
               WHY_OK);
  cr_assert_eq(why_muscles_new(model, arena, &muscles), WHY_OK);
  cr_assert_eq(why_sharer_new(muscles, arena, &sharer), WHY_OK);
}

static void close_knowledge(void) {
  why_problems_free(problems);
  why_arena_free(arena);
}

TestSuite(share, .init = open_knowledge, .fini = close_knowledge);

static const why_exercise* exercise(const char* id) {
  const why_exercise* found =
      why_exercise_find(&tables->exercises, why_symbols_find(tables->symbols, id));
  cr_assert_not_null(found, "no exercise %s", id);
  return found;
}

static size_t head(const char* id) {
  why_symbol symbol = why_symbols_find(tables->symbols, id);
  for (size_t i = 0; i < muscles->count; i++)
    if (muscles->at[i].head->id == symbol)
      return i;
  cr_assert_fail("no head %s", id);
  return 0;
}

static const why_action* action(const char* id) {
  const why_action* found =
      why_action_find(&tables->anatomy, why_symbols_find(tables->symbols, id));
  cr_assert_not_null(found, "no action %s", id);
  return found;
}

/// The vasti cross the knee alone. With the cubes of stresses least and capacity C, arm r: stress
/// goes as √(C r), so that the ratio of two stresses follows without any solver.
Test(share, one_joint_heads_follow_the_closed_form) {
  static const char* const VASTI[] = {"vastus-medialis", "vastus-intermedius"};
  size_t first = head("vastus-lateralis");
  const why_action* extension = action("knee-extension");
  why_share* share = why_share_new(muscles, 1, arena);
  for (int at = 0; at < WHY_POSITIONS; at++) {
    why_share_begin(share, NULL, NULL, 0);
    why_share_find(sharer, exercise("leg-extension"), at, 1, share);
    cr_assert(share->settled);
    const why_head_share* a = &share->heads[WHY_WORKING][first];
    double arm_a = why_muscle_arm(muscles, &muscles->at[first], &share->posture[WHY_WORKING],
                                  &a->state, extension);
    for (size_t i = 0; i < 2; i++) {
      const why_head_share* b = &share->heads[WHY_WORKING][head(VASTI[i])];
      double arm_b = why_muscle_arm(muscles, &muscles->at[head(VASTI[i])],
                                    &share->posture[WHY_WORKING], &b->state, extension);
      double expected = sqrt(b->state.capacity_n * arm_b / (a->state.capacity_n * arm_a));
      cr_expect_float_eq(b->stress / a->stress, expected, 2e-3, "%s at %d: %g, expected %g",
                         VASTI[i], at, b->stress / a->stress, expected);
    }
  }
}

/// What the heads and the reserve give about the knee is what the statics ask for.
Test(share, moments_add_up_to_the_demand) {
  static why_statics statics;
  const why_action* extension = action("knee-extension");
  why_share* share = why_share_new(muscles, 1, arena);
  why_share_find(sharer, exercise("leg-extension"), 1, 1, share);
  why_statics_find(model, exercise("leg-extension"), 1, 1, &statics);
  double sum = 0;
  for (size_t i = 0; i < muscles->count; i++)
    sum += why_share_moment(muscles, share, i, WHY_WORKING, extension);
  int knee = why_frame_number(model->frame, extension->along.at[0]);
  double reserve = extension->sign * share->helps[WHY_WORKING][knee];
  why_demand asked = why_demand_of(model, &statics, extension, WHY_WORKING);
  cr_expect_gt(asked.load, 50);
  cr_expect_float_eq(sum + reserve, asked.body + asked.load, 1e-4);
}

Test(share, both_sides_of_a_bilateral_exercise_agree) {
  why_share* share = why_share_new(muscles, 1, arena);
  static const char* const NAMES[] = {"barbell-back-squat", "push-up", "lat-pulldown"};
  for (size_t n = 0; n < 3; n++) {
    why_share_begin(share, NULL, NULL, 0);
    why_share_find(sharer, exercise(NAMES[n]), 0.5, 1, share);
    for (size_t i = 0; i < muscles->count; i++)
      cr_expect_float_eq(share->heads[WHY_WORKING][i].stress, share->heads[WHY_OTHER][i].stress,
                         1e-9);
  }
}

/// A push-up is nearly all that the chest can hold: what a backpack may add is little, but it is
/// found, not given up.
Test(share, a_load_that_adds_little_is_found) {
  const why_effort* effort = why_effort_find(sharer, exercise("backpack-push-up"));
  cr_expect_eq(effort->end, WHY_LOAD_REACHED);
  cr_expect_lt(effort->factor, 0.5);
  cr_expect_float_eq(effort->peak, 1, 0.01, "%g", effort->peak);
}

/// Every posture of every exercise is solved, and where a load was raised a mover is at capacity.
Test(share, whole_catalogue_is_solved) {
  size_t reached = 0;
  for (size_t i = 0; i < tables->exercises.rows.count; i++) {
    const why_exercise* each = &tables->exercises.rows.at[i];
    const why_effort* effort = why_effort_find(sharer, each);
    cr_expect(effort->settled, "%s", why_symbols_text(tables->symbols, each->id));
    reached += effort->end == WHY_LOAD_REACHED;
    if (effort->end == WHY_LOAD_REACHED)
      cr_expect_float_eq(effort->peak, 1, 0.01, "%s: %g",
                         why_symbols_text(tables->symbols, each->id), effort->peak);
  }
  cr_expect_gt(reached, 250);
}
