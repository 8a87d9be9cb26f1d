// SPDX-License-Identifier: GPL-3.0-or-later
// Checks of the words for methods and muscles.
#include "check_rows.h"
#include "evidence_checks.h"

static void report_twice(const why_inspection* inspection, why_symbol name, why_place place,
                         why_place first) {
  why_inspection_report(inspection, place, "\"%s\" is explained twice",
                        why_inspection_text(inspection, name));
  why_problems_also(inspection->problems, first);
}

static void measured_twice(const why_inspection* inspection) {
  const why_measured_table* table = &inspection->tables->measured_muscles;
  for (size_t i = 0; i < table->methods.count; i++) {
    const why_method* row = &table->methods.at[i];
    const why_method* first = why_method_find(table, row->name);
    if (first != row)
      report_twice(inspection, row->name, row->place, first->place);
  }
  for (size_t i = 0; i < table->muscles.count; i++) {
    const why_measured* row = &table->muscles.at[i];
    const why_measured* first = why_measured_find(table, row->name);
    if (first != row)
      report_twice(inspection, row->name, row->place, first->place);
  }
}

static void measured_method(const why_inspection* inspection) {
  const why_measured_table* table = &inspection->tables->measured_muscles;
  for (size_t i = 0; i < table->muscles.count; i++)
    for (size_t k = 0; k < table->muscles.at[i].by_method.count; k++) {
      const why_by_method* row = &table->muscles.at[i].by_method.at[k];
      if (!why_method_find(table, row->method))
        why_inspection_report(inspection, row->place, "no method is called \"%s\"",
                              why_inspection_text(inspection, row->method));
    }
}

static void need_heads(const why_inspection* inspection, why_symbol_list heads, why_place place) {
  for (size_t i = 0; i < heads.count; i++) {
    if (why_head_find(&inspection->tables->anatomy, heads.at[i]))
      continue;
    const char* id = why_inspection_text(inspection, heads.at[i]);
    why_inspection_report(inspection, place, "there is no head %s", id);
    why_hint_words(inspection, id, WHY_MEANS_HEAD);
  }
}

static void measured_head(const why_inspection* inspection) {
  const why_measured_table* table = &inspection->tables->measured_muscles;
  for (size_t i = 0; i < table->muscles.count; i++) {
    const why_measured* muscle = &table->muscles.at[i];
    need_heads(inspection, muscle->heads, muscle->place);
    for (size_t k = 0; k < muscle->by_method.count; k++)
      need_heads(inspection, muscle->by_method.at[k].heads, muscle->by_method.at[k].place);
  }
}

static void measured_group(const why_inspection* inspection) {
  const why_measured_table* table = &inspection->tables->measured_muscles;
  for (size_t i = 0; i < table->muscles.count; i++) {
    const why_measured* muscle = &table->muscles.at[i];
    if (muscle->group && !why_group_find(&inspection->tables->anatomy, muscle->group))
      why_inspection_report(inspection, muscle->place, "there is no group %s",
                            why_inspection_text(inspection, muscle->group));
  }
}

static void unmapped_muscle(const why_inspection* inspection) {
  const why_measured_table* table = &inspection->tables->measured_muscles;
  for (size_t i = 0; i < table->muscles.count; i++)
    if (*table->muscles.at[i].unmapped)
      why_inspection_report(inspection, table->muscles.at[i].place, "\"%s\": %s",
                            why_inspection_text(inspection, table->muscles.at[i].name),
                            table->muscles.at[i].unmapped);
}

why_check_rows why_measured_checks = {{"measured-twice", WHY_ERROR, measured_twice, NULL,
                                       "Every word for a method or a muscle is explained once."},
                                      {"measured-method", WHY_ERROR, measured_method, NULL,
                                       "Other heads are named for methods that exist."},
                                      {"measured-head", WHY_ERROR, measured_head, "files",
                                       "What a trial measured is made of heads of the anatomy."},
                                      {"measured-group", WHY_ERROR, measured_group, "files",
                                       "The group that a measured muscle answers for exists."},
                                      {"unmapped-muscle", WHY_NOTE, unmapped_muscle, NULL,
                                       "Lists measured muscles that are no head, or not wholly."},
                                      {0}};
