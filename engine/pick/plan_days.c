// SPDX-License-Identifier: GPL-3.0-or-later
// Which exercise on which day: within the time and number of every session, no head beyond the most
// of a session, no two days running that are heavy on the spine or train the same head directly.
// All ways are worth the same; sessions of like length, with each movement pattern spread over the
// days, are tried first. The same rows can be joined to the choice, where it must know of days.
#include "plan_week.h"

#include <math.h>

typedef struct {
  const why_plan_week* week;
  const why_plan* plan;
  const double* times; ///< How often each is chosen; NULL when that is open.
  why_mip* mip;
  int* on; ///< Columns by choice and day; -1 for what is not chosen.
} model;

static int column(const model* m, size_t choice, size_t day) {
  return m->on[choice * m->plan->days.count + day];
}

static double sets_for(const why_plan_choice* choice, size_t head) {
  for (size_t k = 0; k < choice->parts.count; k++)
    if (choice->parts.at[k].head == head)
      return choice->sets * choice->parts.at[k].count;
  return 0;
}

/// `columns`: how often each is chosen, where that is open.
static void add_choices(model* m, const int* columns) {
  size_t days = m->plan->days.count;
  for (size_t i = 0; i < m->week->choices->count; i++) {
    bool chosen = !m->times || m->times[i] > 0.5;
    double times = m->times ? m->times[i] : 0;
    int row = chosen ? why_mip_add_row(m->mip, times, times) : -1;
    if (columns)
      why_mip_add_term(m->mip, row, columns[i], -1);
    for (size_t d = 0; d < days; d++) {
      m->on[i * days + d] = chosen ? why_mip_add_column(m->mip, 0, 0, 1, true) : -1;
      if (chosen)
        why_mip_add_term(m->mip, row, column(m, i, d), 1);
    }
  }
}

/// The row of one day: a factor for each exercise.
static int day_row(model* m, size_t day, double low, double high,
                   double (*factor)(const why_plan_choice* choice, size_t which), size_t which) {
  int row = why_mip_add_row(m->mip, low, high);
  for (size_t i = 0; i < m->week->choices->count; i++)
    if (column(m, i, day) >= 0)
      why_mip_add_term(m->mip, row, column(m, i, day), factor(&m->week->choices->at[i], which));
  return row;
}

static double one(const why_plan_choice* choice, size_t which) {
  (void)choice;
  (void)which;
  return 1;
}

static double seconds(const why_plan_choice* choice, size_t which) {
  (void)which;
  return choice->seconds;
}

static double spine(const why_plan_choice* choice, size_t which) {
  (void)which;
  return choice->spine;
}

static void add_day(model* m, size_t day, double most_seconds) {
  const why_plan* plan = m->plan;
  day_row(m, day, -INFINITY, most_seconds, seconds, 0);
  day_row(m, day, plan->least_exercises, plan->most_exercises, one, 0);
  for (size_t h = 0; h < plan->heads.count; h++)
    day_row(m, day, -INFINITY, plan->session_most, sets_for, h);
}

static bool follows(const why_plan* plan, size_t day, size_t other) {
  return plan->days.at[other].weekday == plan->days.at[day].weekday + 1;
}

static void add_spine(model* m) {
  double light = m->week->amounts->spine_heavy - 0.5;
  int before = -1;
  for (size_t d = 0; d < m->plan->days.count; d++) {
    int heavy = why_mip_add_column(m->mip, 0, 0, 1, true);
    int row = day_row(m, d, -INFINITY, light, spine, 0);
    why_mip_add_term(m->mip, row, heavy, light - m->plan->spine_most);
    if (d && follows(m->plan, d - 1, d)) {
      int pair = why_mip_add_row(m->mip, -INFINITY, 1);
      why_mip_add_term(m->mip, pair, before, 1);
      why_mip_add_term(m->mip, pair, heavy, 1);
    }
    before = heavy;
  }
}

static bool trains(const model* m, size_t choice, size_t head) {
  const why_plan_choice* at = &m->week->choices->at[choice];
  for (size_t k = 0; k < at->parts.count; k++)
    if (at->parts.at[k].head == head)
      return at->parts.at[k].direct;
  return false;
}

