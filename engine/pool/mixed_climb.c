// SPDX-License-Identifier: GPL-3.0-or-later
// From a first guess of the variance components to those of greatest likelihood, and what the end
// of the way says of each.
#include "mixed_climb.h"

#include "dense.h"

#include <math.h>
#include <string.h>

enum { MOST_STEPS = 300, MOST_HALVINGS = 40, MOST_TRUSTED = 30 };

/// A gain in log-likelihood that a full step promises below which nothing is left to do, and below
/// which rounding hides it, so that steps are taken on trust.
static const double NO_GAIN = 1e-18;
static const double HIDDEN_GAIN = 1e-9;

/// A pivot of the scaled information below this: components cannot be told apart.
static const double LEAST_INFORMATION = 1e-9;

/// Correlations as near as this to 1 count as 1.
static const double NEAR_ONE = 1e-9;

/// Room and results of one step.
typedef struct {
  const why_mixed_system* system;
  double* room;
  why_mixed_point* here;
  why_mixed_point* there;
  size_t k;
  double* score;
  double* information;
  bool* held; ///< Not part of the step.
  double* step;
  double* target;
  double* factor; ///< k × k
} climber;

static bool is_variance(const why_mixed_system* system, size_t c) {
  return system->first[c] == system->second[c];
}

/// A component stays where it is when it lies on the bound and would leave the allowed region, when
/// nothing depends on it, or when it is a covariance with nothing to go with.
static void hold(climber* m) {
  const double* at = m->here->components;
  for (size_t c = 0; c < m->k; c++) {
    bool idle = !(m->information[c * m->k + c] > 0) && m->score[c] == 0;
    if (is_variance(m->system, c))
      m->held[c] = idle || (at[c] == 0 && m->score[c] <= 0);
    else
      m->held[c] = idle || at[m->system->first[c]] == 0 || at[m->system->second[c]] == 0;
  }
}

/// Solve information · step = score for what is not held. A component that the information cannot
/// tell from those before it is held as well. Returns the gain that the step promises.
static double find_step(climber* m) {
  size_t k = m->k;
  memset(m->step, 0, k * sizeof *m->step);
  size_t bad;
  size_t n;
  do {
    n = 0;
    for (size_t c = 0; c < k; c++) {
      if (m->held[c])
        continue;
      size_t i = 0;
      for (size_t d = 0; d < k; d++)
        if (!m->held[d])
          m->factor[n * k + i++] = m->information[c * k + d];
      m->target[n++] = m->score[c];
    }
    for (size_t i = 1; i < n; i++) // Rows were k apart.
      memmove(m->factor + i * n, m->factor + i * k, n * sizeof *m->factor);
    bad = why_dense_factor(m->factor, n, LEAST_INFORMATION);
    for (size_t c = 0, i = 0; bad < n && c < k; c++)
      if (!m->held[c] && i++ == bad) {
        m->held[c] = true;
        break;
      }
  } while (bad < n);
  why_dense_forward(m->factor, n, m->target, 1);
  double gain = why_dense_dot(m->target, m->target, n) / 2;
  why_dense_backward(m->factor, n, m->target);
  for (size_t c = 0, i = 0; c < k; c++)
    if (!m->held[c])
      m->step[c] = m->target[i++];
  return gain;
}

/// The components `share` of the step further on, brought back into the allowed region.
static void project(const climber* m, double share) {
  for (size_t c = 0; c < m->k; c++) {
    m->target[c] = m->here->components[c] + share * m->step[c];
    if (is_variance(m->system, c))
      m->target[c] = fmax(0, m->target[c]);
  }
  for (size_t c = 0; c < m->k; c++)
    if (!is_variance(m->system, c)) {
      double most = sqrt(m->target[m->system->first[c]] * m->target[m->system->second[c]]);
      m->target[c] = fmax(-most, fmin(most, m->target[c]));
    }
}

static bool try_target(climber* m) {
  return why_mixed_point_move(m->system, m->there, m->target) &&
         m->there->log_likelihood > m->here->log_likelihood;
}

static void swap(climber* m) {
  why_mixed_point* before = m->here;
  m->here = m->there;
  m->there = before;
  why_mixed_point_settle(m->system, m->here);
  why_mixed_score(m->system, m->here, m->room, m->score, m->information);
}

