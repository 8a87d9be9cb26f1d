// SPDX-License-Identifier: GPL-3.0-or-later
// Statics again at every posture of the path, under the load that ends a set: what is asked of the
// muscles, whichever of them give it.
#include "hardness.h"

#include "sharer.h"

#include <math.h>

static const double LEAST_MOMENT_NM = 1; ///< Less is no resistance.

static double moment_at(why_sharer* sharer, const why_effort* effort, double at) {
  const why_body_model* model = sharer->muscles->model;
  const why_exercise* exercise = effort->exercise;
  double sum = 0;
  why_statics_find(model, exercise, at, effort->factor, &sharer->statics);
  for (size_t i = 0; i < exercise->moves.count; i++) {
    const why_action* action = why_action_find(&model->tables->anatomy, exercise->moves.at[i]);
    if (!action)
      continue;
    why_demand demand = why_demand_of(model, &sharer->statics, action, WHY_WORKING);
    sum += fmax(0, demand.body + demand.load);
  }
  return sum;
}

bool why_hardness_find(why_sharer* sharer, const why_effort* effort, why_hardness* hardness) {
  size_t counts[WHY_HARDNESS_PARTS] = {0};
  double most = 0;
  *hardness = (why_hardness){0};
  for (size_t i = 0; i < effort->count; i++) {
    double at = why_effort_place(effort, i);
    int part = (int)fmin(at / 2 * WHY_HARDNESS_PARTS, WHY_HARDNESS_PARTS - 1);
    hardness->part[part] += moment_at(sharer, effort, at);
    counts[part]++;
  }
  for (int i = 0; i < WHY_HARDNESS_PARTS; i++) {
    hardness->part[i] /= counts[i] ? (double)counts[i] : 1;
    most = fmax(most, hardness->part[i]);
  }
  for (int i = 0; i < WHY_HARDNESS_PARTS; i++)
    hardness->part[i] = most >= LEAST_MOMENT_NM ? hardness->part[i] / most : 0;
  return most >= LEAST_MOMENT_NM;
}
