// SPDX-License-Identifier: GPL-3.0-or-later
// Raises the load: all postures under a first load, the hardest one to its limit, all again.
#include "effort.h"

#include "sharer.h"

enum { ROUNDS = 5, RAISES = 16 };

static const double REACHED = 1e-3; ///< A stress so near to 1 counts as capacity.
static const double LEAST_TOTAL_NM = 1; ///< A move that is given less than a reserve is not worked.
static const double MOST_FACTOR = 50;

double why_effort_place(const why_effort* effort, size_t index) {
  return 2 * (double)index / (double)(effort->count - 1);
}

bool why_effort_is_middle(const why_muscles* muscles, const why_action* action) {
  const why_body_model* model = muscles->model;
  for (size_t i = 0; i < model->count; i++)
    for (size_t j = 0; !model->parts[i].paired && j < model->parts[i].hinge_count; j++)
      if (action->along.count &&
          model->parts[i].hinges[j].number ==
              why_frame_number(model->frame, action->along.at[0]))
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
      moments[side][i] = share->heads[side][i].stress > 0
                             ? why_effort_moment(muscles, share, i, side, action)
                             : 0;
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

/// All postures under one load; notes the hardest.
static void look_at_path(why_sharer* sharer, why_effort* effort, double factor) {
  effort->factor = factor;
  effort->peak = 0;
  effort->head = -1;
  effort->settled = true;
  for (size_t i = 0; i < effort->count; i++) {
    if (i > 0 && !effort->at[i].settled)
      why_share_begin(&effort->at[i], &effort->at[i - 1]);
    why_share_find(sharer, effort->exercise, why_effort_place(effort, i), factor, &effort->at[i]);
    effort->settled &= effort->at[i].settled;
    peak here = peak_of(sharer, effort->exercise, &effort->at[i]);
    if (here.stress <= effort->peak)
      continue;
    effort->peak = here.stress;
    effort->hardest = i;
    effort->head = here.head;
  }
}

static double peak_under(why_sharer* sharer, why_effort* effort, double factor) {
  why_share* share = &effort->at[effort->hardest];
  why_share_find(sharer, effort->exercise, why_effort_place(effort, effort->hardest), factor,
                 share);
  return peak_of(sharer, effort->exercise, share).stress;
}

/// The factor at which the hardest posture brings a head that moves to capacity: by the false
/// position from two loads that have it between them (Illinois rule), since stress grows nearly
/// in proportion. Below zero: there is none.
static double raise_hardest(why_sharer* sharer, why_effort* effort, why_load_end* end) {
  double low = 0;
  double below = peak_under(sharer, effort, 0) - 1;
  *end = WHY_LOAD_OVER;
  if (below >= 0)
    return 0;
  double high = fmax(effort->factor, 0.1);
  double above = peak_under(sharer, effort, high) - 1;
  *end = WHY_LOAD_IDLE;
  while (above < 0 && above > below && high < MOST_FACTOR) {
    double next = fmin(high + 1.1 * above * (low - high) / (above - below), 4 * high);
    low = high;
    below = above;
    high = next;
    above = peak_under(sharer, effort, high) - 1;
  }
  if (above < 0)
    return 1;
  *end = WHY_LOAD_REACHED;
  double factor = high;
  double error = above;
  for (int i = 0; i < RAISES && fabs(error) > REACHED; i++) {
    factor = (low * above - high * below) / (above - below);
    error = peak_under(sharer, effort, factor) - 1;
    if (error > 0) {
      high = factor;
      above = error;
      below /= 2;
    } else {
      low = factor;
      below = error;
      above /= 2;
    }
  }
  return factor;
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
  for (size_t i = 0; i < effort->count; i++) {
    effort->at[i].settled = false;
    why_share_begin(&effort->at[i], NULL);
  }
  look_at_path(sharer, effort, 1);
  for (int i = 0; i < ROUNDS && effort->end == WHY_LOAD_REACHED && effort->head >= 0 &&
                  fabs(effort->peak - 1) > 2 * REACHED;
       i++)
    look_at_path(sharer, effort, raise_hardest(sharer, effort, &effort->end));
  return effort;
}
