// SPDX-License-Identifier: GPL-3.0-or-later
#include "validation.h"

#include <math.h>

/// Refit with the ends of what the correlation may be.
static why_status try_correlations(why_validated* made) {
  const why_ground* ground = made->question->ground;
  const why_quantity* range = why_quantity_find(&ground->tables->measurements, ground->symbols,
                                                "pre-post-correlation-sensitivity", 0);
  const double ends[] = {range ? range->amount.low : NAN, range ? range->amount.high : NAN};
  why_status status = WHY_OK;
  for (size_t i = 0; i < 2 && status == WHY_OK && ground->outlook && isfinite(ends[i]); i++)
    status = why_sensitivity_of(ground->tables, ground->outlook, ends[i], made->question->arena,
                                WHY_LIST_ADD(made->question->arena, made->tried));
  return status;
}

why_status why_validation_run(const why_question* question, const why_validated** result) {
  why_validated* made = WHY_NEW(question->arena, why_validated);
  made->question = question;
  why_findings findings;
  why_imputing imputing = why_imputing_usual();
  why_status status =
      why_findings_collect(question->ground->tables, &imputing, question->arena, &findings);
  if (status == WHY_OK)
    status =
        why_growth_validate(question->ground->tables, &findings, question->arena, &made->found);
  if (status == WHY_OK)
    status = try_correlations(made);
  if (status == WHY_KNOWLEDGE)
    why_problems_add(question->problems, WHY_ERROR, "growth", (why_place){0},
                     "the growth model cannot be fitted: too few trials, or evidence/measurements "
                     "lacks a quantity that it needs");
  *result = made;
  return status;
}
