// SPDX-License-Identifier: GPL-3.0-or-later
// What a clause speaks of: the longest names win, so that "leg curl" is no leg and "biceps femoris
// long head" no biceps.
#include "draft_parts.h"
#include "spell.h"

#include <ctype.h>
#include <string.h>
#include <strings.h>

enum { NAME_WORDS = 8 };

const char* why_draft_between(const why_drafter* d, size_t sentence, size_t start, size_t end) {
  const char* shape = d->draft->text.sentences.at[sentence].shape;
  return why_arena_copy(d->arena, shape + start, end - start);
}

/// Whether a clause ends before `text`; so many bytes belong to the break.
static size_t break_length(const char* text) {
  static const char* const BREAKS[] = {"; ",        ", while ", ", whereas ", ", but ",
                                       " whereas ", " while ",  ", with no ", ", and no "};
  for (size_t i = 0; i < sizeof BREAKS / sizeof *BREAKS; i++)
    if (strncmp(text, BREAKS[i], strlen(BREAKS[i])) == 0)
      return strlen(BREAKS[i]);
  return 0;
}

void why_draft_clause(const why_drafter* d, size_t sentence, size_t at, size_t* start,
                      size_t* end) {
  const char* shape = d->draft->text.sentences.at[sentence].shape;
  *start = 0;
  *end = strlen(shape);
  int depth = 0; // what stands in brackets belongs to the clause around it
  for (size_t i = 0; shape[i]; i++) {
    depth += (shape[i] == '(') - (shape[i] == ')' && depth > 0);
    size_t length = depth ? 0 : break_length(shape + i);
    if (length && i < at) {
      *start = i + length;
    } else if (length) {
      *end = i;
      return;
    }
  }
}

static bool in_word(char c) {
  return isalnum((unsigned char)c) || c == '\'' || c == '+' || (unsigned char)c >= 0x80;
}

static bool same_heads(const why_symbol_list* a, const why_symbol_list* b) {
  size_t met = 0;
  for (size_t i = 0; i < a->count; i++)
    for (size_t k = 0; k < b->count; k++)
      met += a->at[i] == b->at[k];
  return a->count == b->count && met == a->count;
}

static const char* name_of(const why_drafter* d, const why_measured* row) {
  return why_symbols_text(d->tables->symbols, row->name);
}

/// The measured muscle with just that name; else the one with that name and "(whole)" behind it;
/// else the only one that has it before a bracket; NULL: none.
static const why_measured* measured_named(const why_drafter* d, const char* key) {
  const why_measured_table* table = &d->tables->measured_muscles;
  const why_measured* found = NULL;
  size_t count = 0;
  bool whole = false;
  for (size_t i = 0; i < table->muscles.count && !whole; i++) {
    const char* name = name_of(d, &table->muscles.at[i]);
    size_t length = strcspn(name, "(");
    const char* before = why_arena_copy(d->arena, name, length);
    if (strcmp(why_spell_key(d->arena, before, true), key) != 0)
      continue;
    whole = !name[length] || strcmp(name + length, "(whole)") == 0;
    found = &table->muscles.at[i];
    count++;
  }
  return whole || count == 1 ? found : NULL;
}

/// The only measured muscle that answers for these heads and no more; NULL: none or several. A
/// name that ends in "(whole)" stands before others.
static const why_measured* measured_of(const why_drafter* d, const why_symbol_list* heads) {
  const why_measured_table* table = &d->tables->measured_muscles;
  const why_measured* found = NULL;
  bool several = false;
  for (size_t i = 0; i < table->muscles.count; i++) {
    const why_measured* row = &table->muscles.at[i];
    if (!same_heads(&row->heads, heads))
      continue;
    if (strstr(name_of(d, row), "(whole)"))
      return row;
    several = found != NULL;
    found = row;
  }
  return several ? NULL : found;
}

/// What a word for a head or a group is called where it is measured.
static why_symbol measured_by_word(const why_drafter* d, const why_word_hit* hit) {
  const why_group* group =
      hit->kind == WHY_MEANS_GROUP ? why_group_find(&d->tables->anatomy, hit->id) : NULL;
  why_symbol head = hit->id;
  why_symbol_list one = {.at = &head, .count = 1};
  const why_measured* row = measured_of(d, group ? &group->heads : &one);
  return row ? row->name : 0;
}

/// Whether `typed` names a muscle, an exercise (which names none) or nothing.
typedef enum { NAMES_NOTHING, NAMES_MUSCLE, NAMES_EXERCISE } naming;

/// A limb by itself is where a muscle is, no muscle.
static bool is_limb(const char* typed) {
  static const char* const LIMBS[] = {"leg",  "legs",  "arm",   "arms",
                                      "limb", "limbs", "thigh", "thighs"};
  for (size_t i = 0; i < sizeof LIMBS / sizeof *LIMBS; i++)
    if (strcasecmp(LIMBS[i], typed) == 0)
      return true;
  return false;
}

