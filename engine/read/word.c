// SPDX-License-Identifier: GPL-3.0-or-later
// The names of the kinds of thing that words mean.
#include "word.h"

#include <string.h>

static const struct {
  const char* name;
  why_meaning kind;
} NAMES[] = {
    {"head", WHY_MEANS_HEAD},       {"group", WHY_MEANS_GROUP},
    {"set", WHY_MEANS_SET},         {"action", WHY_MEANS_ACTION},
    {"pattern", WHY_MEANS_PATTERN}, {"exercise", WHY_MEANS_EXERCISE},
    {"item", WHY_MEANS_ITEM},       {"place", WHY_MEANS_PLACE},
    {"kind", WHY_MEANS_KIND},       {"restriction", WHY_MEANS_RESTRICTION},
    {"term", WHY_MEANS_TERM},       {"goal-word", WHY_MEANS_TERM},
    {"notation", WHY_MEANS_TERM},   {"modifier", WHY_MEANS_TERM},
};

why_meaning why_meaning_named(const char* name) {
  for (size_t i = 0; i < sizeof NAMES / sizeof *NAMES; i++)
    if (strcmp(NAMES[i].name, name) == 0)
      return NAMES[i].kind;
  return (why_meaning)0;
}

const char* why_meaning_name(why_meaning kind) {
  for (size_t i = 0; i < sizeof NAMES / sizeof *NAMES; i++)
    if (NAMES[i].kind == kind)
      return NAMES[i].name;
  return "thing";
}
