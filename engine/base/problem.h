// SPDX-License-Identifier: GPL-3.0-or-later
/// Collecting problems. A list owns copies of all it is told, and so outlives the knowledge base
/// that it speaks of.
#ifndef WHY_BASE_PROBLEM_H
#define WHY_BASE_PROBLEM_H

#include "whylift/problem.h"
#include "whylift/status.h"

#include <stdbool.h>

/// How many problems are kept; errors up to twice as many, and the first of each check always. The
/// others are counted only.
enum { WHY_PROBLEMS_LIMIT = 2000 };

/// An empty list, or NULL when the machine has no memory.
why_problems* why_problems_new(void);

/// Add a problem. `hint` and `other.file` may be NULL; `format` as for printf. The last problem
/// added can be given a hint or a second place by the two functions below.
void why_problems_add(why_problems* problems, why_severity severity, const char* check,
                      why_place place, const char* format, ...)
    __attribute__((format(printf, 5, 6)));

/// Give the newest problem a hint.
void why_problems_hint(why_problems* problems, const char* format, ...)
    __attribute__((format(printf, 2, 3)));

/// Give the newest problem a second place ("also defined at").
void why_problems_also(why_problems* problems, why_place other);

/// Order by file, line, column, check and text. Call once all are in; hints can no longer be given.
void why_problems_sort(why_problems* problems);

/// WHY_KNOWLEDGE when there is at least one error, else WHY_OK.
why_status why_problems_status(const why_problems* problems);

/// Order of places by file, line and column, as strcmp orders; unknown files come first.
int why_place_compare(const why_place* a, const why_place* b);

/// Whether any error was reported by `check`.
bool why_problems_failed(const why_problems* problems, const char* check);

#endif
