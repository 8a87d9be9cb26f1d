// SPDX-License-Identifier: GPL-3.0-or-later
// Chooses the findings of a question: by number, so that the same can be pooled again with other
// spreads. Which heads a goal has and which arms speak
// for an exercise is decided by the rules.
#include "trial_set.h"

#include <math.h>

typedef struct {
  why_trials* trials;
  const why_ground* ground;
  why_arena* arena;
  why_overlay* overlay;
  why_findings tried[2]; ///< With the lowest and the highest correlation.
  why_facts arms;        ///< Of did-mostly, for an exercise.
  why_relation did_mostly;
} pooler;

static why_status missing_quantity(const why_question* question) {
  why_problems_add(question->problems, WHY_ERROR, "imputing", (why_place){0},
                   "a quantity for what studies do not print is missing: pre-post-correlation, "
                   "change-spread, head-correlation or limb-correlation");
  return WHY_KNOWLEDGE;
}

static why_status collect(pooler* p) {
  const why_question* question = p->trials->question;
  why_imputing imputing = why_imputing_usual();
  why_status status =
      why_findings_collect(p->ground->tables, &imputing, p->arena, &p->trials->findings);
  const why_quantity* tried = why_quantity_find(
      &p->ground->tables->measurements, p->ground->symbols, "pre-post-correlation-sensitivity", 0);
  p->trials->tried_correlation[0] = tried ? tried->amount.low : NAN;
  p->trials->tried_correlation[1] = tried ? tried->amount.high : NAN;
  for (int i = 0; tried && status == WHY_OK && i < 2; i++) {
    imputing.pre_post_correlation = p->trials->tried_correlation[i];
    status = why_findings_collect(p->ground->tables, &imputing, p->arena, &p->tried[i]);
  }
  return status == WHY_KNOWLEDGE ? missing_quantity(question) : status;
}

/// Facts of a relation whose slot has that value; none when the rules have no such relation.
static why_facts facts_of(const pooler* p, why_relation relation, const char* slot,
                          why_symbol value) {
  why_value values[WHY_SLOTS_LIMIT] = {0};
  int at = relation == WHY_NO_RELATION ? -1 : why_program_slot(p->ground->program, relation, slot);
  if (at < 0)
    return (why_facts){0};
  values[at] = why_value_of_symbol(value);
  return why_facts_find(p->overlay, relation, value ? 1u << at : 0, values);
}

static why_symbol fact_symbol(const pooler* p, why_relation relation, why_fact fact,
                              const char* slot) {
  int at = why_program_slot(p->ground->program, relation, slot);
  return at < 0 ? 0 : why_fact_symbol(p->overlay, fact, at);
}

static why_status read_rules(pooler* p) {
  const why_question* question = p->trials->question;
  p->overlay = why_overlay_new(p->ground->base, p->arena, NULL);
  why_question_assume(question, p->overlay);
  why_status status = why_overlay_run(p->overlay, question->problems);
  if (status != WHY_OK)
    return status;
  p->did_mostly = why_program_find(p->ground->program, "did-mostly");
  if (question->exercise)
    p->arms = facts_of(p, p->did_mostly, "exercise", question->exercise);
  why_relation wanted = why_program_find(p->ground->program, "wanted");
  why_facts heads = facts_of(p, wanted, "head", 0);
  for (size_t i = 0; question->goal.id && i < heads.count; i++)
    *WHY_LIST_ADD(p->arena, p->trials->heads) = fact_symbol(p, wanted, heads.at[i], "head");
  return WHY_OK;
}

static bool holds(why_symbol_list list, why_symbol symbol) {
  for (size_t i = 0; i < list.count; i++)
    if (list.at[i] == symbol)
      return true;
  return false;
}

/// How many of `some` are in `all`.
static size_t shared(why_symbol_list some, why_symbol_list all) {
  size_t count = 0;
  for (size_t i = 0; i < some.count; i++)
    count += holds(all, some.at[i]);
  return count;
}

static bool did_mostly(const pooler* p, const why_finding* finding) {
  for (size_t i = 0; i < p->arms.count; i++)
    if (fact_symbol(p, p->did_mostly, p->arms.at[i], "study") == finding->study->id &&
        fact_symbol(p, p->did_mostly, p->arms.at[i], "arm") == finding->arm->id)
      return true;
  return false;
}

