// SPDX-License-Identifier: GPL-3.0-or-later
// Gaps that the studies state themselves: what is left out, what fits no exercise, what is
// doubtful, what cannot be looked up. Listed so that nothing is dropped silently.
#include "evidence_checks.h"
#include "tables.h"

static void list_left_out(const why_inspection* inspection, const why_left_out* left_out,
                          const char* what) {
  if (left_out->reason)
    why_inspection_report(inspection, left_out->place, "%s is used for nothing (%s): %s", what,
                          why_inspection_text(inspection, left_out->reason), left_out->text);
}

static void left_out(const why_inspection* inspection) {
  const why_study_table* table = &inspection->tables->studies;
  for (size_t i = 0; i < table->rows.count; i++) {
    const why_study* study = &table->rows.at[i];
    list_left_out(inspection, &study->left_out, "the study");
    for (size_t k = 0; k < study->arms.count; k++)
      list_left_out(inspection, &study->arms.at[k].left_out, "the arm");
    for (size_t k = 0; k < study->results.count; k++)
      list_left_out(inspection, &study->results.at[k].left_out, "the result");
    for (size_t k = 0; k < study->contrasts.count; k++)
      list_left_out(inspection, &study->contrasts.at[k].left_out, "the contrast");
  }
}

static void unmapped_in_arm(const why_inspection* inspection, const why_arm* arm) {
  for (size_t i = 0; i < arm->trained.count; i++) {
    const why_trained* row = &arm->trained.at[i];
    if (!row->exercise)
      why_inspection_report(inspection, row->place, "\"%s\" fits no exercise: %s", row->as_written,
                            row->unmapped);
  }
}

static void unmapped_exercise(const why_inspection* inspection) {
  const why_study_table* table = &inspection->tables->studies;
  for (size_t i = 0; i < table->rows.count; i++)
    for (size_t k = 0; k < table->rows.at[i].arms.count; k++)
      unmapped_in_arm(inspection, &table->rows.at[i].arms.at[k]);
}

static void doubt(const why_inspection* inspection) {
  const why_study_table* table = &inspection->tables->studies;
  for (size_t i = 0; i < table->rows.count; i++) {
    const why_study* study = &table->rows.at[i];
    for (size_t k = 0; k < study->results.count; k++)
      if (*study->results.at[k].doubt)
        why_inspection_report(inspection, study->results.at[k].place, "the result is doubtful: %s",
                              study->results.at[k].doubt);
    for (size_t k = 0; k < study->contrasts.count; k++)
      if (*study->contrasts.at[k].doubt)
        why_inspection_report(inspection, study->contrasts.at[k].place,
                              "the contrast is doubtful: %s", study->contrasts.at[k].doubt);
  }
}

static void no_doi(const why_inspection* inspection) {
  const why_study_table* table = &inspection->tables->studies;
  for (size_t i = 0; i < table->rows.count; i++) {
    const why_study* study = &table->rows.at[i];
    if (!*study->doi && !*study->pmid && !*study->pmc && !*study->link)
      why_inspection_report(inspection, study->place,
                            "no DOI or index number of the study is known");
  }
}

why_check_rows why_study_gap_checks = {
    {"left-out", WHY_NOTE, left_out, NULL,
     "Lists studies, arms and rows that are kept but used for nothing."},
    {"unmapped-exercise", WHY_NOTE, unmapped_exercise, NULL,
     "Lists what arms trained that fits no exercise of the catalogue."},
    {"doubt", WHY_NOTE, doubt, NULL, "Lists results and contrasts whose numbers may be wrong."},
    {"no-doi", WHY_NOTE, no_doi, NULL, "Lists studies that cannot be looked up by number."},
    {0}};
