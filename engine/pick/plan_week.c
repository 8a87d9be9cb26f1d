// SPDX-License-Identifier: GPL-3.0-or-later
// The week as a linear problem. A head is worth its sets, each by the worth of the exercise for it,
// up to its aim; every exercise costs a little, an unhandy one more. In the elastic form each limit
// has a switch that lets it go, and as few as possible are switched.
#include "plan_week.h"

#include <math.h>
#include <string.h>

enum { WAYS = 4, MINUTES_MOST = 240 };

/// A limit with its row; slack and relaxed are columns of the elastic form only.
typedef struct {
  why_limit limit;
  int row;
  double sign; ///< 1: at most; -1: at least.
  int slack;
  int relaxed;
} held_limit;

typedef struct {
  const why_plan_week* week;
  const why_plan* plan;
  why_arena* arena;
  bool elastic;
  why_mip mip;
  int* times;
  WHY_LIST(held_limit) limits;
} model;

static int add_limit(model* m, why_limit_kind kind, why_symbol about, double sign, double bound) {
  int row = sign > 0 ? why_mip_add_row(&m->mip, -INFINITY, bound)
                     : why_mip_add_row(&m->mip, bound, INFINITY);
  held_limit* made = WHY_LIST_ADD(m->arena, m->limits);
  *made = (held_limit){
      .limit = {.kind = kind, .about = about, .bound = bound}, .row = row, .sign = sign};
  if (!m->elastic)
    return row;
  double most = kind == WHY_LIMIT_TIME ? 60.0 * MINUTES_MOST * (double)m->plan->days.count : 200;
  made->slack = why_mip_add_column(&m->mip, -0.3 / most, 0, most, false);
  made->relaxed = why_mip_add_column(&m->mip, -1, 0, 1, true);
  why_mip_add_term(&m->mip, row, made->slack, -sign);
  int link = why_mip_add_row(&m->mip, -INFINITY, 0);
  why_mip_add_term(&m->mip, link, made->slack, 1);
  why_mip_add_term(&m->mip, link, made->relaxed, -most);
  return row;
}

static const why_plan_choice* choice_at(const model* m, size_t i) {
  return &m->week->choices->at[i];
}

/// A term of a row for each exercise.
#define EACH(m, row, factor)                                                                       \
  for (size_t i = 0; i < (m)->week->choices->count; i++)                                           \
  why_mip_add_term(&(m)->mip, (row), (m)->times[i], (factor))

static void add_choices(model* m) {
  const why_plan_amounts* amounts = m->week->amounts;
  double most = fmin(amounts->most_times, (double)m->plan->days.count);
  m->times = WHY_NEW_ARRAY(m->arena, int, m->week->choices->count + 1);
  for (size_t i = 0; i < m->week->choices->count; i++) {
    double cost = amounts->exercise_cost + amounts->burden_cost * choice_at(m, i)->burden;
    m->times[i] = why_mip_add_column(&m->mip, 0, 0, most, true);
    int used = why_mip_add_column(&m->mip, m->elastic ? 0 : -cost, 0, 1, true);
    int link = why_mip_add_row(&m->mip, -INFINITY, 0);
    why_mip_add_term(&m->mip, link, m->times[i], 1);
    why_mip_add_term(&m->mip, link, used, -most);
  }
}

/// The part of a choice for a head, or NULL.
static const why_plan_part* part_for(const why_plan_choice* choice, size_t head) {
  for (size_t k = 0; k < choice->parts.count; k++)
    if (choice->parts.at[k].head == head)
      return &choice->parts.at[k];
  return NULL;
}

static double sets_for(const why_plan_choice* choice, size_t head) {
  const why_plan_part* part = part_for(choice, head);
  return part ? choice->sets * part->count : 0;
}

static double value_for(const why_plan_choice* choice, size_t head) {
  const why_plan_part* part = part_for(choice, head);
  return part ? choice->sets * part->value : 0;
}

static void add_heads(model* m) {
  for (size_t h = 0; h < m->plan->heads.count; h++) {
    const why_plan_head* head = &m->plan->heads.at[h];
    int most = add_limit(m, WHY_LIMIT_MOST, head->head, 1, head->most);
    EACH(m, most, sets_for(choice_at(m, i), h));
    if (m->elastic)
      continue;
    int gets = why_mip_add_column(&m->mip, head->weight, 0, head->aim, false);
    int link = why_mip_add_row(&m->mip, -INFINITY, 0);
    why_mip_add_term(&m->mip, link, gets, 1);
    EACH(m, link, -value_for(choice_at(m, i), h));
  }
}

