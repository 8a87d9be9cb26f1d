// SPDX-License-Identifier: GPL-3.0-or-later
// The main question. That hip extension with nearly straight knees and knee flexion train the
// hamstrings, and that squats and presses hardly do, is common practice; the trials that the answer
// cites are those of the knowledge base.
#include "told.h"

#include "pick/ground.h"

#include <criterion/criterion.h>
#include <math.h>
#include <string.h>

static const why_ground* ground;
static why_arena* arena;
static why_knowledge* knowledge;

static void open_all(void) {
  arena = why_arena_new(0);
  knowledge = told_open(0, 0);
  ground = why_knowledge_ground(knowledge);
}

static void close_all(void) {
  why_knowledge_free(knowledge);
  why_arena_free(arena);
}

static const why_exercise* find(json_t* row) {
  const char* id = json_string_value(json_object_get(row, "exercise"));
  return why_exercise_find(&ground->tables->exercises, why_symbols_find(ground->symbols, id));
}

static bool moves(const why_exercise* exercise, const char* action) {
  for (size_t i = 0; i < exercise->moves.count; i++)
    if (strcmp(why_symbols_text(ground->symbols, exercise->moves.at[i]), action) == 0)
      return true;
  return false;
}

static bool is_pattern(const why_exercise* exercise, const char* pattern) {
  return strcmp(why_symbols_text(ground->symbols, exercise->pattern), pattern) == 0;
}

static json_t* ask(const told_question* question) {
  why_status status = WHY_OK;
  json_t* answer = told_json(knowledge, question, &status);
  cr_assert_not_null(answer);
  return answer;
}

Test(hamstrings, without_a_machine, .init = open_all, .fini = close_all) {
  told_question question = {
      .task = WHY_PICK, .goal = "hamstrings", .without = "machine", .top = "5"};
  json_t* answer = ask(&question);
  json_t* picks = json_object_get(answer, "picks");
  bool straight_hinge = false;
  bool curl = false;
  cr_assert_eq(json_array_size(picks), 5);
  for (size_t i = 0; i < 5; i++) {
    const why_exercise* pick = find(json_array_get(picks, i));
    why_symbol knee = why_symbols_find(ground->symbols, "knee-flexion");
    double bent = why_position_angle(&pick->positions[0], knee, false);
    straight_hinge = straight_hinge || (moves(pick, "hip-extension") && fabs(bent) <= 30);
    curl = curl || moves(pick, "knee-flexion");
    cr_expect_not(is_pattern(pick, "squat") || is_pattern(pick, "leg-press") ||
                  is_pattern(pick, "hip-thrust"));
    cr_expect_gt(json_array_size(json_object_get(json_array_get(picks, i), "reasons")), 0);
  }
  cr_expect(straight_hinge, "no hip extension with nearly straight knees");
  cr_expect(curl, "no knee flexion");
  json_decref(answer);
}

Test(hamstrings, advises_against_the_squat_with_its_trials, .init = open_all, .fini = close_all) {
  told_question question = {.task = WHY_PICK, .goal = "hamstrings", .without = "machine"};
  json_t* answer = ask(&question);
  json_t* against = json_object_get(answer, "against");
  bool conflict = false;
  bool trial = false;
  for (size_t i = 0; i < json_array_size(against); i++) {
    json_t* row = json_array_get(against, i);
    if (!is_pattern(find(row), "squat"))
      continue;
    json_t* reasons = json_object_get(row, "reasons");
    for (size_t k = 0; k < json_array_size(reasons); k++) {
      json_t* reason = json_array_get(reasons, k);
      const char* rule = json_string_value(json_object_get(reason, "rule"));
      conflict = conflict || strcmp(rule, "say-spared") == 0;
      trial = trial || json_array_size(json_object_get(reason, "sources")) > 0;
    }
  }
  cr_expect(conflict, "the squat is not said to be a two-joint conflict");
  cr_expect(trial, "no trial of the squat is named");
  json_decref(answer);
}

Test(hamstrings, short_head_by_knee_flexion_only, .init = open_all, .fini = close_all) {
  told_question question = {.task = WHY_PICK, .goal = "biceps-femoris-short-head", .top = "all"};
  json_t* answer = ask(&question);
  json_t* picks = json_object_get(answer, "picks");
  cr_expect_gt(json_array_size(picks), 3);
  for (size_t i = 0; i < json_array_size(picks); i++)
    cr_expect(moves(find(json_array_get(picks, i)), "knee-flexion"));
  json_t* against = json_object_get(answer, "against");
  bool hip_alone = false;
  for (size_t i = 0; i < json_array_size(against); i++) {
    const why_exercise* row = find(json_array_get(against, i));
    json_t* reason = json_array_get(json_object_get(json_array_get(against, i), "reasons"), 0);
    hip_alone = hip_alone ||
                (moves(row, "hip-extension") && !moves(row, "knee-flexion") &&
                 strcmp(json_string_value(json_object_get(reason, "grounds")), "anatomy") == 0);
  }
  cr_expect(hip_alone, "hip extension alone is not advised against on grounds of anatomy");
  json_decref(answer);
}
