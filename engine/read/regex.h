// SPDX-License-Identifier: GPL-3.0-or-later
/// Regular expressions of rules (`matches`) and of the lexicon, by PCRE2: compiled once with the
/// knowledge base, matched by any thread. Texts are UTF-8; the effort of a match is bounded.
#ifndef WHY_READ_REGEX_H
#define WHY_READ_REGEX_H

#include "base/base.h"

#include <stdbool.h>

enum {
  WHY_REGEX_LIMIT = 1000, ///< Longest pattern, bytes.
  WHY_REGEX_GROUPS = 23   ///< Most groups that can be asked for.
};

typedef struct why_regex why_regex;

/// What one thread needs to match; zeroed to begin with. Its memory is that of the arena given to
/// the first match.
typedef struct why_matcher {
  void* data;
  void* bounds;
} why_matcher;

typedef enum {
  WHY_NO_MATCH,
  WHY_MATCH,
  WHY_MATCH_FAILED ///< Not plain UTF-8, or a bound on the effort was reached.
} why_match_result;

/// Compile `text`; it lives as long as `arena`. NULL after reporting what is wrong with it, as an
/// error of `check` at `place`; `problems` is NULL where that is told elsewhere.
const why_regex* why_regex_new(why_arena* arena, const char* text, why_problems* problems,
                               const char* check, why_place place);

/// Whether `regex` matches somewhere in `text`.
why_match_result why_regex_match(const why_regex* regex, const char* text, why_arena* arena,
                                 why_matcher* matcher);

/// Where the group `name` of the match that `matcher` found last stands; false when the pattern has
/// no such group or it took no part. A pattern may have WHY_REGEX_GROUPS groups.
bool why_regex_group(const why_regex* regex, const why_matcher* matcher, const char* name,
                     size_t* start, size_t* end);

/// The first match that begins at byte `from` or later: `*start` and `*end` (behind its last byte)
/// are set on WHY_MATCH.
why_match_result why_regex_find(const why_regex* regex, const char* text, size_t from,
                                why_arena* arena, why_matcher* matcher, size_t* start, size_t* end);

#endif
