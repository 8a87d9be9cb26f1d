// SPDX-License-Identifier: GPL-3.0-or-later
// Asks the growth model about the heads that the rules say are wanted.
#include "expectation.h"

#include "rows.h"

void why_expectation_read(why_picked* answer) {
  const why_ground* ground = answer->question->ground;
  why_rows wanted = why_rows_find(ground->program, answer->overlay, "wanted");
  WHY_LIST(why_goal_head) parts = {0};
  for (size_t i = 0; i < wanted.facts.count; i++) {
    why_symbol id = why_rows_symbol(&wanted, i, "head");
    const why_head* head = why_head_find(&ground->tables->anatomy, id);
    if (!head)
      continue;
    *WHY_LIST_ADD(answer->arena, answer->heads) = id;
    *WHY_LIST_ADD(answer->arena, parts) = (why_goal_head){
        (size_t)(head - ground->tables->anatomy.heads.at), why_rows_number(&wanted, i, "weight")};
  }
  answer->goal = (why_goal){parts.at, parts.count};
  why_rows people = why_rows_find(ground->program, answer->overlay, "training-here");
  answer->trained = people.facts.count && why_rows_symbol(&people, 0, "training") ==
                                              why_symbols_find(ground->symbols, "trained");
}

/// One head of the goal.
static const why_goal_head* part_of(const why_picked* answer, why_symbol head) {
  for (size_t i = 0; i < answer->heads.count; i++)
    if (answer->heads.at[i] == head)
      return &answer->goal.at[i];
  return NULL;
}

static const why_estimate* expect(const why_picked* answer, size_t exercise, const why_goal* goal) {
  why_estimate* made = WHY_NEW(answer->arena, why_estimate);
  why_outlook_estimate(answer->question->ground->outlook, exercise, goal, answer->trained,
                       answer->arena, made);
  return made;
}

void why_expectation_fill(const why_picked* answer, why_pick_row* pick) {
  const why_ground* ground = answer->question->ground;
  const why_exercise* row = why_exercise_find(&ground->tables->exercises, pick->exercise);
  if (!ground->outlook || !row)
    return;
  size_t exercise = (size_t)(row - ground->tables->exercises.rows.at);
  WHY_LIST(why_goal_head) parts = {0};
  for (size_t i = 0; i < pick->heads.count; i++) {
    const why_goal_head* part = part_of(answer, pick->heads.at[i].head);
    if (!part)
      continue;
    *WHY_LIST_ADD(answer->arena, parts) =
        (why_goal_head){part->head, part->weight * pick->heads.at[i].part};
    why_goal_head alone = {part->head, 1};
    pick->heads.at[i].estimate = expect(answer, exercise, &(why_goal){&alone, 1});
  }
  if (parts.count)
    pick->estimate = expect(answer, exercise, &(why_goal){parts.at, parts.count});
}
