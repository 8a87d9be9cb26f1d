// SPDX-License-Identifier: GPL-3.0-or-later
// Every goal has an answer, and no answer asks for what is not at hand.
#include "kit.h"
#include "told.h"

#include "pick/ground.h"

#include <criterion/criterion.h>
#include <string.h>

/// A goal has picks, or a sentence that says why not.
static void expect_answer(const why_knowledge* knowledge, const char* goal) {
  told_question question = {.task = WHY_PICK, .goal = goal, .have = "full-gym", .top = "1"};
  why_status status = WHY_OK;
  json_t* answer = told_json(knowledge, &question, &status);
  cr_assert_not_null(answer, "%s has no answer", goal);
  size_t picks = json_array_size(json_object_get(answer, "picks"));
  size_t notes = json_array_size(json_object_get(answer, "notes"));
  cr_expect_eq(status, picks ? WHY_OK : WHY_NO_PICK, "%s", goal);
  cr_expect(picks > 0 || notes > 0, "%s has neither a pick nor a reason why not", goal);
  json_decref(answer);
}

Test(coverage, every_head_group_and_action) {
  why_arena* arena = why_arena_new(0);
  why_knowledge* knowledge = told_open(0, 0);
  const why_ground* ground = why_knowledge_ground(knowledge);
  const why_anatomy* anatomy = &ground->tables->anatomy;
  cr_expect_eq(anatomy->heads.count, 74);
  for (size_t i = 0; i < anatomy->heads.count; i++)
    expect_answer(knowledge, why_symbols_text(ground->symbols, anatomy->heads.at[i].id));
  for (size_t i = 0; i < anatomy->groups.count; i++)
    expect_answer(knowledge, why_symbols_text(ground->symbols, anatomy->groups.at[i].id));
  for (size_t i = 0; i < anatomy->actions.count; i++)
    expect_answer(knowledge, why_symbols_text(ground->symbols, anatomy->actions.at[i].id));
  why_knowledge_free(knowledge);
  why_arena_free(arena);
}

static void expect_no_more_than(const char* have, const char* const* items, const char* place) {
  why_arena* arena = why_arena_new(0);
  why_knowledge* knowledge = told_open(0, 0);
  const why_ground* ground = why_knowledge_ground(knowledge);
  kit all = {.equipment = &ground->tables->equipment};
  for (; *items; items++)
    kit_add_item(&all, why_symbols_find(ground->symbols, *items));
  if (place)
    kit_add_place(&all, why_symbols_find(ground->symbols, place));
  kit_close(&all);
  size_t answered = 0;
  for (size_t g = 0; g < ground->tables->anatomy.groups.count; g++) {
    const char* goal = why_symbols_text(ground->symbols, ground->tables->anatomy.groups.at[g].id);
    told_question question = {.task = WHY_PICK, .goal = goal, .have = have, .top = "all"};
    why_status status = WHY_OK;
    json_t* answer = told_json(knowledge, &question, &status);
    json_t* picks = json_object_get(answer, "picks");
    for (size_t i = 0; i < json_array_size(picks); i++) {
      const char* id = json_string_value(json_object_get(json_array_get(picks, i), "exercise"));
      const why_exercise* exercise =
          why_exercise_find(&ground->tables->exercises, why_symbols_find(ground->symbols, id));
      cr_expect(kit_can_set_up(&all, exercise), "%s needs more than %s", id, have);
    }
    answered += json_array_size(picks) > 0;
    json_decref(answer);
  }
  cr_expect_gt(answered, 10, "%s answers too few groups", have);
  why_knowledge_free(knowledge);
  why_arena_free(arena);
}

Test(coverage, needs_no_more_than_dumbbells_and_bench) {
  static const char* const ITEMS[] = {"dumbbells", "flat-bench", NULL};
  expect_no_more_than("dumbbells,flat-bench", ITEMS, NULL);
}

Test(coverage, needs_no_more_than_places_have) {
  static const char* const NONE[] = {NULL};
  expect_no_more_than("hotel-room", NONE, "hotel-room");
  expect_no_more_than("bands-only", NONE, "bands-only");
  expect_no_more_than("nothing", NONE, "bodyweight-only");
}
