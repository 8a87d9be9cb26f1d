// SPDX-License-Identifier: GPL-3.0-or-later
// How many rows each relation is expected to have. Only speed hangs on these numbers, so they are
// rough: rows of the base are counted, and those of questions too where typical ones are at hand;
// else a question assumes one fact of each relation, and the rest is estimated. Slots are taken to
// be independent (Selinger 1979, doi 10.1145/582095.582099).
#include "estimate.h"

#include <math.h>

// ---- how many different values a slot has ----

enum { SKETCH_BITS = 1 << 16 };

/// Linear counting (Whang 1990, doi 10.1145/78922.78925): values are hashed into a map of bits, and
/// the number of bits that stay clear tells how many values there were.
static double count_different(const why_tuples* tuples, unsigned slot, uint64_t* map) {
  enum { WORDS = SKETCH_BITS / 64 };
  for (size_t i = 0; i < WORDS; i++)
    map[i] = 0;
  for (uint32_t row = 0; row < tuples->count; row++) {
    uint32_t hash = why_index_hash(1, &why_tuples_row(tuples, row)[slot]) % SKETCH_BITS;
    map[hash / 64] |= UINT64_C(1) << (hash % 64);
  }
  int set = 0;
  for (size_t i = 0; i < WORDS; i++)
    set += __builtin_popcountll(map[i]);
  if (set == SKETCH_BITS)
    return tuples->count;
  return fmin(tuples->count, -SKETCH_BITS * log(1 - (double)set / SKETCH_BITS));
}

static void add_rows(why_expected_rows* to, const why_tuples* tuples, uint64_t* map) {
  to->rows += tuples->count;
  for (unsigned i = 0; i < tuples->width; i++)
    to->different[i] += count_different(tuples, i, map);
}

static void count_base(why_estimate* plan) {
  for (size_t r = 0; r < plan->with.program->relation_count; r++) {
    const why_tuples* tuples = &plan->base->store.tuples[r];
    add_rows(&plan->expected[r], tuples, plan->map);
    bool assumable = why_estimate_relation(plan, r)->info.assumable;
    for (unsigned i = 0; i < tuples->width && assumable; i++)
      plan->expected[r].different[i]++;
    plan->expected[r].rows += assumable;
  }
}

// ---- what typical questions hold ----

struct why_lessons {
  const why_program* program;
  why_expected_rows* sums; ///< By relation that questions reach.
  double count;
  uint64_t* map; ///< For counting.
};

static uint64_t* new_map(why_arena* arena) {
  return WHY_NEW_ARRAY(arena, uint64_t, SKETCH_BITS / 64);
}

why_lessons* why_lessons_new(const why_base* base, why_arena* arena) {
  why_lessons* made = WHY_NEW(arena, why_lessons);
  made->program = base->store.program;
  made->sums = WHY_NEW_ARRAY(arena, why_expected_rows, made->program->relation_count + 1);
  made->map = new_map(arena);
  return made;
}

void why_lessons_add(why_lessons* lessons, const why_overlay* typical) {
  lessons->count++;
  for (size_t r = 0; r < lessons->program->relation_count; r++)
    if (lessons->program->relations[r].info.reached)
      add_rows(&lessons->sums[r], &typical->store.tuples[r], lessons->map);
}

/// Expect of a question what they hold on average.
static void recall(why_estimate* plan, const why_lessons* lessons) {
  for (size_t r = 0; r < plan->with.program->relation_count; r++) {
    if (!why_estimate_relation(plan, r)->info.reached)
      continue;
    why_expected_rows* made = &plan->expected[r];
    made->rows = lessons->sums[r].rows / lessons->count;
    for (unsigned i = 0; i < WHY_SLOTS_LIMIT; i++)
      made->different[i] = lessons->sums[r].different[i] / lessons->count;
  }
}

// ---- conditions that name values ----

static double count_fitting(const why_estimate* plan, const why_atom* atom) {
  const why_tuples* tuples = &plan->base->store.tuples[atom->relation];
  why_value values[WHY_SLOTS_LIMIT];
  uint32_t mask = 0;
  double count = 0;
  for (unsigned i = 0; i < tuples->width; i++) {
    values[i] = atom->terms[i].value;
    mask |= (uint32_t)(atom->terms[i].kind == WHY_TERM_VALUE) << i;
  }
  for (uint32_t row = 0; row < tuples->count; row++)
    count += why_index_same(mask, why_tuples_row(tuples, row), values);
  return count;
}

