// SPDX-License-Identifier: GPL-3.0-or-later
// The door of the mixed model: several climbs to the best components, then what the best one says.
#include "mixed_climb.h"
#include "mixed_system.h"

#include "dense.h"

#include <math.h>
#include <string.h>

/// Climbs that end nearer than this in log-likelihood have found the same summit.
static const double SAME_SUMMIT = 1e-6;

/// Sum of squared weights per row of each term, so that starts are on the scale of y.
static void weight_of_terms(const why_mixed_data* data, double* mean_square) {
  for (size_t i = 0; i < data->parts.count; i++)
    mean_square[data->parts.at[i].term] += data->parts.at[i].weight * data->parts.at[i].weight;
  for (size_t k = 0; k < data->terms.count; k++)
    mean_square[k] = mean_square[k] > 0 ? mean_square[k] / (double)data->row_count : 1;
}

/// Spread of y about its plain regression: weighted residual square, brought to the scale of y.
static double spread_of(const why_mixed_system* system) {
  const why_mixed_data* data = system->data;
  double sum = 0;
  for (size_t i = 0; i < data->row_count; i++) {
    double rest = data->y[i] - why_dense_dot(data->x + i * system->p, system->centre, system->p);
    sum += rest * rest;
  }
  return sum / (double)(data->row_count - system->p);
}

/// Starts: all terms alike, all small, and each in turn much larger than the others.
static void start_at(const why_mixed_system* system, size_t start, double* components) {
  const why_mixed_data* data = system->data;
  size_t terms = data->terms.count;
  memset(components, 0, system->component_count * sizeof *components);
  weight_of_terms(data, components);
  double spread = spread_of(system);
  for (size_t k = 0; k < terms; k++) {
    double share = start == 1 ? 0.01 : start >= 2 && start - 2 != k ? 0.05 : start >= 2 ? 0.8 : 0.5;
    double among = start == 0 ? (double)terms : 1;
    components[k] = share * spread / among / components[k];
  }
}

static void describe(const why_mixed_system* system, const why_mixed_climb* climb, why_arena* arena,
                     why_mixed_fit* fit) {
  fit->component_count = system->component_count;
  fit->components = WHY_NEW_ARRAY(arena, why_mixed_component, system->component_count + 1);
  for (size_t c = 0; c < system->component_count; c++)
    fit->components[c] =
        (why_mixed_component){system->first[c], system->second[c], climb->point->components[c],
                              climb->se[c], climb->state[c]};
}

static void tell_effects(const why_mixed_system* system, const why_mixed_point* point,
                         why_arena* arena, why_mixed_fit* fit) {
  size_t p = system->p;
  size_t p1 = p + 1;
  fit->fixed_count = p;
  double* coefficients = WHY_NEW_ARRAY(arena, double, p1);
  double* covariance = WHY_NEW_ARRAY(arena, double, p* p + 1);
  double* l = WHY_NEW_ARRAY(arena, double, p* p + 1);
  for (size_t a = 0; a < p; a++) {
    coefficients[a] = point->b[a] + system->centre[a];
    for (size_t b = 0; b <= a; b++)
      l[a * p + b] = point->l[a * p1 + b];
  }
  why_dense_inverse(l, p, covariance);
  const double** modes = WHY_NEW_ARRAY(arena, const double*, system->data->terms.count + 1);
  for (size_t k = 0; k < system->data->terms.count; k++)
    modes[k] = point->u + system->offset[k];
  fit->coefficients = coefficients;
  fit->covariance = covariance;
  fit->modes = modes;
  fit->log_likelihood = point->log_likelihood;
}

