// SPDX-License-Identifier: GPL-3.0-or-later
// From the short record of a derivation back to all that it rests on: values of variables, facts
// used, facts counted, and what was absent.
#include "store.h"

#include "value.h"

#include <stdlib.h>
#include <string.h>

/// A derivation while it is being put together.
typedef struct {
  why_store* seen;     ///< What it is read through; gives the memory too.
  const why_store* of; ///< Where the record is kept.
  const why_rule* rule;
  size_t record; ///< Where it begins; records move when more is evaluated.
  why_value* variables;
  WHY_LIST(why_premise) premises;
} restoration;

/// The row of an outer premise.
static uint32_t premise_row(const restoration* at, size_t number) {
  return at->of->words.at[at->record + WHY_RECORD_PREMISES + number];
}

/// A value that no premise holds.
static why_value extra_value(const restoration* at, size_t number) {
  const uint32_t* words = at->of->words.at + at->record + WHY_RECORD_PREMISES +
                          at->rule->outer_premise_count + 2 * number;
  return (why_value){.bits = words[0] | (uint64_t)words[1] << 32};
}

static void restore_variables(restoration* at) {
  const why_rule* rule = at->rule;
  for (uint32_t i = 0; i < rule->variable_count; i++) {
    const why_origin* origin = &rule->origins[i];
    if (origin->from == WHY_FROM_EXTRA)
      at->variables[i] = extra_value(at, origin->number);
    if (origin->from != WHY_FROM_PREMISE)
      continue;
    why_relation relation = rule->premises[origin->number]->atom.relation;
    const why_tuples* tuples = why_store_tuples(at->seen, relation);
    at->variables[i] = why_tuples_row(tuples, premise_row(at, origin->number))[origin->slot];
  }
}

static restoration start(why_store* seen, const why_store* of, size_t record,
                         why_value* variables) {
  restoration made = {.seen = seen,
                      .of = of,
                      .rule = &of->program->rules.at[of->words.at[record + WHY_RECORD_RULE]],
                      .record = record,
                      .variables = variables};
  restore_variables(&made);
  return made;
}

/// What was looked for by a condition, under the restored variables.
static why_premise absent_premise(const restoration* at, unsigned number,
                                  const why_condition* condition) {
  unsigned slot_count = at->of->program->relations[condition->atom.relation].info.slot_count;
  why_value* values = WHY_NEW_ARRAY(at->seen->arena, why_value, slot_count + 1);
  uint32_t mask = 0;
  for (unsigned i = 0; i < slot_count; i++) {
    const why_term* term = &condition->atom.terms[i];
    if (term->kind == WHY_TERM_ANY || (condition->else_mask >> i & 1))
      continue;
    mask |= UINT32_C(1) << i;
    values[i] = term->kind == WHY_TERM_VALUE ? term->value : at->variables[term->variable];
  }
  return (why_premise){.kind = WHY_ABSENT,
                       .condition = number,
                       .relation = condition->atom.relation,
                       .mask = mask,
                       .values = values,
                       .say = condition->kind == WHY_UNLESS ? condition->row->say : ""};
}

// ---- what aggregates took in ----

/// Facts that an aggregate took in.
typedef struct {
  const restoration* at;
  unsigned number;
  void (*each)(void* user, const why_premise* premise);
  void* user;
} counting;

static const why_condition* condition_of(const counting* count) {
  return &count->at->rule->conditions[count->number];
}

/// Whether the inside binding at hand is one that decided a least or most.
static bool decides(const why_machine* machine, const counting* count) {
  const why_condition* condition = condition_of(count);
  const why_aggregate* group = condition->group;
  const why_value* outside = count->at->variables;
  if (condition->kind != WHY_LEAST && condition->kind != WHY_MOST)
    return true;
  if (machine->variables[group->of].bits != outside[group->result].bits)
    return false;
  for (size_t i = 0; i < group->keep_count; i++)
    if (machine->variables[group->keep_inside[i]].bits != outside[group->keep_outside[i]].bits)
      return false;
  return true;
}

static void count_premises(why_machine* machine, void* user) {
  const counting* count = user;
  const why_aggregate* group = condition_of(count)->group;
  if (!decides(machine, count))
    return;
  for (size_t i = 0; i < group->inside_count; i++) {
    const why_condition* inside = &group->inside[i];
    if (inside->kind != WHY_IF || machine->premises[inside->premise] == WHY_NO_ROW)
      continue;
    why_premise made = {.kind = WHY_COUNTED,
                        .condition = count->number,
                        .fact = {inside->atom.relation, machine->premises[inside->premise]}};
    count->each(count->user, &made);
  }
}

