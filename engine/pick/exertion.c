// SPDX-License-Identifier: GPL-3.0-or-later
// Has body share the work of one exercise among the heads.
#include "exertion.h"

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
