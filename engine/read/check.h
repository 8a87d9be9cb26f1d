// SPDX-License-Identifier: GPL-3.0-or-later
/// Checks that a schema cannot make, as rows: each has a name that people can search for, a
/// severity, and the checks that must have passed before it makes sense. Every kind of file brings
/// its own array of rows (`why_exercise_checks` in check_exercises.c); check.c lists the arrays.
#ifndef WHY_READ_CHECK_H
#define WHY_READ_CHECK_H

#include "base/base.h"

#include <stdbool.h>

struct why_tables;
struct why_check;

/// What one run of all checks shares to find near matches for unknown words.
typedef struct {
  const struct why_words* words; ///< Made when first needed.
  unsigned given;                ///< Hints so far: after the first few a hint helps no more.
} why_hinting;

/// What a check is given: all tables, and where to report. `check` is the row at work.
typedef struct {
  const struct why_tables* tables;
  why_arena* scratch; ///< For what the check needs while it runs.
  why_problems* problems;
  const struct why_check* check;
  why_hinting* hinting;
} why_inspection;

typedef struct why_check {
  const char* name;
  why_severity severity;
  void (*run)(const why_inspection* inspection);
  const char* after; ///< Name of a check that must have passed; "files" (all files were readable
                     ///< and fit their schemas) for checks of references; or NULL.
  const char* what;  ///< One sentence for `list checks`: what is refused or pointed out.
} why_check;

/// Report a problem under the name and severity of the row at work; a hint may follow by
/// why_problems_hint(inspection->problems, ...).
void why_inspection_report(const why_inspection* inspection, why_place place, const char* format,
                           ...) __attribute__((format(printf, 3, 4)));

/// The text of a name, for messages.
const char* why_inspection_text(const why_inspection* inspection, why_symbol name);

/// An array of rows that ends with a row without a name.
typedef const why_check why_check_rows[];

/// Run all checks over the tables; `files_sound` says whether every file could be read.
void why_checks_run(const struct why_tables* tables, why_problems* problems, bool files_sound);

/// Check number `index` over all arrays, NULL behind the last.
const why_check* why_checks_at(size_t index);

#endif
