// SPDX-License-Identifier: GPL-3.0-or-later
// Why a fact does not hold. A rule is met condition by condition in the order in which a reader
// meets them, all ways together; what is kept is where the ways end that get furthest. Facts are
// met in their order, so that what is found does not depend on how they are kept.
#include "store.h"

#include "value.h"

#include <string.h>

enum { ROWS_LIMIT = 200000 }; ///< Facts met for one question; behind them nothing is looked at.

typedef struct {
  why_overlay* overlay;
  const why_rule* rule;
  const why_condition* conditions; ///< Of the rule, or of the inside of an aggregate.
  size_t condition_count;
  why_machine* machine;
  size_t furthest; ///< Conditions met before the misses at hand.
  size_t more;
  size_t rows;
  WHY_LIST(why_miss) misses;
} walk;

/// Where a walk stands: conditions that are met, variables that are known, as bits.
typedef struct {
  walk* on;
  uint64_t met;
  uint64_t bound;
  size_t count;
} stand;

static void go_on(stand at);

/// The first condition that is not met yet and has all that it needs; -1 when all are met.
static int find_next(const stand* at) {
  for (size_t i = 0; i < at->on->condition_count; i++) {
    if (at->met >> i & 1)
      continue;
    why_flow flow =
        why_condition_flow(at->on->overlay->store.program, &at->on->conditions[i], at->bound);
    if (!(flow.needs & ~at->bound))
      return (int)i;
  }
  return -1;
}

/// Keep a miss behind `count` met conditions, unless others got further.
static void keep(walk* on, size_t count, why_miss miss) {
  if (count < on->furthest)
    return;
  if (count > on->furthest) {
    on->furthest = count;
    on->misses.count = on->more = 0;
  }
  if (on->misses.count == WHY_MISSES_LIMIT)
    on->more++;
  else
    *WHY_LIST_ADD(on->overlay->store.arena, on->misses) = miss;
}

static void fail(const stand* at, why_miss_kind kind, const why_condition* condition,
                 why_miss miss) {
  const walk* on = at->on;
  why_value* variables =
      WHY_NEW_ARRAY(on->overlay->store.arena, why_value, on->rule->variable_count + 1);
  memcpy(variables, on->machine->variables, on->rule->variable_count * sizeof *variables);
  miss.rule = &on->rule->info;
  miss.kind = kind;
  miss.row = condition->row;
  miss.variables = variables;
  miss.bound = at->bound;
  miss.inner = condition;
  miss.whole = on->rule;
  keep(at->on, at->count, miss);
}

/// There is nothing in an aggregate: what fails inside of it.
static void fail_inside(stand at, const why_condition* condition) {
  walk inside = *at.on;
  inside.conditions = condition->group->inside;
  inside.condition_count = condition->group->inside_count;
  inside.furthest = inside.more = 0;
  memset(&inside.misses, 0, sizeof inside.misses);
  go_on((stand){.on = &inside, .bound = at.bound});
  at.on->rows = inside.rows;
  for (size_t i = 0; i < inside.misses.count; i++)
    keep(at.on, at.count, inside.misses.at[i]);
  at.on->more += inside.more;
  if (!inside.misses.count)
    fail(&at, WHY_MISS_EMPTY, condition, (why_miss){0});
}

static stand behind(stand at, int condition, uint64_t gives) {
  at.met |= UINT64_C(1) << condition;
  at.bound |= gives;
  at.count++;
  return at;
}

/// What a condition looks for, as far as it is known: the slots as a mask.
static uint32_t key_of(const stand* at, const why_condition* condition, why_value* key) {
  const why_store* store = &at->on->overlay->store;
  unsigned slot_count = store->program->relations[condition->atom.relation].info.slot_count;
  uint32_t mask = 0;
  for (unsigned i = 0; i < slot_count; i++) {
    const why_term* term = &condition->atom.terms[i];
    bool known = term->kind == WHY_TERM_VALUE ||
                 (term->kind == WHY_TERM_VARIABLE && (at->bound >> term->variable & 1));
    if (!known || (condition->else_mask >> i & 1))
      continue;
    mask |= UINT32_C(1) << i;
    key[i] =
        term->kind == WHY_TERM_VALUE ? term->value : at->on->machine->variables[term->variable];
  }
  return mask;
}

