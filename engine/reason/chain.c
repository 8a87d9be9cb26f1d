// SPDX-License-Identifier: GPL-3.0-or-later
// Forward chaining. Strata are evaluated in order; inside one, semi-naive rounds: each rule is met
// anew only with bindings in which some premise came with the last round (Bancilhon 1986).
#include "store.h"

#include "value.h"

#include <string.h>

static void run_from(why_machine* machine, const why_plan* plan, size_t number);

static void stop(why_machine* machine, const char* what) {
  if (!machine->failed && machine->problems)
    why_problems_add(machine->problems, WHY_ERROR, "limit", machine->rule->info.place,
                     "rule %s: evaluation was stopped after too many %s",
                     why_symbols_text(machine->store->symbols, machine->rule->info.id), what);
  machine->failed = true;
}

/// The rows that a step may see.
static void find_range(const why_tuples* tuples, why_range range, uint32_t* low, uint32_t* high) {
  *low = range == WHY_DELTA ? tuples->old : 0;
  *high = range == WHY_OLD ? tuples->old : range == WHY_ALL ? tuples->visible : tuples->end;
}

/// What is looked for: constants and known variables in the slots of the step's mask.
static void find_key(const why_machine* machine, const why_step* step, why_value* key) {
  const why_term* terms = step->condition->atom.terms;
  uint32_t mask = step->mask;
  for (unsigned i = 0; mask; i++, mask >>= 1)
    if (mask & 1)
      key[i] =
          terms[i].kind == WHY_TERM_VALUE ? terms[i].value : machine->variables[terms[i].variable];
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
    stop(machine, "steps");
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
  const why_value* otherwise = step->condition->else_values;
  for (size_t i = 0; i < step->bind_count; i++)
    machine->variables[step->binds[i].variable] = otherwise[step->binds[i].slot];
  for (size_t i = 0; i < step->check_count; i++)
    if (machine->variables[step->checks[i].variable].bits != otherwise[step->checks[i].slot].bits)
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
    if (!why_index_same(step->mask, values, key))
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
  uint32_t row = why_tuples_first(tuples, machine->store->arena, step->index, key);
  for (; row != WHY_NO_ROW && row < high && !machine->failed;
       row = why_index_next(&tuples->indexes[step->index], row)) {
    if (row < low)
      continue;
    *any = true;
    meet_row(machine, plan, number, row, why_tuples_row(tuples, row));
  }
}

static void run_scan(why_machine* machine, const why_plan* plan, size_t number) {
  const why_step* step = &plan->steps[number];
  why_tuples* tuples = why_store_tuples(machine->store, step->condition->atom.relation);
  why_value key[WHY_SLOTS_LIMIT] = {{0}};
  bool any = false;
  find_key(machine, step, key);
  if (step->range == WHY_DELTA || !step->mask)
    scan_all(machine, plan, number, tuples, key, &any);
  else
    scan_index(machine, plan, number, tuples, key, &any);
  if (!any && step->condition->else_mask && !machine->failed)
    meet_else(machine, plan, number);
}

static bool is_absent(why_machine* machine, const why_step* step) {
  why_tuples* tuples = why_store_tuples(machine->store, step->condition->atom.relation);
  why_value key[WHY_SLOTS_LIMIT] = {{0}};
  find_key(machine, step, key);
  if (!step->mask)
    return tuples->visible == 0;
  uint32_t row = why_tuples_first(tuples, machine->store->arena, step->index, key);
  return row == WHY_NO_ROW || row >= tuples->visible;
}