/// Whether an exercise trains some head of a muscle directly, at long length or at another.
static bool trains_at(const model* m, const why_plan_choice* choice, size_t muscle, bool longs) {
  for (size_t k = 0; k < choice->parts.count; k++)
    if (m->plan->heads.at[choice->parts.at[k].head].muscle == muscle &&
        choice->parts.at[k].direct && choice->parts.at[k].is_long == longs)
      return true;
  return false;
}

static void add_length(model* m, size_t muscle, bool longs) {
  bool possible = false;
  for (size_t i = 0; i < m->week->choices->count; i++)
    possible = possible || trains_at(m, choice_at(m, i), muscle, longs);
  if (!possible)
    return;
  int row = add_limit(m, longs ? WHY_LIMIT_LONG : WHY_LIMIT_SHORTER,
                      m->plan->muscles.at[muscle].muscle, -1, 1);
  EACH(m, row, trains_at(m, choice_at(m, i), muscle, longs));
}

static void add_muscles(model* m) {
  for (size_t k = 0; k < m->plan->muscles.count; k++) {
    const why_plan_muscle* muscle = &m->plan->muscles.at[k];
    bool goal = strcmp(muscle->why, "goal") == 0;
    if (muscle->least <= 0 || (muscle->hopeless && !goal))
      continue;
    int row = add_limit(m, WHY_LIMIT_LEAST, muscle->muscle, -1, muscle->least);
    EACH(m, row, choice_at(m, i)->sets * choice_at(m, i)->muscles[k]);
    for (int longs = 0; goal && longs < 2; longs++)
      add_length(m, k, longs);
  }
}

static bool follows(const why_plan* plan, size_t day, size_t other) {
  return plan->days.at[other].weekday == plan->days.at[day].weekday + 1;
}

/// Most sessions of a week that can be heavy on the spine, none of them the day after another.
static double heavy_days(const why_plan* plan) {
  double count = 0;
  bool before = false;
  for (size_t d = 0; d < plan->days.count; d++) {
    before = !(d && before && follows(plan, d - 1, d));
    count += before;
  }
  return count;
}

static void add_week(model* m) {
  const why_plan* plan = m->plan;
  const why_plan_amounts* amounts = m->week->amounts;
  double days = (double)plan->days.count;
  double heavy = heavy_days(plan);
  int time = add_limit(m, WHY_LIMIT_TIME, 0, 1,
                       days * (60 * plan->minutes - amounts->warm_up - amounts->spare));
  EACH(m, time, choice_at(m, i)->seconds);
  int spine = add_limit(m, WHY_LIMIT_SPINE, 0, 1,
                        heavy * plan->spine_most + (days - heavy) * (amounts->spine_heavy - 0.5));
  EACH(m, spine, choice_at(m, i)->spine);
  int most = add_limit(m, WHY_LIMIT_EXERCISES, 0, 1,
                       fmin(m->week->most_slots, days * plan->most_exercises));
  EACH(m, most, 1);
  int fewest = add_limit(m, WHY_LIMIT_FEWEST, 0, -1,
                         fmax(m->week->least_slots, days * plan->least_exercises));
  EACH(m, fewest, 1);
}

static bool is_direct(const why_plan_choice* choice, size_t head) {
  const why_plan_part* part = part_for(choice, head);
  return part && part->direct;
}

/// A head that is trained directly has the next day off, so that some sessions hold nothing but
/// exercises for others, and the most of a session holds for few days.
static void add_recovery(model* m) {
  double off = (double)m->plan->days.count - heavy_days(m->plan);
  for (size_t h = 0; h < m->plan->heads.count && off > 0; h++) {
    int row = add_limit(m, WHY_LIMIT_FEWEST, m->plan->heads.at[h].head, -1,
                        off * m->plan->least_exercises);
    EACH(m, row, !is_direct(choice_at(m, i), h));
    double sets = m->week->choices->count ? choice_at(m, 0)->sets : 1; // all are of one number
    int most = add_limit(m, WHY_LIMIT_MOST, m->plan->heads.at[h].head, 1,
                         heavy_days(m->plan) * floor(m->plan->session_most / sets) * sets);
    EACH(m, most, is_direct(choice_at(m, i), h) * choice_at(m, i)->sets);
  }
}