static naming look_up(const why_drafter* d, const char* typed, why_symbol* muscle) {
  if (is_limb(typed))
    return NAMES_NOTHING;
  const why_measured* row = measured_named(d, why_spell_key(d->arena, typed, true));
  if (row) {
    *muscle = row->name;
    return NAMES_MUSCLE;
  }
  why_word_hits hits = why_words_find(d->words, d->arena, typed,
                                      WHY_MEANS_HEAD | WHY_MEANS_GROUP | WHY_MEANS_EXERCISE);
  if (!hits.count || !hits.at[0].id)
    return NAMES_NOTHING;
  if (hits.at[hits.count - 1].kind == WHY_MEANS_EXERCISE)
    return NAMES_EXERCISE;
  *muscle = hits.count == 1 ? measured_by_word(d, &hits.at[0]) : 0;
  return NAMES_MUSCLE;
}

static bool is_text(const char* shape, size_t start, size_t end, const char* text, bool by_case) {
  if (strlen(text) != end - start)
    return false;
  return by_case ? strncmp(shape + start, text, end - start) == 0
                 : strncasecmp(shape + start, text, end - start) == 0;
}

static bool names_arm(const why_drafter* d, const char* shape, size_t start, size_t end,
                      why_symbol* id) {
  for (size_t i = 0; i < d->arms.count; i++) {
    const why_draft_arm* arm = &d->arms.at[i];
    if ((*arm->label && is_text(shape, start, end, arm->label, true)) ||
        (*arm->words && is_text(shape, start, end, arm->words, false))) {
      *id = arm->id;
      return true;
    }
  }
  return false;
}

static bool names_short(const why_drafter* d, const char* shape, size_t start, size_t end,
                        why_symbol* muscle) {
  for (size_t i = 0; i < d->shorts.count; i++)
    if (is_text(shape, start, end, d->shorts.at[i].letters, true)) {
      *muscle = d->shorts.at[i].muscle;
      return true;
    }
  return false;
}

static void add(const why_drafter* d, why_draft_named_list* all, size_t start, size_t end,
                bool is_arm, why_symbol name) {
  *WHY_LIST_ADD(d->arena, *all) = (why_draft_named){start, end, is_arm, name};
}

/// Whether something is named by the words from `start` to `end`; then it is added.
static bool try_name(const why_drafter* d, const char* shape, size_t start, size_t end,
                     why_draft_named_list* all) {
  why_symbol name = 0;
  if (names_arm(d, shape, start, end, &name)) {
    add(d, all, start, end, true, name);
    return true;
  }
  if (names_short(d, shape, start, end, &name)) {
    add(d, all, start, end, false, name);
    return true;
  }
  if (end - start < 4)
    return false;
  naming what = look_up(d, why_arena_copy(d->arena, shape + start, end - start), &name);
  if (what == NAMES_MUSCLE)
    add(d, all, start, end, false, name);
  return what != NAMES_NOTHING;
}

/// The ends of the next words from `start` on, as far as only blanks and hyphens part them.
static size_t word_ends(const char* shape, size_t start, size_t limit, size_t ends[NAME_WORDS]) {
  size_t count = 0;
  for (size_t i = start; i < limit && count < NAME_WORDS;) {
    size_t end = i;
    while (end < limit && in_word(shape[end]))
      end++;
    if (end == i)
      break;
    ends[count++] = end;
    i = end + (shape[end] == ' ' || shape[end] == '-');
    if (i == end)
      break;
  }
  return count;
}

why_draft_named_list why_draft_mentions(const why_drafter* d, size_t sentence, size_t start,
                                        size_t end) {
  const char* shape = d->draft->text.sentences.at[sentence].shape;
  why_draft_named_list all = {0};
  for (size_t i = start; i < end;) {
    if (!in_word(shape[i])) {
      i++;
      continue;
    }
    size_t ends[NAME_WORDS];
    size_t count = word_ends(shape, i, end, ends);
    size_t next = ends[0];
    for (size_t k = count; k-- > 0;)
      if (try_name(d, shape, i, ends[k], &all)) {
        next = ends[k];
        break;
      }
    i = next;
  }
  return all;
}

why_symbol why_draft_sole(const why_draft_named_list* mentions, bool arms, size_t* count) {
  why_symbol sole = 0;
  *count = 0;
  for (size_t i = 0; i < mentions->count; i++) {
    const why_draft_named* each = &mentions->at[i];
    if (each->is_arm != arms || (*count && each->name == sole))
      continue;
    bool seen = false;
    for (size_t k = 0; k < i; k++)
      seen = seen || (mentions->at[k].is_arm == arms && mentions->at[k].name == each->name);
    *count += !seen;
    sole = each->name;
  }
  return *count == 1 ? sole : 0;
}