/// Count rows for the conditions about the base.
static void count_conditions(why_estimate* plan, const why_condition* conditions, size_t count,
                             double* fitting) {
  for (size_t i = 0; i < count; i++) {
    const why_condition* each = &conditions[i];
    if (each->group)
      count_conditions(plan, each->group->inside, each->group->inside_count, fitting);
    bool based = (each->kind == WHY_IF || each->kind == WHY_UNLESS) &&
                 !why_estimate_relation(plan, each->atom.relation)->info.reached;
    fitting[each->number] = based ? count_fitting(plan, &each->atom) : NAN;
  }
}

static const double* count_fittings(why_estimate* plan) {
  const why_program* program = plan->with.program;
  double* made = WHY_NEW_ARRAY(plan->with.arena, double, program->condition_count + 1);
  for (size_t i = 0; i < program->rules.count; i++)
    if (program->rules.at[i].in_overlay)
      count_conditions(plan, program->rules.at[i].conditions, program->rules.at[i].condition_count,
                       made);
  return made;
}

// ---- how many rows follow ----

/// How many different values a variable has, by the least of the slots that hold it.
static double different_values(const why_estimate* plan, const why_condition* conditions,
                               size_t count, uint32_t variable) {
  double least = INFINITY;
  for (size_t i = 0; i < count; i++) {
    const why_condition* each = &conditions[i];
    if (each->group)
      least = fmin(
          least, different_values(plan, each->group->inside, each->group->inside_count, variable));
    if (each->kind != WHY_IF)
      continue;
    for (unsigned s = 0; s < why_estimate_relation(plan, each->atom.relation)->info.slot_count; s++)
      if (each->atom.terms[s].kind == WHY_TERM_VARIABLE && each->atom.terms[s].variable == variable)
        least = fmin(least, plan->expected[each->atom.relation].different[s]);
  }
  return least;
}

/// Add what a rule is expected to conclude.
static void add_estimate(why_estimate* plan, const why_rule* rule, double size) {
  why_expected_rows* made = &plan->expected[rule->head.relation];
  unsigned slot_count = why_estimate_relation(plan, rule->head.relation)->info.slot_count;
  made->rows += size;
  for (unsigned i = 0; i < slot_count; i++) {
    const why_term* term = &rule->head.terms[i];
    double different =
        term->kind == WHY_TERM_VALUE
            ? 1
            : different_values(plan, rule->conditions, rule->condition_count, term->variable);
    made->different[i] += fmin(different, size);
  }
}

/// A relation that follows by recursion alone is taken to be as large as those it recurs with.
static void level_recursion(why_estimate* plan, const why_stratum* stratum) {
  double most = 0;
  for (size_t i = 0; i < stratum->relations.count; i++)
    most = fmax(most, plan->expected[stratum->relations.at[i]].rows);
  for (size_t i = 0; i < stratum->relations.count; i++) {
    why_expected_rows* each = &plan->expected[stratum->relations.at[i]];
    if (each->rows > 0)
      continue;
    each->rows = most;
    for (unsigned s = 0; s < WHY_SLOTS_LIMIT; s++)
      each->different[s] = most;
  }
}

static void estimate_stratum(why_estimate* plan, const why_stratum* stratum) {
  for (size_t i = 0; i < stratum->relations.count; i++) {
    const why_relation_inner* relation = why_estimate_relation(plan, stratum->relations.at[i]);
    for (size_t k = 0; k < relation->rules.count; k++) {
      const why_rule* rule = &plan->with.program->rules.at[relation->rules.at[k]];
      if (!rule->recursive)
        add_estimate(plan, rule,
                     why_rule_size(&plan->with, rule) *
                         (stratum->recursive ? WHY_GROWTH_OF_RECURSION : 1));
    }
  }
  if (stratum->recursive)
    level_recursion(plan, stratum);
}

static void estimate_questions(why_estimate* plan) {
  const why_program* program = plan->with.program;
  for (size_t i = 0; i < program->strata.count; i++)
    if (program->strata.at[i].reached)
      estimate_stratum(plan, &program->strata.at[i]);
}

void why_estimate_rows(why_estimate* plan, const why_lessons* lessons) {
  plan->map = new_map(plan->with.arena);
  count_base(plan);
  plan->with.fitting = count_fittings(plan);
  if (lessons && lessons->count > 0)
    recall(plan, lessons);
  else
    estimate_questions(plan);
}
