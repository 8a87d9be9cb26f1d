// SPDX-License-Identifier: GPL-3.0-or-later
// Prints sharing problems of the catalogue and their solutions as lines of numbers, for sharing.py
// to solve again:
//
//   problem EXERCISE PLACE EXPONENT SMOOTH SOFT EQUATIONS, then what each equation asks
//   strand CAPACITY EITHER WEIGHT SHARE, then pairs: equation, gives
//   support CAPACITY WEIGHT PULL FRICTION, then normal, usual force, its change, then by equation:
//           equation and the three parts of what it gives
#include "body/body.h"
#include "body/sharer.h"

#include <stdio.h>
#include <stdlib.h>

static const char* const EXERCISES[] = {
    "barbell-back-squat",
    "barbell-romanian-deadlift",
    "seated-leg-curl",
    "leg-press",
    "push-up",
    "barbell-bench-press",
    "lat-pulldown",
    "pull-up",
    "barbell-curl",
    "dumbbell-lateral-raise",
    "one-arm-dumbbell-row",
    "split-squat",
    "plank",
    "side-plank",
    "glute-bridge",
    "nordic-curl",
    "seated-calf-raise",
    "cable-rotation-high-to-low",
    "overhead-cable-extension",
    "single-leg-romanian-deadlift",
};

static const double PLACES[] = {0, 0.7, 1.5};

static void stop(const char* why) {
  fprintf(stderr, "%s\n", why);
  exit(1);
}

static void print_vector(why_vec v) {
  printf(" %.17g %.17g %.17g", v.x, v.y, v.z);
}

static void print_strand(const why_dual* dual, const why_strand* strand, const double* prices) {
  double share = why_dual_strand(dual, strand, prices) / strand->capacity;
  printf("strand %.17g %d %.17g %.17g", strand->capacity, strand->either, strand->weight, share);
  for (size_t i = 0; i < strand->count; i++)
    printf(" %d %.17g", strand->rows[i], strand->gives[i]);
  printf("\n");
}

static void print_support(const why_dual* dual, const why_support* support, const double* prices) {
  const why_reaction* contact = support->contact;
  printf("support %.17g %.17g %d %.17g", support->capacity, support->weight, contact->pull,
         contact->friction);
  print_vector(contact->normal);
  print_vector(support->usual);
  print_vector(why_dual_support(dual, support, prices));
  for (size_t i = 0; i < support->count; i++) {
    printf(" %d", support->rows[i]);
    print_vector(support->gives[i]);
  }
  printf("\n");
}

/// The share holds the prices by coordinates; the problem that the sharer still holds is solved
/// again from nothing, which is what a stranger would do.
static void print_problem(const char* exercise, double place, const why_dual* dual) {
  why_prices prices = {0};
  if (!why_dual_solve(dual, 1e-9, &prices))
    stop("a problem could not be solved");
  printf("problem %s %g %.17g %.17g %.17g %zu", exercise, place, dual->exponent, dual->smooth,
         dual->soft, dual->equation_count);
  for (size_t i = 0; i < dual->equation_count; i++)
    printf(" %.17g", dual->asked[i]);
  printf("\n");
  for (size_t i = 0; i < dual->strand_count; i++)
    print_strand(dual, &dual->strands[i], prices.prices);
  for (size_t i = 0; i < dual->support_count; i++)
    print_support(dual, &dual->supports[i], prices.prices);
}

int main(void) {
  why_arena* arena = why_arena_new(0);
  why_problems* problems = why_problems_new();
  why_tables* tables = NULL;
  const why_body_model* model = NULL;
  why_muscles* muscles = NULL;
  why_sharer* sharer = NULL;
  why_tables_open(WHY_HOME, NULL, arena, problems, &tables);
  if (why_body_model_new(why_frame_new(tables, arena), tables, 0, 0, arena, &model) != WHY_OK ||
      why_muscles_new(model, arena, &muscles) != WHY_OK ||
      why_sharer_new(muscles, arena, &sharer) != WHY_OK)
    stop("the knowledge base lacks a constant");
  why_share* share = why_share_new(muscles, 1, arena);
  for (size_t i = 0; i < sizeof EXERCISES / sizeof *EXERCISES; i++) {
    const why_exercise* each =
        why_exercise_find(&tables->exercises, why_symbols_find(tables->symbols, EXERCISES[i]));
    if (!each)
      stop(EXERCISES[i]);
    for (size_t j = 0; j < sizeof PLACES / sizeof *PLACES; j++) {
      why_share_begin(share, NULL, NULL, 0);
      why_share_find(sharer, each, PLACES[j], 1, share);
      if (!share->settled)
        stop(EXERCISES[i]);
      print_problem(EXERCISES[i], PLACES[j], &sharer->dual);
    }
  }
  why_problems_free(problems);
  why_arena_free(arena);
  return 0;
}