/// Take the values of a row, or else- values; false when one variable would have two.
static bool take(const stand* at, const why_condition* condition, const why_value* row,
                 uint32_t slots, uint64_t* gives) {
  for (unsigned i = 0; slots >> i; i++) {
    const why_term* term = &condition->atom.terms[i];
    if (!(slots >> i & 1) || term->kind != WHY_TERM_VARIABLE)
      continue;
    uint64_t bit = why_bit(term->variable);
    why_value* variable = &at->on->machine->variables[term->variable];
    if (((at->bound | *gives) & bit) && variable->bits != row[i].bits)
      return false;
    *variable = row[i];
    *gives |= bit;
  }
  return true;
}

static void meet_if(stand at, int number, const why_condition* condition) {
  why_overlay* overlay = at.on->overlay;
  why_value* key = WHY_NEW_ARRAY(overlay->store.arena, why_value, WHY_SLOTS_LIMIT);
  uint32_t mask = key_of(&at, condition, key);
  why_relation relation = condition->atom.relation;
  why_facts facts = why_facts_find(overlay, relation, mask, key);
  uint32_t all = why_slots_all(overlay->store.program->relations[relation].info.slot_count);
  if (!facts.count && condition->else_mask) {
    uint64_t gives = 0;
    if (take(&at, condition, condition->else_values, condition->else_mask, &gives))
      go_on(behind(at, number, gives));
  } else if (!facts.count) {
    fail(&at, WHY_MISS_ABSENT, condition,
         (why_miss){.relation = relation, .mask = mask, .values = key});
  }
  for (size_t i = 0; i < facts.count && at.on->rows < ROWS_LIMIT; i++) {
    uint64_t gives = 0;
    at.on->rows++;
    if (take(&at, condition, why_fact_values(overlay, facts.at[i]), all, &gives))
      go_on(behind(at, number, gives));
  }
}

static void meet_unless(stand at, int number, const why_condition* condition) {
  why_value key[WHY_SLOTS_LIMIT] = {{0}};
  uint32_t mask = key_of(&at, condition, key);
  why_facts facts = why_facts_find(at.on->overlay, condition->atom.relation, mask, key);
  if (facts.count)
    fail(&at, WHY_MISS_PRESENT, condition, (why_miss){.facts = facts});
  else
    go_on(behind(at, number, 0));
}

/// What goes on when a single step was met.
typedef struct {
  stand at;
  bool met;
} meeting;

static void meet(why_machine* machine, void* user) {
  meeting* now = user;
  (void)machine;
  now->met = true;
  go_on(now->at);
}

/// The machine meets any condition but `if` and `unless`, as a plan of one step.
static void meet_step(stand at, int number, const why_condition* condition) {
  static const why_step_kind KINDS[] = {
      [WHY_WHERE] = WHY_STEP_WHERE, [WHY_LET] = WHY_STEP_LET,   [WHY_MATCHES] = WHY_STEP_MATCHES,
      [WHY_COUNT] = WHY_STEP_GROUP, [WHY_SUM] = WHY_STEP_GROUP, [WHY_LEAST] = WHY_STEP_GROUP,
      [WHY_MOST] = WHY_STEP_GROUP};
  why_store* store = &at.on->overlay->store;
  why_machine* machine = at.on->machine;
  why_flow flow = why_condition_flow(store->program, condition, at.bound);
  why_step steps[2] = {{.kind = KINDS[condition->kind], .condition = condition, .bound = at.bound},
                       {.kind = WHY_STEP_END}};
  if (condition->group)
    steps[0].inside = why_store_plans(why_store_of(store, at.on->rule->head.relation), at.on->rule)
                          ->again[condition->group->number];
  steps[0].checks_result = condition->kind == WHY_LET && (at.bound >> condition->variable & 1);
  const why_plan plan = {.steps = steps, .count = 2};
  meeting now = {.at = behind(at, number, flow.gives)};
  void* user = machine->user;
  machine->user = &now;
  why_machine_run(machine, &plan);
  machine->user = user;
  if (now.met)
    return;
  if (condition->group)
    fail_inside(at, condition);
  else
    fail(&at, condition->kind == WHY_WHERE ? WHY_MISS_COMPARE : WHY_MISS_OTHER, condition,
         (why_miss){0});
}

