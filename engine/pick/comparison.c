// SPDX-License-Identifier: GPL-3.0-or-later
// Two questions, or two knowledge bases: both are asked, and their answers compared.
#include "difference.h"

#include <string.h>

static const char* text_of(const why_ground* ground, why_symbol symbol) {
  return why_symbols_text(ground->symbols, symbol);
}

/// Ids of one kind of thing.
typedef size_t (*count_of)(const why_tables* tables);
typedef why_symbol (*id_at)(const why_tables* tables, size_t index);

static size_t count_studies(const why_tables* tables) {
  return tables->studies.rows.count;
}
static why_symbol study_at(const why_tables* tables, size_t index) {
  return tables->studies.rows.at[index].id;
}
static size_t count_rules(const why_tables* tables) {
  return tables->reasoning.rules.count;
}
static why_symbol rule_at(const why_tables* tables, size_t index) {
  return tables->reasoning.rules.at[index].id;
}
static size_t count_exercises(const why_tables* tables) {
  return tables->exercises.rows.count;
}
static why_symbol exercise_at(const why_tables* tables, size_t index) {
  return tables->exercises.rows.at[index].id;
}

static const struct {
  const char* kind;
  count_of count;
  id_at at;
} KINDS[] = {
    {"exercises", count_exercises, exercise_at},
    {"rules", count_rules, rule_at},
    {"studies", count_studies, study_at},
};

static bool has_id(const why_ground* ground, size_t kind, const char* id) {
  for (size_t i = 0; i < KINDS[kind].count(ground->tables); i++)
    if (strcmp(text_of(ground, KINDS[kind].at(ground->tables, i)), id) == 0)
      return true;
  return false;
}

/// What `some` has and `other` has not.
static void add_parts(why_comparison* made, why_arena* arena, const why_ground* some,
                      const why_ground* other, bool gone) {
  for (size_t kind = 0; kind < sizeof KINDS / sizeof *KINDS; kind++)
    for (size_t i = 0; i < KINDS[kind].count(some->tables); i++) {
      const char* id = text_of(some, KINDS[kind].at(some->tables, i));
      if (!has_id(other, kind, id))
        *WHY_LIST_ADD(arena, made->parts) = (why_part_change){KINDS[kind].kind, id, gone};
    }
}

static why_status compare(why_comparison* made, const why_question* before,
                          const why_question* after) {
  why_picked* first = NULL;
  why_picked* second = NULL;
  why_status status = why_pick_run(before, &first);
  if (status == WHY_OK || status == WHY_NO_PICK)
    status = why_pick_run(after, &second);
  if (status != WHY_OK && status != WHY_NO_PICK)
    return status;
  const why_shifts* found = why_shifts_find(first, second);
  *WHY_LIST_ADD(after->arena, made->goals) = found;
  status = why_overlay_status(first->overlay);
  return status == WHY_OK ? why_overlay_status(second->overlay) : status;
}

/// The question with all picks, about a group if that is not 0.
static const why_question* about(const why_question* question, const char* group) {
  why_question* made = WHY_NEW(question->arena, why_question);
  *made = *question;
  made->top = WHY_TOP_LIMIT;
  if (group)
    made->goal = (why_thing){.kind = WHY_MEANS_GROUP,
                             .id = why_symbols_find(question->ground->symbols, group)};
  return made;
}

/// Groups that both know.
static why_status compare_groups(why_comparison* made, const why_question* before,
                                 const why_question* after) {
  const why_anatomy* anatomy = &after->ground->tables->anatomy;
  why_status status = WHY_OK;
  for (size_t i = 0; i < anatomy->groups.count && status == WHY_OK; i++) {
    const char* group = text_of(after->ground, anatomy->groups.at[i].id);
    why_symbol known = why_symbols_find(before->ground->symbols, group);
    if (known && why_group_find(&before->ground->tables->anatomy, known))
      status = compare(made, about(before, group), about(after, group));
  }
  return status;
}

/// Estimates that a new fit moved, of every head of the goals.
static void add_moved(why_comparison* made, why_arena* arena) {
  size_t count = made->after->tables->anatomy.heads.count;
  bool* asked = WHY_NEW_ARRAY(arena, bool, count);
  for (size_t i = 0; i < made->goals.count; i++)
    for (size_t j = 0; j < made->goals.at[i]->after->goal.count; j++)
      asked[made->goals.at[i]->after->goal.at[j].head] = true;
  const why_shifts* first = made->goals.at[0];
  made->moved =
      why_refit_moved(made->before, made->after, asked, first->after->trained, first->worth, arena);
}

why_status why_comparison_run(const why_question* before, const why_question* after,
                              const why_comparison** comparison) {
  why_comparison* made = WHY_NEW(after->arena, why_comparison);
  made->before = before->ground;
  made->after = after->ground;
  if (before->ground != after->ground) {
    add_parts(made, after->arena, before->ground, after->ground, true);
    add_parts(made, after->arena, after->ground, before->ground, false);
  }
  bool all = !before->goal.id && !before->replaced;
  why_status status = all ? compare_groups(made, before, after)
                          : compare(made, about(before, NULL), about(after, NULL));
  if (made->goals.count)
    add_moved(made, after->arena);
  *comparison = made;
  return status == WHY_NO_PICK ? WHY_OK : status;
}
