// SPDX-License-Identifier: GPL-3.0-or-later
// Changes of reactions that keep the balance are those without a wrench; the greatest effect of one
// of unit norm is the length of the slope's part outside the span of the wrenches.
#include "choice.h"

/// The directions in which a loaded point may choose another force. Along a surface a force reaches
/// no further than friction lets it, so such a direction counts by the coefficient.
static size_t open_directions(const why_reaction* point, double norm, why_vec directions[3]) {
  static const why_vec UNIT[3] = {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
  why_vec force = why_vec_add(point->body, point->load);
  if (why_vec_length(force) <= 1e-9 * norm)
    return 0;
  double along = point->pull ? 1 : fmin(point->friction, 1);
  for (int i = 0; i < 3; i++) {
    double n = why_vec_dot(point->normal, UNIT[i]);
    directions[i] =
        why_vec_add(why_vec_scale(UNIT[i], along), why_vec_scale(point->normal, n * (1 - along)));
  }
  return 3;
}

/// Half the slope of a point and half the mirrored slope of its twin: what a change that is alike
/// on both sides feels.
static why_vec slope_for_choice(const why_choice* choice, const why_vec* slopes, size_t i) {
  int twin = choice->reactions->at[i].twin;
  if (choice->exercise->unilateral || twin < 0)
    return slopes[i];
  return why_vec_scale(why_vec_add(slopes[i], why_vec_mirror(slopes[twin])), 0.5);
}

static void add_point(const why_reaction* point, size_t index, why_vec middle, why_choice* choice) {
  why_vec directions[3];
  why_vec arm = why_vec_subtract(point->at, middle);
  size_t open = open_directions(point, choice->norm, directions);
  for (size_t d = 0; d < open; d++) {
    why_vec scaled = why_vec_scale(directions[d], sqrt(point->weight));
    choice->components[choice->count++] =
        (why_component){index, scaled, why_wrench_of(arm, scaled)};
  }
}

static void find_inverse(why_choice* choice) {
  double matrix[WHY_SIX * WHY_SIX] = {0};
  for (size_t k = 0; k < choice->count; k++) {
    const double* wrench = choice->components[k].wrench.at;
    for (int i = 0; i < WHY_SIX; i++)
      for (int j = 0; j < WHY_SIX; j++)
        matrix[i * WHY_SIX + j] += wrench[i] * wrench[j];
  }
  why_six_invert(matrix, choice->inverse);
}

void why_choice_find(const why_exercise* exercise, const why_reactions* reactions,
                     why_choice* choice) {
  choice->exercise = exercise;
  choice->reactions = reactions;
  choice->norm = 0;
  choice->count = 0;
  if (reactions->held || !reactions->count)
    return;
  double squares = 0;
  why_vec middle = {0, 0, 0};
  for (size_t i = 0; i < reactions->count; i++) {
    const why_reaction* point = &reactions->at[i];
    why_vec force = why_vec_add(point->body, point->load);
    squares += why_vec_dot(force, force) / point->weight;
    middle = why_vec_add(middle, why_vec_scale(point->at, 1 / (double)reactions->count));
  }
  choice->norm = sqrt(squares);
  for (size_t i = 0; i < reactions->count; i++)
    add_point(&reactions->at[i], i, middle, choice);
  find_inverse(choice);
}

double why_choice_effect(const why_choice* choice, const why_vec* slopes, double share) {
  double slope[3 * WHY_REACTIONS];
  why_wrench sum = {{0}};
  double squares = 0;
  for (size_t k = 0; k < choice->count; k++) {
    const why_component* each = &choice->components[k];
    slope[k] = why_vec_dot(slope_for_choice(choice, slopes, each->point), each->direction);
    squares += slope[k] * slope[k];
    for (int i = 0; i < WHY_SIX; i++)
      sum.at[i] += each->wrench.at[i] * slope[k];
  }
  if (squares == 0)
    return 0;
  why_wrench answer = why_six_times(choice->inverse, &sum);
  squares = 0;
  for (size_t k = 0; k < choice->count; k++) {
    for (int i = 0; i < WHY_SIX; i++)
      slope[k] -= choice->components[k].wrench.at[i] * answer.at[i];
    squares += slope[k] * slope[k];
  }
  return share * choice->norm * sqrt(squares);
}
