// SPDX-License-Identifier: GPL-3.0-or-later
// Compiling a program: declarations, rules, strata, plans, in this order; and looking it up.
#include "program.h"

#include <string.h>

size_t why_program_relation_count(const why_program* program) {
  return program->relation_count;
}

const why_relation_info* why_program_relation(const why_program* program, why_relation relation) {
  return &program->relations[relation].info;
}

why_relation why_program_find(const why_program* program, const char* name) {
  size_t low = 0;
  size_t high = program->relation_count;
  while (low < high) {
    size_t middle = (low + high) / 2;
    int order =
        strcmp(why_symbols_text(program->symbols, program->relations[middle].info.name), name);
    if (order == 0)
      return (why_relation)middle;
    if (order < 0)
      low = middle + 1;
    else
      high = middle;
  }
  return WHY_NO_RELATION;
}

int why_program_slot(const why_program* program, why_relation relation, const char* name) {
  const why_relation_info* info = &program->relations[relation].info;
  for (unsigned i = 0; i < info->slot_count; i++)
    if (strcmp(why_symbols_text(program->symbols, info->slots[i].name), name) == 0)
      return (int)i;
  return -1;
}

size_t why_program_rule_count(const why_program* program, why_relation relation) {
  return program->relations[relation].rules.count;
}

int why_program_order(const why_program* program, why_relation relation, size_t place, bool* most) {
  const why_relation_inner* inner = &program->relations[relation];
  if (place >= inner->order_count)
    return -1;
  *most = inner->order[place].first == WHY_PREFER_MOST;
  return (int)inner->order[place].slot;
}

int why_program_level(const why_program* program, const char* kind, const char* level) {
  for (size_t i = 0; i < program->reasoning->levels.count; i++) {
    const why_level_set* set = &program->reasoning->levels.at[i];
    if (strcmp(why_symbols_text(program->symbols, set->name), kind) != 0)
      continue;
    for (size_t k = 0; k < set->levels.count; k++)
      if (strcmp(why_symbols_text(program->symbols, set->levels.at[k].name), level) == 0)
        return (int)k;
  }
  return -1;
}

const char* why_slot_level(const why_program* program, const why_slot* slot, double rank) {
  if (!slot->levels || !(rank >= 0) || rank >= (double)slot->levels->levels.count)
    return "";
  return why_symbols_text(program->symbols, slot->levels->levels.at[(size_t)rank].name);
}

static bool has_kind(const why_program* program, const why_relation_info* info, const char* kind) {
  for (unsigned i = 0; i < info->slot_count; i++)
    if (strcmp(why_symbols_text(program->symbols, info->slots[i].kind), kind) == 0)
      return true;
  return false;
}

const bool* why_program_leading_to(const why_program* program, const char* kind, why_arena* arena) {
  bool* leads = WHY_NEW_ARRAY(arena, bool, program->relation_count + 1);
  for (size_t i = 0; i < program->relation_count; i++)
    leads[i] = has_kind(program, &program->relations[i].info, kind);
  for (bool changed = true; changed;) {
    changed = false;
    for (size_t i = 0; i < program->rules.count; i++) {
      const why_rule* rule = &program->rules.at[i];
      bool known = leads[rule->head.relation];
      for (unsigned p = 0; p < rule->premise_count && !leads[rule->head.relation]; p++)
        leads[rule->head.relation] = leads[rule->premises[p]->atom.relation];
      changed = changed || leads[rule->head.relation] != known;
    }
  }
  return leads;
}

/// Two rules of one name would make explanations ambiguous.
static void check_ids(why_compiler* compiler) {
  const why_reasoning* reasoning = compiler->reasoning;
  for (size_t i = 0; i < reasoning->rules.count; i++) {
    for (size_t k = 0; k < i; k++) {
      if (reasoning->rules.at[i].id != reasoning->rules.at[k].id)
        continue;
      why_problems_add(compiler->problems, WHY_ERROR, "twice", reasoning->rules.at[i].place,
                       "rule %s is defined twice",
                       why_symbols_text(compiler->symbols, reasoning->rules.at[i].id));
      why_problems_also(compiler->problems, reasoning->rules.at[k].place);
      break;
    }
  }
}

static void compile_rules(why_compiler* compiler) {
  const why_reasoning* reasoning = compiler->reasoning;
  if (reasoning->rules.count > WHY_RULES_LIMIT) {
    why_problems_add(compiler->problems, WHY_ERROR, "limit",
                     reasoning->rules.at[WHY_RULES_LIMIT].place, "there are more than %d rules",
                     WHY_RULES_LIMIT);
    return;
  }
  check_ids(compiler);
  for (size_t i = 0; i < reasoning->rules.count; i++)
    why_rule_compile(compiler, &reasoning->rules.at[i]);
}

/// Plans for what a base evaluates; those of questions wait until sizes are known (settle.c).
static void plan_base(why_program* program, why_arena* arena) {
  program->plans = WHY_NEW_ARRAY(arena, why_rule_plans, program->rules.count + 1);
  why_masks* masks = WHY_NEW_ARRAY(arena, why_masks, program->relation_count + 1);
  for (size_t i = 0; i < program->relation_count; i++)
    masks[i] = program->relations[i].indexes;
  const why_planning planning = {.arena = arena, .program = program, .masks = masks};
  for (size_t i = 0; i < program->rules.count; i++)
    if (!program->rules.at[i].in_overlay)
      why_rule_plan(&planning, &program->rules.at[i], &program->plans[i]);
  for (size_t i = 0; i < program->relation_count; i++)
    program->relations[i].indexes = masks[i];
}

why_status why_program_compile(const why_reasoning* reasoning, why_symbols* symbols,
                               why_arena* arena, why_problems* problems,
                               const why_program** program) {
  why_program* made = WHY_NEW(arena, why_program);
  made->reasoning = reasoning;
  made->symbols = symbols;
  why_compiler compiler = {.reasoning = reasoning,
                           .symbols = symbols,
                           .arena = arena,
                           .problems = problems,
                           .program = made};
  size_t before = why_problems_count_from(problems, WHY_ERROR);
  why_declare(&compiler);
  compile_rules(&compiler);
  if (why_problems_count_from(problems, WHY_ERROR) == before)
    why_strata_find(&compiler);
  if (why_problems_count_from(problems, WHY_ERROR) != before)
    return WHY_KNOWLEDGE;
  plan_base(made, arena);
  *program = made;
  return WHY_OK;
}
