// SPDX-License-Identifier: GPL-3.0-or-later
// Checks of published reviews.
#include "evidence_checks.h"
#include "tables.h"

#include <math.h>

static void review_file_name(const why_inspection* inspection) {
  const why_review_table* table = &inspection->tables->reviews;
  for (size_t i = 0; i < table->rows.count; i++) {
    const char* id = why_inspection_text(inspection, table->rows.at[i].id);
    if (why_id_is_file_name(id, table->rows.at[i].place.file))
      continue;
    why_inspection_report(inspection, table->rows.at[i].place,
                          "the review %s stands in a file of another name", id);
    why_problems_hint(inspection->problems, "call the file %s.xml", id);
  }
}

static void review_twice(const why_inspection* inspection) {
  const why_review_table* table = &inspection->tables->reviews;
  for (size_t i = 0; i < table->rows.count; i++) {
    const why_review* first = why_review_find(table, table->rows.at[i].id);
    if (first == &table->rows.at[i])
      continue;
    why_inspection_report(inspection, table->rows.at[i].place, "the review %s is defined twice",
                          why_inspection_text(inspection, first->id));
    why_problems_also(inspection->problems, first->place);
  }
}

static void check_included(const why_inspection* inspection, const why_included* included) {
  const why_study* study = why_study_find(&inspection->tables->studies, included->study);
  if (!study)
    why_inspection_report(inspection, included->place, "there is no study %s",
                          why_inspection_text(inspection, included->study));
  else if (included->arm && !why_study_arm(study, included->arm))
    why_inspection_report(inspection, included->place, "the study %s has no arm %s",
                          why_inspection_text(inspection, included->study),
                          why_inspection_text(inspection, included->arm));
  if (included->muscle &&
      !why_measured_find(&inspection->tables->measured_muscles, included->muscle))
    why_inspection_report(inspection, included->place, "no measured muscle is called \"%s\"",
                          why_inspection_text(inspection, included->muscle));
}

static void review_includes(const why_inspection* inspection) {
  const why_review_table* table = &inspection->tables->reviews;
  for (size_t i = 0; i < table->rows.count; i++)
    for (size_t k = 0; k < table->rows.at[i].included.count; k++)
      check_included(inspection, &table->rows.at[i].included.at[k]);
}

static void check_interval(const why_inspection* inspection, const why_pooled* pooled) {
  if (pooled->ci95.low > pooled->ci95.high || pooled->estimate < pooled->ci95.low ||
      pooled->estimate > pooled->ci95.high)
    why_inspection_report(inspection, pooled->place,
                          "the estimate %g lies outside its interval, %g to %g", pooled->estimate,
                          pooled->ci95.low, pooled->ci95.high);
}

static void review_interval(const why_inspection* inspection) {
  const why_review_table* table = &inspection->tables->reviews;
  for (size_t i = 0; i < table->rows.count; i++) {
    check_interval(inspection, &table->rows.at[i].pooled);
    for (size_t k = 0; k < table->rows.at[i].more.count; k++)
      check_interval(inspection, &table->rows.at[i].more.at[k]);
  }
}

why_check_rows why_review_checks = {
    {"review-file-name", WHY_ERROR, review_file_name, NULL,
     "A review stands in a file that is called like its id."},
    {"review-twice", WHY_ERROR, review_twice, NULL, "No two reviews have one id."},
    {"review-includes", WHY_ERROR, review_includes, "files",
     "The single effects of a review name studies, arms and muscles that exist."},
    {"review-interval", WHY_WARNING, review_interval, NULL,
     "An estimate lies inside its interval."},
    {0}};