/// A head that is trained directly has the next day off: of two days running at most one is its.
static void add_recovery(model* m, size_t head) {
  int before = -1;
  for (size_t d = 0; d < m->plan->days.count; d++) {
    int today = why_mip_add_column(m->mip, 0, 0, 1, false);
    for (size_t i = 0; i < m->week->choices->count; i++)
      if (column(m, i, d) >= 0 && trains(m, i, head)) {
        int row = why_mip_add_row(m->mip, -INFINITY, 0);
        why_mip_add_term(m->mip, row, column(m, i, d), 1);
        why_mip_add_term(m->mip, row, today, -1);
      }
    if (d && follows(m->plan, d - 1, d)) {
      int pair = why_mip_add_row(m->mip, -INFINITY, 1);
      why_mip_add_term(m->mip, pair, before, 1);
      why_mip_add_term(m->mip, pair, today, 1);
    }
    before = today;
  }
}

/// Exercises of one movement pattern stand on different days, as far as there are days.
static void add_patterns(model* m) {
  for (size_t i = 0; i < m->week->choices->count; i++) {
    why_symbol pattern = m->week->choices->at[i].pattern;
    double all = 0;
    for (size_t k = 0; k < m->week->choices->count; k++) {
      bool same = m->week->choices->at[k].pattern == pattern;
      if (same && k < i && m->times[k] > 0.5)
        all = INFINITY; // the pattern has had its turn
      all += same ? m->times[k] : 0;
    }
    double days = (double)m->plan->days.count;
    for (size_t d = 0; d < m->plan->days.count && isfinite(all) && m->times[i] > 0.5; d++) {
      int row = why_mip_add_row(m->mip, -INFINITY, ceil(all / days));
      for (size_t k = 0; k < m->week->choices->count; k++)
        if (column(m, k, d) >= 0 && m->week->choices->at[k].pattern == pattern)
          why_mip_add_term(m->mip, row, column(m, k, d), 1);
    }
  }
}

static model add_days(const why_plan_week* week, const double* times, const int* columns,
                      double most_seconds, why_mip* mip) {
  model m = {.week = week, .plan = week->plan, .times = times, .mip = mip};
  m.on = WHY_NEW_ARRAY(m.plan->arena, int, week->choices->count* m.plan->days.count + 1);
  add_choices(&m, columns);
  for (size_t d = 0; d < m.plan->days.count; d++)
    add_day(&m, d, most_seconds);
  add_spine(&m);
  for (size_t k = 0; k < m.plan->heads.count; k++)
    add_recovery(&m, k);
  return m;
}

static void read_days(const model* m, bool* on) {
  for (size_t i = 0; i < m->week->choices->count * m->plan->days.count; i++)
    on[i] = m->on[i] >= 0 && m->mip->columns.at[m->on[i]].value > 0.5;
}

static bool solve(const why_plan_week* week, const double* times, double most_seconds,
                  bool patterns, bool* on) {
  why_mip mip = {.arena = week->plan->arena};
  model m = add_days(week, times, NULL, most_seconds, &mip);
  if (patterns)
    add_patterns(&m);
  why_mip_result result = why_mip_solve(&mip);
  if (result.status != WHY_MIP_OPTIMAL && result.status != WHY_MIP_FEASIBLE)
    return false;
  read_days(&m, on);
  return true;
}

/// Seconds of exercises in a session, at most.
static double most_seconds(const why_plan_week* week) {
  return 60 * week->plan->minutes - week->amounts->warm_up;
}

void why_plan_join(const why_plan_week* week, const int* times, why_mip* mip, int** on) {
  *on = add_days(week, NULL, times, most_seconds(week), mip).on;
}

bool why_plan_place(const why_plan_week* week, const double* times, bool* on) {
  double most = most_seconds(week);
  double all = 0;
  double longest = 0;
  for (size_t i = 0; i < week->choices->count; i++) {
    all += times[i] * week->choices->at[i].seconds;
    longest = times[i] > 0.5 ? fmax(longest, week->choices->at[i].seconds) : longest;
  }
  double even = all / (double)week->plan->days.count + longest / 2;
  return (even < most && solve(week, times, even, true, on)) ||
         solve(week, times, most, true, on) || solve(week, times, most, false, on);
}
