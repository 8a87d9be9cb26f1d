// SPDX-License-Identifier: GPL-3.0-or-later
// The order in which the conditions of a rule are met: what only filters comes as soon as it can,
// then the relation of which most is known, or, once sizes are known, that with the fewest rows for
// each binding so far. Indexes are settled here, once.
#include "program.h"

#include <float.h>
#include <math.h>

unsigned why_masks_number(why_arena* arena, why_masks* masks, uint32_t mask) {
  for (size_t i = 0; i < masks->count; i++)
    if (masks->at[i] == mask)
      return (unsigned)i;
  *WHY_LIST_ADD(arena, *masks) = mask;
  return (unsigned)masks->count - 1;
}

/// A plan while it is being made.
typedef struct {
  const why_planning* with;
  const why_rule* rule;
  const why_condition* conditions;
  size_t count;
  const why_condition* delta; ///< The condition that sees only what the last round brought.
  const why_condition* lead;  ///< Taken as the first of those that make bindings; NULL: the best.
  bool recursive;             ///< Ranges matter.
  bool dry;                   ///< Only the size is wanted: no steps, no indexes.
  uint64_t bound;
  uint64_t done;
  double size; ///< Bindings expected so far,
  double work; ///< and rows looked at for them.
  WHY_LIST(why_step) steps;
} planner;

static why_plan* make_plan(planner* plan);

static bool in_recursion(const why_program* program, const why_rule* rule,
                         const why_condition* condition) {
  return program->relations[condition->atom.relation].stratum ==
         program->relations[rule->head.relation].stratum;
}

/// In a round, premises before the delta see what was known before it, later ones see all of it.
static why_range range_of(const planner* plan, const why_condition* condition) {
  if (!plan->recursive || condition->kind != WHY_IF ||
      !in_recursion(plan->with->program, plan->rule, condition))
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
    *list = WHY_NEW_ARRAY(plan->with->arena, why_slot_variable, WHY_SLOTS_LIMIT);
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
  unsigned slot_count = plan->with->program->relations[atom->relation].info.slot_count;
  uint64_t here = 0;
  for (unsigned i = 0; i < slot_count; i++) {
    if (atom->terms[i].kind == WHY_TERM_VALUE)
      step->mask |= UINT32_C(1) << i;
    if (atom->terms[i].kind == WHY_TERM_VARIABLE)
      place_variable(plan, step, i, atom->terms[i].variable, &here);
  }
  step->range = range_of(plan, step->condition);
  if (step->mask)
    step->index =
        why_masks_number(plan->with->arena, &plan->with->masks[atom->relation], step->mask);
}

/// The inside of an aggregate, to be planned; groups that are known beforehand are bound in it.
static planner inside_of(const planner* plan, const why_aggregate* group) {
  planner inner = {.with = plan->with,
                   .rule = plan->rule,
                   .conditions = group->inside,
                   .count = group->inside_count};
  for (size_t i = 0; i < group->by_count; i++)
    if (is_bound(plan, group->by[i]))
      inner.bound |= why_bit(group->by[i]);
  return inner;
}

