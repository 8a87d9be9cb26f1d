// SPDX-License-Identifier: GPL-3.0-or-later
// Virtual work, coordinate by coordinate.
#include "demand.h"

#include "choice.h"

/// Below this a demand is judged as if it were so large, so that what is nothing does not hang on
/// anything: the reserve that every joint has.
static const double LEAST_JUDGED_NM = 1;

/// The side of a joint over which work is summed, and its sense: the far side turns with the
/// coordinate, the near side against it.
typedef struct {
  const why_body_model* model;
  const why_freedom* freedom;
  bool far;
} half;

static bool is_in(const half* h, int part) {
  return why_body_part_hangs_on(h->model, part, h->freedom->part) == h->far;
}

static why_vec move_of(const half* h, why_vec point) {
  why_vec move = why_freedom_move(h->freedom, point);
  return h->far ? move : why_vec_scale(move, -1);
}

/// Whether anything that is held hangs beyond the joint, and before it.
static void find_held(const why_body_model* model, const why_exercise* exercise, int part,
                      bool* beyond, bool* before) {
  *beyond = *before = false;
  for (size_t i = 0; i < exercise->fixed.count; i++) {
    for (int j = 0; j < (int)model->count; j++) {
      if (model->parts[j].segment != exercise->fixed.at[i])
        continue;
      bool far = why_body_part_hangs_on(model, j, part);
      *beyond |= far;
      *before |= !far;
    }
  }
}

static void sum_forces(const half* h, const why_statics* statics, why_demand* demand) {
  for (size_t i = 0; i < statics->loading.count; i++) {
    const why_applied* each = &statics->loading.at[i];
    if (!is_in(h, each->part))
      continue;
    why_vec move = move_of(h, each->at);
    demand->body -= why_vec_dot(each->body, move);
    demand->load -= why_vec_dot(each->load, move);
  }
}

/// Reactions, and the slope of the demand with each of them.
static void sum_reactions(const half* h, const why_statics* statics, why_demand* demand,
                          why_vec slopes[WHY_REACTIONS]) {
  for (size_t i = 0; i < statics->reactions.count; i++) {
    const why_reaction* each = &statics->reactions.at[i];
    slopes[i] = (why_vec){0, 0, 0};
    if (!is_in(h, each->part))
      continue;
    why_vec move = move_of(h, each->at);
    slopes[i] = why_vec_scale(move, -1);
    demand->body -= why_vec_dot(each->body, move);
    demand->load -= why_vec_dot(each->load, move);
  }
}

static void sum_levers(const why_freedom* freedom, const why_loading* loading, why_demand* demand) {
  for (size_t i = 0; i < loading->lever_count; i++)
    if (loading->levers[i].part == freedom->part)
      demand->load -= why_vec_dot(loading->levers[i].moment, freedom->turn);
}

static why_demand demand_along(const why_body_model* model, const why_exercise* exercise,
                               const why_statics* statics, const why_choice* choice,
                               const why_freedom* freedom) {
  why_demand made = {.there = true, .determined = true};
  bool beyond = false;
  bool before = false;
  find_held(model, exercise, freedom->part, &beyond, &before);
  made.held = beyond && before;
  if (made.held)
    return made;
  why_vec slopes[WHY_REACTIONS];
  half h = {model, freedom, !beyond};
  sum_forces(&h, statics, &made);
  sum_reactions(&h, statics, &made, slopes);
  sum_levers(freedom, &statics->loading, &made);
  double share = model->undetermined_share;
  made.choice = why_choice_effect(choice, slopes, share);
  made.determined = made.choice <= share * fmax(fabs(made.body + made.load), LEAST_JUDGED_NM);
  return made;
}

void why_statics_find_in(const why_body_model* model, const why_exercise* exercise,
                         const why_stance* stance, double at, double factor, why_statics* statics) {
  statics->at = at;
  statics->stance = *stance;
  statics->demands = (why_demands){0};
  why_pose_find(model, stance, &statics->pose);
  why_loading_find(model, exercise, &statics->pose, at, factor, &statics->loading);
  why_reactions_find(model, exercise, &statics->pose, &statics->loading, &statics->reactions);
  why_choice choice;
  why_choice_find(exercise, &statics->reactions, &choice);
  for (size_t i = 0; i < statics->pose.count; i++) {
    const why_freedom* freedom = &statics->pose.freedoms[i];
    statics->demands.at[freedom->side][freedom->number] =
        demand_along(model, exercise, statics, &choice, freedom);
  }
}

void why_statics_find(const why_body_model* model, const why_exercise* exercise, double at,
                      double factor, why_statics* statics) {
  why_stance stance = why_stance_of(model->frame, exercise, at);
  why_statics_find_in(model, exercise, &stance, at, factor, statics);
}

why_demand why_demand_of(const why_body_model* model, const why_statics* statics,
                         const why_action* action, int side) {
  why_demand sum = {.determined = true};
  for (size_t i = 0; i < action->along.count; i++) {
    int number = why_frame_number(model->frame, action->along.at[i]);
    if (number < 0 || !statics->demands.at[side][number].there)
      continue;
    const why_demand* each = &statics->demands.at[side][number];
    sum.there = true;
    sum.held |= each->held;
    sum.determined &= each->determined;
    sum.body += action->sign * each->body;
    sum.load += action->sign * each->load;
    sum.choice += each->choice;
  }
  return sum;
}

const why_mechanics* why_mechanics_new(const why_body_model* model, const why_exercise* exercise,
                                       size_t count, why_arena* arena) {
  why_mechanics* made = WHY_NEW(arena, why_mechanics);
  if (count < 2)
    count = model->path_count;
  why_statics* statics = WHY_NEW_ARRAY(arena, why_statics, count);
  for (size_t i = 0; i < count; i++)
    why_statics_find(model, exercise, 2 * (double)i / (double)(count - 1), 1, &statics[i]);
  *made = (why_mechanics){.exercise = exercise, .count = count, .at = statics};
  return made;
}
