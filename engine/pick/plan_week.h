// SPDX-License-Identifier: GPL-3.0-or-later
/// The two problems behind a plan: how often a week holds each exercise, and on which days. The
/// first one is chosen for worth; the second only needs to be possible. Private to pick.
#ifndef WHY_PICK_PLAN_WEEK_H
#define WHY_PICK_PLAN_WEEK_H

#include "mip.h"
#include "plan_data.h"

typedef struct {
  why_plan* plan;
  const why_plan_choices* choices;
  const why_plan_amounts* amounts;
  double most_slots;  ///< Exercises of all sessions together, at most; lowered where days do not
                      ///< fit.
  double least_slots; ///< The same at least; raised there.
  double first_slots; ///< Of the first choice.
} why_plan_week;

/// Choose how often each exercise is done; `times` takes it. Fills the limits of the plan.
why_mip_result why_plan_choose(const why_plan_week* week, double* times);

/// Where nothing can be chosen: the smallest sets of limits whose relaxation helps, as
/// `plan->ways_out`. Each is found by a problem of its own: as few limits relaxed as possible (a
/// minimal correction set of least size), none of those found before.
void why_plan_relax(const why_plan_week* week);

/// Choose exercises and days at once, which takes longer, for weeks that both by turns do not find.
/// `on` as below.
why_mip_result why_plan_choose_days(const why_plan_week* week, double* times, bool* on);

/// Add to a problem how often each exercise is done, by the columns `times`, on which days: `on` is
/// set to the columns of each choice and day.
void why_plan_join(const why_plan_week* week, const int* times, why_mip* mip, int** on);

/// Put the exercises on days: `on[choice * days + day]`. False when no way holds all limits.
bool why_plan_place(const why_plan_week* week, const double* times, bool* on);

#endif