/// Evaluate the inside of an aggregate again, for the group that the derivation is about; a fact is
/// met in as many bindings as there are.
static void each_counted(const restoration* at, unsigned number,
                         void (*each)(void* user, const why_premise* premise), void* user) {
  counting count = {at, number, each, user};
  why_store* store = at->seen;
  why_machine* machine = why_machine_new(store, at->rule);
  machine->silent = true;
  machine->met = count_premises;
  machine->user = &count;
  memcpy(machine->variables, at->variables, at->rule->variable_count * sizeof *at->variables);
  // The bound on steps is for questions; what they reached can be explained at any length.
  size_t steps = store->steps;
  store->steps = 0;
  why_machine_run(machine,
                  why_store_plans(at->of, at->rule)->again[condition_of(&count)->group->number]);
  store->steps = steps;
  why_machine_free(machine);
}

static void take_premise(void* user, const why_premise* premise) {
  restoration* to = user;
  *WHY_LIST_ADD(to->seen->arena, to->premises) = *premise;
}

// ---- premises in order ----

/// A premise on its way through qsort, with all that comparing needs.
typedef struct {
  why_premise premise;
  const why_store* seen;
} sorted_premise;

static int compare_texts(const why_store* seen, why_fact a, why_fact b) {
  const why_tuples* tuples = why_store_tuples(seen, a.relation);
  return why_row_compare(&seen->program->relations[a.relation].info, seen->symbols,
                         why_tuples_row(tuples, a.row), why_tuples_row(tuples, b.row));
}

/// By condition; what one condition counted by relation and the texts of the facts.
static int compare_premises(const void* left, const void* right) {
  const why_premise* a = &((const sorted_premise*)left)->premise;
  const why_premise* b = &((const sorted_premise*)right)->premise;
  if (a->condition != b->condition)
    return a->condition < b->condition ? -1 : 1;
  if (a->kind != WHY_COUNTED || b->kind != WHY_COUNTED)
    return 0;
  if (a->fact.relation != b->fact.relation)
    return a->fact.relation < b->fact.relation ? -1 : 1;
  if (a->fact.row == b->fact.row)
    return 0;
  return compare_texts(((const sorted_premise*)left)->seen, a->fact, b->fact);
}

/// Sort, and name each counted fact once: an aggregate meets a fact in many bindings.
static void sort_premises(restoration* at) {
  size_t count = at->premises.count;
  sorted_premise* all = WHY_NEW_ARRAY(at->seen->arena, sorted_premise, count + 1);
  for (size_t i = 0; i < count; i++)
    all[i] = (sorted_premise){at->premises.at[i], at->seen};
  if (count)
    qsort(all, count, sizeof *all, compare_premises);
  at->premises.count = 0;
  for (size_t i = 0; i < count; i++) {
    const why_premise* last = &at->premises.at[at->premises.count - (at->premises.count > 0)];
    bool same = at->premises.count && all[i].premise.kind == WHY_COUNTED &&
                last->kind == WHY_COUNTED && last->condition == all[i].premise.condition &&
                last->fact.relation == all[i].premise.fact.relation &&
                last->fact.row == all[i].premise.fact.row;
    if (!same)
      at->premises.at[at->premises.count++] = all[i].premise;
  }
}

static void restore_premises(restoration* at) {
  why_arena* arena = at->seen->arena;
  bool counted = false;
  for (size_t i = 0; i < at->rule->condition_count; i++) {
    const why_condition* condition = &at->rule->conditions[i];
    unsigned number = (unsigned)i;
    if (condition->kind == WHY_IF && premise_row(at, condition->premise) != WHY_NO_ROW)
      *WHY_LIST_ADD(arena, at->premises) =
          (why_premise){.kind = WHY_USED,
                        .condition = number,
                        .fact = {condition->atom.relation, premise_row(at, condition->premise)}};
    else if (condition->kind == WHY_IF || condition->kind == WHY_UNLESS) {
      why_premise made = absent_premise(at, number, condition);
      *WHY_LIST_ADD(arena, at->premises) = made;
    }
    if (condition->group)
      each_counted(at, number, take_premise, at);
    counted = counted || condition->group;
  }
  if (counted)
    sort_premises(at);
}

why_derivation why_record_restore(why_store* seen, const why_store* of, size_t record,
                                  why_fact fact) {
  const why_rule* rule = &of->program->rules.at[of->words.at[record + WHY_RECORD_RULE]];
  restoration at =
      start(seen, of, record, WHY_NEW_ARRAY(seen->arena, why_value, rule->variable_count + 1));
  restore_premises(&at);
  return (why_derivation){.fact = fact,
                          .rule = &rule->info,
                          .place = rule->info.place,
                          .from = rule->info.from,
                          .premise_count = at.premises.count,
                          .premises = at.premises.at,
                          .variables = at.variables,
                          .inner = rule};
}

why_derivation why_given_restore(const why_store* of, why_fact fact) {
  const why_given_at* at =
      &of->givens.at[why_tuples_given(&of->tuples[fact.relation], fact.row) - 1];
  return (why_derivation){.fact = fact, .place = at->place, .from = at->from};
}

/// Facts on their way into a list.
typedef struct {
  why_arena* arena;
  why_fact_list* facts;
} listing;

static void list_fact(void* user, const why_premise* premise) {
  const listing* to = user;
  *WHY_LIST_ADD(to->arena, *to->facts) = premise->fact;
}

