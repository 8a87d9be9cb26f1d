// SPDX-License-Identifier: GPL-3.0-or-later
// The list of all check rows and the loop over them.
#include "check.h"

#include "check_rows.h"
#include "evidence_checks.h"
#include "tables.h"

#include <stdarg.h>
#include <string.h>

/// One array of rows a kind of file.
static const why_check* const ALL[] = {
    why_anatomy_checks,   why_path_checks,     why_measurement_checks, why_measured_checks,
    why_review_checks,    why_study_checks,    why_study_gap_checks,   why_study_number_checks,
    why_equipment_checks, why_exercise_checks, why_posture_checks,     why_restriction_checks,
    why_lexicon_checks,   why_asking_checks,   why_bias_checks,        why_draft_checks,
};

const why_check* why_checks_at(size_t index) {
  for (size_t i = 0; i < sizeof ALL / sizeof *ALL; i++)
    for (const why_check* row = ALL[i]; row && row->name; row++)
      if (index-- == 0)
        return row;
  return NULL;
}

void why_inspection_report(const why_inspection* inspection, why_place place, const char* format,
                           ...) {
  why_buffer text = {.arena = inspection->scratch};
  va_list arguments;
  va_start(arguments, format);
  why_buffer_add(&text, why_arena_vprint(inspection->scratch, format, arguments));
  va_end(arguments);
  why_problems_add(inspection->problems, inspection->check->severity, inspection->check->name,
                   place, "%s", why_buffer_text(&text));
}

const char* why_inspection_text(const why_inspection* inspection, why_symbol name) {
  return why_symbols_text(inspection->tables->symbols, name);
}

static const why_check* find_check(const char* name) {
  const why_check* row = NULL;
  for (size_t i = 0; (row = why_checks_at(i)) && strcmp(row->name, name) != 0; i++) {
  }
  return row;
}

/// Whether all went well that must go before: a check that was silenced silences its followers.
static bool may_run(const why_check* check, const why_problems* problems, bool files_sound) {
  for (; check && check->after; check = find_check(check->after)) {
    if (strcmp(check->after, "files") == 0)
      return files_sound;
    if (why_problems_failed(problems, check->after))
      return false;
  }
  return true;
}

void why_checks_run(const why_tables* tables, why_problems* problems, bool files_sound) {
  why_hinting hinting = {0};
  why_inspection inspection = {.tables = tables,
                               .scratch = why_arena_scratch(tables->arena),
                               .problems = problems,
                               .hinting = &hinting};
  for (size_t i = 0; (inspection.check = why_checks_at(i)); i++)
    if (may_run(inspection.check, problems, files_sound))
      inspection.check->run(&inspection);
}
