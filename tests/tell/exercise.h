// SPDX-License-Identifier: GPL-3.0-or-later
/// Exercises of the shipped knowledge base in motion, for suites that look at their pictures.
#ifndef WHY_TESTS_EXERCISE_H
#define WHY_TESTS_EXERCISE_H

#include "pick/pick.h"

/// Read it; one at a time, given back by exercise_close.
void exercise_open(void);
void exercise_close(void);

const why_ground* exercise_ground(void);
why_problems* exercise_problems(void);

/// The motion of an exercise by its id; fails the test when there is none.
const why_motion* exercise_motion(const char* id, why_arena* arena);

#endif
