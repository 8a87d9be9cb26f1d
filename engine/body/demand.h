// SPDX-License-Identifier: GPL-3.0-or-later
/// What the muscles must give about every coordinate of both sides, by virtual work: minus the sum
/// of force · ∂point/∂coordinate over the side of the joint that no bench or machine holds, with
/// the reactions among the forces.
#ifndef WHY_BODY_DEMAND_H
#define WHY_BODY_DEMAND_H

#include "reaction.h"

/// Demand along one coordinate, N m (for the shoulder pair too: per radian of its part). Above 0
/// the muscles must raise the coordinate.
typedef struct {
  bool there;      ///< The coordinate exists on this side.
  bool held;       ///< Both sides of the joint are held, or it rests: nothing is demanded.
  bool determined; ///< It hangs on the choice of reactions by no more than the stated share; so too
                   ///< as long as nobody has judged.
  double body;     ///< Because of the body's own weight.
  double load;     ///< Because of resistances.
  double choice;   ///< By how much another choice of reactions could change it.
} why_demand;

typedef struct {
  why_demand at[WHY_SIDES][WHY_COORDINATES_LIMIT]; ///< Trunk and neck: on the working side.
} why_demands;

/// Everything about one place of a repetition.
typedef struct {
  double at;     ///< 0 stretched, 1 middle, 2 shortened.
  uint32_t held; ///< Bits of the parts that bench or machine hold, and of a head that rests.
  why_stance stance;
  why_pose pose;
  why_loading loading;
  why_reactions reactions;
  why_demands demands;
} why_statics;

/// Solve the statics of `exercise` at a place, every resistance `factor` times its usual load.
void why_statics_find(const why_body_model* model, const why_exercise* exercise, double at,
                      double factor, why_statics* statics);

/// The same for a stance of one's own.
void why_statics_find_in(const why_body_model* model, const why_exercise* exercise,
                         const why_stance* stance, double at, double factor, why_statics* statics);

/// Say of every demand how much it hangs on the choice of reactions.
void why_statics_judge(const why_body_model* model, const why_exercise* exercise,
                       why_statics* statics);

/// Demand along a freedom of the pose, or along another turn of the same part: what hangs on the
/// choice of reactions is not looked at.
why_demand why_demand_along(const why_body_model* model, const why_statics* statics,
                            const why_freedom* freedom);

/// How that demand changes with a force on `part` at `point`: by slope · force.
why_vec why_demand_slope(const why_body_model* model, const why_statics* statics,
                         const why_freedom* freedom, int part, why_vec point);

/// Demand of an action: that of its coordinates together, in its sense; not `there` where that side
/// has none of them.
why_demand why_demand_of(const why_body_model* model, const why_statics* statics,
                         const why_action* action, int side);

/// A repetition as so many statics.
typedef struct {
  const why_exercise* exercise;
  size_t count;
  const why_statics* at;
} why_mechanics;

/// The statics of `count` (2 or more; the model's constant postures-in-path, when 0) places at even
/// distances from stretched to shortened, under the usual load. In `arena`.
const why_mechanics* why_mechanics_new(const why_body_model* model, const why_exercise* exercise,
                                       size_t count, why_arena* arena);

#endif
