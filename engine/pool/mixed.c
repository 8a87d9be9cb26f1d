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
  fit->starts = settings->start || !data->terms.count ? 1
                : settings->starts                    ? settings->starts
                                                      : data->terms.count + 2;
  double* ends = WHY_NEW_ARRAY(arena, double, fit->starts);
  why_mixed_climb best = {0};
  for (size_t i = 0; i < fit->starts; i++) {
    if (settings->start)
      memcpy(components, settings->start, system->component_count * sizeof *components);
    else
      start_at(system, i, components);
    why_mixed_climb climb;
    bool stood = why_mixed_climb_from(system, components, settings->gain, arena, &climb);
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

void why_mixed_covariances(const why_mixed_fit* fit, const why_mixed_combination* combinations,
                           size_t count, why_arena* scratch, double* covariance) {
  const double** rows = WHY_NEW_ARRAY(scratch, const double*, count + 1);
  for (size_t i = 0; i < count; i++) {
    rows[i] = reduced(fit, &combinations[i], scratch);
    for (size_t j = 0; j <= i; j++)
      covariance[i * count + j] = covariance[j * count + i] =
          why_dense_dot(rows[i], rows[j], fit->system->q + fit->system->p);
  }
}

double why_mixed_covariance(const why_mixed_fit* fit, const why_mixed_combination* a,
                            const why_mixed_combination* b, why_arena* scratch) {
  const why_mixed_combination both[] = {*a, *b};
  double covariance[4];
  why_mixed_covariances(fit, both, 2, scratch, covariance);
  return covariance[1];
}

/// Row of one level: the column of ΛM⁻¹Λ' into `u`, and its part g by the coefficients, p numbers.
static void level_row(const why_mixed_fit* fit, size_t level, double* room, double* u, double* g) {
  const why_mixed_system* system = fit->system;
  double* unit = room;
  double* x = room + system->q;
  memset(room, 0, system->q * sizeof *room);
  memset(g, 0, system->p * sizeof *g);
  unit[level] = 1;
  why_mixed_reduce(system, fit->point, unit, x, g);
  why_factor_backward(fit->point->factor, x, unit);
  why_scale_times(&fit->point->scale, unit, u);
}

why_mixed_joint why_mixed_joint_new(const why_mixed_fit* fit, const bool* wanted,
                                    why_arena* arena) {
  const why_mixed_system* system = fit->system;
  size_t p = system->p;
  size_t terms = system->data->terms.count;
  size_t* offset = WHY_NEW_ARRAY(arena, size_t, terms + 1);
  size_t* level = WHY_NEW_ARRAY(arena, size_t, system->q + p + 1);
  why_mixed_joint joint = {.count = p, .offset = offset};
  for (size_t k = 0; k < terms; k++) {
    if (!wanted[k])
      continue;
    offset[k] = joint.count;
    for (size_t j = system->offset[k]; j < system->offset[k + 1]; j++)
      level[joint.count++] = j;
  }
  size_t n = joint.count;
  double* covariance = WHY_NEW_ARRAY(arena, double, n* n + 1);
  double* room = WHY_NEW_ARRAY(arena, double, 3 * system->q + 1);
  double* u = room + 2 * system->q;
  double* g = WHY_NEW_ARRAY(arena, double, n* p + 1);
  // Columns of L⁻¹ serve the coefficients as g serves the levels.
  double* l = WHY_NEW_ARRAY(arena, double, p* p + 1);
  for (size_t a = 0; a < p; a++)
    memcpy(l + a * p, fit->point->l + a * (p + 1), p * sizeof *l);
  for (size_t a = 0; a < p; a++) {
    memcpy(covariance + a * n, fit->covariance + a * p, p * sizeof *covariance);
    g[a * p + a] = 1;
    why_dense_forward(l, p, g + a * p, 1);
  }
  for (size_t j = p; j < n; j++) {
    level_row(fit, level[j], room, u, g + j * p);
    for (size_t k = 0; k <= j; k++) {
      double value = why_dense_dot(g + j * p, g + k * p, p) + (k < p ? 0 : u[level[k]]);
      covariance[j * n + k] = covariance[k * n + j] = value;
    }
  }
  joint.covariance = covariance;
  return joint;
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
