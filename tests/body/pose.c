// SPDX-License-Identifier: GPL-3.0-or-later
// Where the parts of the body are. Expected directions follow from the conventions of
// rules/anatomy/coordinates.xml; slopes are compared with differences of positions.
#include "body/body.h"

#include <criterion/criterion.h>
#include <math.h>

static why_arena* arena;
static why_problems* problems;
static why_tables* tables;
static const why_frame* frame;
static const why_body_model* model;
static why_stance stance;
static why_pose pose;

static void stand(void) {
  arena = why_arena_new(0);
  problems = why_problems_new();
  why_tables_open(WHY_HOME, NULL, arena, problems, &tables);
  frame = why_frame_new(tables, arena);
  cr_assert_eq(why_body_model_new(frame, tables, 0, 0, arena, &model), WHY_OK);
  stance = (why_stance){0};
}

static void leave(void) {
  why_problems_free(problems);
  why_arena_free(arena);
}

TestSuite(pose, .init = stand, .fini = leave);

static why_symbol name(const char* text) {
  return why_symbols_find(tables->symbols, text);
}

static double rad(double deg) {
  return deg * acos(-1) / 180;
}

static void bend(const char* coordinate, double deg) {
  int number = why_frame_number(frame, name(coordinate));
  cr_assert_geq(number, 0, "no coordinate %s", coordinate);
  stance.rad[WHY_WORKING][number] = stance.rad[WHY_OTHER][number] = rad(deg);
}

/// Down the segment of that side, in the world.
static why_vec down(const char* segment, int side) {
  int part = why_body_part_find(model, name(segment), side);
  why_pose_find(model, &stance, &pose);
  return why_vec_scale(pose.axes[part].z, -1);
}

static void expect_vec(why_vec found, double x, double y, double z) {
  cr_expect_float_eq(found.x, x, 1e-9, "x is %g, not %g", found.x, x);
  cr_expect_float_eq(found.y, y, 1e-9, "y is %g, not %g", found.y, y);
  cr_expect_float_eq(found.z, z, 1e-9, "z is %g, not %g", found.z, z);
}

static why_vec origin(const char* segment, int side) {
  return pose.origin[why_body_part_find(model, name(segment), side)];
}

/// Lengths and masses of the tables make a whole: masses sum to the body, and the sole is a leg
/// below the hips.
Test(pose, parts_make_a_body) {
  double mass = 0;
  for (size_t i = 0; i < model->count; i++)
    mass += model->parts[i].mass_kg;
  cr_expect_eq(model->count, 17);
  cr_expect_float_eq(mass, 75, 0.02); // Published shares are rounded to four digits.
  why_pose_find(model, &stance, &pose);
  expect_vec(origin("foot", WHY_WORKING), 0, -0.05 * 1.75, -(0.2425 + 0.2529) * 1.75);
  expect_vec(origin("upper-arm", WHY_OTHER), 0, (0.01143 + 0.08571) * 1.75,
             (0.10363 + 0.19246) * 1.75);
}

Test(pose, joints_bend_the_stated_way) {
  bend("hip-flexion", 90);
  bend("knee-flexion", 90);
  expect_vec(down("thigh", WHY_WORKING), 1, 0, 0);
  expect_vec(down("shank", WHY_WORKING), 0, 0, -1);
  bend("hip-flexion", 0);
  bend("hip-abduction", 30);
  expect_vec(down("thigh", WHY_WORKING), 0, -0.5, -sqrt(0.75));
  expect_vec(down("thigh", WHY_OTHER), 0, 0.5, -sqrt(0.75));
  bend("elbow-flexion", 90);
  expect_vec(down("forearm", WHY_WORKING), 1, 0, 0);
  // An inward twist carries bent forearms before the belly.
  bend("shoulder-rotation", 90);
  expect_vec(down("forearm", WHY_WORKING), 0, 1, 0);
  expect_vec(down("forearm", WHY_OTHER), 0, -1, 0);
  // The trunk bends to the right, the working side.
  bend("trunk-lateral-flexion", 90);
  expect_vec(down("thorax", WHY_WORKING), 0, 1, 0);
}