why_status why_mixed_fit_data(const why_mixed_data* data, const why_mixed_settings* settings,
                              why_arena* arena, why_mixed_trouble* trouble, why_mixed_fit* fit) {
  why_mixed_system* system;
  why_status status = why_mixed_system_new(data, settings->plain, arena, trouble, &system);
  if (status != WHY_OK)
    return status;
  double* components = WHY_NEW_ARRAY(arena, double, system->component_count + 1);
  *fit = (why_mixed_fit){.system = system};
  fit->starts = settings->start || !data->terms.count ? 1 : data->terms.count + 2;
  double* ends = WHY_NEW_ARRAY(arena, double, fit->starts);
  why_mixed_climb best = {0};
  for (size_t i = 0; i < fit->starts; i++) {
    if (settings->start)
      memcpy(components, settings->start, system->component_count * sizeof *components);
    else
      start_at(system, i, components);
    why_mixed_climb climb;
    bool stood = why_mixed_climb_from(system, components, arena, &climb);
    ends[i] = stood ? climb.point->log_likelihood : -INFINITY;
    if (stood && (!best.point || ends[i] > best.point->log_likelihood))
      best = climb;
  }
  if (!best.point) {
    *trouble = (why_mixed_trouble){WHY_MIXED_NOT_FINITE, 0};
    return WHY_KNOWLEDGE;
  }
  for (size_t i = 0; i < fit->starts; i++)
    fit->starts_agreed += ends[i] > best.point->log_likelihood - SAME_SUMMIT;
  fit->point = best.point;
  fit->steps = best.steps;
  fit->settled = best.settled;
  describe(system, &best, arena, fit);
  tell_effects(system, best.point, arena, fit);
  return WHY_OK;
}

double why_mixed_value(const why_mixed_fit* fit, const why_mixed_combination* combination) {
  double sum = why_dense_dot(combination->fixed, fit->coefficients, fit->fixed_count);
  for (size_t i = 0; i < combination->part_count; i++) {
    const why_mixed_part* part = &combination->parts[i];
    sum += part->weight * fit->modes[part->term][part->level];
  }
  return sum;
}

/// The combination by the factor of the mixed-model equations: its covariance with another is the
/// dot product of both. The equations' inverse is [[X'R⁻¹X, X'R⁻¹ZΛ], [.., M]]⁻¹.
static double* reduced(const why_mixed_fit* fit, const why_mixed_combination* combination,
                       why_arena* scratch) {
  const why_mixed_system* system = fit->system;
  double* c = WHY_NEW_ARRAY(scratch, double, system->q + 1);
  double* result = WHY_NEW_ARRAY(scratch, double, system->q + system->p + 1);
  for (size_t i = 0; i < combination->part_count; i++)
    c[system->offset[combination->parts[i].term] + combination->parts[i].level] +=
        combination->parts[i].weight;
  memcpy(result + system->q, combination->fixed, system->p * sizeof *result);
  why_mixed_reduce(system, fit->point, c, result, result + system->q);
  return result;
}

double why_mixed_covariance(const why_mixed_fit* fit, const why_mixed_combination* a,
                            const why_mixed_combination* b, why_arena* scratch) {
  const double* left = reduced(fit, a, scratch);
  const double* right = a == b ? left : reduced(fit, b, scratch);
  return why_dense_dot(left, right, fit->system->q + fit->system->p);
}

bool why_mixed_likelihood(const why_mixed_data* data, bool plain, const double* components,
                          why_arena* arena, double* log_likelihood, double* score) {
  why_mixed_system* system;
  why_mixed_trouble trouble;
  if (why_mixed_system_new(data, plain, arena, &trouble, &system) != WHY_OK)
    return false;
  why_mixed_point* point = why_mixed_point_new(system, arena);
  if (!why_mixed_point_move(system, point, components))
    return false;
  *log_likelihood = point->log_likelihood;
  if (score) {
    why_mixed_point_settle(system, point);
    double* information =
        WHY_NEW_ARRAY(arena, double, system->component_count * system->component_count + 1);
    why_mixed_score(system, point, why_mixed_score_room(system, arena), score, information);
  }
  return true;
}
