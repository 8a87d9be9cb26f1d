// SPDX-License-Identifier: GPL-3.0-or-later
// Reactions of a standing body where the answer is known in closed form: least norm makes forces of
// points in a row lie on a line, a lifted contact carries nothing, and what cannot be carried is
// reported. Expected values follow from the equations of equilibrium and need no source.
#include "body/body.h"

#include <criterion/criterion.h>
#include <math.h>

static why_arena* arena;
static why_problems* problems;
static why_tables* tables;
static const why_frame* frame;
static const why_body_model* model;
static why_contact contacts[3];
static why_exercise standing;
static why_statics statics;

static why_symbol name(const char* text) {
  return why_symbols_find(tables->symbols, text);
}

/// Upright on heels, middle and balls of both feet; nothing rubs.
static void stand(void) {
  static const char* const POINTS[] = {"heel", "midfoot", "ball"};
  arena = why_arena_new(0);
  problems = why_problems_new();
  why_tables_open(WHY_HOME, NULL, arena, problems, &tables);
  frame = why_frame_new(tables, arena);
  cr_assert_eq(why_body_model_new(frame, tables, 0, 0, arena, &model), WHY_OK);
  for (int i = 0; i < 3; i++)
    contacts[i] = (why_contact){
        .point = name(POINTS[i]), .side = name("both"), .normal = {0, 0, 1}, .weight = 1};
  standing = (why_exercise){0};
  standing.contacts.at = contacts;
  standing.contacts.count = 3;
}

static void leave(void) {
  why_problems_free(problems);
  why_arena_free(arena);
}

TestSuite(reaction, .init = stand, .fini = leave);

static double weight(void) {
  return model->mass_kg * model->gravity;
}

/// Solve with the whole body leaning forward about the hips by so many degrees, feet flat.
static void solve(double lean_deg) {
  why_stance stance = why_stance_of(frame, &standing, 0);
  int hip = why_frame_number(frame, name("hip-flexion"));
  stance.pitch = lean_deg * acos(-1) / 180;
  stance.rad[WHY_WORKING][hip] = stance.rad[WHY_OTHER][hip] = stance.pitch;
  why_statics_find_in(model, &standing, &stance, 0, 1, &statics);
}

/// Upward force of one point of a contact and its place, front to back.
static double force(int contact, double* x) {
  for (size_t i = 0; i < statics.reactions.count; i++) {
    const why_reaction* each = &statics.reactions.at[i];
    if (each->contact == &contacts[contact]) {
      *x = each->at.x;
      return each->body.z + each->load.z;
    }
  }
  cr_assert_fail("no reaction of contact %d", contact);
  return NAN;
}

static void expect_line(double middle_weight) {
  double x[3];
  double f[3];
  for (int i = 0; i < 3; i++)
    f[i] = force(i, &x[i]);
  f[1] /= middle_weight;
  cr_expect_gt(f[0], 0);
  cr_expect_gt(f[2], 0);
  cr_expect_float_eq((f[1] - f[0]) / (x[1] - x[0]), (f[2] - f[1]) / (x[2] - x[1]), 1e-6);
}

Test(reaction, least_norm_is_a_line) {
  solve(3);
  cr_expect_lt(statics.reactions.imbalance, 1e-10);
  expect_line(1);
}

Test(reaction, preferred_contact_carries_by_its_weight) {
  contacts[1].weight = 3;
  solve(3);
  cr_expect_lt(statics.reactions.imbalance, 1e-10);
  expect_line(3);
}

/// With the centre of mass well in front the line would pull at the heel: the heel lifts, and the
/// other two carry as a balance beam.
Test(reaction, a_contact_lifts_before_it_pulls) {
  solve(31);
  double x[3];
  double f[3];
  for (int i = 0; i < 3; i++)
    f[i] = force(i, &x[i]);
  double centre = why_pose_centre(model, &statics.pose).x;
  cr_assert(centre > x[1] && centre < x[2], "the centre is at %g", centre);
  cr_expect_lt(statics.reactions.imbalance, 1e-10);
  cr_expect_float_eq(f[0], 0, 1e-9);
  cr_expect_float_eq(4 * f[2], weight() * (centre - x[1]) / (x[2] - x[1]), 1e-6);
  cr_expect_float_eq(4 * f[1], weight() * (x[2] - centre) / (x[2] - x[1]), 1e-6);
}

/// Further on nothing balances: the force is carried, and the moment that is left is the weight
/// times its distance from the balls.
Test(reaction, what_is_out_of_balance_is_told) {
  standing.contacts.at = &contacts[2];
  standing.contacts.count = 1;
  solve(0);
  double x = 0;
  force(2, &x);
  double lever = fabs(why_pose_centre(model, &statics.pose).x - x);
  cr_expect_lt(why_vec_length(statics.reactions.residual), 1e-6 * weight());
  cr_expect_float_eq(fabs(statics.reactions.residual_moment.y), weight() * lever, 1e-4);
  cr_expect_float_eq(statics.reactions.imbalance, lever / model->stature_m, 1e-6);
}

/// On a slope within the cone of friction all is carried; beyond it what is missing is the distance
/// of the weight from the cone: weight times the sine of the angle between them.
Test(reaction, friction_holds_up_to_its_cone) {
  double friction = 0.5;
  for (int i = 0; i < 3; i++)
    contacts[i].friction = friction;
  for (double slope_deg = 20; slope_deg <= 40; slope_deg += 20) {
    double slope = slope_deg * acos(-1) / 180;
    double beyond = fmax(0, slope - atan(friction));
    standing.unilateral = true; // So that normals are not mirrored; they lie in the middle plane.
    for (int i = 0; i < 3; i++) {
      contacts[i].normal[0] = sin(slope);
      contacts[i].normal[2] = cos(slope);
    }
    solve(3);
    cr_expect(statics.reactions.settled);
    cr_expect_float_eq(why_vec_length(statics.reactions.residual), weight() * sin(beyond),
                       1e-5 * weight(), "slope %g: %g", slope_deg,
                       why_vec_length(statics.reactions.residual));
  }
}

/// Two slides that face each other: balance needs nothing along them, and each side carries so much
/// that the inward parts cancel.
Test(reaction, facing_slopes_carry_by_their_normals) {
  double slope = 0.3;
  for (int i = 0; i < 3; i++) {
    contacts[i].normal[1] = sin(slope);
    contacts[i].normal[2] = cos(slope);
  }
  solve(3);
  double sum = 0;
  for (size_t i = 0; i < statics.reactions.count; i++)
    sum += why_vec_length(why_vec_add(statics.reactions.at[i].body, statics.reactions.at[i].load));
  cr_expect_lt(statics.reactions.imbalance, 1e-10);
  cr_expect_float_eq(sum, weight() / cos(slope), 1e-6);
}
