// SPDX-License-Identifier: GPL-3.0-or-later
// Reading facts by part of the answer and by exercise: the one way for sentences, chains and rows.
#include "shown.h"

#include <string.h>

const why_relation_list* why_shown_relations(const why_picked* answer, const char* part) {
  static const why_relation_list NONE = {0};
  const why_ground* ground = answer->question->ground;
  for (size_t i = 0; i < ground->shown.count; i++)
    if (strcmp(ground->shown.at[i].part, part) == 0)
      return &ground->shown.at[i].relations;
  return &NONE;
}

why_facts why_shown_about(const why_picked* answer, why_relation relation, why_symbol exercise) {
  const why_program* program = answer->question->ground->program;
  int slot = relation == WHY_NO_RELATION ? -1 : why_program_slot(program, relation, "exercise");
  if (slot < 0)
    return (why_facts){0};
  why_value values[WHY_SLOTS_LIMIT] = {0};
  values[slot] = why_value_of_symbol(exercise);
  return why_facts_find(answer->overlay, relation, 1u << slot, values);
}
