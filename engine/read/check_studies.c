// SPDX-License-Identifier: GPL-3.0-or-later
// Checks of studies: names that must exist, and what is known to be missing or doubtful.
#include "check_rows.h"
#include "evidence_checks.h"
#include "study_table.h"

#include <string.h>

void why_each_study(const why_inspection* inspection, why_study_check* check) {
  for (size_t i = 0; i < inspection->tables->studies.rows.count; i++)
    check(inspection, &inspection->tables->studies.rows.at[i]);
}

bool why_id_is_file_name(const char* id, const char* file) {
  const char* slash = strrchr(file, '/');
  const char* name = slash ? slash + 1 : file;
  size_t length = strlen(id);
  return strncmp(name, id, length) == 0 && strcmp(name + length, ".xml") == 0;
}

static void check_file_name(const why_inspection* inspection, const why_study* study) {
  const char* id = why_inspection_text(inspection, study->id);
  if (why_study_table_is(study->place.file) || why_id_is_file_name(id, study->place.file))
    return; // a table is called as its owner likes
  why_inspection_report(inspection, study->place, "the study %s stands in a file of another name",
                        id);
  why_problems_hint(inspection->problems, "call the file %s.xml", id);
}

static void study_file_name(const why_inspection* inspection) {
  why_each_study(inspection, check_file_name);
}

static void study_twice(const why_inspection* inspection) {
  const why_study_table* table = &inspection->tables->studies;
  for (size_t i = 0; i < table->rows.count; i++) {
    const why_study* first = why_study_find(table, table->rows.at[i].id);
    if (first == &table->rows.at[i])
      continue;
    why_inspection_report(inspection, table->rows.at[i].place, "the study %s is defined twice",
                          why_inspection_text(inspection, first->id));
    why_problems_also(inspection->problems, first->place);
  }
}

static void check_arm_ids(const why_inspection* inspection, const why_study* study) {
  for (size_t i = 0; i < study->arms.count; i++) {
    const why_arm* first = why_study_arm(study, study->arms.at[i].id);
    if (first == &study->arms.at[i])
      continue;
    why_inspection_report(inspection, study->arms.at[i].place, "the arm %s is defined twice",
                          why_inspection_text(inspection, first->id));
    why_problems_also(inspection->problems, first->place);
  }
}

static void arm_twice(const why_inspection* inspection) {
  why_each_study(inspection, check_arm_ids);
}

static void need_arm(const why_inspection* inspection, const why_study* study, why_symbol arm,
                     why_place place) {
  if (!arm || why_study_arm(study, arm))
    return;
  why_inspection_report(inspection, place, "the study has no arm %s",
                        why_inspection_text(inspection, arm));
}

static void need_arms(const why_inspection* inspection, const why_study* study,
                      why_symbol_list arms, why_place place) {
  for (size_t i = 0; i < arms.count; i++)
    need_arm(inspection, study, arms.at[i], place);
}

static void check_arm_names(const why_inspection* inspection, const why_study* study) {
  for (size_t i = 0; i < study->arms.count; i++) {
    const why_arm* arm = &study->arms.at[i];
    need_arm(inspection, study, arm->same_people_as, arm->place);
    need_arms(inspection, study, arm->pools, arm->place);
  }
  for (size_t i = 0; i < study->results.count; i++)
    need_arm(inspection, study, study->results.at[i].arm, study->results.at[i].place);
  for (size_t i = 0; i < study->contrasts.count; i++) {
    need_arm(inspection, study, study->contrasts.at[i].a, study->contrasts.at[i].place);
    need_arm(inspection, study, study->contrasts.at[i].b, study->contrasts.at[i].place);
  }
  for (size_t i = 0; i < study->within.count; i++)
    need_arms(inspection, study, study->within.at[i].arms, study->within.at[i].place);
}

static void study_arm(const why_inspection* inspection) {
  why_each_study(inspection, check_arm_names);
}

static void check_mapped(const why_inspection* inspection, const why_arm* arm) {
  for (size_t i = 0; i < arm->trained.count; i++) {
    const why_trained* row = &arm->trained.at[i];
    if (!row->exercise || why_exercise_find(&inspection->tables->exercises, row->exercise))
      continue;
    const char* id = why_inspection_text(inspection, row->exercise);
    why_inspection_report(inspection, row->place, "there is no exercise %s", id);
    why_hint_words(inspection, id, WHY_MEANS_EXERCISE);
  }
}

