// SPDX-License-Identifier: GPL-3.0-or-later
// Reads the statics of the three positions into rows by coordinate, each moment named by the action
// that the muscles must perform.
#include "moments.h"

#include <math.h>
#include <stdlib.h>

/// The action that is asked for: the one along the coordinate whose demand is above 0.
static why_moment moment_of(const why_body_model* model, const why_statics* statics,
                            const why_action* action) {
  why_demand demand = why_demand_of(model, statics, action, WHY_WORKING);
  if (!demand.there || demand.held || demand.body + demand.load < model->least_demand_nm)
    return (why_moment){0};
  return (why_moment){
      .action = action, .body = demand.body, .load = demand.load, .determined = demand.determined};
}

static bool is_pair_member(const why_anatomy* anatomy, const why_action* action) {
  return action->along.count == 1 && (action->along.at[0] == anatomy->shoulder.plane ||
                                      action->along.at[0] == anatomy->shoulder.elevation);
}

static why_moment_row* find_row(why_moments* moments, why_symbol coordinate, why_arena* arena) {
  for (size_t i = 0; i < moments->rows.count; i++)
    if (moments->rows.at[i].coordinate == coordinate)
      return &moments->rows.at[i];
  why_moment_row* made = WHY_LIST_ADD(arena, moments->rows);
  made->coordinate = coordinate;
  return made;
}

static void read_position(why_moments* moments, const why_body_model* model,
                          const why_statics* statics, int position, why_arena* arena) {
  const why_anatomy* anatomy = &moments->ground->tables->anatomy;
  moments->imbalance[position] = statics->reactions.imbalance;
  for (size_t i = 0; i < anatomy->actions.count; i++) {
    const why_action* action = &anatomy->actions.at[i];
    if (!action->along.count || is_pair_member(anatomy, action))
      continue;
    why_moment moment = moment_of(model, statics, action);
    if (moment.action)
      find_row(moments, action->along.at[0], arena)->at[position] = moment;
  }
}

static double largest(const why_moment_row* row) {
  double most = 0;
  for (int i = 0; i < WHY_POSITIONS; i++)
    most = fmax(most, row->at[i].body + row->at[i].load);
  return most;
}

static int by_size(const void* left, const void* right) {
  double a = largest(left);
  double b = largest(right);
  return (a < b) - (a > b);
}

why_status why_moments_run(const why_question* question, why_moments** moments) {
  const why_ground* ground = question->ground;
  why_arena* arena = question->arena;
  const why_motion* motion = NULL;
  why_status status = why_motion_new(ground, question->exercise, arena, &motion);
  if (status != WHY_OK)
    return status;
  const why_exertion* exertion = NULL;
  status = why_exertion_new(motion, arena, &exertion);
  if (status != WHY_OK)
    return status;
  why_moments* made = WHY_NEW(arena, why_moments);
  made->ground = ground;
  made->exercise = motion->exercise;
  made->motion = motion;
  made->exertion = exertion;
  made->stature_m = motion->model->stature_m;
  made->mass_kg = motion->model->mass_kg;
  made->balance_tolerance = motion->model->balance_tolerance;
  for (int i = 0; i < WHY_POSITIONS; i++)
    read_position(made, motion->model, &motion->positions[i], i, arena);
  if (made->rows.count)
    qsort(made->rows.at, made->rows.count, sizeof *made->rows.at, by_size);
  *moments = made;
  return WHY_OK;
}
