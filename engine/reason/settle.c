// SPDX-License-Identifier: GPL-3.0-or-later
// How questions are evaluated, settled once for all questions when the base has run: in which order
// the conditions of each rule are met, and whether a relation is evaluated whole or asked by one
// slot. Those who ask are settled before what they ask.
#include "estimate.h"

#include <math.h>

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

static bool can_ask_by(const why_estimate* plan, const why_relation_inner* relation,
                       unsigned slot) {
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
static int find_part(const why_estimate* plan, why_relation relation) {
  const why_relation_inner* inner = why_estimate_relation(plan, relation);
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
static void note_plan(why_estimate* plan, const why_plan* of, double times) {
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

/// Work for a value that is asked, or for a rule that is met, beside its rows, in rows.
enum { ASKING = 2 };
/// Answers read a few things of the relations that no rule uses.
enum { READINGS = 5 };

/// Settle whether a relation is asked by parts, when all that ask it are settled and its rules are
/// planned.
static void settle_part(why_estimate* plan, why_relation relation) {
  int* part = &plan->base->plans.parts[relation];
  if (*part < 0)
    return;
  const why_relation_inner* inner = why_estimate_relation(plan, relation);
  double whole = 0;
  double once = ASKING;
  for (size_t k = 0; k < inner->rules.count; k++) {
    const why_rule_plans* made = &plan->base->plans.rules[inner->rules.at[k]];
    whole += ASKING + made->first->work;
    once += made->part->work;
  }
  double different = fmax(plan->expected[relation].different[*part], 1);
  bool used = plan->whole[relation] || plan->asked[relation] > 0;
  plan->asked[relation] = used ? fmin(plan->asked[relation], different) : READINGS;
  if (plan->whole[relation] || plan->asked[relation] * once > whole)
    *part = -1;
}

static void plan_relation(why_estimate* plan, why_relation relation) {
  int part = plan->base->plans.parts[relation];
  const why_relation_inner* inner = why_estimate_relation(plan, relation);
  for (size_t k = 0; k < inner->rules.count; k++) {
    const why_rule* rule = &plan->with.program->rules.at[inner->rules.at[k]];
    why_rule_plans* made = &plan->base->plans.rules[rule->number];
    why_rule_plan(&plan->with, rule, made);
    if (part >= 0)
      made->part = why_rule_plan_bound(&plan->with, rule, part_variable(rule, part));
  }
}

/// Note what a relation asks, the way it is evaluated.
static void note_relation(why_estimate* plan, why_relation relation) {
  int part = plan->base->plans.parts[relation];
  const why_relation_inner* inner = why_estimate_relation(plan, relation);
  for (size_t k = 0; k < inner->rules.count; k++) {
    const why_rule_plans* made = &plan->base->plans.rules[inner->rules.at[k]];
    note_plan(plan, part >= 0 ? made->part : made->first, part >= 0 ? plan->asked[relation] : 1);
    for (size_t d = 0; d < made->delta_count; d++)
      note_plan(plan, made->deltas[d], WHY_GROWTH_OF_RECURSION);
  }
}

static void plan_stratum(why_estimate* plan, const why_stratum* stratum) {
  for (size_t i = 0; i < stratum->relations.count; i++) {
    plan_relation(plan, stratum->relations.at[i]);
    settle_part(plan, stratum->relations.at[i]);
    note_relation(plan, stratum->relations.at[i]);
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

static const why_index* find_index(const why_tuples* tuples, uint32_t mask) {
  for (size_t i = 0; i < tuples->index_count; i++)
    if (tuples->indexes[i].mask == mask)
      return &tuples->indexes[i];
  return NULL;
}

/// Make the indexes of a relation of the base that only questions need.
static void add_indexes(why_base* base, why_relation relation) {
  why_store* store = &base->store;
  why_tuples* tuples = &store->tuples[relation];
  const why_masks* masks = &base->plans.masks[relation];
  why_index* made = WHY_NEW_ARRAY(store->arena, why_index, masks->count);
  for (size_t k = 0; k < masks->count; k++) {
    const why_index* known = find_index(tuples, masks->at[k]);
    made[k] = known ? *known : why_index_new(masks->at[k], tuples->width, tuples->count);
    why_index_fill(&made[k], store->arena, tuples->rows, tuples->count);
  }
  tuples->indexes = made;
  tuples->index_count = masks->count;
}

void why_base_expect(why_base* base, why_relation relation, uint32_t mask) {
  why_masks_number(base->store.arena, &base->plans.masks[relation], mask);
  add_indexes(base, relation);
}

/// Room for as many rows as half of the questions have: more is zeroed in vain, less moves once.
static uint32_t find_room(const why_estimate* plan, size_t relation) {
  enum { LEAST = 4, MOST = 128 };
  return (uint32_t)fmin(fmax(plan->expected[relation].rows / 2, LEAST), MOST);
}

void why_base_plan(why_base* base, const why_lessons* lessons) {
  const why_program* program = base->store.program;
  why_arena* arena = base->store.arena;
  size_t count = program->relation_count + 1;
  why_estimate plan = {.base = base,
                       .expected = WHY_NEW_ARRAY(arena, why_expected_rows, count),
                       .asked = WHY_NEW_ARRAY(arena, double, count),
                       .whole = WHY_NEW_ARRAY(arena, bool, count)};
  base->plans =
      (why_question_plans){.rules = WHY_NEW_ARRAY(arena, why_rule_plans, program->rules.count + 1),
                           .masks = copy_masks(program, arena),
                           .parts = WHY_NEW_ARRAY(arena, int, count),
                           .rooms = WHY_NEW_ARRAY(arena, uint32_t, count)};
  plan.with = (why_planning){
      .arena = arena, .program = program, .masks = base->plans.masks, .expected = plan.expected};
  why_estimate_rows(&plan, lessons);
  for (size_t i = 0; i < program->relation_count; i++)
    base->plans.parts[i] = find_part(&plan, (why_relation)i);
  for (size_t i = program->strata.count; i-- > 0;)
    if (program->strata.at[i].reached)
      plan_stratum(&plan, &program->strata.at[i]);
  for (size_t i = 0; i < program->relation_count; i++) {
    base->plans.rooms[i] = find_room(&plan, i);
    add_indexes(base, (why_relation)i);
    if (program->relations[i].info.reached && base->store.tuples[i].count)
      *WHY_LIST_ADD(arena, base->plans.given) = (why_relation)i;
  }
}