static void go_on(stand at) {
  int number = find_next(&at);
  if (number < 0)
    return; // the rule gives such a fact, which precedence hides
  const why_condition* condition = &at.on->conditions[number];
  if (condition->kind == WHY_IF)
    meet_if(at, number, condition);
  else if (condition->kind == WHY_UNLESS)
    meet_unless(at, number, condition);
  else
    meet_step(at, number, condition);
}

/// Begin with what the conclusion says; false when the rule never gives such a fact.
static bool begin(stand* at, uint32_t mask, const why_value* values) {
  const why_atom* head = &at->on->rule->head;
  for (unsigned i = 0; mask >> i; i++) {
    const why_term* term = &head->terms[i];
    if (!(mask >> i & 1))
      continue;
    if (term->kind == WHY_TERM_VALUE && term->value.bits != values[i].bits)
      return false;
    if (term->kind != WHY_TERM_VARIABLE)
      continue;
    why_value* variable = &at->on->machine->variables[term->variable];
    if ((at->bound >> term->variable & 1) && variable->bits != values[i].bits)
      return false;
    *variable = values[i];
    at->bound |= why_bit(term->variable);
  }
  return true;
}

/// Walk one rule and add its misses.
static void walk_rule(walk* on, uint32_t mask, const why_value* values, walk* all) {
  on->machine = why_machine_new(&on->overlay->store, on->rule);
  on->machine->silent = true;
  on->machine->met = meet;
  stand at = {.on = on};
  if (begin(&at, mask, values))
    go_on(at);
  why_machine_free(on->machine);
  for (size_t i = 0; i < on->misses.count; i++) {
    on->misses.at[i].more = on->more;
    *WHY_LIST_ADD(on->overlay->store.arena, all->misses) = on->misses.at[i];
  }
}

/// The rules that conclude a relation, in order of their ids.
static const why_rule** rules_by_id(why_overlay* overlay, why_relation relation) {
  const why_store* store = &overlay->store;
  const why_relation_inner* inner = &store->program->relations[relation];
  const why_rule** rules = WHY_NEW_ARRAY(store->arena, const why_rule*, inner->rules.count + 1);
  for (size_t i = 0; i < inner->rules.count; i++) {
    const why_rule* rule = &store->program->rules.at[inner->rules.at[i]];
    size_t at = i;
    for (; at > 0 && why_symbol_compare(store->symbols, rules[at - 1]->info.id, rule->info.id) > 0;
         at--)
      rules[at] = rules[at - 1];
    rules[at] = rule;
  }
  return rules;
}

size_t why_misses(why_overlay* overlay, why_relation relation, uint32_t mask,
                  const why_value* values, const why_miss** list) {
  size_t count = overlay->store.program->relations[relation].rules.count;
  const why_rule** rules = rules_by_id(overlay, relation);
  walk all = {.overlay = overlay};
  for (size_t i = 0; i < count; i++) {
    walk on = {.overlay = overlay,
               .rule = rules[i],
               .conditions = rules[i]->conditions,
               .condition_count = rules[i]->condition_count};
    walk_rule(&on, mask, values, &all);
  }
  *list = all.misses.at;
  return all.misses.count;
}
