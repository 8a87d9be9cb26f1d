// SPDX-License-Identifier: GPL-3.0-or-later
// How long the mechanics of the whole catalogue take: statics of every posture under the usual
// load, the sharing near failure (its own statics among it), and the summary head by head. Beside
// it, in the same run, a reference of the same kind: dense Cholesky factors by GSL, of the size of
// the sharing's equations. Prints; decides nothing. Times are those of the processor, the least of
// some rounds, so that other programs on the machine count little; the ratio tells more than
// either.
//   bench-body FOLDER [ROUNDS]
#include "body/body.h"

#include <gsl/gsl_linalg.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

enum { SIZE = 40, FACTORS = 10000 };

static const double BUDGET = 0.5; ///< Seconds on one quiet core.

static double now(void) {
  struct timespec time;
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &time);
  return (double)time.tv_sec + (double)time.tv_nsec / 1e9;
}

/// So many factors of a matrix that has a condition of about a hundred.
static double time_reference(void) {
  gsl_matrix* matrix = gsl_matrix_alloc(SIZE, SIZE);
  double begun = now();
  for (int k = 0; k < FACTORS; k++) {
    for (size_t i = 0; i < SIZE; i++)
      for (size_t j = 0; j < SIZE; j++)
        gsl_matrix_set(matrix, i, j, (i == j) + 1.0 / (double)(1 + i + j));
    gsl_linalg_cholesky_decomp1(matrix);
  }
  gsl_matrix_free(matrix);
  return now() - begun;
}

typedef struct {
  const why_tables* tables;
  const why_body_model* model;
  why_muscles* muscles;
  why_sharer* sharer;
  why_feature* features;
} bench;

typedef struct {
  double statics;
  double sharing;
  double features;
  double reference;
} times;

static times time_round(const bench* b) {
  static why_statics statics;
  times taken = {.reference = time_reference()};
  for (size_t i = 0; i < b->tables->exercises.rows.count; i++) {
    const why_exercise* each = &b->tables->exercises.rows.at[i];
    double begun = now();
    for (size_t p = 0; p < b->model->path_count; p++)
      why_statics_find(b->model, each, 2 * (double)p / (double)(b->model->path_count - 1), 1,
                       &statics);
    double posed = now();
    const why_effort* effort = why_effort_find(b->sharer, each);
    double raised = now();
    why_features_find(b->sharer, effort, b->features);
    taken.statics += posed - begun;
    taken.sharing += raised - posed;
    taken.features += now() - raised;
  }
  return taken;
}

static void keep_least(times* least, const times* each) {
  least->statics = fmin(least->statics, each->statics);
  least->sharing = fmin(least->sharing, each->sharing);
  least->features = fmin(least->features, each->features);
  least->reference = fmin(least->reference, each->reference);
}

int main(int count, char** words) {
  why_arena* arena = why_arena_new(0);
  why_problems* problems = why_problems_new();
  why_tables* tables;
  bench b = {0};
  if (count < 2 || why_tables_open(words[1], NULL, arena, problems, &tables) != WHY_OK) {
    fputs("usage: bench-body FOLDER [ROUNDS]\n", stderr);
    return 2;
  }
  b.tables = tables;
  if (why_body_model_new(why_frame_new(tables, arena), tables, 0, 0, arena, &b.model) != WHY_OK ||
      why_muscles_new(b.model, arena, &b.muscles) != WHY_OK ||
      why_sharer_new(b.muscles, arena, &b.sharer) != WHY_OK)
    return 3;
  b.features = WHY_NEW_ARRAY(arena, why_feature, b.muscles->count);
  times least = {INFINITY, INFINITY, INFINITY, INFINITY};
  for (long left = count > 2 ? strtol(words[2], NULL, 10) : 3; left > 0; left--) {
    times each = time_round(&b);
    keep_least(&least, &each);
  }
  double all = least.sharing + least.features;
  printf("mechanics of %zu exercises: statics alone %.3f s, sharing %.3f s, summary %.3f s\n",
         tables->exercises.rows.count, least.statics, least.sharing, least.features);
  printf("  sharing and summary %.3f s of %.1f s allowed; %.2f times %d dense factors of %d "
         "equations, %.3f s\n",
         all, BUDGET, all / least.reference, FACTORS, SIZE, least.reference);
  why_problems_free(problems);
  why_arena_free(arena);
  return 0;
}
