// SPDX-License-Identifier: GPL-3.0-or-later
// The order in which the conditions of a rule are met: what only filters comes as soon as it can,
// then the relation of which most is known. Indexes are settled here, once.
#include "program.h"

unsigned why_relation_index(why_arena* arena, why_relation_inner* relation, uint32_t mask) {
  for (size_t i = 0; i < relation->indexes.count; i++)
    if (relation->indexes.at[i] == mask)
      return (unsigned)i;
  *WHY_LIST_ADD(arena, relation->indexes) = mask;
  return (unsigned)relation->indexes.count - 1;
}

/// A plan while it is being made.
typedef struct {
  why_compiler* compiler;
  const why_rule* rule;
  const why_condition* conditions;
  size_t count;
  const why_condition* delta; ///< The condition that sees only what the last round brought.
  bool recursive;             ///< Ranges matter.
  uint64_t bound;
  uint64_t done;
  WHY_LIST(why_step) steps;
} planner;

static why_plan* make_plan(planner* plan);

static bool in_recursion(const planner* plan, const why_condition* condition) {
  const why_relation_inner* relations = plan->compiler->program->relations;
  return relations[condition->atom.relation].stratum ==
         relations[plan->rule->head.relation].stratum;
}

/// In a round, premises before the delta see what was known before it, later ones see all of it.
static why_range range_of(const planner* plan, const why_condition* condition) {
  if (!plan->recursive || condition->kind != WHY_IF || !in_recursion(plan, condition))
    return WHY_ALL;
  if (condition == plan->delta)
    return WHY_DELTA;
  return condition->premise < plan->delta->premise ? WHY_OLD : WHY_NOW;
}

static bool is_bound(const planner* plan, uint32_t variable) {
  return (plan->bound & why_bit(variable)) != 0;
}

static void add_slot(planner* plan, why_slot_variable** list, size_t* count, unsigned slot,
                     uint32_t variable) {
  if (!*list)
    *list = WHY_NEW_ARRAY(plan->compiler->arena, why_slot_variable, WHY_SLOTS_LIMIT);
  (*list)[(*count)++] = (why_slot_variable){slot, variable};
}

/// A slot with a variable: known beforehand, bound here, or compared with an earlier slot.
static void place_variable(planner* plan, why_step* step, unsigned slot, uint32_t variable,
                           uint64_t* here) {
  bool otherwise = (step->condition->else_mask >> slot & 1) != 0;
  if (is_bound(plan, variable) && !otherwise) {
    step->mask |= UINT32_C(1) << slot;
  } else if (is_bound(plan, variable) || (*here & why_bit(variable))) {
    add_slot(plan, &step->checks, &step->check_count, slot, variable);
  } else {
    add_slot(plan, &step->binds, &step->bind_count, slot, variable);
    *here |= why_bit(variable);
  }
}

static void plan_scan(planner* plan, why_step* step) {
  const why_atom* atom = &step->condition->atom;
  why_relation_inner* relation = &plan->compiler->program->relations[atom->relation];
  uint64_t here = 0;
  for (unsigned i = 0; i < relation->info.slot_count; i++) {
    if (atom->terms[i].kind == WHY_TERM_VALUE)
      step->mask |= UINT32_C(1) << i;
    if (atom->terms[i].kind == WHY_TERM_VARIABLE)
      place_variable(plan, step, i, atom->terms[i].variable, &here);
  }
  step->range = range_of(plan, step->condition);
  if (step->mask)
    step->index = why_relation_index(plan->compiler->arena, relation, step->mask);
}

static void plan_group(planner* plan, why_step* step) {
  const why_aggregate* group = step->condition->group;
  planner inner = {.compiler = plan->compiler,
                   .rule = plan->rule,
                   .conditions = group->inside,
                   .count = group->inside_count};
  for (size_t i = 0; i < group->by_count; i++)
    if (is_bound(plan, group->by[i]))
      inner.bound |= why_bit(group->by[i]);
  step->bound = plan->bound;
  step->inside = make_plan(&inner);
}

static why_step_kind step_kind(why_condition_kind kind) {
  switch (kind) {
  case WHY_IF:
    return WHY_STEP_SCAN;
  case WHY_UNLESS:
    return WHY_STEP_ABSENT;
  case WHY_WHERE:
    return WHY_STEP_WHERE;
  case WHY_LET:
    return WHY_STEP_LET;
  case WHY_MATCHES:
    return WHY_STEP_MATCHES;
  default:
    return WHY_STEP_GROUP;
  }
}

