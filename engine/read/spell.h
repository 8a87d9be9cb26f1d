// SPDX-License-Identifier: GPL-3.0-or-later
/// Spelling: what makes two typed words the same, and how far apart two others are.
#ifndef WHY_READ_SPELL_H
#define WHY_READ_SPELL_H

#include "base/base.h"

#include <stdbool.h>

/// The form in which words are compared: lower case, without apostrophes, blanks, hyphens and other
/// ASCII marks except %, # and +; bytes beyond ASCII stay. "Pull-Up", "pull up" and "pullup" give
/// "pullup". With `singular`, each word of the text first loses its plural s ("leg presses" gives
/// "legpress"). Lives in `arena`; "" when nothing is left.
const char* why_spell_key(why_arena* arena, const char* text, bool singular);

/// How many letters must be put in, left out, changed, or swapped with their neighbour to make one
/// text of the other (restricted Damerau–Levenshtein distance, in bytes); `limit` + 1 as soon as it
/// is known to exceed `limit`. Works in `scratch` when `b` is
/// unusually long.
unsigned why_spell_distance(why_arena* scratch, const char* a, const char* b, unsigned limit);

#endif
