// SPDX-License-Identifier: GPL-3.0-or-later
/// Regular expressions of `matches`. Compiling stands in program.h.
#ifndef WHY_REASON_PATTERN_H
#define WHY_REASON_PATTERN_H

#include "program.h"

/// What one evaluation needs to match; zeroed to begin with.
typedef struct why_matcher {
  void* data;
  void* bounds;
} why_matcher;

typedef enum {
  WHY_NO_MATCH,
  WHY_MATCH,
  WHY_MATCH_FAILED ///< Not plain UTF-8, or a bound on the effort was reached.
} why_match_result;

why_match_result why_pattern_match(const void* pattern, const char* text, why_arena* arena,
                                   why_matcher* matcher);

#endif
