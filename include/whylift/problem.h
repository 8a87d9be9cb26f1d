// SPDX-License-Identifier: GPL-3.0-or-later
/// What is wrong with a knowledge base or a question, each with its place and a hint.
#ifndef WHYLIFT_PROBLEM_H
#define WHYLIFT_PROBLEM_H

#include "export.h"

#include <stddef.h>

typedef enum {
  WHY_NOTE,    ///< Worth knowing: a gap that is stated in the data.
  WHY_WARNING, ///< Doubtful, but usable.
  WHY_ERROR    ///< Wrong: the knowledge base or the question is refused.
} why_severity;

/// A place in a text file; `file` is NULL where there is none. Lines and columns count from 1,
/// columns in bytes; 0 means unknown.
typedef struct {
  const char* file;
  unsigned line;
  unsigned column;
} why_place;

/// One problem, as a view that lives as long as its list.
typedef struct {
  why_severity severity;
  const char* check; ///< Short name of the check, which tests and people can search for.
  why_place place;
  const char* text; ///< One sentence without a full stop.
  const char* hint; ///< What would mend it, or NULL.
  why_place other;  ///< A second place, such as an earlier definition; file NULL if none.
} why_problem;

typedef struct why_problems why_problems;

WHY_API size_t why_problems_count(const why_problems* problems);

/// How many problems are at least as bad as `severity`.
WHY_API size_t why_problems_count_from(const why_problems* problems, why_severity severity);

/// Problem number `index`, in order of file, line and column. `index` must be below the count.
WHY_API why_problem why_problems_at(const why_problems* problems, size_t index);

/// Give the list back; NULL is accepted.
WHY_API void why_problems_free(why_problems* problems);

#endif
