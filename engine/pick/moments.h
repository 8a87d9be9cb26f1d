// SPDX-License-Identifier: GPL-3.0-or-later
/// What the muscles must give in an exercise, joint by joint, and how long its movers are there.
#ifndef WHY_PICK_MOMENTS_H
#define WHY_PICK_MOMENTS_H

#include "exertion.h"
#include "question.h"

/// Moment about one coordinate in one position, N m, named after the action it asks for.
typedef struct {
  const why_action* action; ///< NULL where nothing worth naming is asked.
  double body;
  double load;
  bool determined; ///< Does not hang on how the supports share the weight.
} why_moment;

/// One coordinate over the three positions.
typedef struct {
  why_symbol coordinate;
  why_moment at[WHY_POSITIONS];
} why_moment_row;

typedef struct {
  const why_ground* ground;
  const why_exercise* exercise;
  const why_motion* motion;
  const why_exertion* exertion; ///< Near failure.
  double stature_m;
  double mass_kg;
  WHY_LIST(why_moment_row) rows;   ///< Working side; largest moment first.
  double imbalance[WHY_POSITIONS]; ///< Share of weight that no support carries.
  double balance_tolerance;        ///< How much of it a position may have.
} why_moments;

/// Compute them for `question->exercise` under its usual load. WHY_KNOWLEDGE when the tables lack
/// a part of the body.
why_status why_moments_run(const why_question* question, why_moments** moments);

#endif