static int compare_facts(const void* left, const void* right) {
  const why_fact* a = left;
  const why_fact* b = right;
  if (a->relation != b->relation)
    return a->relation < b->relation ? -1 : 1;
  return (a->row > b->row) - (a->row < b->row);
}

/// Name each of the facts from `first` on once.
static void name_once(why_fact_list* facts, size_t first) {
  why_fact* from = facts->at + first;
  size_t count = facts->count - first;
  if (count < 2)
    return;
  qsort(from, count, sizeof *from, compare_facts);
  size_t kept = 1;
  for (size_t i = 1; i < count; i++)
    if (compare_facts(&from[kept - 1], &from[i]) != 0)
      from[kept++] = from[i];
  facts->count = first + kept;
}

void why_record_facts(why_store* seen, const why_store* of, size_t record, why_arena* arena,
                      why_fact_list* facts) {
  why_value variables[WHY_VARIABLES_LIMIT];
  const why_rule* rule = &of->program->rules.at[of->words.at[record + WHY_RECORD_RULE]];
  facts->count = 0;
  for (unsigned i = 0; i < rule->outer_premise_count; i++) {
    uint32_t row = of->words.at[record + WHY_RECORD_PREMISES + i];
    if (row != WHY_NO_ROW)
      *WHY_LIST_ADD(arena, *facts) = (why_fact){rule->premises[i]->atom.relation, row};
  }
  if (rule->group_count == 0)
    return;
  const restoration at = start(seen, of, record, variables);
  listing to = {arena, facts};
  for (size_t i = 0; i < rule->condition_count; i++) {
    size_t first = facts->count;
    if (rule->conditions[i].group)
      each_counted(&at, (unsigned)i, list_fact, &to);
    name_once(facts, first);
  }
}

static void note_rules(const why_store* store, bool* fired) {
  const why_program* program = store->program;
  for (size_t r = 0; r < program->relation_count; r++) {
    const why_tuples* tuples = &store->tuples[r];
    for (uint32_t row = 0; row < tuples->count && tuples->derived; row++)
      for (uint32_t i = tuples->derived[row]; i; i = store->words.at[i - 1 + WHY_RECORD_BEFORE]) {
        const why_rule* rule = &program->rules.at[store->words.at[i - 1 + WHY_RECORD_RULE]];
        fired[rule->row - program->reasoning->rules.at] = true;
      }
  }
}

void why_rules_note(const why_overlay* overlay, bool* fired) {
  note_rules(&overlay->store, fired);
  note_rules(&overlay->base->store, fired);
}

// ---- derivations in order ----

/// For sorting derivations: rule id, then the texts of the premises in order.
typedef struct {
  why_derivation derivation;
  const why_store* seen;
} sorted_derivation;

int why_derivation_compare(const why_store* seen, const why_derivation* a,
                           const why_derivation* b) {
  if (!a->rule || !b->rule)
    return (a->rule != NULL) - (b->rule != NULL);
  int order = why_symbol_compare(seen->symbols, a->rule->id, b->rule->id);
  size_t least = a->premise_count < b->premise_count ? a->premise_count : b->premise_count;
  for (size_t i = 0; order == 0 && i < least; i++) {
    const why_premise* x = &a->premises[i];
    const why_premise* y = &b->premises[i];
    if (x->kind == WHY_ABSENT || y->kind == WHY_ABSENT || x->fact.relation != y->fact.relation)
      continue;
    order = compare_texts(seen, x->fact, y->fact);
  }
  return order ? order
               : (a->premise_count > b->premise_count) - (a->premise_count < b->premise_count);
}

static int compare_derivations(const void* left, const void* right) {
  const sorted_derivation* a = left;
  const sorted_derivation* b = right;
  return why_derivation_compare(a->seen, &a->derivation, &b->derivation);
}

size_t why_derivations(why_overlay* overlay, why_fact fact, const why_derivation** list) {
  why_store* seen = &overlay->store;
  const why_store* of = why_store_of(seen, fact.relation);
  const why_tuples* tuples = &of->tuples[fact.relation];
  WHY_LIST(sorted_derivation) all = {0};
  if (why_tuples_given(tuples, fact.row))
    *WHY_LIST_ADD(seen->arena, all) = (sorted_derivation){why_given_restore(of, fact), seen};
  for (uint32_t i = tuples->derived[fact.row]; i; i = of->words.at[i - 1 + WHY_RECORD_BEFORE]) {
    why_derivation made = why_record_restore(seen, of, i - 1, fact);
    *WHY_LIST_ADD(seen->arena, all) = (sorted_derivation){made, seen};
  }
  if (all.count > 1)
    qsort(all.at, all.count, sizeof *all.at, compare_derivations);
  why_derivation* made = WHY_NEW_ARRAY(seen->arena, why_derivation, all.count + 1);
  for (size_t i = 0; i < all.count; i++)
    made[i] = all.at[i].derivation;
  *list = made;
  return all.count;
}
