// SPDX-License-Identifier: GPL-3.0-or-later
// How long the growth model takes beside a dense reference for the same likelihood in the same run,
// and how well it predicts studies that it has not seen. Prints; decides nothing. Times are those
// of the processor, so that other programs on the machine do not count.
//   bench-growth FOLDER [validate]
#include "pool/growth_model.h"
#include "pool/pool.h"

#include "dense_reference.h"

#include <math.h>
#include <stdio.h>
#include <string.h>
#include <time.h>

static double now(void) {
  struct timespec time;
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &time);
  return (double)time.tv_sec + (double)time.tv_nsec / 1e9;
}

/// All of the catalogue for trained people: every head that an exercise moves or that trials know.
static size_t estimate_all(const why_tables* tables, const why_growth* growth, why_arena* arena) {
  size_t count = 0;
  const why_outlook* outlook = why_outlook_new(growth, arena);
  for (size_t e = 0; e < tables->exercises.rows.count; e++) {
    for (size_t h = 0; h < tables->anatomy.heads.count; h++) {
      if (!why_outlook_knows(outlook, e, h))
        continue;
      why_goal_head part = {h, 1};
      why_goal goal = {&part, 1};
      why_estimate estimate;
      why_outlook_estimate(outlook, e, &goal, 1, arena, &estimate);
      count++;
    }
  }
  return count;
}

/// Mechanics by themselves: the features that the model takes, so that they can be told apart.
static void time_mechanics(const why_tables* tables, const why_growth* growth, why_arena* arena) {
  double begun = now();
  why_workbook* book;
  if (why_workbook_new(tables, false, NULL, arena, &book) != WHY_OK)
    return;
  why_growth_rows rows;
  why_growth_rows_collect(tables, growth->findings, book, arena, &rows);
  double trained = now();
  for (size_t e = 0; e < tables->exercises.rows.count; e++)
    why_workbook_exercise(book, e);
  printf("mechanics: %.3f s for what arms trained, %.3f s for the rest of %zu exercises\n",
         trained - begun, now() - trained, tables->exercises.rows.count);
}

static void time_likelihood(const why_growth* growth, why_arena* arena) {
  double components[WHY_GROWTH_TERMS];
  for (int c = 0; c < WHY_GROWTH_TERMS; c++)
    components[c] = growth->fit.components[c].value;
  double begun = now();
  double dense = dense_likelihood(&growth->data, components, arena);
  double between = now();
  double sparse;
  double score[WHY_GROWTH_TERMS];
  why_mixed_likelihood(&growth->data, false, components, arena, &sparse, score);
  double ended = now();
  printf(
      "restricted log-likelihood: %.6f here with all slopes, %.6f by a dense reference without\n",
      sparse, dense);
  printf("  %.4f s and %.4f s: %.1f times as fast\n", ended - between, between - begun,
         (between - begun) / (ended - between));
}

static void tell_differences(const char* name, const why_validated_differences* d) {
  printf("%s: %zu differences, root mean squared error %.2f points (%.2f if none is expected)\n",
         name, d->count, d->error, d->error_none);
  printf("  %zu whose interval excludes zero: %zu told apart, %zu of them in the right direction\n",
         d->decided, d->told, d->right);
  printf("  %zu others: %zu within the expected interval, mean width %.1f points\n", d->others,
         d->covered, d->width);
}

static void tell_findings(const char* name, const why_validated_findings* f) {
  printf("  %-28s error %.2f points, %zu within 95 %%, width %.1f, score %.4f\n", name, f->error,
         f->covered, f->width, f->score);
}

static void validate(const why_tables* tables, const why_findings* findings, why_arena* arena) {
  double begun = now();
  why_validation v;
  if (why_growth_validate(tables, findings, arena, &v) != WHY_OK)
    return;
  printf("\nleft out one at a time: %zu studies, %zu findings, %.0f s; %zu fits did not settle\n",
         v.studies, v.findings, now() - begun, v.failed);
  printf("predictors chosen: stress %zu times, stress and length %zu\n", v.chosen[WHY_BY_STRESS],
         v.chosen[WHY_BY_STRESS_AND_LENGTH]);
  tell_findings("as chosen", &v.model);
  tell_findings("without mechanics", &v.alone[WHY_BY_TRAINING]);
  tell_findings("stress", &v.alone[WHY_BY_STRESS]);
  tell_findings("stress and length", &v.alone[WHY_BY_STRESS_AND_LENGTH]);
  tell_differences("between trained arms", &v.exercises);
  tell_differences("against controls", &v.controls);
}

int main(int count, char** words) {
  why_arena* arena = why_arena_new(0);
  why_problems* problems = why_problems_new();
  why_read_settings settings = {0};
  why_tables* tables;
  why_findings findings;
  why_imputing imputing = why_imputing_usual();
  if (count < 2 || why_tables_open(words[1], &settings, arena, problems, &tables) != WHY_OK ||
      why_findings_collect(tables, &imputing, arena, &findings) != WHY_OK) {
    fputs("usage: bench-growth FOLDER [validate]\n", stderr);
    return 2;
  }
  double begun = now();
  why_growth* growth;
  why_growth_settings usual = why_growth_settings_usual();
  if (why_growth_fit(tables, &findings, &usual, arena, &growth) != WHY_OK)
    return 3;
  double fitted = now();
  size_t estimates = estimate_all(tables, growth, arena);
  double estimated = now();
  why_growth_summary summary = why_growth_summarise(growth);
  printf("growth model: %zu findings of %zu studies, %zu effects of exercise and head\n",
         summary.data->row_count, summary.studies, summary.cells);
  printf(
      "fit with mechanics of what arms trained: %.3f s, %zu rounds; %zu estimates with mechanics "
      "of the rest: %.3f s\n",
      fitted - begun, summary.rounds, estimates, estimated - fitted);
  time_mechanics(tables, growth, arena);
  begun = now();
  estimate_all(tables, growth, arena);
  printf("estimates alone: %.3f s\n", now() - begun);
  time_likelihood(growth, arena);
  if (count > 2 && strcmp(words[2], "validate") == 0)
    validate(tables, &findings, arena);
  why_problems_free(problems);
  why_arena_free(arena);
  return 0;
}
