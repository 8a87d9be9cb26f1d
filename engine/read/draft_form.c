// SPDX-License-Identifier: GPL-3.0-or-later
// Forms in their order, each over every sentence; what one takes the next cannot see.
#include "draft_form.h"

#include <stdlib.h>
#include <string.h>

/// Every name that a group of numbers can have.
static const char* const ROLES[] = {
    "n",        "men",   "women",  "weeks",  "sessions", "sessions2", "age",  "sets",
    "reps",     "low",   "high",   "rm",     "pre",      "pre_sd",    "post", "post_sd",
    "post_sd2", "pct",   "pct2",   "pct3",   "pct3b",    "pct4",      "sd",   "sd2",
    "sd3",      "sd4",   "change", "effect", "es",       "level",     "p",    "site",
    "site2",    "site3", "x",      "x1",     "x2",       "x3",        "x4"};

static const char* text_of(const why_regex* regex, const why_matcher* matcher, const char* shape,
                           const char* name, why_arena* arena) {
  size_t start = 0, end = 0;
  if (!why_regex_group(regex, matcher, name, &start, &end))
    return "";
  while (end > start && shape[end - 1] == ' ')
    end--;
  return why_arena_copy(arena, shape + start, end - start);
}

static int by_place(const void* left, const void* right) {
  const why_draft_role *a = left, *b = right;
  return a->number < b->number ? -1 : a->number > b->number;
}

static void take_roles(const why_form* by, const why_matcher* matcher, const why_draft_lexed* lexed,
                       why_draft_found* found, why_arena* arena) {
  char* shape = lexed->sentences.at[found->sentence].shape;
  for (size_t i = 0; i < sizeof ROLES / sizeof *ROLES; i++) {
    size_t start = 0, end = 0;
    if (!why_regex_group(by->regex, matcher, ROLES[i], &start, &end) || end != start + 1)
      continue;
    why_draft_number* number = why_draft_number_at(lexed, found->sentence, start);
    if (number)
      *WHY_LIST_ADD(arena, found->roles) = (why_draft_role){ROLES[i], number};
  }
  found->unit = text_of(by->regex, matcher, shape, "unit", arena);
  found->op = text_of(by->regex, matcher, shape, "op", arena);
  found->label = text_of(by->regex, matcher, shape, "label", arena);
  found->words = text_of(by->regex, matcher, shape, "words", arena);
  for (size_t i = 0; i < found->roles.count; i++)
    shape[found->roles.at[i].number->at] = WHY_TAKEN_MARK;
  if (found->roles.count)
    qsort(found->roles.at, found->roles.count, sizeof *found->roles.at, by_place);
}

static void apply(const why_form* by, size_t sentence, const why_draft_lexed* lexed,
                  why_matcher* matcher, why_arena* arena, why_draft_found_list* all) {
  const char* shape = lexed->sentences.at[sentence].shape;
  size_t start = 0, end = 0;
  for (size_t from = 0;
       why_regex_find(by->regex, shape, from, arena, matcher, &start, &end) == WHY_MATCH;) {
    why_draft_found found = {.form = by, .sentence = sentence, .start = start, .end = end};
    take_roles(by, matcher, lexed, &found, arena);
    if (found.roles.count)
      *WHY_LIST_ADD(arena, *all) = found;
    from = end > start ? end : end + 1;
    while (shape[from] && ((unsigned char)shape[from] & 0xC0) == 0x80)
      from++;
    if (from > strlen(shape))
      break;
  }
}

why_draft_found_list why_draft_apply(const why_abstracts* abstracts, why_draft_lexed* lexed,
                                     why_arena* arena) {
  why_draft_found_list all = {0};
  why_matcher matcher = {0};
  for (size_t i = 0; i < abstracts->forms.count; i++)
    for (size_t k = 0; k < lexed->sentences.count; k++)
      if (strchr(lexed->sentences.at[k].shape, WHY_NUMBER_MARK))
        apply(&abstracts->forms.at[i], k, lexed, &matcher, arena, &all);
  return all;
}

why_draft_number* why_draft_role_of(const why_draft_found* found, const char* name) {
  for (size_t i = 0; i < found->roles.count; i++)
    if (strcmp(found->roles.at[i].name, name) == 0)
      return found->roles.at[i].number;
  return NULL;
}

bool why_draft_tells(const why_abstracts* abstracts, const char* tells, const char* is,
                     const char* text, why_arena* arena) {
  why_matcher matcher = {0};
  for (size_t i = 0; i < abstracts->tellings.count; i++) {
    const why_telling* each = &abstracts->tellings.at[i];
    if (strcmp(each->tells, tells) == 0 && strcmp(each->is, is) == 0 &&
        why_regex_match(each->regex, text, arena, &matcher) == WHY_MATCH)
      return true;
  }
  return false;
}

const char* why_draft_told(const why_abstracts* abstracts, const char* tells, const char* text,
                           why_arena* arena) {
  const char* told = "";
  why_matcher matcher = {0};
  for (size_t i = 0; i < abstracts->tellings.count; i++) {
    const why_telling* each = &abstracts->tellings.at[i];
    if (strcmp(each->tells, tells) != 0 ||
        why_regex_match(each->regex, text, arena, &matcher) != WHY_MATCH)
      continue;
    if (*told && strcmp(told, each->is) != 0)
      return NULL;
    told = each->is;
  }
  return told;
}
