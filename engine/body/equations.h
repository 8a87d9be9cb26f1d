// SPDX-License-Identifier: GPL-3.0-or-later
/// The equations of a posture, one a coordinate of either side and six for the balance of forces
/// that stay open, and who gives to them: heads, reserves, contacts, joined hands. Private to body.
///
/// Where everything is alike on both sides, one equation stands for a coordinate and its mirror
/// image, and what the mirror would turn round falls away: half the unknowns.
#ifndef WHY_BODY_EQUATIONS_H
#define WHY_BODY_EQUATIONS_H

#include "dual.h"
#include "share.h"

/// What ligaments give against going below an angle; a moment of 0: nothing.
typedef struct {
  double moment_nm;
  double at_rad;
} why_stop;

/// What a coordinate is helped to be held with, and other constants of the sharing.
typedef struct {
  double exponent;
  double open_force_n;
  double upper_arm_rest_nm;
  double resting_elevation_rad;
  double least_reserve_nm; ///< Of any joint, and of what the exercise moves.
  double reserves_nm[WHY_COORDINATES_LIMIT];
  why_stop stops[WHY_COORDINATES_LIMIT];
  int hand_point; ///< Of the load points; -1: none.
  int elbow;      ///< Its flexion, in the frame; -1: none.
  int girdle[2];  ///< The two ways in which the shoulder blade slides.
} why_sharing_constants;

typedef struct {
  const why_muscles* muscles;
  const why_sharing_constants* constants;
  const why_exercise* exercise;
  const why_statics* statics;
  why_pose* bent; ///< Room: the pose with the shoulders as the paths see them.
  why_share* share;
  why_dual* dual;
  bool folded;
  int rows[WHY_SIDES][WHY_COORDINATES_LIMIT]; ///< -1: no equation.
  int balance[6];                             ///< Rows of force and moment; -1: none.
  const why_freedom* freedoms[WHY_SIDES][WHY_COORDINATES_LIMIT];
} why_equations;

/// State everything: postures and heads in `share`, the problem in `dual`. The caller has set the
/// pointers.
void why_equations_state(why_equations* equations);

/// Bring known prices to the rows, and back.
void why_equations_begin(const why_equations* equations, why_prices* prices);
void why_equations_end(const why_equations* equations, const why_prices* prices);

#endif
