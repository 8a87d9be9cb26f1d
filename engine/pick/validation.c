// SPDX-License-Identifier: GPL-3.0-or-later
#include "validation.h"

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
  if (status == WHY_KNOWLEDGE)
    why_problems_add(question->problems, WHY_ERROR, "growth", (why_place){0},
                     "the growth model cannot be fitted: too few trials, or evidence/measurements "
                     "lacks a quantity that it needs");
  *result = made;
  return status;
}
