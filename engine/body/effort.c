// SPDX-License-Identifier: GPL-3.0-or-later
// Raises the load: all postures under a first load, the hardest one to its limit, all again.
#include "effort.h"

#include "sharer.h"

enum { ROUNDS = 5, RAISES = 16, STRIDE = 6 };

static const double REACHED = 2e-3;     ///< A stress so near to 1 counts as capacity.
static const double LEAST_TOTAL_NM = 1; ///< A move that is given less than a reserve is not worked.
static const double LEAST_FACTOR = 0.02; ///< Less is tried as no load at all.
static const double MOST_FACTOR = 50;

double why_effort_place(const why_effort* effort, size_t index) {
  return 2 * (double)index / (double)(effort->count - 1);
}

bool why_effort_is_middle(const why_muscles* muscles, const why_action* action) {
  const why_body_model* model = muscles->model;
  for (size_t i = 0; i < model->count; i++)
    for (size_t j = 0; !model->parts[i].paired && j < model->parts[i].hinge_count; j++)
      if (action->along.count &&
          model->parts[i].hinges[j].number == why_frame_number(model->frame, action->along.at[0]))
        return true;
  return false;
}

double why_effort_moment(const why_muscles* muscles, const why_share* share, size_t head, int side,
                         const why_action* action) {
  double moment = why_share_moment(muscles, share, head, side, action);
  int number =
      action->along.count ? why_frame_number(muscles->model->frame, action->along.at[0]) : -1;
  return side == WHY_OTHER && number >= 0 && muscles->turned[number] ? -moment : moment;
}

/// The most stressed head that gives its part of an action, on the sides that take part in it.
typedef struct {
  double stress;
  int head;
} peak;

static void look_at_action(const why_sharer* sharer, const why_share* share,
                           const why_action* action, peak* most) {
  const why_muscles* muscles = sharer->muscles;
  int sides = why_effort_is_middle(muscles, action) ? WHY_SIDES : 1;
  double moments[WHY_SIDES][WHY_STRANDS];
  double total = 0;
  for (int side = 0; side < sides; side++) {
    for (size_t i = 0; i < muscles->count; i++) {
      moments[side][i] =
          share->heads[side][i].stress > 0 ? why_effort_moment(muscles, share, i, side, action) : 0;
      total += fmax(0, moments[side][i]);
    }
  }
  if (total < LEAST_TOTAL_NM)
    return;
  for (int side = 0; side < sides; side++)
    for (size_t i = 0; i < muscles->count; i++)
      if (moments[side][i] >= sharer->mover_share * total &&
          share->heads[side][i].stress > most->stress)
        *most = (peak){share->heads[side][i].stress, (int)i};
}

static peak peak_of(const why_sharer* sharer, const why_exercise* exercise,
                    const why_share* share) {
  peak most = {0, -1};
  const why_anatomy* anatomy = &sharer->muscles->model->tables->anatomy;
  for (size_t i = 0; i < exercise->moves.count; i++) {
    const why_action* action = why_action_find(anatomy, exercise->moves.at[i]);
    if (action)
      look_at_action(sharer, share, action, &most);
  }
  return most;
}

/// Let the search in a posture not seen before begin between the nearest that were.
static void begin(why_effort* effort, size_t index) {
  const why_share* around[2] = {NULL, NULL};
  double away[2] = {0, 0};
  for (size_t i = 0; i < effort->count; i++) {
    bool behind = i > index;
    if (!effort->at[i].posed || i == index || (behind && around[1]))
      continue;
    around[behind] = &effort->at[i];
    away[behind] = fabs((double)i - (double)index);
  }
  if (around[0] && around[1])
    why_share_begin(&effort->at[index], around[0], around[1], away[0] / (away[0] + away[1]));
  else
    why_share_begin(&effort->at[index], around[0], around[1], around[0] ? 0 : 1);
}

/// One posture under a load. Where another load was there before, the search begins where it ended,
/// stresses brought to this load.
static peak look_at(why_sharer* sharer, why_effort* effort, size_t index, double factor) {
  why_share* share = &effort->at[index];
  bool known = share->posed && share->factor == factor;
  if (!share->posed)
    begin(effort, index);
  else if (!known && share->factor > 0 && factor > 0)
    why_share_scale(sharer, share, factor / share->factor);
  if (!known)
    why_share_find(sharer, effort->exercise, why_effort_place(effort, index), factor, share);
  return peak_of(sharer, effort->exercise, share);
}

