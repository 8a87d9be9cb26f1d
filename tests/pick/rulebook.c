// SPDX-License-Identifier: GPL-3.0-or-later
// The rules as a class reads them; and that every rule of the shipped knowledge base matters.
#include "pick/rulebook.h"
#include "pick/pick.h"

#include <criterion/criterion.h>
#include <string.h>

typedef struct {
  why_arena* arena;
  why_problems* problems;
  const why_ground* ground;
} opened;

static opened open_without(const char* ids) {
  opened made = {.arena = why_arena_new(0), .problems = why_problems_new()};
  const why_read_settings settings = {.leave_out = ids};
  cr_assert_eq(why_ground_open(WHY_HOME, &settings, made.arena, made.problems, &made.ground),
               WHY_OK);
  return made;
}

static void close(opened* all) {
  why_problems_free(all->problems);
  why_arena_free(all->arena);
}

static bool has(const opened* all, const why_symbol_list* list, const char* text) {
  for (size_t i = 0; i < list->count; i++)
    if (strcmp(why_symbols_text(all->ground->symbols, list->at[i]), text) == 0)
      return true;
  return false;
}

static const why_ruled* find(const opened* all, const why_rulebook* rules, const char* id) {
  for (size_t i = 0; i < rules->count; i++)
    if (strcmp(why_symbols_text(all->ground->symbols, rules->at[i].row->id), id) == 0)
      return &rules->at[i];
  return NULL;
}

Test(rulebook, rules_stand_file_by_file_with_what_they_read_and_give) {
  opened all = open_without(NULL);
  why_rulebook rules = why_rulebook_new(all.ground, all.arena);
  cr_assert_eq(rules.count, all.ground->tables->reasoning.rules.count);
  for (size_t i = 0; i < rules.count; i++) {
    const why_rule_row* row = rules.at[i].row;
    cr_expect(*row->title && *row->say, "rule %s has no title or sentence",
              why_symbols_text(all.ground->symbols, row->id));
    cr_expect_gt(rules.at[i].gives.count, 0);
    const why_place before = i ? rules.at[i - 1].row->place : row->place;
    int order = strcmp(before.file, row->place.file);
    cr_expect(order < 0 || (order == 0 && before.line <= row->place.line));
  }
  const why_ruled* rule = find(&all, &rules, "brought-along");
  cr_assert_not_null(rule);
  cr_expect(has(&all, &rule->reads, "brings"));
  cr_expect(has(&all, &rule->refuses, "ruled-out"));
  cr_expect(has(&all, &rule->gives, "at-hand"));
  close(&all);
}

Test(rulebook, every_rule_and_relation_matters) {
  opened all = open_without(NULL);
  why_idle idle = why_idle_find(all.ground, all.arena, all.problems);
  cr_expect_eq(why_problems_count_from(all.problems, WHY_ERROR), 0);
  for (size_t i = 0; i < idle.rules.count; i++)
    cr_expect_fail("rule %s gives nothing",
                   why_symbols_text(all.ground->symbols, idle.rules.at[i]));
  for (size_t i = 0; i < idle.relations.count; i++)
    cr_expect_fail("relation %s is read by nothing",
                   why_symbols_text(all.ground->symbols, idle.relations.at[i]));
  close(&all);
}

/// Without the rule that says what is trained, what rests on it gives nothing.
Test(rulebook, what_gives_nothing_is_found) {
  opened all = open_without("trained-by-action,dependent-item");
  why_idle idle = why_idle_find(all.ground, all.arena, all.problems);
  cr_expect(has(&all, &idle.rules, "say-trains"));
  cr_expect(!has(&all, &idle.rules, "place-at-hand"));
  close(&all);
}