static void check_exercises(const why_inspection* inspection, const why_study* study) {
  for (size_t i = 0; i < study->arms.count; i++)
    check_mapped(inspection, &study->arms.at[i]);
}

static void study_exercise(const why_inspection* inspection) {
  why_each_study(inspection, check_exercises);
}

static void check_coordinates(const why_inspection* inspection, const why_trained* row) {
  for (size_t i = 0; i < row->joint_ranges.count; i++) {
    const why_joint_range* range = &row->joint_ranges.at[i];
    if (!why_coordinate_find(&inspection->tables->anatomy, range->coordinate))
      why_inspection_report(inspection, range->place, "there is no coordinate %s",
                            why_inspection_text(inspection, range->coordinate));
  }
}

static void check_angles(const why_inspection* inspection, const why_study* study) {
  for (size_t i = 0; i < study->arms.count; i++)
    for (size_t k = 0; k < study->arms.at[i].trained.count; k++)
      check_coordinates(inspection, &study->arms.at[i].trained.at[k]);
}

static void study_coordinate(const why_inspection* inspection) {
  why_each_study(inspection, check_angles);
}

static void need_muscle(const why_inspection* inspection, why_symbol muscle, why_place place) {
  if (why_measured_find(&inspection->tables->measured_muscles, muscle))
    return;
  why_inspection_report(inspection, place, "no measured muscle is called \"%s\"",
                        why_inspection_text(inspection, muscle));
  why_problems_hint(inspection->problems, "say in evidence/studies/muscles.xml which heads it is");
}

static void check_muscles(const why_inspection* inspection, const why_study* study) {
  for (size_t i = 0; i < study->results.count; i++)
    need_muscle(inspection, study->results.at[i].muscle, study->results.at[i].place);
  for (size_t i = 0; i < study->contrasts.count; i++)
    need_muscle(inspection, study->contrasts.at[i].muscle, study->contrasts.at[i].place);
  for (size_t i = 0; i < study->within.count; i++)
    need_muscle(inspection, study->within.at[i].muscle, study->within.at[i].place);
}

static void study_muscle(const why_inspection* inspection) {
  why_each_study(inspection, check_muscles);
}

static void check_methods(const why_inspection* inspection, const why_study* study) {
  for (size_t i = 0; i < study->results.count; i++) {
    const why_result* result = &study->results.at[i];
    if (why_method_find(&inspection->tables->measured_muscles, result->method))
      continue;
    why_inspection_report(inspection, result->place, "no method is called \"%s\"",
                          why_inspection_text(inspection, result->method));
    why_problems_hint(inspection->problems, "say in evidence/studies/muscles.xml what it measures");
  }
}

static void study_method(const why_inspection* inspection) {
  why_each_study(inspection, check_methods);
}

static void check_overlaps(const why_inspection* inspection, const why_study* study) {
  for (size_t i = 0; i < study->overlaps.count; i++) {
    const why_overlap* overlap = &study->overlaps.at[i];
    const char* other = why_inspection_text(inspection, overlap->study);
    if (overlap->study == study->id)
      why_inspection_report(inspection, overlap->place, "the study overlaps with itself");
    else if (!why_study_find(&inspection->tables->studies, overlap->study))
      why_inspection_report(inspection, overlap->place, "there is no study %s", other);
  }
}

static void study_overlap(const why_inspection* inspection) {
  why_each_study(inspection, check_overlaps);
}

why_check_rows why_study_checks = {
    {"study-file-name", WHY_ERROR, study_file_name, NULL,
     "A study stands in a file that is called like its id."},
    {"study-twice", WHY_ERROR, study_twice, NULL, "No two studies have one id."},
    {"arm-twice", WHY_ERROR, arm_twice, NULL, "No two arms of a study have one id."},
    {"study-arm", WHY_ERROR, study_arm, NULL,
     "Results, contrasts, findings and arms name arms of their own study."},
    {"study-exercise", WHY_ERROR, study_exercise, "files",
     "What an arm trained counts as an exercise of the catalogue."},
    {"study-coordinate", WHY_ERROR, study_coordinate, "files",
     "The joint ranges of an arm are about coordinates of the anatomy."},
    {"study-muscle", WHY_ERROR, study_muscle, "files",
     "Every muscle that a study names is explained in evidence/studies/muscles.xml."},
    {"study-method", WHY_ERROR, study_method, "files",
     "Every method that a result names is explained in evidence/studies/muscles.xml."},
    {"study-overlap", WHY_ERROR, study_overlap, "files",
     "A study that shares people names another study that exists."},
    {0}};
