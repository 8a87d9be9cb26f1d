// SPDX-License-Identifier: GPL-3.0-or-later
// Puts an exercise of the knowledge base on the model body.
#include "motion.h"

why_status why_motion_new(const why_ground* ground, why_symbol exercise, why_arena* arena,
                          const why_motion** motion) {
  const why_body_model* model = NULL;
  why_status status =
      why_body_model_new(why_frame_new(ground->tables, arena), ground->tables, 0, 0, arena, &model);
  if (status != WHY_OK)
    return status;
  const why_exercise* row = why_exercise_find(&ground->tables->exercises, exercise);
  why_statics* positions = WHY_NEW_ARRAY(arena, why_statics, WHY_POSITIONS);
  for (int i = 0; i < WHY_POSITIONS; i++) {
    why_statics_find(model, row, i, 1, &positions[i]);
    why_statics_judge(model, row, &positions[i]);
  }
  why_motion* made = WHY_NEW(arena, why_motion);
  *made = (why_motion){.ground = ground,
                       .exercise = row,
                       .model = model,
                       .positions = positions,
                       .path = why_mechanics_new(model, row, 0, arena)};
  *motion = made;
  return WHY_OK;
}
