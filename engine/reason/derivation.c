// SPDX-License-Identifier: GPL-3.0-or-later
// From the short record of a derivation back to all that it rests on: values of variables, facts
// used, facts counted, and what was absent.
#include "store.h"

#include "value.h"

#include <stdlib.h>
#include <string.h>

/// A derivation while it is being put together.
typedef struct {
  why_overlay* overlay;
  const why_store* store; ///< Where the record is kept.
  const why_rule* rule;
  const uint64_t* words;
  why_value* variables;
  WHY_LIST(why_premise) premises;
} restoration;

static void restore_variables(restoration* at) {
  const why_rule* rule = at->rule;
  for (uint32_t i = 0; i < rule->variable_count; i++) {
    const why_origin* origin = &rule->origins[i];
    if (origin->from == WHY_FROM_EXTRA)
      at->variables[i].bits = at->words[rule->outer_premise_count + origin->number];
    if (origin->from != WHY_FROM_PREMISE)
      continue;
    why_relation relation = rule->premises[origin->number]->atom.relation;
    const why_tuples* tuples = why_store_tuples(&at->overlay->store, relation);
    at->variables[i] = why_tuples_row(tuples, (uint32_t)at->words[origin->number])[origin->slot];
  }
}

/// What was looked for by a condition, under the restored variables.
static why_premise absent_premise(const restoration* at, unsigned number,
                                  const why_condition* condition) {
  why_arena* arena = at->overlay->store.arena;
  unsigned slot_count = at->store->program->relations[condition->atom.relation].info.slot_count;
  why_value* values = WHY_NEW_ARRAY(arena, why_value, slot_count + 1);
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

/// Facts that an aggregate took in.
typedef struct {
  restoration* at;
  unsigned number;
  const why_condition* condition;
} counting;

/// Whether the inside binding at hand is one that decided a least or most.
static bool decides(const why_machine* machine, const counting* count) {
  const why_aggregate* group = count->condition->group;
  const why_value* outside = count->at->variables;
  if (count->condition->kind != WHY_LEAST && count->condition->kind != WHY_MOST)
    return true;
  if (machine->variables[group->of].bits != outside[group->result].bits)
    return false;
  for (size_t i = 0; i < group->keep_count; i++)
    if (machine->variables[group->keep_inside[i]].bits != outside[group->keep_outside[i]].bits)
      return false;
  return true;
}

static void count_premises(why_machine* machine, void* user) {
  counting* count = user;
  const why_aggregate* group = count->condition->group;
  if (!decides(machine, count))
    return;
  for (size_t i = 0; i < group->inside_count; i++) {
    const why_condition* inside = &group->inside[i];
    if (inside->kind != WHY_IF || machine->premises[inside->premise] == WHY_NO_ROW)
      continue;
    *WHY_LIST_ADD(machine->store->arena, count->at->premises) =
        (why_premise){.kind = WHY_COUNTED,
                      .condition = count->number,
                      .fact = {inside->atom.relation, machine->premises[inside->premise]}};
  }
}

/// Evaluate the inside of an aggregate again, for the group that the derivation is about.
static void restore_counted(restoration* at, unsigned number, const why_condition* condition) {
  why_arena* arena = at->overlay->store.arena;
  why_machine* machine = WHY_NEW(arena, why_machine);
  counting count = {at, number, condition};
  machine->store = &at->overlay->store;
  machine->rule = at->rule;
  machine->met = count_premises;
  machine->user = &count;
  memcpy(machine->variables, at->variables, at->rule->variable_count * sizeof *at->variables);
  // The bound on steps is for questions; what they reached can be explained at any length.
  size_t steps = at->overlay->store.steps;
  at->overlay->store.steps = 0;
  why_machine_run(machine, condition->group->again);
  at->overlay->store.steps = steps;
}

/// A premise on its way through qsort, with all that comparing needs.
typedef struct {
  why_premise premise;
  const why_overlay* overlay;
} sorted_premise;

/// By condition; what one condition counted by relation and the texts of the facts.
static int compare_premises(const void* left, const void* right) {
  const why_premise* a = &((const sorted_premise*)left)->premise;
  const why_premise* b = &((const sorted_premise*)right)->premise;
  const why_overlay* overlay = ((const sorted_premise*)left)->overlay;
  if (a->condition != b->condition)
    return a->condition < b->condition ? -1 : 1;
  if (a->kind != WHY_COUNTED || b->kind != WHY_COUNTED)
    return 0;
  if (a->fact.relation != b->fact.relation)
    return a->fact.relation < b->fact.relation ? -1 : 1;
  if (a->fact.row == b->fact.row)
    return 0;
  return why_row_compare(&overlay->store.program->relations[a->fact.relation].info,
                         overlay->store.symbols, why_fact_values(overlay, a->fact),
                         why_fact_values(overlay, b->fact));
}

/// Sort, and name each counted fact once: an aggregate meets a fact in many bindings.
static void sort_premises(restoration* at) {
  size_t count = at->premises.count;
  sorted_premise* all = WHY_NEW_ARRAY(at->overlay->store.arena, sorted_premise, count + 1);
  for (size_t i = 0; i < count; i++)
    all[i] = (sorted_premise){at->premises.at[i], at->overlay};
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
  why_arena* arena = at->overlay->store.arena;
  for (size_t i = 0; i < at->rule->condition_count; i++) {
    const why_condition* condition = &at->rule->conditions[i];
    unsigned number = (unsigned)i;
    if (condition->kind == WHY_IF && at->words[condition->premise] != WHY_NO_ROW)
      *WHY_LIST_ADD(arena, at->premises) = (why_premise){
          .kind = WHY_USED,
          .condition = number,
          .fact = {condition->atom.relation, (uint32_t)at->words[condition->premise]}};
    else if (condition->kind == WHY_IF || condition->kind == WHY_UNLESS) {
      why_premise made = absent_premise(at, number, condition);
      *WHY_LIST_ADD(arena, at->premises) = made;
    }
    if (condition->group)
      restore_counted(at, number, condition);
  }
  sort_premises(at);
}

static why_derivation restore(why_overlay* overlay, const why_store* store,
                              const why_record* record, why_fact fact) {
  const why_rule* rule = &store->program->rules.at[record->rule];
  restoration at = {.overlay = overlay,
                    .store = store,
                    .rule = rule,
                    .words = store->words.at + record->words,
                    .variables =
                        WHY_NEW_ARRAY(overlay->store.arena, why_value, WHY_VARIABLES_LIMIT)};
  restore_variables(&at);
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

/// For sorting derivations: rule id, then the texts of the premises in order.
typedef struct {
  why_derivation derivation;
  const why_overlay* overlay;
} sorted_derivation;

static int compare_derivations(const void* left, const void* right) {
  const sorted_derivation* a = left;
  const sorted_derivation* b = right;
  const why_overlay* overlay = a->overlay;
  if (!a->derivation.rule || !b->derivation.rule)
    return (a->derivation.rule != NULL) - (b->derivation.rule != NULL);
  int order =
      why_symbol_compare(overlay->store.symbols, a->derivation.rule->id, b->derivation.rule->id);
  size_t least = a->derivation.premise_count < b->derivation.premise_count
                     ? a->derivation.premise_count
                     : b->derivation.premise_count;
  for (size_t i = 0; order == 0 && i < least; i++) {
    const why_premise* x = &a->derivation.premises[i];
    const why_premise* y = &b->derivation.premises[i];
    if (x->kind == WHY_ABSENT || y->kind == WHY_ABSENT || x->fact.relation != y->fact.relation)
      continue;
    order = why_row_compare(&overlay->store.program->relations[x->fact.relation].info,
                            overlay->store.symbols, why_fact_values(overlay, x->fact),
                            why_fact_values(overlay, y->fact));
  }
  return order ? order
               : (a->derivation.premise_count > b->derivation.premise_count) -
                     (a->derivation.premise_count < b->derivation.premise_count);
}

size_t why_derivations(why_overlay* overlay, why_fact fact, const why_derivation** list) {
  why_arena* arena = overlay->store.arena;
  const why_store* store = why_store_of(&overlay->store, fact.relation);
  const why_tuples* tuples = &store->tuples[fact.relation];
  WHY_LIST(sorted_derivation) all = {0};
  if (tuples->given[fact.row]) {
    const why_given_at* at = &store->givens.at[tuples->given[fact.row] - 1];
    *WHY_LIST_ADD(arena, all) = (sorted_derivation){
        .derivation = {.fact = fact, .place = at->place, .from = at->from}, .overlay = overlay};
  }
  for (uint32_t i = tuples->derived[fact.row]; i; i = store->records.at[i - 1].before) {
    why_derivation made = restore(overlay, store, &store->records.at[i - 1], fact);
    *WHY_LIST_ADD(arena, all) = (sorted_derivation){.derivation = made, .overlay = overlay};
  }
  if (all.count)
    qsort(all.at, all.count, sizeof *all.at, compare_derivations);
  why_derivation* made = WHY_NEW_ARRAY(arena, why_derivation, all.count + 1);
  for (size_t i = 0; i < all.count; i++)
    made[i] = all.at[i].derivation;
  *list = made;
  return all.count;
}
