// SPDX-License-Identifier: GPL-3.0-or-later
// Where an exercise stands among the picks, and what decides: the first slot of the order in which
// it differs from one before it.
#include "absence.h"

#include "sentence.h"
#include "shown.h"

#include <string.h>

enum { ABOVE_SHOWN = 5 };

/// The exercise of a fact of "pick".
static why_symbol exercise_of(const why_program* program, const why_overlay* overlay,
                              why_fact fact) {
  return why_fact_symbol(overlay, fact, why_program_slot(program, fact.relation, "exercise"));
}

size_t why_pick_place(const why_ground* ground, why_overlay* overlay, why_symbol exercise) {
  why_relation relation = why_program_find(ground->program, "pick");
  if (relation == WHY_NO_RELATION || why_program_slot(ground->program, relation, "exercise") < 0)
    return 0;
  why_facts facts = why_facts_find(overlay, relation, 0, NULL);
  for (size_t i = 0; i < facts.count; i++)
    if (exercise_of(ground->program, overlay, facts.at[i]) == exercise)
      return i + 1;
  return 0;
}

/// The slot that puts one pick before another; -1 when only their names do.
static int deciding_slot(const why_picked* answer, why_fact first, why_fact second) {
  const why_program* program = answer->question->ground->program;
  bool most = false;
  for (size_t i = 0; why_program_order(program, first.relation, i, &most) >= 0; i++) {
    int slot = why_program_order(program, first.relation, i, &most);
    if (why_fact_values(answer->overlay, first)[slot].bits !=
        why_fact_values(answer->overlay, second)[slot].bits)
      return slot;
  }
  return -1;
}

/// The relation whose sentences tell what stands behind a slot of the order.
static why_relation relation_behind(const why_picked* answer, why_symbol slot) {
  const why_ground* ground = answer->question->ground;
  why_relation rests = why_program_find(ground->program, "order-rests-on");
  if (rests == WHY_NO_RELATION)
    return rests;
  why_facts facts = why_facts_find(answer->overlay, rests, 0, NULL);
  const char* wanted = why_symbols_text(ground->symbols, slot);
  for (size_t i = 0; i < facts.count; i++) {
    const char* name =
        why_symbols_text(ground->symbols, why_fact_symbol(answer->overlay, facts.at[i], 0));
    if (strcmp(name, wanted) == 0)
      return why_program_find(
          ground->program,
          why_symbols_text(ground->symbols, why_fact_symbol(answer->overlay, facts.at[i], 1)));
  }
  return WHY_NO_RELATION;
}

/// " First sentence of the relation about the exercise." or "".
static const char* sentence_about(const why_picked* answer, why_relation relation,
                                  why_symbol exercise) {
  why_facts facts = why_shown_about(answer, relation, exercise);
  const why_proof* proof = facts.count ? why_proof_best(answer->overlay, facts.at[0]) : NULL;
  const char* say = proof ? why_sentence_of(answer, &proof->step) : "";
  return *say ? why_arena_print(answer->arena, " %s", say) : "";
}

static const char* value_words(const why_picked* answer, why_fact fact, int slot) {
  const why_ground* ground = answer->question->ground;
  const why_slot* info = &why_program_relation(ground->program, fact.relation)->slots[slot];
  double number = why_fact_number(answer->overlay, fact, slot);
  if (info->type == WHY_SLOT_LEVEL)
    return why_ground_name(ground, answer->arena, "level",
                           why_slot_level(ground->program, info, number));
  return why_arena_print(answer->arena, "%.4g", number);
}

/// "seated leg curl comes before it by step: 0 against 1. ...".
static const char* above_words(const why_picked* answer, why_fact above, why_fact own) {
  const why_ground* ground = answer->question->ground;
  why_symbol exercise = exercise_of(ground->program, answer->overlay, above);
  const char* name = why_ground_name(ground, answer->arena, "exercise",
                                     why_symbols_text(ground->symbols, exercise));
  int slot = deciding_slot(answer, above, own);
  if (slot < 0)
    return why_arena_print(answer->arena, "%s is as good, and comes before it by name.", name);
  const why_relation_info* info = why_program_relation(ground->program, above.relation);
  why_relation behind = relation_behind(answer, info->slots[slot].name);
  return why_arena_print(
      answer->arena, "%s comes before it by %s, %s against %s.%s%s", name,
      why_symbols_text(ground->symbols, info->slots[slot].name), value_words(answer, above, slot),
      value_words(answer, own, slot), sentence_about(answer, behind, exercise),
      sentence_about(answer, behind, exercise_of(ground->program, answer->overlay, own)));
}

static void find_above(const why_picked* answer, why_absence* absence) {
  why_relation relation = why_program_find(answer->question->ground->program, "pick");
  why_facts facts = why_facts_find(answer->overlay, relation, 0, NULL);
  why_fact own = facts.at[absence->number - 1];
  for (size_t i = 0; i + 1 < absence->number && i < ABOVE_SHOWN; i++)
    *WHY_LIST_ADD(answer->arena, absence->above) = above_words(answer, facts.at[i], own);
}

const why_absence* why_absence_find(const why_picked* answer) {
  why_symbol exercise = answer->question->exercise;
  why_absence* made = WHY_NEW(answer->arena, why_absence);
  made->number = why_pick_place(answer->question->ground, answer->overlay, exercise);
  if (made->number) {
    find_above(answer, made);
    return made;
  }
  made->failed = why_absence_failed(answer, answer->overlay, exercise);
  why_absence_ways(answer, exercise, made);
  return made;
}
