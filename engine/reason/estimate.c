// SPDX-License-Identifier: GPL-3.0-or-later
// How questions are evaluated, settled once for all questions when the base has run: how many rows
// each relation is expected to have, in which order its rules' conditions are met, and whether it
// is evaluated whole or asked by one slot. Only speed hangs on these numbers, so they are rough:
// rows of the base are counted, a question assumes one fact of each relation, and slots are taken
// to be independent (Selinger 1979, doi 10.1145/582095.582099).
#include "store.h"

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

/// Planning at work.
typedef struct {
  why_base* base;
  why_planning with;
  why_expected_rows* expected;
  double* asked; ///< By relation: how many values it is asked for, mostly the same ones.
  bool* whole;   ///< By relation: somebody asks for all of it.
} planning;

static const why_relation_inner* relation_at(const planning* plan, size_t relation) {
  return &plan->with.program->relations[relation];
}

static void count_base(planning* plan) {
  uint64_t* map = WHY_NEW_ARRAY(plan->with.arena, uint64_t, SKETCH_BITS / 64);
  for (size_t r = 0; r < plan->with.program->relation_count; r++) {
    const why_tuples* tuples = &plan->base->store.tuples[r];
    why_expected_rows* made = &plan->expected[r];
    made->rows = tuples->count;
    for (unsigned i = 0; i < tuples->width; i++)
      made->different[i] = count_different(tuples, i, map);
    if (relation_at(plan, r)->info.assumable) {
      made->rows++;
      for (unsigned i = 0; i < tuples->width; i++)
        made->different[i]++;
    }
  }
}

// ---- how many rows follow ----

/// How many different values a variable has, by the least of the slots that hold it.
static double different_values(const planning* plan, const why_condition* conditions, size_t count,
                               uint32_t variable) {
  double least = INFINITY;
  for (size_t i = 0; i < count; i++) {
    const why_condition* each = &conditions[i];
    if (each->group)
      least = fmin(
          least, different_values(plan, each->group->inside, each->group->inside_count, variable));
    if (each->kind != WHY_IF)
      continue;
    for (unsigned s = 0; s < relation_at(plan, each->atom.relation)->info.slot_count; s++)
      if (each->atom.terms[s].kind == WHY_TERM_VARIABLE && each->atom.terms[s].variable == variable)
        least = fmin(least, plan->expected[each->atom.relation].different[s]);
  }
  return least;
}