static void look_and_note(why_sharer* sharer, why_effort* effort, size_t index, double factor) {
  peak here = look_at(sharer, effort, index, factor);
  effort->settled &= effort->at[index].settled;
  if (here.stress < effort->peak || (here.stress == effort->peak && index > effort->hardest))
    return;
  effort->peak = here.stress;
  effort->hardest = index;
  effort->head = here.head;
}

/// Postures under one load, every STRIDE-th of them first, and then, if `all`, those between; notes
/// the hardest.
static void look_at_path(why_sharer* sharer, why_effort* effort, double factor, bool all) {
  effort->factor = factor;
  effort->peak = 0;
  effort->head = -1;
  effort->settled = true;
  for (size_t i = 0; i < effort->count; i += STRIDE)
    look_and_note(sharer, effort, i, factor);
  for (size_t i = 0; all && i < effort->count; i++)
    if (i % STRIDE)
      look_and_note(sharer, effort, i, factor);
}

static double peak_under(why_sharer* sharer, why_effort* effort, double factor) {
  return look_at(sharer, effort, effort->hardest, factor).stress;
}

/// A load and by how much it brings the hardest posture beyond capacity.
typedef struct {
  double factor;
  double excess;
} trial;

/// The load between two trials, or beyond the second, at which a straight line through both has no
/// excess; at most four times more or less than the second.
static double next_factor(trial first, trial second) {
  double slope = (second.excess - first.excess) / (second.factor - first.factor);
  double next = second.factor - second.excess / slope;
  return fmin(fmax(next, second.factor / 4), 4 * second.factor);
}

/// The factor at which the hardest posture brings a head that moves to capacity. Stress grows
/// nearly in proportion to the load, so the secant method takes a few trials; once capacity lies
/// between two of them it is kept there.
static double raise_hardest(why_sharer* sharer, why_effort* effort, why_load_end* end) {
  trial before = {0, -1};
  trial now = {effort->factor, effort->peak - 1};
  trial below = {NAN, NAN};
  trial above = {NAN, NAN};
  for (int i = 0; i < RAISES && fabs(now.excess) > REACHED; i++) {
    *(now.excess < 0 ? &below : &above) = now;
    double next = next_factor(before, now);
    if (below.factor >= 0 && above.factor >= 0) {
      if (!(next > below.factor && next < above.factor))
        next = (below.factor + above.factor) / 2;
    } else if (now.excess > 0 && next < LEAST_FACTOR) {
      next = 0;
    } else if (!(now.excess > before.excess) == (now.factor > before.factor)) {
      *end = WHY_LOAD_IDLE;
      return 1;
    }
    before = now;
    now = (trial){next, peak_under(sharer, effort, next) - 1};
    if (now.factor == 0 && now.excess > 0) {
      *end = WHY_LOAD_OVER;
      return 0;
    }
    if (now.factor > MOST_FACTOR)
      return now.factor;
  }
  return now.factor;
}

static bool has_load(const why_sharer* sharer, const why_exercise* exercise) {
  const why_symbols* symbols = sharer->muscles->model->tables->symbols;
  why_symbol body = why_symbols_find(symbols, "body");
  for (size_t i = 0; i < exercise->resistances.count; i++)
    if (exercise->resistances.at[i].kind != body && exercise->resistances.at[i].body_masses > 0)
      return true;
  return false;
}

const why_effort* why_effort_find(why_sharer* sharer, const why_exercise* exercise) {
  why_effort* effort = &sharer->effort;
  effort->exercise = exercise;
  effort->end = has_load(sharer, exercise) ? WHY_LOAD_REACHED : WHY_LOAD_NONE;
  effort->hardest = 0;
  for (size_t i = 0; i < effort->count; i++)
    effort->at[i].posed = false;
  bool raised = effort->end == WHY_LOAD_REACHED;
  look_at_path(sharer, effort, 1, !raised || (effort->count - 1) % STRIDE != 0);
  for (int i = 0; i < ROUNDS && raised; i++) {
    if (effort->head < 0)
      effort->end = WHY_LOAD_IDLE;
    double factor = effort->head < 0 ? 1 : raise_hardest(sharer, effort, &effort->end);
    look_at_path(sharer, effort, factor, true);
    raised = effort->end == WHY_LOAD_REACHED && fabs(effort->peak - 1) > 2 * REACHED;
  }
  return effort;
}
