// SPDX-License-Identifier: GPL-3.0-or-later
// Has body share the work of one exercise among the heads.
#include "exertion.h"

#include <math.h>

why_status why_exertion_new(const why_motion* motion, why_arena* arena,
                            const why_exertion** exertion) {
  why_muscles* muscles = NULL;
  why_sharer* sharer = NULL;
  why_status status = why_muscles_new(motion->model, arena, &muscles);
  if (status == WHY_OK)
    status = why_sharer_new(muscles, arena, &sharer);
  if (status != WHY_OK)
    return status;
  why_feature* features = WHY_NEW_ARRAY(arena, why_feature, muscles->count);
  const why_effort* effort = why_effort_find(sharer, motion->exercise);
  why_features_find(sharer, effort, features);
  why_exertion* made = WHY_NEW(arena, why_exertion);
  *made = (why_exertion){motion, muscles, effort, features};
  *exertion = made;
  return WHY_OK;
}

static double mean_stress(const why_effort* effort, int side, size_t head) {
  double sum = 0;
  for (size_t i = 0; i < effort->count; i++)
    sum += effort->at[i].heads[side][head].stress;
  return sum / (double)effort->count;
}

int why_exertion_side(const why_exertion* exertion, size_t head) {
  double stress = exertion->features[head].stress;
  double working = mean_stress(exertion->effort, WHY_WORKING, head);
  double other = mean_stress(exertion->effort, WHY_OTHER, head);
  return fabs(other - stress) < fabs(working - stress) ? WHY_OTHER : WHY_WORKING;
}