static void add_step(planner* plan, size_t number) {
  const why_condition* condition = &plan->conditions[number];
  why_step step = {.kind = step_kind(condition->kind), .condition = condition};
  if (step.kind == WHY_STEP_SCAN || step.kind == WHY_STEP_ABSENT)
    plan_scan(plan, &step);
  if (step.kind == WHY_STEP_GROUP)
    plan_group(plan, &step);
  if (step.kind == WHY_STEP_LET)
    step.checks_result = is_bound(plan, condition->variable);
  plan->bound |= why_condition_flow(plan->compiler->program, condition, plan->bound).gives;
  plan->done |= why_bit((uint32_t)number);
  *WHY_LIST_ADD(plan->compiler->arena, plan->steps) = step;
}

static int count_known(const planner* plan, const why_atom* atom) {
  const why_program* program = plan->compiler->program;
  int known = 0;
  for (unsigned i = 0; i < program->relations[atom->relation].info.slot_count; i++)
    known += atom->terms[i].kind == WHY_TERM_VALUE ||
             (atom->terms[i].kind == WHY_TERM_VARIABLE && is_bound(plan, atom->terms[i].variable));
  return known;
}

/// How much a condition is worth taking next: filters before all, then totals over everything
/// (evaluated once), then scans by what is known, then totals for each binding.
static int worth(const planner* plan, const why_condition* condition) {
  switch (condition->kind) {
  case WHY_IF:
    return 100 + 4 * count_known(plan, &condition->atom) + (condition == plan->delta ? 500 : 0);
  case WHY_UNLESS:
  case WHY_WHERE:
  case WHY_LET:
  case WHY_MATCHES:
    return 1000;
  default:
    return condition->group->by_count == 0 && plan->steps.count == 0 ? 400 : 50;
  }
}

static int find_next(const planner* plan) {
  int best = -1;
  int best_worth = -1;
  for (size_t i = 0; i < plan->count; i++) {
    if (plan->done & why_bit((uint32_t)i))
      continue;
    why_flow flow = why_condition_flow(plan->compiler->program, &plan->conditions[i], plan->bound);
    if (flow.needs & ~plan->bound)
      continue;
    int each = worth(plan, &plan->conditions[i]);
    if (each > best_worth) {
      best = (int)i;
      best_worth = each;
    }
  }
  return best;
}

static why_plan* make_plan(planner* plan) {
  for (int next = find_next(plan); next >= 0; next = find_next(plan))
    add_step(plan, (size_t)next);
  *WHY_LIST_ADD(plan->compiler->arena, plan->steps) = (why_step){.kind = WHY_STEP_END};
  why_plan* made = WHY_NEW(plan->compiler->arena, why_plan);
  *made = (why_plan){.steps = plan->steps.at, .count = plan->steps.count};
  return made;
}

/// A plan for the inside of an aggregate when its group is known.
static void plan_again(why_compiler* compiler, const why_rule* rule, why_aggregate* group) {
  planner again = {.compiler = compiler,
                   .rule = rule,
                   .conditions = group->inside,
                   .count = group->inside_count};
  for (size_t i = 0; i < group->by_count; i++)
    again.bound |= why_bit(group->by[i]);
  group->again = make_plan(&again);
}

void why_rule_plan(why_compiler* compiler, why_rule* rule) {
  planner all = {.compiler = compiler,
                 .rule = rule,
                 .conditions = rule->conditions,
                 .count = rule->condition_count};
  rule->first = make_plan(&all);
  for (size_t i = 0; i < rule->condition_count; i++)
    if (rule->conditions[i].group && !rule->conditions[i].group->again)
      plan_again(compiler, rule, rule->conditions[i].group);
  rule->deltas = WHY_NEW_ARRAY(compiler->arena, const why_plan*, rule->outer_premise_count + 1);
  for (unsigned p = 0; p < rule->outer_premise_count; p++) {
    planner delta = {.compiler = compiler,
                     .rule = rule,
                     .conditions = rule->conditions,
                     .count = rule->condition_count,
                     .delta = rule->premises[p],
                     .recursive = true};
    if (in_recursion(&delta, rule->premises[p]))
      rule->deltas[rule->delta_count++] = make_plan(&delta);
  }
}
