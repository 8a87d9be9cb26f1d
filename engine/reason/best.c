// SPDX-License-Identifier: GPL-3.0-or-later
// The best derivation of every fact of a base, once for all questions: facts are settled in the
// order of strata; in a recursion, steps are lowered until none can be lowered further (proof.c
// says why).
#include "store.h"

#include <math.h>
#include <stdlib.h>

/// Sizes of trees end here; what lies between and the largest number still tells them apart.
#define LARGEST_SIZE 1e300
/// Above this, sums depend on their order.
#define EXACT_SIZE 9007199254740992.0

static int compare_numbers(const void* left, const void* right) {
  double a = *(const double*)left;
  double b = *(const double*)right;
  return (a > b) - (a < b);
}

/// Trees share parts, so that their sizes can outgrow what a number tells apart; the next larger
/// number then stands in, since what follows must cost more than each thing it rests on.
double why_steps_over(double* parts, size_t count) {
  double steps = 1;
  double most = 0;
  for (size_t i = 0; i < count; i++) {
    steps += parts[i];
    most = fmax(most, parts[i]);
  }
  if (isinf(most))
    return most;
  if (steps >= EXACT_SIZE) {
    qsort(parts, count, sizeof *parts, compare_numbers);
    steps = 1;
    for (size_t i = 0; i < count; i++)
      steps += parts[i];
  }
  steps = fmin(steps, LARGEST_SIZE);
  return steps > most ? steps : nextafter(most, INFINITY);
}

/// A record at work.
typedef struct {
  why_store* store; ///< The base's, but what it restores of derivations goes afterwards.
  why_fact_list facts;
  WHY_LIST(double) parts;
} weighing;

static double steps_of(const why_store* store, why_fact fact) {
  const why_tuples* tuples = &store->tuples[fact.relation];
  return tuples->steps ? tuples->steps[fact.row] : 0;
}

/// Steps of the tree below a record.
static double weigh(weighing* at, size_t record) {
  why_arena* work = at->store->work;
  why_record_facts(at->store, at->store, record, work, &at->facts);
  at->parts.count = 0;
  for (size_t i = 0; i < at->facts.count; i++)
    *WHY_LIST_ADD(work, at->parts) = steps_of(at->store, at->facts.at[i]);
  return why_steps_over(at->parts.at, at->parts.count);
}

/// Steps of all rows before anything is known of those that were not given.
static void begin(const why_store* store, why_arena* arena, why_relation relation) {
  why_tuples* tuples = &store->tuples[relation];
  if (store->program->relations[relation].rules.count == 0 || tuples->count == 0)
    return;
  tuples->steps = WHY_NEW_ARRAY(arena, double, tuples->count);
  tuples->best = WHY_NEW_ARRAY(arena, uint32_t, tuples->count);
  for (uint32_t row = 0; row < tuples->count; row++)
    tuples->steps[row] = why_tuples_given(tuples, row) ? 0 : INFINITY;
}

static uint32_t record_before(const why_store* store, uint32_t record) {
  return store->words.at[record - 1 + WHY_RECORD_BEFORE];
}

/// Lower the steps of a relation's rows; whether any was.
static bool lower(weighing* at, why_relation relation) {
  const why_store* store = at->store;
  const why_tuples* tuples = &store->tuples[relation];
  bool changed = false;
  for (uint32_t row = 0; tuples->steps && row < tuples->count; row++) {
    for (uint32_t i = tuples->derived[row]; i && tuples->steps[row] > 0;
         i = record_before(store, i)) {
      double steps = weigh(at, i - 1);
      if (steps >= tuples->steps[row])
        continue;
      tuples->steps[row] = steps;
      tuples->best[row] = i;
      changed = true;
    }
  }
  return changed;
}

/// Of the records of a row that cost least, the first by rule and texts.
static void choose(weighing* at, why_fact fact) {
  why_store* store = at->store;
  const why_tuples* tuples = &store->tuples[fact.relation];
  uint32_t best = 0;
  why_derivation first = {0};
  for (uint32_t i = tuples->derived[fact.row]; i; i = record_before(store, i)) {
    if (weigh(at, i - 1) != tuples->steps[fact.row])
      continue;
    why_derivation each = {0};
    if (best && !first.rule)
      first = why_record_restore(store, store, best - 1, fact);
    if (best)
      each = why_record_restore(store, store, i - 1, fact);
    if (best && why_derivation_compare(store, &each, &first) >= 0)
      continue;
    best = i;
    first = each;
  }
  tuples->best[fact.row] = best;
}

static void settle(weighing* at, why_arena* arena, const why_stratum* stratum) {
  for (size_t i = 0; i < stratum->relations.count; i++)
    begin(at->store, arena, stratum->relations.at[i]);
  for (bool changed = true; changed;) {
    changed = false;
    for (size_t i = 0; i < stratum->relations.count; i++)
      changed = lower(at, stratum->relations.at[i]) || changed;
    changed = changed && stratum->recursive;
  }
  for (size_t i = 0; i < stratum->relations.count; i++) {
    const why_tuples* tuples = &at->store->tuples[stratum->relations.at[i]];
    for (uint32_t row = 0; tuples->steps && row < tuples->count; row++)
      if (tuples->best[row] && record_before(at->store, tuples->derived[row]))
        choose(at, (why_fact){stratum->relations.at[i], row});
  }
}

void why_base_prove(why_base* base) {
  why_store store = base->store;
  store.arena = store.work;
  weighing at = {.store = &store};
  for (size_t i = 0; i < base->store.program->strata.count; i++)
    if (!base->store.program->strata.at[i].reached)
      settle(&at, base->store.arena, &base->store.program->strata.at[i]);
}
