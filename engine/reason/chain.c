// SPDX-License-Identifier: GPL-3.0-or-later
// Forward chaining. A base evaluates its strata in order; inside one, semi-naive rounds: each rule
// is met anew only with bindings in which some premise came with the last round (Bancilhon 1986).
//
// An overlay evaluates what is asked for. A relation that no recursion is part of, and that the
// rest of the program asks with one slot known, is asked by that slot (settle.c): a step that
// needs its rows for one value has exactly the rules of the relation met, with that value bound
// from the start, and the value is noted. What such a rule needs of other relations is asked in the
// same way. The invariant: whenever a step looks at rows of a relation, all rows that the step can
// see are there, with all derivations. It holds because strata are well-founded (what is asked for
// lies in earlier strata, or in the recursion at work, whose rounds have ranges of their own), so
// negation and totals see what they would see if everything had been evaluated, and because a rule
// with a value bound concludes just those of its facts that bear the value. A value is asked once,
// and a relation that is evaluated whole passes over the values that were asked before, so that no
// derivation is kept twice.
#include "store.h"

#include "value.h"

/// The slot by which a relation is asked, or -1.
static int part_of(const why_store* store, why_relation relation) {
  return store->plans ? store->plans->parts[relation] : -1;
}

/// Add the conclusions that wait. The machine fetches lines of the cache while others are looked
/// at, since the rows of a large relation lie in no cache.
static void flush(why_machine* machine) {
  why_store* store = machine->store;
  why_relation relation = machine->rule->head.relation;
  why_tuples* tuples = &store->tuples[relation];
  for (uint32_t i = 0; i < machine->pending; i++) {
    uint32_t row = why_index_guess(&tuples->indexes[0], machine->hashes[i]);
    if (row != WHY_NO_ROW) {
      __builtin_prefetch(why_tuples_row(tuples, row));
      __builtin_prefetch(&tuples->derived[row]);
    }
  }
  for (uint32_t i = 0; i < machine->pending; i++) {
    uint32_t row = why_store_add(store, relation, machine->conclusions[i], machine->hashes[i]);
    store->words.at[machine->records[i] + WHY_RECORD_BEFORE] = tuples->derived[row];
    tuples->derived[row] = (uint32_t)machine->records[i] + 1;
  }
  machine->pending = 0;
  if (store->facts > store->limits.facts)
    why_machine_stop(machine, "facts");
  if (store->derivations > store->limits.derivations)
    why_machine_stop(machine, "derivations");
}

/// Keep one derivation: rows of the outer premises, then what no premise holds. Returns where.
static size_t add_record(why_machine* machine) {
  const why_rule* rule = machine->rule;
  size_t count = WHY_RECORD_PREMISES + rule->outer_premise_count + 2 * (size_t)rule->extra_count;
  size_t at = machine->store->words.count;
  uint32_t* words = why_store_record(machine->store, count);
  if (!words) {
    why_machine_stop(machine, "derivations");
    return SIZE_MAX;
  }
  words[WHY_RECORD_RULE] = rule->number;
  words += WHY_RECORD_PREMISES;
  for (unsigned i = 0; i < rule->outer_premise_count; i++)
    *words++ = machine->premises[i];
  for (uint32_t i = 0; rule->extra_count && i < rule->variable_count; i++) {
    if (rule->origins[i].from != WHY_FROM_EXTRA)
      continue;
    *words++ = (uint32_t)machine->variables[i].bits;
    *words++ = (uint32_t)(machine->variables[i].bits >> 32);
  }
  return at;
}

/// The conclusion waits until there are some to be added together. No rule sees it before: what a
/// round concludes is seen in the next one, and outside of recursion no rule sees its own relation.
static void conclude(why_machine* machine, void* user) {
  why_store* store = machine->store;
  const why_rule* rule = machine->rule;
  why_tuples* tuples = &store->tuples[rule->head.relation];
  const int* skipped = user; // the slot whose asked values are passed over
  why_value* values = machine->conclusions[machine->pending];
  for (unsigned i = 0; i < tuples->width; i++)
    values[i] = rule->head.terms[i].kind == WHY_TERM_VALUE
                    ? rule->head.terms[i].value
                    : machine->variables[rule->head.terms[i].variable];
  if (skipped && why_value_set_has(&tuples->asked, values[*skipped]))
    return;
  uint32_t hash = why_index_hash(tuples->indexes[0].mask, values);
  why_index_near(&tuples->indexes[0], hash);
  size_t record = add_record(machine);
  if (record == SIZE_MAX)
    return;
  machine->hashes[machine->pending] = hash;
  machine->records[machine->pending] = record;
  if (++machine->pending == WHY_PENDING)
    flush(machine);
}

static void run_plan(why_machine* machine, const why_plan* plan, int* skipped) {
  machine->met = conclude;
  machine->user = skipped;
  machine->rows.count = 0;
  why_machine_run(machine, plan);
  flush(machine);
}

/// Whether a rule rests on a relation that has no rows and gets none. Many rules are about what few
/// questions say, and would be met in vain for one exercise after the other.
static bool is_idle(const why_store* store, const why_rule* rule) {
  for (unsigned i = 0; i < rule->outer_premise_count; i++) {
    const why_tuples* tuples = store->seen[rule->premises[i]->atom.relation];
    if (tuples->count == 0 && tuples->complete && !rule->premises[i]->else_mask)
      return true;
  }
  return false;
}

