// SPDX-License-Identifier: GPL-3.0-or-later
/// What a plan is chosen from and by: muscles, heads, exercises and amounts, read from the rules.
/// Private to pick.
#ifndef WHY_PICK_PLAN_DATA_H
#define WHY_PICK_PLAN_DATA_H

#include "plan.h"
#include "rows.h"

/// What a set counts for a head of the plan.
typedef struct {
  size_t head;
  double count; ///< 1 or a half.
  double value; ///< Of a set: beside the best set at hand for the head, 0 to 1.
  bool direct;
  bool is_long; ///< Direct, at long muscle length.
} why_plan_part;

typedef struct {
  why_symbol exercise;
  double burden;
  double sets;    ///< In one session.
  double seconds; ///< Of these, with rests and setting up.
  double spine;   ///< Of these sets.
  bool compound;
  why_symbol pattern;
  why_symbol_list basics; ///< Basic movements that it is.
  WHY_LIST(why_plan_part) parts;
  double* muscles; ///< By muscle: what one set counts.
} why_plan_choice;

typedef WHY_LIST(why_plan_choice) why_plan_choices;

/// Costs in the objective, and bounds.
typedef struct {
  double exercise_cost;
  double burden_cost;
  double most_times;
  double warm_up;         ///< Seconds of a session, as the next.
  double spare;           ///< Left free on average, so that exercises find a day.
  why_symbol_list basics; ///< Movements that must be there and can be.
  double spine_heavy;     ///< From which a session is heavy on the spine.
} why_plan_amounts;

/// Read all that the choice needs; `choices` are the best few exercises for each head and length.
why_status why_plan_read(why_plan* plan, why_plan_choices* choices, why_plan_amounts* amounts);

/// Whether a choice is the basic movement called `movement`.
bool why_plan_is_basic(const why_plan_choice* choice, why_symbol movement);

#endif
