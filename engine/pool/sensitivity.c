// SPDX-License-Identifier: GPL-3.0-or-later
// Ranks the exercises of every head by two fits.
#include "sensitivity.h"

#include <math.h>
#include <stdlib.h>

enum { FIRST = 5 };

/// An exercise for one head.
typedef struct {
  size_t exercise;
  double usual;
  double other;
  size_t place; ///< From 0 by the usual estimate.
} ranked;

static int by_usual(const void* a, const void* b) {
  const ranked* x = a;
  const ranked* y = b;
  if (x->usual != y->usual)
    return x->usual > y->usual ? -1 : 1;
  return x->exercise < y->exercise ? -1 : x->exercise > y->exercise;
}

static int by_other(const void* a, const void* b) {
  const ranked* x = a;
  const ranked* y = b;
  if (x->other != y->other)
    return x->other > y->other ? -1 : 1;
  return x->exercise < y->exercise ? -1 : x->exercise > y->exercise;
}

static double percent_of(const why_outlook* outlook, size_t exercise, size_t head,
                         why_arena* scratch) {
  why_goal_head part = {head, 1};
  why_goal goal = {&part, 1};
  why_estimate estimate;
  why_outlook_estimate(outlook, exercise, &goal, 1, scratch, &estimate);
  return estimate.percent;
}

/// Compare the places of one head; `rows` has room for all exercises.
static void compare_head(ranked* rows, size_t count, why_sensitivity* found) {
  qsort(rows, count, sizeof *rows, by_usual);
  for (size_t i = 0; i < count; i++)
    rows[i].place = i;
  qsort(rows, count, sizeof *rows, by_other);
  found->heads++;
  found->first_moved += rows[0].place != 0;
  size_t first = count < FIRST ? count : FIRST;
  double moves = 0;
  for (size_t i = 0; i < count; i++) {
    if (rows[i].place < first)
      moves += fabs((double)i - (double)rows[i].place);
    found->largest = fmax(found->largest, fabs(rows[i].other - rows[i].usual));
  }
  found->places += moves / (double)first;
}

why_status why_sensitivity_of(const why_tables* tables, const why_outlook* usual,
                              double correlation, why_arena* arena, why_sensitivity* found) {
  *found = (why_sensitivity){.correlation = correlation};
  why_findings findings;
  why_growth* growth;
  why_imputing imputing = why_imputing_usual();
  imputing.pre_post_correlation = correlation;
  why_growth_settings settings = why_growth_settings_usual();
  why_status status = why_findings_collect(tables, &imputing, arena, &findings);
  if (status == WHY_OK)
    status = why_growth_fit(tables, &findings, &settings, arena, &growth);
  if (status != WHY_OK)
    return status;
  const why_outlook* other = why_outlook_new(growth, arena);
  size_t exercises = tables->exercises.rows.count;
  ranked* rows = WHY_NEW_ARRAY(arena, ranked, exercises + 1);
  for (size_t h = 0; h < tables->anatomy.heads.count; h++) {
    size_t count = 0;
    for (size_t e = 0; e < exercises; e++)
      if (why_outlook_knows(usual, e, h))
        rows[count++] =
            (ranked){e, percent_of(usual, e, h, arena), percent_of(other, e, h, arena), 0};
    if (count > 1)
      compare_head(rows, count, found);
  }
  found->places /= fmax(1, (double)found->heads);
  return WHY_OK;
}