/// Evaluate a rule over all of the facts there are.
static void run_rule(why_store* store, const why_rule* rule, const why_plan* plan) {
  if (store->failed || is_idle(store, rule))
    return;
  int part = part_of(store, rule->head.relation);
  bool partly = part >= 0 && store->tuples[rule->head.relation].asked.count > 0;
  why_machine* machine = why_machine_new(store, rule);
  run_plan(machine, plan, partly ? &part : NULL);
  why_machine_free(machine);
}

/// Make what is known at the start of a round visible; whether the round before brought anything.
static bool begin_round(why_store* store, const why_stratum* stratum) {
  bool any = false;
  for (size_t i = 0; i < stratum->relations.count; i++) {
    why_tuples* tuples = &store->tuples[stratum->relations.at[i]];
    tuples->old = tuples->end;
    tuples->end = tuples->count;
    any = any || tuples->old < tuples->end;
  }
  return any;
}

/// Call for every rule of a stratum.
static void each_rule(why_store* store, const why_stratum* stratum,
                      void (*each)(why_store* store, const why_rule* rule)) {
  for (size_t i = 0; i < stratum->relations.count; i++) {
    const why_relation_inner* inner = &store->program->relations[stratum->relations.at[i]];
    for (size_t k = 0; k < inner->rules.count && !store->failed; k++)
      each(store, &store->program->rules.at[inner->rules.at[k]]);
  }
}

static void run_first(why_store* store, const why_rule* rule) {
  if (!rule->recursive)
    run_rule(store, rule, why_store_plans(store, rule)->first);
}

static void run_deltas(why_store* store, const why_rule* rule) {
  const why_rule_plans* plans = why_store_plans(store, rule);
  for (size_t k = 0; k < plans->delta_count; k++)
    run_rule(store, rule, plans->deltas[k]);
}

static void stop_rounds(why_store* store, const why_rule* rule) {
  why_machine* machine = why_machine_new(store, rule);
  why_machine_stop(machine, "rounds");
  why_machine_free(machine);
}

/// Evaluate a stratum whole.
static void run_stratum(why_store* store, unsigned number) {
  const why_stratum* stratum = &store->program->strata.at[number];
  uint32_t before =
      0; // rows that were asked for are settled; such a relation is alone in a stratum
  for (size_t i = 0; i < stratum->relations.count; i++) {
    why_tuples* tuples = &store->tuples[stratum->relations.at[i]];
    tuples->complete = true;
    before = tuples->asked.count ? tuples->count : 0;
  }
  each_rule(store, stratum, run_first);
  for (size_t round = 0; stratum->recursive && begin_round(store, stratum) && !store->failed;
       round++)
    each_rule(store, stratum, round > store->limits.rounds ? stop_rounds : run_deltas);
  for (size_t i = 0; i < stratum->relations.count; i++)
    why_store_settle(store, stratum->relations.at[i], before);
}

// ---- overlays ----

/// Evaluate the rules of a relation for one value of the slot by which it is asked.
static void run_part(why_store* store, why_relation relation, unsigned part, why_value value) {
  const why_relation_inner* inner = &store->program->relations[relation];
  uint32_t before = store->tuples[relation].count;
  for (size_t k = 0; k < inner->rules.count && !store->failed; k++) {
    const why_rule* rule = &store->program->rules.at[inner->rules.at[k]];
    const why_term* term = &rule->head.terms[part];
    if (is_idle(store, rule) || (term->kind == WHY_TERM_VALUE && term->value.bits != value.bits))
      continue;
    why_machine* machine = why_machine_new(store, rule);
    if (term->kind == WHY_TERM_VARIABLE)
      machine->variables[term->variable] = value;
    run_plan(machine, why_store_plans(store, rule)->part, NULL);
    why_machine_free(machine);
  }
  why_store_settle(store, relation, before);
}

void why_store_demand(why_store* store, why_relation relation, uint32_t mask,
                      const why_value* values) {
  why_tuples* tuples = &store->tuples[relation];
  if (tuples->complete || !store->open || store->failed)
    return;
  int part = part_of(store, relation);
  if (part < 0 || !(mask >> part & 1))
    run_stratum(store, store->program->relations[relation].stratum);
  else if (why_value_set_add(&tuples->asked, store->arena, values[part]))
    run_part(store, relation, (unsigned)part, values[part]);
}

// ---- bases ----

/// A base is shared by threads, so all its indexes are complete before any question is asked.
static void fill_indexes(why_store* store) {
  for (size_t i = 0; i < store->program->relation_count; i++)
    for (size_t k = 0; k < store->tuples[i].index_count; k++)
      why_index_fill(&store->tuples[i].indexes[k], store->arena, store->tuples[i].rows,
                     store->tuples[i].count);
}

void why_store_run(why_store* store) {
  const why_program* program = store->program;
  for (unsigned i = 0; i < program->strata.count && !store->failed; i++)
    if (!program->strata.at[i].reached)
      run_stratum(store, i);
  fill_indexes(store);
}