static bool evaluate(why_machine* machine, const why_step* step, const why_expression* expression,
                     why_value* value) {
  if (why_expression_value(expression, machine->variables, value))
    return true;
  if (!machine->problems)
    return false;
  for (size_t i = 0; i < machine->doubted.count; i++)
    if (machine->doubted.at[i] == step->condition)
      return false;
  *WHY_LIST_ADD(machine->store->arena, machine->doubted) = step->condition;
  why_problems_add(machine->problems, WHY_WARNING, "arithmetic", step->condition->row->place,
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
  if (!machine->matchers)
    machine->matchers =
        WHY_NEW_ARRAY(machine->store->arena, why_matcher, machine->store->program->match_count + 1);
  const char* text = why_symbols_text(
      machine->store->symbols, why_value_symbol(machine->variables[step->condition->variable]));
  why_match_result found = why_regex_match(step->condition->pattern, text, machine->store->arena,
                                           &machine->matchers[step->condition->match]);
  if (found == WHY_MATCH_FAILED) {
    if (machine->problems)
      why_problems_add(machine->problems, WHY_ERROR, "pattern", step->condition->row->place,
                       "the pattern takes too long on \"%.*s\"", why_text_fit(text, 40), text);
    machine->failed = true;
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

/// Keep one derivation: rows of the outer premises, then what no premise holds.
static void add_record(why_machine* machine, why_tuples* tuples, uint32_t row) {
  why_store* store = machine->store;
  const why_rule* rule = machine->rule;
  why_record* made = WHY_LIST_ADD(store->arena, store->records);
  *made = (why_record){
      .rule = rule->number, .before = tuples->derived[row], .words = store->words.count};
  tuples->derived[row] = (uint32_t)store->records.count;
  for (unsigned i = 0; i < rule->outer_premise_count; i++)
    *WHY_LIST_ADD(store->arena, store->words) = machine->premises[i];
  for (uint32_t i = 0; i < rule->variable_count; i++)
    if (rule->origins[i].from == WHY_FROM_EXTRA)
      *WHY_LIST_ADD(store->arena, store->words) = machine->variables[i].bits;
}

static void conclude(why_machine* machine, void* user) {
  (void)user;
  why_store* store = machine->store;
  const why_rule* rule = machine->rule;
  why_value values[WHY_SLOTS_LIMIT];
  unsigned width = store->tuples[rule->head.relation].width;
  for (unsigned i = 0; i < width; i++)
    values[i] = rule->head.terms[i].kind == WHY_TERM_VALUE
                    ? rule->head.terms[i].value
                    : machine->variables[rule->head.terms[i].variable];
  uint32_t row = why_store_add(store, rule->head.relation, values);
  add_record(machine, &store->tuples[rule->head.relation], row);
  if (store->facts > store->limits.facts)
    stop(machine, "facts");
  if (store->records.count > store->limits.derivations)
    stop(machine, "derivations");
}

static void run_rule(why_machine* machine, const why_rule* rule, const why_plan* plan) {
  machine->rule = rule;
  machine->met = conclude;
  machine->rows.count = 0;
  why_machine_run(machine, plan);
}

/// Whether a rule belongs to the stratum and to this store.
static bool is_at_work(const why_machine* machine, const why_rule* rule, unsigned stratum) {
  const why_program* program = machine->store->program;
  return program->relations[rule->head.relation].stratum == stratum &&
         rule->in_overlay == (machine->store->below != NULL);
}

/// Make what is known at the start of a round visible; whether the round before brought anything.
static bool begin_round(why_machine* machine, unsigned stratum) {
  const why_program* program = machine->store->program;
  bool any = false;
  for (size_t i = 0; i < program->relation_count; i++) {
    if (program->relations[i].stratum != stratum)
      continue;
    why_tuples* tuples = &machine->store->tuples[i];
    tuples->old = tuples->end;
    tuples->end = tuples->count;
    any = any || tuples->old < tuples->end;
  }
  return any;
}

static void run_recursion(why_machine* machine, unsigned stratum, const uint32_t* rules,
                          size_t count) {
  const why_program* program = machine->store->program;
  for (size_t round = 0; begin_round(machine, stratum) && !machine->failed; round++) {
    if (round > machine->store->limits.rounds)
      stop(machine, "rounds");
    for (size_t i = 0; i < count; i++) {
      const why_rule* rule = &program->rules.at[rules[i]];
      for (size_t k = 0; k < rule->delta_count; k++)
        run_rule(machine, rule, rule->deltas[k]);
    }
  }
}

/// The rules of a stratum that are at work in this store.
static size_t find_rules(const why_machine* machine, unsigned stratum, uint32_t* rules) {
  size_t count = 0;
  for (size_t i = 0; i < machine->store->program->rules.count; i++)
    if (is_at_work(machine, &machine->store->program->rules.at[i], stratum))
      rules[count++] = (uint32_t)i;
  return count;
}

static void run_stratum(why_machine* machine, unsigned stratum, uint32_t* rules) {
  const why_program* program = machine->store->program;
  size_t count = find_rules(machine, stratum, rules);
  bool recursive = false;
  for (size_t i = 0; i < count && !machine->failed; i++) {
    const why_rule* rule = &program->rules.at[rules[i]];
    recursive = recursive || rule->delta_count > 0;
    if (rule->delta_count == 0)
      run_rule(machine, rule, rule->first);
  }
  if (recursive)
    run_recursion(machine, stratum, rules, count);
  for (size_t i = 0; i < program->relation_count; i++)
    if (program->relations[i].stratum == stratum &&
        program->relations[i].info.reached == (machine->store->below != NULL))
      why_store_settle(machine->store, (why_relation)i, machine->problems);
}

/// A base is shared by threads, so all its indexes are complete before any question is asked.
static void fill_indexes(why_store* store) {
  for (size_t i = 0; i < store->program->relation_count; i++)
    for (size_t k = 0; k < store->program->relations[i].indexes.count; k++)
      why_index_fill(&store->tuples[i].indexes[k], store->arena, store->tuples[i].rows,
                     store->tuples[i].count);
}

why_status why_store_run(why_store* store, why_problems* problems) {
  size_t before = why_problems_count_from(problems, WHY_ERROR);
  why_machine* machine = WHY_NEW(store->arena, why_machine);
  machine->store = store;
  machine->problems = problems;
  uint32_t* rules = WHY_NEW_ARRAY(store->arena, uint32_t, store->program->rules.count + 1);
  for (unsigned i = 0; i < store->program->stratum_count && !machine->failed; i++)
    run_stratum(machine, i, rules);
  if (!store->below)
    fill_indexes(store);
  return why_problems_count_from(problems, WHY_ERROR) == before ? WHY_OK : WHY_KNOWLEDGE;
}
