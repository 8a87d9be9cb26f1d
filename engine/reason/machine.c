// SPDX-License-Identifier: GPL-3.0-or-later
// Running a plan: one step after the other, each for every way in which it can be met.
#include "store.h"

#include "value.h"

#include <string.h>

static void run_from(why_machine* machine, const why_plan* plan, size_t number);

why_machine* why_machine_new(why_store* store, const why_rule* rule) {
  why_machine* made = store->idle;
  if (made)
    store->idle = made->next;
  else
    made = WHY_NEW(store->work, why_machine);
  made->store = store;
  made->rule = rule;
  made->rows.count = 0;
  made->pending = 0;
  made->silent = false;
  made->failed = store->failed;
  return made;
}

void why_machine_free(why_machine* machine) {
  machine->next = machine->store->idle;
  machine->store->idle = machine;
}

void why_machine_stop(why_machine* machine, const char* what) {
  why_store* store = machine->store;
  if (!machine->failed && store->problems && !machine->silent)
    why_problems_add(store->problems, WHY_ERROR, "limit", machine->rule->info.place,
                     "rule %s: evaluation was stopped after too many %s",
                     why_symbols_text(store->symbols, machine->rule->info.id), what);
  machine->failed = true;
  store->failed = true;
}

/// The rows that a step may see.
static void find_range(const why_tuples* tuples, why_range range, uint32_t* low, uint32_t* high) {
  *low = range == WHY_DELTA ? tuples->old : 0;
  *high = range == WHY_OLD ? tuples->old : range == WHY_ALL ? tuples->count : tuples->end;
}

/// What is looked for: constants and known variables in the slots of the step's mask, and nothing
/// in the others.
static void find_key(const why_machine* machine, const why_step* step, why_value* key) {
  const why_term* terms = step->condition->atom.terms;
  for (uint32_t mask = step->mask; mask; mask &= mask - 1) {
    unsigned i = why_slot_first(mask);
    key[i] =
        terms[i].kind == WHY_TERM_VALUE ? terms[i].value : machine->variables[terms[i].variable];
  }
}

/// The relation of a step, with the rows that the step can ask for.
static why_tuples* look_at(why_machine* machine, const why_step* step, const why_value* key) {
  why_relation relation = step->condition->atom.relation;
  why_tuples* tuples = why_store_tuples(machine->store, relation);
  if (!tuples->complete) {
    why_store_demand(machine->store, relation, step->mask, key);
    machine->failed = machine->failed || machine->store->failed;
  }
  return tuples;
}

/// Bind the variables of a row; false when a slot that must equal a variable does not.
static bool take_row(why_machine* machine, const why_step* step, const why_value* row) {
  for (size_t i = 0; i < step->bind_count; i++)
    machine->variables[step->binds[i].variable] = row[step->binds[i].slot];
  for (size_t i = 0; i < step->check_count; i++)
    if (machine->variables[step->checks[i].variable].bits != row[step->checks[i].slot].bits)
      return false;
  return true;
}

static void meet_row(why_machine* machine, const why_plan* plan, size_t number, uint32_t row,
                     const why_value* values) {
  const why_step* step = &plan->steps[number];
  if (++machine->store->steps > machine->store->limits.steps) {
    why_machine_stop(machine, "steps");
    return;
  }
  if (!take_row(machine, step, values))
    return;
  machine->premises[step->condition->premise] = row;
  run_from(machine, plan, number + 1);
}

/// No row fits: the else- values stand in.
static void meet_else(why_machine* machine, const why_plan* plan, size_t number) {
  const why_step* step = &plan->steps[number];
  if (!take_row(machine, step, step->condition->else_values))
    return;
  machine->premises[step->condition->premise] = WHY_NO_ROW;
  run_from(machine, plan, number + 1);
}

static void scan_all(why_machine* machine, const why_plan* plan, size_t number, why_tuples* tuples,
                     const why_value* key, bool* any) {
  const why_step* step = &plan->steps[number];
  uint32_t low = 0;
  uint32_t high = 0;
  find_range(tuples, step->range, &low, &high);
  for (uint32_t row = low; row < high && !machine->failed; row++) {
    const why_value* values = why_tuples_row(tuples, row);
    if (why_tuples_hides(tuples, row) || !why_index_same(step->mask, values, key))
      continue;
    *any = true;
    meet_row(machine, plan, number, row, values);
  }
}

static void scan_index(why_machine* machine, const why_plan* plan, size_t number,
                       why_tuples* tuples, const why_value* key, bool* any) {
  const why_step* step = &plan->steps[number];
  uint32_t low = 0;
  uint32_t high = 0;
  find_range(tuples, step->range, &low, &high);
  why_index_reader at = why_tuples_first(tuples, machine->store->arena, step->index, key);
  for (; at.row < high && !machine->failed; why_index_next(&tuples->indexes[step->index], &at)) {
    if (at.row < low || why_tuples_hides(tuples, at.row))
      continue;
    *any = true;
    meet_row(machine, plan, number, at.row, why_tuples_row(tuples, at.row));
  }
}

