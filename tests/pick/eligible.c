// SPDX-License-Identifier: GPL-3.0-or-later
// Drawn questions: more equipment never takes an eligible exercise away, one more restriction never
// brings one. Eligible is what can be set up and is not barred; of what is eligible, which is a
// pick may well change, since picks are compared with each other.
#include "told.h"

#include "pick/pick.h"
#include "reason/random.h"

#include <criterion/criterion.h>
#include <stdlib.h>

/// What a question says, by numbers in the tables.
typedef struct {
  size_t goal;
  size_t items[12];
  size_t item_count;
  size_t restrictions[4];
  size_t restriction_count;
} drawn;

static void assume(const why_ground* ground, why_overlay* overlay, const char* relation,
                   why_symbol id) {
  why_relation found = why_program_find(ground->program, relation);
  cr_assert_neq(found, WHY_NO_RELATION, "%s", relation);
  const why_value values[] = {why_value_of_symbol(id)};
  why_overlay_assume(overlay, found, values);
}

/// The eligible exercises by number in the catalogue; how many there are.
static size_t find_eligible(const why_ground* ground, const drawn* question, bool* eligible) {
  why_arena* arena = why_arena_new(0);
  why_problems* problems = why_problems_new();
  const why_tables* tables = ground->tables;
  why_overlay* overlay = why_overlay_new(ground->base, arena, NULL);
  assume(ground, overlay, "goal-group", tables->anatomy.groups.at[question->goal].id);
  for (size_t i = 0; i < question->item_count; i++)
    assume(ground, overlay, "have-item", tables->equipment.items.at[question->items[i]].id);
  for (size_t i = 0; i < question->restriction_count; i++)
    assume(ground, overlay, "avoids",
           tables->restrictions.restrictions.at[question->restrictions[i]].id);
  why_overlay_open(overlay, problems);
  why_facts facts = why_facts_find(overlay, why_program_find(ground->program, "possible"), 0, NULL);
  for (size_t i = 0; i < tables->exercises.rows.count; i++)
    eligible[i] = false;
  for (size_t i = 0; i < facts.count; i++) {
    why_symbol id = why_fact_symbol(overlay, facts.at[i], 0);
    const why_exercise* row = why_exercise_find(&tables->exercises, id);
    eligible[row - tables->exercises.rows.at] = true;
  }
  cr_assert_eq(why_overlay_status(overlay), WHY_OK);
  why_problems_free(problems);
  why_arena_free(arena);
  return facts.count;
}

/// Fails when the second has something that the first lacks.
static void expect_within(const why_ground* ground, const bool* all, const bool* some,
                          const char* what, size_t number) {
  for (size_t i = 0; i < ground->tables->exercises.rows.count; i++)
    cr_assert(all[i] || !some[i], "question %zu: %s %s", number, what,
              why_symbols_text(ground->symbols, ground->tables->exercises.rows.at[i].id));
}

static drawn draw(const why_tables* tables, uint64_t* state) {
  drawn made = {.goal = random_below(state, (unsigned)tables->anatomy.groups.count)};
  made.item_count = 1 + random_below(state, sizeof made.items / sizeof *made.items - 1);
  for (size_t i = 0; i < made.item_count; i++)
    made.items[i] = random_below(state, (unsigned)tables->equipment.items.count);
  made.restriction_count = random_below(state, 3);
  for (size_t i = 0; i < made.restriction_count; i++)
    made.restrictions[i] = random_below(state, (unsigned)tables->restrictions.restrictions.count);
  return made;
}

/// How many questions are drawn; tests/reference/reason/eligible asks for more.
static size_t question_count(void) {
  const char* wanted = getenv("WHYLIFT_QUESTIONS");
  return wanted ? strtoul(wanted, NULL, 10) : 60;
}

Test(eligible, grows_with_equipment_and_shrinks_with_restrictions) {
  why_arena* arena = why_arena_new(0);
  why_problems* problems = why_problems_new();
  const why_ground* ground = told_ground(arena);
  size_t count = ground->tables->exercises.rows.count;
  bool* before = WHY_NEW_ARRAY(arena, bool, count);
  bool* after = WHY_NEW_ARRAY(arena, bool, count);
  uint64_t state = 1;
  size_t gained = 0;
  size_t lost = 0;
  for (size_t i = 0; i < question_count(); i++) {
    drawn question = draw(ground->tables, &state);
    size_t some = find_eligible(ground, &question, before);
    drawn more = question;
    more.items[more.item_count++] =
        random_below(&state, (unsigned)ground->tables->equipment.items.count);
    gained += find_eligible(ground, &more, after) - some;
    expect_within(ground, after, before, "another item takes away", i);
    more = question;
    more.restrictions[more.restriction_count++] =
        random_below(&state, (unsigned)ground->tables->restrictions.restrictions.count);
    lost += some - find_eligible(ground, &more, after);
    expect_within(ground, before, after, "another restriction brings", i);
  }
  cr_expect_gt(gained, 0); // the questions were such that something could change
  cr_expect_gt(lost, 0);
  cr_log_info("%zu exercises gained by an item, %zu lost by a restriction", gained, lost);
  why_problems_free(problems);
  why_arena_free(arena);
}
