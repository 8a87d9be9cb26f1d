// SPDX-License-Identifier: GPL-3.0-or-later
/// The arrays of check rows for equipment, exercises, restrictions and words, and what their checks
/// share.
#ifndef WHY_READ_CHECK_ROWS_H
#define WHY_READ_CHECK_ROWS_H

#include "check.h"
#include "tables.h"
#include "words.h"

extern why_check_rows why_anatomy_checks;     ///< check_anatomy.c
extern why_check_rows why_measurement_checks; ///< check_measurements.c
extern why_check_rows why_path_checks;        ///< check_paths.c
extern why_check_rows why_equipment_checks;
extern why_check_rows why_exercise_checks; ///< check_exercises.c
extern why_check_rows why_posture_checks;  ///< check_postures.c
extern why_check_rows why_restriction_checks;
extern why_check_rows why_lexicon_checks;
extern why_check_rows why_asking_checks;

/// Run `check` over every exercise.
typedef void why_exercise_check(const why_inspection* inspection, const why_exercise* exercise);
void why_each_exercise(const why_inspection* inspection, why_exercise_check* check);

/// Hint at ids of `kinds` that are spelled nearly like `typed`; no hint if there are none.
void why_hint_words(const why_inspection* inspection, const char* typed, unsigned kinds);

/// Whether `id` is the id of something of `kind` in the tables.
bool why_tables_have(const why_tables* tables, why_meaning kind, why_symbol id);

#endif
