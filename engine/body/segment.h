// SPDX-License-Identifier: GPL-3.0-or-later
/// The body as a tree of rigid parts rooted at the pelvis: one part a segment and side, with the
/// mass, length and centre of mass that evidence/measurements/segments.xml states as shares of body
/// mass and stature.
///
/// The right side is the working side. Frames are parallel to the world in upright standing: x
/// forward, y left, z up. Lengths are metres, masses kilograms, angles radians.
#ifndef WHY_BODY_SEGMENT_H
#define WHY_BODY_SEGMENT_H

#include "posture.h"
#include "space.h"

enum { WHY_WORKING, WHY_OTHER, WHY_SIDES }; ///< Right, left.

enum { WHY_BODY_PARTS = 32, WHY_PART_HINGES = 3 };

/// One coordinate as a turn about an axis of the part's own frame, after those before it.
typedef struct {
  int number;   ///< In the frame of coordinates.
  why_vec axis; ///< Unit vector about which the coordinate grows, left side or middle.
} why_hinge;

typedef struct {
  why_symbol segment;
  int side;       ///< WHY_WORKING for parts without a side.
  bool paired;    ///< One of two.
  int parent;     ///< -1: the pelvis. A parent stands before its children.
  uint32_t chain; ///< Bits of the parts that it hangs on, its own included.
  why_vec joint;  ///< Where it hangs, in the parent's frame.
  double mass_kg;
  why_vec centre; ///< Of mass, in its own frame.
  size_t hinge_count;
  why_hinge hinges[WHY_PART_HINGES]; ///< In the order of their turns.
} why_body_part;

/// Numbers of the three coordinates of the shoulder's swing and twist, and the parts that they
/// join, by side.
typedef struct {
  int upper_arm[WHY_SIDES];
  int clavicle[WHY_SIDES];
  int thorax;
} why_shoulder_parts;

/// A body of one stature and mass.
typedef struct {
  const why_frame* frame;
  const why_tables* tables;
  double stature_m;
  double mass_kg;
  double gravity;
  double friction;    ///< Of a contact that states none.
  double palm_offset; ///< In lengths of the hand.
  double machine_lever_m;
  double undetermined_share;
  double balance_tolerance; ///< Share of all weight that supports may leave uncarried.
  double least_demand_nm;   ///< Less is not worth naming.
  size_t path_count;        ///< Postures by which a repetition is followed.
  size_t count;
  why_body_part parts[WHY_BODY_PARTS];
  why_shoulder_parts shoulder;
  int head; ///< The part, or -1.
} why_body_model;

/// The body of `stature_m` and `mass_kg`; 0 for either: the default of the tables. In `arena`;
/// `frame` and `tables` must outlive it. Returns WHY_KNOWLEDGE when the tables lack a segment or
/// joint of the tree, or a constant of the model.
why_status why_body_model_new(const why_frame* frame, const why_tables* tables, double stature_m,
                              double mass_kg, why_arena* arena, const why_body_model** made);

/// A constant of the model: the value of a quantity of the tables `of` something (0: in general);
/// NAN when they lack it.
double why_body_constant(const why_tables* tables, const char* id, why_symbol of);

/// The part of that segment and side (parts without a side: any side), or -1.
int why_body_part_find(const why_body_model* model, why_symbol segment, int side);

/// Whether `part` is `ancestor` or hangs on it.
bool why_body_part_hangs_on(const why_body_model* model, int part, int ancestor);

/// A point given in shares of stature for the left side, in the frame of its part, metres.
why_vec why_body_point_at(const why_body_model* model, const double shares[3], int side);

/// The whole body's angles, unclamped: where the paths of muscles are kept inside their ranges, the
/// mechanics follow the posture itself.
typedef struct {
  double pitch; ///< Of the pelvis; R = Rz(yaw) Ry(pitch) Rx(roll).
  double roll;
  double yaw;
  double rad[WHY_SIDES][WHY_COORDINATES_LIMIT];
} why_stance;

/// The stance of an exercise `at` a place of its repetition: 0 stretched, 1 middle, 2 shortened,
/// in between coordinate by coordinate.
why_stance why_stance_of(const why_frame* frame, const why_exercise* exercise, double at);

#endif
