// SPDX-License-Identifier: GPL-3.0-or-later
// Groups, exercises and places are drawn from the tables at even distances, so that no name of the
// knowledge base stands here. Speed alone hangs on them.
#include "typical.h"

#include "question.h"

#include <math.h>

enum { TYPICAL = 6, ANYWHERE = 3 };

/// The first question is for what replaces an exercise, the others for a muscle group: with all
/// equipment, later at a place. Each also asks why some exercise is no pick.
static why_question make_question(const why_ground* ground, why_arena* arena, size_t number) {
  const why_tables* tables = ground->tables;
  size_t exercises = tables->exercises.rows.count;
  size_t groups = tables->anatomy.groups.count;
  size_t places = tables->equipment.places.count;
  why_question made;
  why_question_init(&made, ground, arena, NULL);
  if (exercises)
    made.exercise = tables->exercises.rows.at[number * exercises / TYPICAL].id;
  if (number == 0)
    made.replaced = made.exercise;
  else if (groups)
    made.goal = (why_thing){.kind = WHY_MEANS_GROUP,
                            .id = tables->anatomy.groups.at[number * groups / TYPICAL].id};
  if (number >= ANYWHERE && places)
    *WHY_LIST_ADD(arena, made.have) =
        (why_thing){.kind = WHY_MEANS_PLACE,
                    .id = tables->equipment.places.at[number * places / TYPICAL].id,
                    .limit_kg = NAN};
  return made;
}

/// In memory of its own: in a large knowledge base all that a question reaches is large.
static void teach_one(const why_ground* ground, why_arena* scratch, size_t number,
                      why_lessons* lessons) {
  why_arena* own = why_arena_branch(scratch);
  why_question question = make_question(ground, own, number);
  why_overlay* overlay = why_overlay_new(ground->base, own, NULL);
  why_question_assume(&question, overlay);
  why_overlay_run(overlay, NULL);
  why_lessons_add(lessons, overlay);
  why_arena_free(own);
}

void why_typical_teach(const why_ground* ground, why_base* base, why_arena* scratch) {
  why_lessons* lessons = why_lessons_new(base, scratch);
  for (size_t i = 0; i < TYPICAL; i++)
    teach_one(ground, scratch, i, lessons);
  why_base_learn(base, lessons);
}