static void run_scan(why_machine* machine, const why_plan* plan, size_t number) {
  const why_step* step = &plan->steps[number];
  why_value key[WHY_SLOTS_LIMIT];
  bool any = false;
  find_key(machine, step, key);
  why_tuples* tuples = look_at(machine, step, key);
  if (step->range == WHY_DELTA || !step->mask)
    scan_all(machine, plan, number, tuples, key, &any);
  else
    scan_index(machine, plan, number, tuples, key, &any);
  if (!any && step->condition->else_mask && !machine->failed)
    meet_else(machine, plan, number);
}

static bool is_absent(why_machine* machine, const why_step* step) {
  why_value key[WHY_SLOTS_LIMIT];
  find_key(machine, step, key);
  why_tuples* tuples = look_at(machine, step, key);
  if (machine->failed)
    return false;
  if (!step->mask)
    return tuples->count == tuples->hidden_count;
  why_index_reader at = why_tuples_first(tuples, machine->store->arena, step->index, key);
  while (at.row != WHY_NO_ROW && why_tuples_hides(tuples, at.row))
    why_index_next(&tuples->indexes[step->index], &at);
  return at.row == WHY_NO_ROW;
}

static bool evaluate(why_machine* machine, const why_step* step, const why_expression* expression,
                     why_value* value) {
  if (why_expression_value(expression, machine->variables, value))
    return true;
  if (!machine->store->problems || machine->silent)
    return false;
  for (size_t i = 0; i < machine->store->doubted.count; i++)
    if (machine->store->doubted.at[i] == step->condition)
      return false;
  *WHY_LIST_ADD(machine->store->work, machine->store->doubted) = step->condition;
  why_problems_add(machine->store->problems, WHY_WARNING, "arithmetic", step->condition->row->place,
                   "rule %s: a division by zero or a number without end; no fact follows",
                   why_symbols_text(machine->store->symbols, machine->rule->info.id));
  return false;
}

static bool holds_where(why_machine* machine, const why_step* step) {
  why_value left;
  why_value right;
  return evaluate(machine, step, step->condition->left, &left) &&
         evaluate(machine, step, step->condition->right, &right) &&
         why_values_compare(step->condition->comparison, left, right);
}

static bool holds_let(why_machine* machine, const why_step* step) {
  why_value value;
  if (!evaluate(machine, step, step->condition->left, &value))
    return false;
  why_value* variable = &machine->variables[step->condition->variable];
  if (step->checks_result)
    return variable->bits == value.bits;
  *variable = value;
  return true;
}

static bool holds_match(why_machine* machine, const why_step* step) {
  if (!machine->store->matchers)
    machine->store->matchers =
        WHY_NEW_ARRAY(machine->store->work, why_matcher, machine->store->program->match_count + 1);
  const char* text = why_symbols_text(
      machine->store->symbols, why_value_symbol(machine->variables[step->condition->variable]));
  why_match_result found = why_regex_match(step->condition->pattern, text, machine->store->work,
                                           &machine->store->matchers[step->condition->match]);
  if (found == WHY_MATCH_FAILED) {
    if (machine->store->problems && !machine->silent)
      why_problems_add(machine->store->problems, WHY_ERROR, "pattern", step->condition->row->place,
                       "the pattern takes too long on \"%.*s\"", why_text_fit(text, 40), text);
    machine->failed = true;
    machine->store->failed = true;
  }
  return found == WHY_MATCH;
}

/// Where to go on once an aggregate has bound its result.
typedef struct {
  const why_plan* plan;
  size_t number;
} continuation;

static void go_on(why_machine* machine, void* user) {
  const continuation* next = user;
  run_from(machine, next->plan, next->number);
}

static void run_from(why_machine* machine, const why_plan* plan, size_t number) {
  const why_step* step = &plan->steps[number];
  bool holds = false;
  switch (machine->failed ? WHY_STEP_ABSENT : step->kind) {
  case WHY_STEP_SCAN:
    run_scan(machine, plan, number);
    return;
  case WHY_STEP_GROUP: {
    continuation next = {plan, number + 1};
    why_aggregate_run(machine, step, go_on, &next);
    return;
  }
  case WHY_STEP_END:
    machine->met(machine, machine->user);
    return;
  case WHY_STEP_ABSENT:
    holds = !machine->failed && is_absent(machine, step);
    break;
  case WHY_STEP_WHERE:
    holds = holds_where(machine, step);
    break;
  case WHY_STEP_LET:
    holds = holds_let(machine, step);
    break;
  case WHY_STEP_MATCHES:
    holds = holds_match(machine, step);
    break;
  }
  if (holds)
    run_from(machine, plan, number + 1);
}

void why_machine_run(why_machine* machine, const why_plan* plan) {
  run_from(machine, plan, 0);
}