Test(pose, hands_bend_the_stated_way) {
  // Palms face the thighs: flexion carries the left hand to the right.
  bend("wrist-flexion", 90);
  expect_vec(down("hand", WHY_OTHER), 0, -1, 0);
  expect_vec(down("hand", WHY_WORKING), 0, 1, 0);
  // Pronated, the palm looks back.
  bend("forearm-pronation", 90);
  expect_vec(down("hand", WHY_OTHER), -1, 0, 0);
  bend("forearm-pronation", 0);
  bend("wrist-flexion", 0);
  bend("wrist-ulnar-deviation", 90);
  expect_vec(down("hand", WHY_WORKING), -1, 0, 0);
}

Test(pose, swing_keeps_the_forearm_before_the_chest) {
  // Supine at the bottom of a press, arm back by 15 degrees: without a twist the forearm is upright
  // to within 17 degrees.
  stance.pitch = rad(-90);
  bend("shoulder-plane", -15);
  bend("shoulder-elevation", 65);
  bend("elbow-flexion", 90);
  cr_expect_gt(down("forearm", WHY_WORKING).z, cos(rad(17)));
  cr_expect_gt(down("forearm", WHY_OTHER).z, cos(rad(17)));
  // Overhead at shoulder height: a forearm is upright where the rotation is the plane less 90.
  stance.pitch = 0;
  for (double plane = -30; plane <= 60; plane += 30) {
    bend("shoulder-plane", plane);
    bend("shoulder-elevation", 90);
    bend("shoulder-rotation", plane - 90);
    expect_vec(down("forearm", WHY_WORKING), 0, 0, 1);
    expect_vec(down("forearm", WHY_OTHER), 0, 0, 1);
    expect_vec(down("upper-arm", WHY_OTHER), sin(rad(plane)), cos(rad(plane)), 0);
  }
}

Test(pose, feet_are_flat_when_pitch_is_hip_less_knee_plus_ankle) {
  bend("hip-flexion", 70);
  bend("knee-flexion", 55);
  bend("ankle-dorsiflexion", 12);
  stance.pitch = rad(70 - 55 + 12);
  expect_vec(down("foot", WHY_WORKING), 0, 0, -1);
}

/// A point on every part, by side, as a stance puts it.
static why_vec hand_at(const why_stance* at, int side) {
  static why_pose own;
  int part = why_body_part_find(model, name("hand"), side);
  why_pose_find(model, at, &own);
  return why_pose_point(&own, part, (why_vec){0.02, 0.01, -0.05});
}

static void expect_slope(const char* coordinate, int side) {
  const double step = 1e-5;
  int number = why_frame_number(frame, name(coordinate));
  why_stance less = stance;
  why_stance more = stance;
  less.rad[side][number] -= step;
  more.rad[side][number] += step;
  why_vec slope =
      why_vec_scale(why_vec_subtract(hand_at(&more, side), hand_at(&less, side)), 1 / (2 * step));
  why_vec found = why_freedom_move(why_pose_freedom(&pose, number, side), hand_at(&stance, side));
  cr_expect_lt(why_vec_length(why_vec_subtract(found, slope)), 1e-8, "%s", coordinate);
}

Test(pose, slopes_are_those_of_the_positions) {
  static const char* const ARM[] = {
      "scapular-protraction", "scapular-elevation", "shoulder-plane",
      "shoulder-elevation",   "shoulder-rotation",  "elbow-flexion",
      "forearm-pronation",    "wrist-flexion",      "wrist-ulnar-deviation"};
  static const double DEG[] = {12, 20, 35, 70, -40, 80, 30, 25, -10};
  stance.pitch = 0.4;
  stance.roll = -0.3;
  stance.yaw = 1.1;
  bend("trunk-flexion", 25);
  bend("trunk-rotation", 15);
  for (size_t i = 0; i < sizeof ARM / sizeof *ARM; i++)
    bend(ARM[i], DEG[i]);
  why_pose_find(model, &stance, &pose);
  for (size_t i = 0; i < sizeof ARM / sizeof *ARM; i++)
    for (int side = 0; side < WHY_SIDES; side++)
      expect_slope(ARM[i], side);
}
