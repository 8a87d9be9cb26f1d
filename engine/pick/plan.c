// SPDX-License-Identifier: GPL-3.0-or-later
// From the rules to a week: read, choose, place on days, order each session, and reckon what it
// amounts to.
#include "plan.h"

#include "plan_week.h"
#include "sentence.h"

#include <math.h>
#include <string.h>

enum { TRIES = 6 }; ///< So often fewer exercises are tried where days do not fit.

/// Multi-joint exercises first, then those that weigh more in the plan, then by id.
static bool goes_before(const why_plan* plan, const why_plan_choice* a, const why_plan_choice* b) {
  if (a->compound != b->compound)
    return a->compound;
  double weight[2] = {0, 0};
  const why_plan_choice* both[2] = {a, b};
  for (int k = 0; k < 2; k++)
    for (size_t i = 0; i < both[k]->parts.count; i++)
      weight[k] += both[k]->parts.at[i].value * plan->heads.at[both[k]->parts.at[i].head].weight;
  if (fabs(weight[0] - weight[1]) > 1e-9)
    return weight[0] > weight[1];
  return why_symbol_compare(plan->question->ground->symbols, a->exercise, b->exercise) < 0;
}

static void add_entry(why_plan* plan, why_plan_day* day, const why_plan_choice* choice) {
  why_plan_entry* made = WHY_LIST_ADD(plan->arena, day->entries);
  *made = (why_plan_entry){.exercise = choice->exercise,
                           .sets = choice->sets,
                           .seconds = choice->seconds,
                           .dose = why_dose_of(plan->picked, choice->exercise)};
  for (size_t k = 0; k < choice->parts.count; k++) {
    const why_plan_part* part = &choice->parts.at[k];
    if (part->direct)
      *WHY_LIST_ADD(plan->arena, made->direct) = plan->heads.at[part->head].head;
    if (part->is_long)
      *WHY_LIST_ADD(plan->arena, made->longs) = plan->heads.at[part->head].head;
    plan->heads.at[part->head].sets += choice->sets * part->count;
  }
  for (size_t k = 0; k < plan->muscles.count; k++)
    plan->muscles.at[k].sets += choice->sets * choice->muscles[k];
  day->seconds += choice->seconds;
  day->spine += choice->spine;
}

static void fill_day(why_plan* plan, const why_plan_choices* choices, size_t day, bool* on) {
  size_t days = plan->days.count;
  for (;;) {
    const why_plan_choice* next = NULL;
    size_t at = 0;
    for (size_t i = 0; i < choices->count; i++)
      if (on[i * days + day] && (!next || goes_before(plan, &choices->at[i], next)))
        next = &choices->at[i], at = i;
    if (!next)
      return;
    on[at * days + day] = false;
    add_entry(plan, &plan->days.at[day], next);
  }
}

/// Where the days do not fit, more exercises are asked for, since those between the days of a goal
/// may be wanting; then fewer.
static void tighten(why_plan_week* week, const double* times, int tried) {
  double slots = 0;
  for (size_t i = 0; i < week->choices->count; i++)
    slots += times[i];
  if (tried < TRIES / 2) {
    week->least_slots = slots + 1;
    return;
  }
  week->least_slots = 0;
  week->most_slots = (tried == TRIES / 2 ? week->first_slots : slots) - 1;
}

static bool is_found(const why_mip_result* result) {
  return result->status == WHY_MIP_OPTIMAL || result->status == WHY_MIP_FEASIBLE;
}

/// `bound`: no week that holds all limits is worth more.
static void keep_result(why_plan* plan, const why_mip_result* result, double bound) {
  plan->value = result->value;
  plan->bound = bound;
  plan->gap = bound > result->value ? (bound - result->value) / (fabs(result->value) + 1e-12) : 0;
}

/// Choose, and place on days, by turns.
static bool choose_by_turns(why_plan_week* week, double* times, bool* on) {
  why_plan* plan = week->plan;
  for (int n = 0; n < TRIES; n++) {
    why_mip_result result = why_plan_choose(week, times);
    plan->nodes += result.nodes;
    bool found = is_found(&result);
    if (!found && week->least_slots > 0) { // no more exercises fit
      n = TRIES / 2;
      tighten(week, times, n);
      continue;
    }
    if (!found)
      return false;
    for (size_t i = 0; !n && i < week->choices->count; i++)
      week->first_slots += times[i];
    keep_result(plan, &result, n ? plan->bound : result.bound);
    if (why_plan_place(week, times, on))
      return true;
    tighten(week, times, n);
  }
  return false;
}

/// Both at once.
static bool choose_together(why_plan_week* week, double* times, bool* on) {
  why_mip_result result = why_plan_choose_days(week, times, on);
  week->plan->nodes += result.nodes;
  if (!is_found(&result))
    return false;
  keep_result(week->plan, &result, fmin(week->plan->bound, result.bound));
  return true;
}

static why_status choose(why_plan* plan, const why_plan_choices* choices,
                         const why_plan_amounts* amounts) {
  size_t days = plan->days.count;
  double most_slots = (double)days * plan->most_exercises;
  why_plan_week week = {
      .plan = plan, .choices = choices, .amounts = amounts, .most_slots = most_slots};
  double* times = WHY_NEW_ARRAY(plan->arena, double, choices->count + 1);
  bool* on = WHY_NEW_ARRAY(plan->arena, bool, choices->count* days + 1);
  bool found = choose_by_turns(&week, times, on);
  week.most_slots = most_slots;
  week.least_slots = 0;
  if (!found && !choose_together(&week, times, on)) {
    plan->limits.count = 0;
    why_plan_relax(&week);
    return WHY_NO_PICK;
  }
  for (size_t d = 0; d < days; d++) {
    plan->days.at[d].seconds = amounts->warm_up;
    fill_day(plan, choices, d, on);
  }
  return WHY_OK;
}

static bool is_referred(why_plan* plan) {
  why_rows rows = why_rows_find(plan->question->ground->program, plan->picked->overlay, "referred");
  for (size_t i = 0; i < rows.facts.count; i++) {
    const why_proof* proof = why_proof_best(plan->picked->overlay, rows.facts.at[i]);
    *WHY_LIST_ADD(plan->arena, plan->referrals) =
        proof ? why_sentence_of(plan->picked, &proof->step) : "";
  }
  return rows.facts.count > 0;
}

why_status why_plan_run(const why_question* question, const why_plan** plan) {
  why_arena* arena = question->arena;
  why_plan* made = WHY_NEW(arena, why_plan);
  why_picked* picked = WHY_NEW(arena, why_picked);
  *picked = (why_picked){.question = question, .arena = arena};
  picked->overlay = why_overlay_new(question->ground->base, arena, NULL);
  *made = (why_plan){.question = question, .arena = arena, .picked = picked};
  why_question_assume(question, picked->overlay);
  why_overlay_open(picked->overlay, question->problems);
  why_plan_choices choices = {0};
  why_plan_amounts amounts;
  why_status status = why_plan_read(made, &choices, &amounts);
  if (status != WHY_OK)
    return status;
  why_dose_general(picked, &made->general, &made->measurements);
  status = is_referred(made) ? WHY_NO_PICK : choose(made, &choices, &amounts);
  *plan = made;
  return status;
}
