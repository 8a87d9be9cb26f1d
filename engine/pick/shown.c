// SPDX-License-Identifier: GPL-3.0-or-later
// Reading facts by part of the answer and by exercise: the one way for sentences, chains and rows.
#include "shown.h"

#include <string.h>

why_relation_list why_shown_relations(const why_picked* answer, const char* part) {
  const why_ground* ground = answer->question->ground;
  why_relation_list relations = {0};
  why_relation shows = why_program_find(ground->program, "shows");
  if (shows == WHY_NO_RELATION)
    return relations;
  why_facts facts = why_facts_find(answer->overlay, shows, 0, NULL);
  for (size_t i = 0; i < facts.count; i++) {
    why_symbol of = why_fact_symbol(answer->overlay, facts.at[i], 0);
    why_symbol name = why_fact_symbol(answer->overlay, facts.at[i], 1);
    why_relation relation =
        why_program_find(ground->program, why_symbols_text(ground->symbols, name));
    if (strcmp(why_symbols_text(ground->symbols, of), part) == 0 && relation != WHY_NO_RELATION)
      *WHY_LIST_ADD(answer->arena, relations) = relation;
  }
  return relations;
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