static why_trial_set* set_for(pooler* p, why_symbol group) {
  for (size_t i = 0; i < p->trials->sets.count; i++)
    if (p->trials->sets.at[i].group == group)
      return &p->trials->sets.at[i];
  why_trial_set* made = WHY_LIST_ADD(p->arena, p->trials->sets);
  made->group = group;
  return made;
}

/// The group of a goal is 0. False when the finding belongs to no set.
static bool choose(pooler* p, const why_finding* finding, why_symbol* group) {
  *group = 0;
  if (finding->arm->control)
    return false;
  if (p->trials->question->goal.id) {
    size_t inside = shared(finding->heads, p->trials->heads);
    p->trials->together += inside && inside < finding->heads.count;
    return inside == finding->heads.count;
  }
  const why_measured* muscle =
      why_measured_find(&p->ground->tables->measured_muscles, finding->result->muscle);
  *group = muscle ? muscle->group : 0;
  return *group && did_mostly(p, finding);
}

static void choose_all(pooler* p) {
  const why_findings* all = &p->trials->findings;
  for (size_t i = 0; i < all->rows.count; i++) {
    why_symbol group = 0;
    if (!choose(p, &all->rows.at[i], &group))
      continue;
    why_trial_set* set = set_for(p, group);
    *WHY_LIST_ADD(p->arena, set->members) = i;
  }
}

static bool trained(const why_arm* arm, why_symbol exercise) {
  for (size_t i = 0; arm && i < arm->trained.count; i++)
    if (arm->trained.at[i].exercise == exercise)
      return true;
  return false;
}

static void gather_unused(pooler* p) {
  const why_findings* all = &p->trials->findings;
  for (size_t i = 0; i < all->unused.count; i++) {
    const why_unused* each = &all->unused.at[i];
    const why_question* question = p->trials->question;
    bool about =
        question->goal.id
            ? shared(why_result_heads(p->ground->tables, each->result), p->trials->heads) > 0
            : trained(why_study_arm(each->study, each->result->arm), question->exercise);
    if (about)
      *WHY_LIST_ADD(p->arena, p->trials->unused) = each;
  }
}

/// What randomisation says of an exercise: its arms against the others of their studies.
static void gather_contrasts(pooler* p) {
  why_differences all = {0};
  if (p->trials->question->exercise)
    why_differences_of(p->ground->tables, &p->trials->findings, p->arena, &all);
  for (size_t i = 0; i < all.count; i++) {
    const why_difference* each = &all.at[i];
    bool by_a = did_mostly(p, each->a);
    if (by_a == did_mostly(p, each->b))
      continue;
    double sign = by_a ? 1 : -1;
    *WHY_LIST_ADD(p->arena, p->trials->contrasts) = (why_trial_contrast){
        .difference = each,
        .turned = !by_a,
        .growth = why_interval_around(sign * each->log_difference, sqrt(each->variance), INFINITY)};
  }
}

/// Sets with most samples first, then by the ids of their groups.
static void sort_sets(const pooler* p) {
  for (size_t i = 1; i < p->trials->sets.count; i++) {
    why_trial_set moved = p->trials->sets.at[i];
    size_t at = i;
    for (; at > 0; at--) {
      const why_trial_set* before = &p->trials->sets.at[at - 1];
      bool later = before->samples.count < moved.samples.count ||
                   (before->samples.count == moved.samples.count &&
                    why_symbol_compare(p->ground->symbols, before->group, moved.group) > 0);
      if (!later)
        break;
      p->trials->sets.at[at] = *before;
    }
    p->trials->sets.at[at] = moved;
  }
}

why_status why_trials_run(const why_question* question, why_trials** trials) {
  why_trials* made = WHY_NEW(question->arena, why_trials);
  pooler p = {.trials = made, .ground = question->ground, .arena = question->arena};
  made->question = question;
  why_status status = collect(&p);
  if (status == WHY_OK)
    status = read_rules(&p);
  if (status != WHY_OK)
    return status;
  choose_all(&p);
  gather_contrasts(&p);
  gather_unused(&p);
  why_trial_pool pool = {p.ground, p.arena, &made->findings, p.tried};
  for (size_t i = 0; status == WHY_OK && i < made->sets.count; i++)
    status = why_trial_set_pool(&pool, &made->sets.at[i]);
  sort_sets(&p);
  *trials = made;
  if (status != WHY_OK)
    return status;
  return made->sets.count ? WHY_OK : WHY_NO_PICK;
}
