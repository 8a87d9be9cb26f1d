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
  bool held; ///< Both sides are.
} half;

static why_vec move_of(const half* h, int part, why_vec point) {
  if (why_body_part_hangs_on(h->model, part, h->freedom->part) != h->far)
    return (why_vec){0, 0, 0};
  why_vec move = why_freedom_move(h->freedom, point);
  return h->far ? move : why_vec_scale(move, -1);
}

static bool moves_part(const why_body_model* model, const why_exercise* exercise, int part) {
  for (size_t i = 0; i < exercise->moves.count; i++) {
    const why_action* action = why_action_find(&model->tables->anatomy, exercise->moves.at[i]);
    for (size_t j = 0; action && j < action->along.count; j++)
      for (size_t k = 0; k < model->parts[part].hinge_count; k++)
        if (model->parts[part].hinges[k].number ==
            why_frame_number(model->frame, action->along.at[j]))
          return true;
  }
  return false;
}

static bool is_fixed(const why_exercise* exercise, why_symbol segment) {
  for (size_t i = 0; i < exercise->fixed.count; i++)
    if (exercise->fixed.at[i] == segment)
      return true;
  return false;
}

/// Whether bench or machine hold a part: as the exercise says, and the head rests where the thorax
/// is held, unless the exercise is for the neck.
static bool is_held(const why_body_model* model, const why_exercise* exercise, int part) {
  const why_body_part* at = &model->parts[part];
  if (is_fixed(exercise, at->segment))
    return true;
  return part == model->head && is_fixed(exercise, model->parts[at->parent].segment) &&
         !moves_part(model, exercise, part);
}

static uint32_t held_parts(const why_body_model* model, const why_exercise* exercise) {
  uint32_t held = 0;
  for (int i = 0; exercise->fixed.count && i < (int)model->count; i++)
    if (is_held(model, exercise, i))
      held |= 1u << i;
  return held;
}

static half half_of(const why_body_model* model, const why_statics* statics,
                    const why_freedom* freedom) {
  bool beyond = false;
  bool before = false;
  for (int i = 0; statics->held && i < (int)model->count; i++) {
    if (!(statics->held >> i & 1))
      continue;
    bool far = why_body_part_hangs_on(model, i, freedom->part);
    beyond |= far;
    before |= !far;
  }
  return (half){model, freedom, !beyond, beyond && before};
}

static void sum_forces(const half* h, const why_statics* statics, why_demand* demand) {
  for (size_t i = 0; i < statics->loading.count; i++) {
    const why_applied* each = &statics->loading.at[i];
    why_vec move = move_of(h, each->part, each->at);
    demand->body -= why_vec_dot(each->body, move);
    demand->load -= why_vec_dot(each->load, move);
  }
  for (size_t i = 0; i < statics->reactions.count; i++) {
    const why_reaction* each = &statics->reactions.at[i];
    why_vec move = move_of(h, each->part, each->at);
    demand->body -= why_vec_dot(each->body, move);
    demand->load -= why_vec_dot(each->load, move);
  }
}

static void sum_levers(const why_freedom* freedom, const why_loading* loading, why_demand* demand) {
  for (size_t i = 0; i < loading->lever_count; i++)
    if (loading->levers[i].part == freedom->part)
      demand->load -= why_vec_dot(loading->levers[i].moment, freedom->turn);
}

why_demand why_demand_along(const why_body_model* model, const why_statics* statics,
                            const why_freedom* freedom) {
  half h = half_of(model, statics, freedom);
  why_demand made = {.there = true, .determined = true, .held = h.held};
  if (made.held)
    return made;
  sum_forces(&h, statics, &made);
  sum_levers(freedom, &statics->loading, &made);
  return made;
}

why_vec why_demand_slope(const why_body_model* model, const why_statics* statics,
                         const why_freedom* freedom, int part, why_vec point) {
  half h = half_of(model, statics, freedom);
  return h.held ? (why_vec){0, 0, 0} : why_vec_scale(move_of(&h, part, point), -1);
}

/// Let `demand` say how much hangs on the choice of reactions.
static void note_choice(const why_body_model* model, const why_statics* statics,
                        const why_choice* choice, const why_freedom* freedom, why_demand* demand) {
  if (demand->held || !choice->count)
    return;
  why_vec slopes[WHY_REACTIONS];
  half h = half_of(model, statics, freedom);
  for (size_t i = 0; i < statics->reactions.count; i++) {
    const why_reaction* each = &statics->reactions.at[i];
    slopes[i] = why_vec_scale(move_of(&h, each->part, each->at), -1);
  }
  double share = model->undetermined_share;
  double size = fmax(fabs(demand->body + demand->load), LEAST_JUDGED_NM);
  demand->choice = why_choice_effect(choice, slopes, share);
  demand->determined = demand->choice <= share * size;
}

void why_statics_find_in(const why_body_model* model, const why_exercise* exercise,
                         const why_stance* stance, double at, double factor, why_statics* statics) {
  statics->at = at;
  statics->held = held_parts(model, exercise);
  statics->stance = *stance;
  statics->demands = (why_demands){0};
  why_pose_find(model, stance, &statics->pose);
  why_loading_find(model, exercise, &statics->pose, at, factor, &statics->loading);
  why_reactions_find(model, exercise, &statics->pose, &statics->loading, &statics->reactions);
  for (size_t i = 0; i < statics->pose.count; i++) {
    const why_freedom* freedom = &statics->pose.freedoms[i];
    statics->demands.at[freedom->side][freedom->number] = why_demand_along(model, statics, freedom);
  }
}

void why_statics_judge(const why_body_model* model, const why_exercise* exercise,
                       why_statics* statics) {
  why_choice choice;
  why_choice_find(exercise, &statics->reactions, &choice);
  for (size_t i = 0; i < statics->pose.count; i++) {
    const why_freedom* freedom = &statics->pose.freedoms[i];
    note_choice(model, statics, &choice, freedom,
                &statics->demands.at[freedom->side][freedom->number]);
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
  for (size_t i = 0; i < count; i++) {
    why_statics_find(model, exercise, 2 * (double)i / (double)(count - 1), 1, &statics[i]);
    why_statics_judge(model, exercise, &statics[i]);
  }
  *made = (why_mechanics){.exercise = exercise, .count = count, .at = statics};
  return made;
}