/// Expectation and maximisation: variance + 2 variance² slope / levels.
static bool step_surely(climber* m) {
  for (size_t c = 0; c < m->k; c++) {
    double at = m->here->components[c];
    size_t levels = m->system->data->terms.at[m->system->first[c]].level_count;
    m->target[c] = at;
    if (is_variance(m->system, c) && levels)
      m->target[c] = fmax(0, at + 2 * at * at * m->score[c] / (double)levels);
  }
  for (size_t c = 0; c < m->k; c++)
    if (!is_variance(m->system, c)) {
      double most = sqrt(m->target[m->system->first[c]] * m->target[m->system->second[c]]);
      m->target[c] = fmax(-most, fmin(most, m->target[c]));
    }
  return try_target(m);
}

static bool step_uphill(climber* m) {
  double share = 1;
  for (int i = 0; i < MOST_HALVINGS; i++, share /= 2) {
    project(m, share);
    if (try_target(m))
      return true;
  }
  return step_surely(m);
}

/// A step whose gain rounding hides: taken unless the likelihood falls by more than that.
static bool step_on_trust(climber* m) {
  project(m, 1);
  return why_mixed_point_move(m->system, m->there, m->target) &&
         m->there->log_likelihood > m->here->log_likelihood - HIDDEN_GAIN;
}

static void climb_up(climber* m, double least, why_mixed_climb* climb) {
  int trusted = 0;
  for (climb->steps = 0; climb->steps < MOST_STEPS; climb->steps++) {
    hold(m);
    double gain = find_step(m);
    if (gain <= least || trusted == MOST_TRUSTED) {
      climb->settled = true;
      return;
    }
    bool trust = gain < HIDDEN_GAIN;
    trusted += trust;
    if (!(trust ? step_on_trust(m) : step_uphill(m))) {
      climb->settled = gain < 1e-6;
      return;
    }
    swap(m);
  }
}

static bool at_bound(const climber* m, size_t c) {
  const double* at = m->here->components;
  if (is_variance(m->system, c))
    return at[c] == 0;
  double most = sqrt(at[m->system->first[c]] * at[m->system->second[c]]);
  return fabs(at[c]) >= most * (1 - NEAR_ONE);
}

/// A component inside its bounds that was held in the last step hangs on others, or on nothing.
static void judge(climber* m, why_mixed_climb* climb, why_arena* arena) {
  for (size_t c = 0; c < m->k; c++)
    m->held[c] = at_bound(m, c) || !(m->information[c * m->k + c] > 0);
  find_step(m);
  size_t n = 0;
  for (size_t c = 0; c < m->k; c++)
    n += !m->held[c];
  double* inverse = WHY_NEW_ARRAY(arena, double, n* n + 1);
  why_dense_inverse(m->factor, n, inverse);
  for (size_t c = 0, i = 0; c < m->k; c++) {
    bool idle = !(m->information[c * m->k + c] > 0) && m->score[c] == 0;
    climb->se[c] = NAN;
    climb->state[c] = at_bound(m, c) && !idle ? WHY_MIXED_AT_BOUND : WHY_MIXED_NOT_IDENTIFIED;
    if (m->held[c])
      continue;
    climb->state[c] = WHY_MIXED_FOUND;
    climb->se[c] = sqrt(inverse[i * n + i]);
    i++;
  }
}

bool why_mixed_climb_from(const why_mixed_system* system, const double* start, double gain,
                          why_arena* arena, why_mixed_climb* climb) {
  size_t k = system->component_count;
  climber m = {.system = system, .k = k};
  m.room = why_mixed_score_room(system, arena);
  m.here = why_mixed_point_new(system, arena);
  m.there = why_mixed_point_new(system, arena);
  m.score = WHY_NEW_ARRAY(arena, double, k + 1);
  m.information = WHY_NEW_ARRAY(arena, double, k* k + 1);
  m.held = WHY_NEW_ARRAY(arena, bool, k + 1);
  m.step = WHY_NEW_ARRAY(arena, double, k + 1);
  m.target = WHY_NEW_ARRAY(arena, double, k + 1);
  m.factor = WHY_NEW_ARRAY(arena, double, k* k + 1);
  *climb = (why_mixed_climb){.score = m.score};
  climb->se = WHY_NEW_ARRAY(arena, double, k + 1);
  climb->state = WHY_NEW_ARRAY(arena, why_mixed_state, k + 1);
  if (!why_mixed_point_move(system, m.there, start))
    return false;
  swap(&m);
  climb_up(&m, fmax(gain, NO_GAIN), climb);
  judge(&m, climb, arena);
  climb->point = m.here;
  return true;
}
