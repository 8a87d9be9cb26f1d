// SPDX-License-Identifier: GPL-3.0-or-later
// Sharing among heads: against the closed form that one joint alone allows, and against what must
// hold whatever the numbers are.
#include "body/mechanics.h"

#include <criterion/criterion.h>
#include <math.h>

static mechanics opened;

static void open_knowledge(void) {
  mechanics_open(&opened);
}

static void close_knowledge(void) {
  mechanics_close(&opened);
}

TestSuite(share, .init = open_knowledge, .fini = close_knowledge);

static const why_action* action(const char* id) {
  const why_action* found =
      why_action_find(&opened.tables->anatomy, why_symbols_find(opened.tables->symbols, id));
  cr_assert_not_null(found, "no action %s", id);
  return found;
}

/// The vasti cross the knee alone. With the cubes of stresses least and capacity C, arm r: stress
/// goes as √(C r), so that the ratio of two stresses follows without any solver.
Test(share, one_joint_heads_follow_the_closed_form) {
  static const char* const VASTI[] = {"vastus-medialis", "vastus-intermedius"};
  size_t first = mechanics_head(&opened, "vastus-lateralis");
  const why_action* extension = action("knee-extension");
  why_share* share = why_share_new(opened.muscles, 1, opened.arena);
  for (int at = 0; at < WHY_POSITIONS; at++) {
    why_share_begin(share, NULL, NULL, 0);
    why_share_find(opened.sharer, mechanics_exercise(&opened, "leg-extension"), at, 1, share);
    cr_assert(share->settled);
    const why_head_share* a = &share->heads[WHY_WORKING][first];
    double arm_a = why_muscle_arm(opened.muscles, &opened.muscles->at[first],
                                  &share->posture[WHY_WORKING], &a->state, extension);
    for (size_t i = 0; i < 2; i++) {
      const why_head_share* b = &share->heads[WHY_WORKING][mechanics_head(&opened, VASTI[i])];
      double arm_b =
          why_muscle_arm(opened.muscles, &opened.muscles->at[mechanics_head(&opened, VASTI[i])],
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
  why_share* share = why_share_new(opened.muscles, 1, opened.arena);
  why_share_find(opened.sharer, mechanics_exercise(&opened, "leg-extension"), 1, 1, share);
  why_statics_find(opened.model, mechanics_exercise(&opened, "leg-extension"), 1, 1, &statics);
  double sum = 0;
  for (size_t i = 0; i < opened.muscles->count; i++)
    sum += why_share_moment(opened.muscles, share, i, WHY_WORKING, extension);
  int knee = why_frame_number(opened.model->frame, extension->along.at[0]);
  double reserve = extension->sign * share->helps[WHY_WORKING][knee];
  why_demand asked = why_demand_of(opened.model, &statics, extension, WHY_WORKING);
  cr_expect_gt(asked.load, 50);
  cr_expect_float_eq(sum + reserve, asked.body + asked.load, 1e-4);
}

Test(share, both_sides_of_a_bilateral_exercise_agree) {
  why_share* share = why_share_new(opened.muscles, 1, opened.arena);
  static const char* const NAMES[] = {"barbell-back-squat", "push-up", "lat-pulldown"};
  for (size_t n = 0; n < 3; n++) {
    why_share_begin(share, NULL, NULL, 0);
    why_share_find(opened.sharer, mechanics_exercise(&opened, NAMES[n]), 0.5, 1, share);
    for (size_t i = 0; i < opened.muscles->count; i++)
      cr_expect_float_eq(share->heads[WHY_WORKING][i].stress, share->heads[WHY_OTHER][i].stress,
                         1e-9);
  }
}

/// The body's own weight is nearly all that the gluteus can lift onto a high step: what dumbbells
/// may add is little, but it is found, not given up.
Test(share, a_load_that_adds_little_is_found) {
  const why_effort* effort =
      why_effort_find(opened.sharer, mechanics_exercise(&opened, "dumbbell-step-up"));
  cr_expect_eq(effort->end, WHY_LOAD_REACHED);
  cr_expect_lt(effort->factor, 0.5);
  cr_expect_float_eq(effort->peak, 1, 0.01, "%g", effort->peak);
}

/// Every posture of every exercise is solved, and where a load was raised a mover is at capacity.
Test(share, whole_catalogue_is_solved) {
  size_t reached = 0;
  for (size_t i = 0; i < opened.tables->exercises.rows.count; i++) {
    const why_exercise* each = &opened.tables->exercises.rows.at[i];
    const why_effort* effort = why_effort_find(opened.sharer, each);
    cr_expect(effort->settled, "%s", why_symbols_text(opened.tables->symbols, each->id));
    reached += effort->end == WHY_LOAD_REACHED;
    if (effort->end == WHY_LOAD_REACHED)
      cr_expect_float_eq(effort->peak, 1, 0.01, "%s: %g",
                         why_symbols_text(opened.tables->symbols, each->id), effort->peak);
  }
  cr_expect_gt(reached, 250);
}