static void plan_group(planner* plan, why_step* step) {
  planner inner = inside_of(plan, step->condition->group);
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

static void add_step(planner* plan, const why_condition* condition) {
  why_step step = {.kind = step_kind(condition->kind), .condition = condition};
  if (step.kind == WHY_STEP_SCAN || step.kind == WHY_STEP_ABSENT)
    plan_scan(plan, &step);
  if (step.kind == WHY_STEP_GROUP)
    plan_group(plan, &step);
  if (step.kind == WHY_STEP_LET)
    step.checks_result = is_bound(plan, condition->variable);
  step.before = plan->size;
  *WHY_LIST_ADD(plan->with->arena, plan->steps) = step;
}

// ---- which comes next ----

static bool is_known(const why_atom* atom, unsigned slot, uint64_t bound) {
  const why_term* term = &atom->terms[slot];
  return term->kind == WHY_TERM_VALUE ||
         (term->kind == WHY_TERM_VARIABLE && (bound & why_bit(term->variable)));
}

/// Without sizes, how much a condition is worth taking next: filters before all, then totals over
/// everything (evaluated once), then scans by what is known, then totals for each binding.
static double worth(const planner* plan, const why_condition* condition) {
  const why_atom* atom = &condition->atom;
  int known = 0;
  switch (condition->kind) {
  case WHY_IF:
    for (unsigned i = 0; i < plan->with->program->relations[atom->relation].info.slot_count; i++)
      known += is_known(atom, i, plan->bound);
    return 100 + 4 * known + (condition == plan->delta ? 500 : 0);
  case WHY_UNLESS:
  case WHY_WHERE:
  case WHY_LET:
  case WHY_MATCHES:
    return 1000;
  default:
    return condition->group->by_count == 0 && plan->done == 0 ? 400 : 50;
  }
}

/// No count of rows is sure; this keeps products of doubts from vanishing.
#define LEAST_FAN 0.01
/// The effort of a total over everything, or of a fact that no binding changes (a setting, a goal):
/// after filters, before all that makes bindings.
#define ONCE (LEAST_FAN / 2)
/// Of what a filter lets through nothing is known.
#define FILTERED 0.5
/// An absence lets through those for which no row is expected, and some.
#define FILTERED_LEAST 0.1

double why_condition_fan(const why_planning* planning, const why_condition* condition,
                         uint64_t bound) {
  const why_atom* atom = &condition->atom;
  const why_expected_rows* estimate = &planning->expected[atom->relation];
  bool counted = !isnan(planning->fitting[condition->number]);
  double fan = counted ? planning->fitting[condition->number] : estimate->rows;
  for (unsigned i = 0; i < planning->program->relations[atom->relation].info.slot_count; i++)
    if (is_known(atom, i, bound) && !(condition->else_mask >> i & 1) &&
        !(counted && atom->terms[i].kind == WHY_TERM_VALUE) && estimate->different[i] > 1)
      fan /= estimate->different[i];
  if (condition->else_mask && fan < 1)
    return 1;
  return fan < LEAST_FAN ? LEAST_FAN : fan;
}

/// What the inside of an aggregate comes to for one binding.
static const why_plan* try_inside(const planner* plan, const why_aggregate* group) {
  planner inner = inside_of(plan, group);
  inner.dry = true;
  return make_plan(&inner);
}

/// Whether what is found for an atom depends on the bindings so far.
static bool is_bound_to(const planner* plan, const why_atom* atom) {
  unsigned slot_count = plan->with->program->relations[atom->relation].info.slot_count;
  return (why_atom_variables(atom, slot_count) & plan->bound) != 0;
}

/// What a condition makes of one binding: how many bindings go on, and the rows looked at for it.
typedef struct {
  double fan;
  double effort;
} cost;

static cost cost_of(const planner* plan, const why_condition* condition) {
  double fan = FILTERED;
  switch (condition->kind) {
  case WHY_IF:
    fan = why_condition_fan(plan->with, condition, plan->bound);
    if (condition == plan->delta)
      return (cost){fan, -1};
    return (cost){fan, fan <= 1 && !is_bound_to(plan, &condition->atom) ? ONCE : fan};
  case WHY_UNLESS:
    return (cost){fmax(FILTERED_LEAST, 1 - why_condition_fan(plan->with, condition, plan->bound)),
                  0};
  case WHY_WHERE:
  case WHY_MATCHES:
    return (cost){FILTERED, 0};
  case WHY_LET:
    return (cost){is_bound(plan, condition->variable) ? FILTERED : 1, 0};
  default:
    break;
  }
  if (condition->group->by_count == 0)
    return (cost){1, ONCE}; // later it would be evaluated again for every binding
  const why_plan* inside = try_inside(plan, condition->group);
  bool one = true; // group, at most
  for (size_t i = 0; i < condition->group->by_count; i++)
    one = one && is_bound(plan, condition->group->by[i]);
  return (cost){one ? 1 : inside->size, inside->work + 1};
}

/// The ready condition that is best taken next; -1 when there is none.
static int find_next(const planner* plan) {
  int best = -1;
  double best_worth = 0;
  for (size_t i = 0; i < plan->count; i++) {
    if (plan->done & why_bit((uint32_t)i))
      continue;
    const why_condition* each = &plan->conditions[i];
    if (why_condition_flow(plan->with->program, each, plan->bound).needs & ~plan->bound)
      continue;
    double how = plan->with->expected ? -cost_of(plan, each).effort : worth(plan, each);
    if (each == plan->lead)
      how = -ONCE - DBL_EPSILON;
    if (best < 0 || how > best_worth) {
      best = (int)i;
      best_worth = how;
    }
  }
  return best;
}

/// Work to keep a conclusion, in rows.
enum { CONCLUDING = 3 };

static why_plan* finish_plan(planner* plan) {
  plan->size = 1;
  for (int next = find_next(plan); next >= 0; next = find_next(plan)) {
    const why_condition* condition = &plan->conditions[next];
    if (!plan->dry)
      add_step(plan, condition);
    if (plan->with->expected) {
      const cost of = cost_of(plan, condition);
      plan->work += plan->size * fmax(of.effort, 1);
      plan->size *= of.fan;
    }
    plan->bound |= why_condition_flow(plan->with->program, condition, plan->bound).gives;
    plan->done |= why_bit((uint32_t)next);
  }
  why_plan* made = WHY_NEW(plan->with->arena, why_plan);
  if (!plan->dry)
    *WHY_LIST_ADD(plan->with->arena, plan->steps) = (why_step){.kind = WHY_STEP_END};
  *made = (why_plan){.steps = plan->steps.at,
                     .count = plan->steps.count,
                     .size = plan->size,
                     .work = plan->work + CONCLUDING * plan->size};
  return made;
}

/// With which condition to begin, so that all others together are least work: what looks best at
/// first can make the rest worse.
static const why_condition* find_lead(const planner* plan) {
  const why_condition* best = NULL;
  double least = INFINITY;
  for (size_t i = 0; i < plan->count; i++) {
    planner tried = *plan;
    tried.dry = true;
    tried.lead = &plan->conditions[i];
    if (tried.lead->kind != WHY_IF && !tried.lead->group)
      continue;
    double work = finish_plan(&tried)->work;
    if (work < least) {
      best = tried.lead;
      least = work;
    }
  }
  return best;
}

static why_plan* make_plan(planner* plan) {
  if (plan->with->expected && !plan->dry)
    plan->lead = find_lead(plan);
  return finish_plan(plan);
}

// ---- the plans of a rule ----

const why_plan* why_rule_plan_bound(const why_planning* planning, const why_rule* rule,
                                    uint64_t bound) {
  planner all = {.with = planning,
                 .rule = rule,
                 .conditions = rule->conditions,
                 .count = rule->condition_count,
                 .bound = bound};
  return make_plan(&all);
}

double why_rule_size(const why_planning* planning, const why_rule* rule) {
  planner all = {.with = planning,
                 .rule = rule,
                 .conditions = rule->conditions,
                 .count = rule->condition_count,
                 .dry = true};
  return make_plan(&all)->size;
}

/// A plan for the inside of an aggregate when its group is known.
static const why_plan* plan_again(const why_planning* planning, const why_rule* rule,
                                  const why_aggregate* group) {
  planner again = {
      .with = planning, .rule = rule, .conditions = group->inside, .count = group->inside_count};
  for (size_t i = 0; i < group->by_count; i++)
    again.bound |= why_bit(group->by[i]);
  return make_plan(&again);
}

void why_rule_plan(const why_planning* planning, const why_rule* rule, why_rule_plans* plans) {
  why_arena* arena = planning->arena;
  *plans = (why_rule_plans){.first = why_rule_plan_bound(planning, rule, 0)};
  plans->again = WHY_NEW_ARRAY(arena, const why_plan*, rule->group_count + 1);
  for (size_t i = 0; i < rule->condition_count; i++) {
    const why_aggregate* group = rule->conditions[i].group;
    if (group)
      plans->again[group->number] = plan_again(planning, rule, group);
  }
  plans->deltas = WHY_NEW_ARRAY(arena, const why_plan*, rule->outer_premise_count + 1);
  for (unsigned p = 0; p < rule->outer_premise_count; p++) {
    planner delta = {.with = planning,
                     .rule = rule,
                     .conditions = rule->conditions,
                     .count = rule->condition_count,
                     .delta = rule->premises[p],
                     .recursive = true};
    if (in_recursion(planning->program, rule, rule->premises[p]))
      plans->deltas[plans->delta_count++] = make_plan(&delta);
  }
}
