// SPDX-License-Identifier: GPL-3.0-or-later
/// What mechanics says that could predict growth: for every head, how hard an exercise works it
/// while it moves, and at what length. The one place to change when body learns more. Private to
/// pool.
#ifndef WHY_POOL_GROWTH_FEATURE_H
#define WHY_POOL_GROWTH_FEATURE_H

#include "body/body.h"
#include "read/read.h"

/// Of one head in one exercise.
typedef struct {
  double stress; ///< Greatest moving stress near failure, 0 to about 1.
  double length; ///< Mean fibre length in which it bears that, in optimal fibre lengths.
} why_work;

typedef struct why_workbook why_workbook;

/// In `arena`, as all it hands out. `plain`: without mechanics; every head has a stress of 1.
/// `features` (may be NULL): those of each exercise, where they are known already. WHY_KNOWLEDGE
/// when body misses a constant.
why_status why_workbook_new(const why_tables* tables, bool plain,
                            const why_feature* const* features, why_arena* arena,
                            why_workbook** book);

/// The work of every head, in the order of the tables, in an exercise of the catalogue; computed
/// once. `exercise` is its index.
const why_work* why_workbook_exercise(why_workbook* book, size_t exercise);

/// The same as an arm trained it: in its own range where it has one.
const why_work* why_workbook_trained(why_workbook* book, size_t exercise, const why_trained* did);

#endif