static void add_basics(model* m) {
  const why_symbol_list* basics = &m->week->amounts->basics;
  for (size_t b = 0; b < basics->count; b++) {
    int row = add_limit(m, WHY_LIMIT_BASIC, basics->at[b], -1, 1);
    EACH(m, row, why_plan_is_basic(choice_at(m, i), basics->at[b]));
  }
}

static model build(const why_plan_week* week, bool elastic) {
  model made = {.week = week, .plan = week->plan, .arena = week->plan->arena, .elastic = elastic};
  made.mip.arena = made.arena;
  add_choices(&made);
  add_week(&made);
  add_recovery(&made);
  add_basics(&made);
  add_muscles(&made);
  add_heads(&made);
  return made;
}

/// What the terms of a limit's row add up to, without its slack.
static double reached(const model* m, const held_limit* limit) {
  double sum = 0;
  for (size_t i = 0; i < m->mip.terms.count; i++) {
    const why_mip_term* term = &m->mip.terms.at[i];
    if (term->row == limit->row && !(m->elastic && term->column == limit->slack))
      sum += term->factor * m->mip.columns.at[term->column].value;
  }
  return sum;
}

/// Limits as people think of them: minutes and exercises of a session.
static why_limit shown(const model* m, const held_limit* held) {
  why_limit made = held->limit;
  double days = (double)m->plan->days.count;
  made.reached = reached(m, held);
  double rest = held->sign * (made.bound - made.reached);
  made.binds = rest < 1e-6;
  if (made.kind == WHY_LIMIT_TIME) { // no further exercise fits
    made.binds = rest < 60 * days * 3;
    made.bound = m->plan->minutes;
    made.reached = (made.reached / days + m->week->amounts->warm_up + m->week->amounts->spare) / 60;
  }
  if (!made.about && (made.kind == WHY_LIMIT_EXERCISES || made.kind == WHY_LIMIT_FEWEST)) {
    made.bound /= days;
    made.reached /= days;
  }
  return made;
}

/// Solve; `times` and the limits of the plan are set when there is a week.
static why_mip_result settle(model* m, double* times) {
  why_mip_result result = why_mip_solve(&m->mip);
  if (result.status != WHY_MIP_OPTIMAL && result.status != WHY_MIP_FEASIBLE)
    return result;
  why_plan* plan = m->week->plan;
  for (size_t i = 0; i < m->week->choices->count; i++)
    times[i] = m->mip.columns.at[m->times[i]].value;
  plan->limits.count = 0;
  for (size_t i = 0; i < m->limits.count; i++)
    *WHY_LIST_ADD(m->arena, plan->limits) = shown(m, &m->limits.at[i]);
  return result;
}

why_mip_result why_plan_choose(const why_plan_week* week, double* times) {
  model m = build(week, false);
  return settle(&m, times);
}

why_mip_result why_plan_choose_days(const why_plan_week* week, double* times, bool* on) {
  model m = build(week, false);
  int* columns;
  why_plan_join(week, m.times, &m.mip, &columns);
  why_mip_result result = settle(&m, times);
  if (result.status == WHY_MIP_OPTIMAL || result.status == WHY_MIP_FEASIBLE)
    for (size_t i = 0; i < week->choices->count * week->plan->days.count; i++)
      on[i] = m.mip.columns.at[columns[i]].value > 0.5;
  return result;
}

void why_plan_relax(const why_plan_week* week) {
  model m = build(week, true);
  size_t size = 0;
  for (int n = 0; n < WAYS; n++) {
    why_mip_result result = why_mip_solve(&m.mip);
    if (result.status != WHY_MIP_OPTIMAL)
      return;
    why_way_out way = {0};
    int other = why_mip_add_row(&m.mip, -INFINITY, 0);
    for (size_t i = 0; i < m.limits.count; i++) {
      if (m.mip.columns.at[m.limits.at[i].relaxed].value < 0.5)
        continue;
      *WHY_LIST_ADD(m.arena, way.limits) = shown(&m, &m.limits.at[i]);
      why_mip_add_term(&m.mip, other, m.limits.at[i].relaxed, 1);
    }
    if (!way.limits.count || (size && way.limits.count > size))
      return;
    size = way.limits.count;
    m.mip.rows.at[other].high = (double)size - 1;
    *WHY_LIST_ADD(m.arena, week->plan->ways_out) = way;
  }
}