/// Add what a rule is expected to conclude.
static void add_estimate(planning* plan, const why_rule* rule, double size) {
  why_expected_rows* made = &plan->expected[rule->head.relation];
  unsigned slot_count = relation_at(plan, rule->head.relation)->info.slot_count;
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

/// A recursion is taken to bring some times what its beginning does.
enum { GROWTH = 4 };

/// A relation that follows by recursion alone is taken to be as large as those it recurs with.
static void level_recursion(planning* plan, const why_stratum* stratum) {
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

static void estimate_stratum(planning* plan, const why_stratum* stratum) {
  for (size_t i = 0; i < stratum->relations.count; i++) {
    const why_relation_inner* relation = relation_at(plan, stratum->relations.at[i]);
    for (size_t k = 0; k < relation->rules.count; k++) {
      const why_rule* rule = &plan->with.program->rules.at[relation->rules.at[k]];
      if (!rule->recursive)
        add_estimate(plan, rule,
                     why_rule_size(&plan->with, rule) * (stratum->recursive ? GROWTH : 1));
    }
  }
  if (stratum->recursive)
    level_recursion(plan, stratum);
}

// ---- which slot a relation is asked by ----

static bool is_in(const uint32_t* variables, size_t count, uint32_t variable) {
  for (size_t i = 0; i < count; i++)
    if (variables[i] == variable)
      return true;
  return false;
}

/// Whether knowing the variable spares work: some condition holds it, and each aggregate is then
/// about one group. Else every value would have the same rows counted again.
static bool spares_work(const why_program* program, const why_rule* rule, uint32_t variable) {
  bool held = false;
  for (size_t i = 0; i < rule->condition_count; i++) {
    const why_condition* each = &rule->conditions[i];
    if (each->group) {
      if (!is_in(each->group->by, each->group->by_count, variable))
        return false;
      held = true;
    }
    unsigned slot_count =
        each->kind == WHY_IF ? program->relations[each->atom.relation].info.slot_count : 0;
    for (unsigned s = 0; s < slot_count; s++)
      held = held || (each->atom.terms[s].kind == WHY_TERM_VARIABLE &&
                      each->atom.terms[s].variable == variable && !(each->else_mask >> s & 1));
  }
  return held;
}

static bool can_ask_by(const planning* plan, const why_relation_inner* relation, unsigned slot) {
  if (relation->key_mask && !(relation->key_mask >> slot & 1))
    return false; // rows of one key must come together
  for (size_t k = 0; k < relation->rules.count; k++) {
    const why_rule* rule = &plan->with.program->rules.at[relation->rules.at[k]];
    const why_term* term = &rule->head.terms[slot];
    if (term->kind == WHY_TERM_VARIABLE && !spares_work(plan->with.program, rule, term->variable))
      return false;
  }
  return true;
}

/// The slot with most values of those by which a relation can be asked, or -1.
static int find_part(const planning* plan, why_relation relation) {
  const why_relation_inner* inner = relation_at(plan, relation);
  if (!inner->info.reached || inner->info.assumable || inner->rules.count == 0 ||
      plan->with.program->strata.at[inner->stratum].recursive ||
      plan->base->store.tuples[relation].count)
    return -1;
  int best = -1;
  const double* different = plan->expected[relation].different;
  for (unsigned i = 0; i < inner->info.slot_count; i++)
    if (can_ask_by(plan, inner, i) && (best < 0 || different[i] > different[best]))
      best = (int)i;
  return best;
}

// ---- whole, or by parts ----

/// Note what a plan that is met `times` asks of the relations that questions reach.
static void note_plan(planning* plan, const why_plan* of, double times) {
  for (size_t i = 0; i < of->count; i++) {
    const why_step* step = &of->steps[i];
    double reached = fmax(times * step->before, 1);
    if (step->kind == WHY_STEP_GROUP)
      note_plan(plan, step->inside, reached);
    if (step->kind != WHY_STEP_SCAN && step->kind != WHY_STEP_ABSENT)
      continue;
    why_relation relation = step->condition->atom.relation;
    int part = plan->base->plans.parts[relation];
    if (part >= 0 && step->mask >> part & 1)
      plan->asked[relation] = fmax(plan->asked[relation], reached);
    else
      plan->whole[relation] = true;
  }
}

static uint64_t part_variable(const why_rule* rule, int part) {
  const why_term* term = &rule->head.terms[part];
  return term->kind == WHY_TERM_VARIABLE ? why_bit(term->variable) : 0;
}

/// Work for a value that is asked, beside its rows, in rows.
enum { ASKING = 2 };
/// Answers read a few things of the relations that no rule uses.
enum { READINGS = 8 };

/// Settle whether a relation is asked by parts, when all that ask it are settled.
static void settle_part(planning* plan, why_relation relation) {
  int* part = &plan->base->plans.parts[relation];
  if (*part < 0)
    return;
  const why_expected_rows* estimate = &plan->expected[relation];
  double different = fmax(estimate->different[*part], 1);
  bool used = plan->whole[relation] || plan->asked[relation] > 0;
  plan->asked[relation] = fmin(used ? plan->asked[relation] : READINGS, different);
  double by_parts = plan->asked[relation] * (estimate->rows / different + ASKING);
  if (used && (plan->whole[relation] || by_parts > estimate->rows))
    *part = -1;
}

static void plan_stratum(planning* plan, const why_stratum* stratum) {
  for (size_t i = 0; i < stratum->relations.count; i++) {
    why_relation relation = stratum->relations.at[i];
    settle_part(plan, relation);
    int part = plan->base->plans.parts[relation];
    const why_relation_inner* inner = relation_at(plan, relation);
    for (size_t k = 0; k < inner->rules.count; k++) {
      const why_rule* rule = &plan->with.program->rules.at[inner->rules.at[k]];
      why_rule_plans* made = &plan->base->plans.rules[rule->number];
      why_rule_plan(&plan->with, rule, made);
      if (part >= 0)
        made->part = why_rule_plan_bound(&plan->with, rule, part_variable(rule, part));
      note_plan(plan, part >= 0 ? made->part : made->first, part >= 0 ? plan->asked[relation] : 1);
      for (size_t d = 0; d < made->delta_count; d++)
        note_plan(plan, made->deltas[d], GROWTH);
    }
  }
}

/// Masks of the program's indexes, to be added to.
static why_masks* copy_masks(const why_program* program, why_arena* arena) {
  why_masks* made = WHY_NEW_ARRAY(arena, why_masks, program->relation_count + 1);
  for (size_t i = 0; i < program->relation_count; i++)
    for (size_t k = 0; k < program->relations[i].indexes.count; k++)
      *WHY_LIST_ADD(arena, made[i]) = program->relations[i].indexes.at[k];
  return made;
}

/// Make the indexes of a relation of the base that only questions need.
static void add_indexes(why_base* base, why_relation relation) {
  why_store* store = &base->store;
  why_tuples* tuples = &store->tuples[relation];
  const why_masks* masks = &base->plans.masks[relation];
  why_index* made = WHY_NEW_ARRAY(store->arena, why_index, masks->count);
  for (size_t k = 0; k < masks->count; k++) {
    made[k] =
        k < tuples->index_count ? tuples->indexes[k] : why_index_new(masks->at[k], tuples->width);
    why_index_fill(&made[k], store->arena, tuples->rows, tuples->count);
  }
  tuples->indexes = made;
  tuples->index_count = masks->count;
}

void why_base_expect(why_base* base, why_relation relation, uint32_t mask) {
  why_masks_number(base->store.arena, &base->plans.masks[relation], mask);
  add_indexes(base, relation);
}

void why_base_plan(why_base* base) {
  const why_program* program = base->store.program;
  why_arena* arena = base->store.arena;
  size_t count = program->relation_count + 1;
  planning plan = {.base = base,
                   .expected = WHY_NEW_ARRAY(arena, why_expected_rows, count),
                   .asked = WHY_NEW_ARRAY(arena, double, count),
                   .whole = WHY_NEW_ARRAY(arena, bool, count)};
  base->plans =
      (why_question_plans){.rules = WHY_NEW_ARRAY(arena, why_rule_plans, program->rules.count + 1),
                           .masks = copy_masks(program, arena),
                           .parts = WHY_NEW_ARRAY(arena, int, count)};
  plan.with = (why_planning){
      .arena = arena, .program = program, .masks = base->plans.masks, .expected = plan.expected};
  count_base(&plan);
  for (size_t i = 0; i < program->strata.count; i++)
    if (program->strata.at[i].reached)
      estimate_stratum(&plan, &program->strata.at[i]);
  for (size_t i = 0; i < program->relation_count; i++)
    base->plans.parts[i] = find_part(&plan, (why_relation)i);
  for (size_t i = program->strata.count; i-- > 0;)
    if (program->strata.at[i].reached)
      plan_stratum(&plan, &program->strata.at[i]);
  for (size_t i = 0; i < program->relation_count; i++)
    add_indexes(base, (why_relation)i);
}
