// SPDX-License-Identifier: GPL-3.0-or-later
// Equipment, restrictions and lexicon as read from the knowledge base. Numbers of rows are counts
// of the XML's own elements; figures are those of the cited sources.
#include "shipped.h"

#include <criterion/criterion.h>
#include <math.h>
#include <string.h>

static why_tables* tables;

static void open_knowledge(void) {
  tables = shipped_open();
}

TestSuite(lexicon, .init = open_knowledge, .fini = shipped_close);

static why_symbol name(const char* text) {
  return why_symbols_find(tables->symbols, text);
}

static const why_caution* caution(const char* id) {
  for (size_t i = 0; i < tables->restrictions.cautions.count; i++)
    if (tables->restrictions.cautions.at[i].id == name(id))
      return &tables->restrictions.cautions.at[i];
  cr_assert(false, "no caution %s", id);
  return NULL;
}

Test(lexicon, every_row_is_read) {
  cr_expect_eq(tables->equipment.kinds.count, 6);
  cr_expect_eq(tables->equipment.items.count, 84);
  cr_expect_eq(tables->equipment.places.count, 17);
  cr_expect_eq(tables->restrictions.restrictions.count, 70);
  cr_expect_eq(tables->restrictions.cautions.count, 113);
  cr_expect_eq(tables->lexicon.ambiguous.count, 15);
  cr_expect_eq(tables->lexicon.unmapped.count, 16);
}

Test(lexicon, items_and_places) {
  const why_equipment_item* rings =
      why_equipment_item_find(&tables->equipment, name("gymnastic-rings"));
  cr_assert_not_null(rings);
  cr_expect_eq(rings->kind, name("support"));
  cr_expect_eq(rings->needs_one_of.count, 2);
  cr_expect_eq(rings->stands_in_for.at[0], name("suspension-straps"));
  const why_equipment_place* bare =
      why_equipment_place_find(&tables->equipment, name("bodyweight-only"));
  cr_assert_not_null(bare);
  cr_assert_eq(bare->has.count, 1);
  cr_expect_eq(bare->has.at[0], name("wall"));
}

/// The caution rests on patellofemoral-stress-2014; its 60 degrees and its share are common
/// practice.
Test(lexicon, tests_of_a_caution_hold_together) {
  const why_caution* deep = caution("knee-front-closed");
  cr_assert_eq(deep->tests.count, 2);
  cr_expect_eq(deep->tests.at[0].way, deep->tests.at[1].way);
  cr_expect_eq(deep->tests.at[0].kind, WHY_TEST_REACHES);
  cr_expect_eq(deep->tests.at[0].low, 60);
  cr_expect_eq(deep->tests.at[0].loaded, name("closed-chain"));
  cr_expect_eq(deep->tests.at[1].low, 0.5);
  cr_expect(isinf(deep->tests.at[1].high));
  cr_expect_eq(deep->source, name("patellofemoral-stress-2014"));
}

Test(lexicon, tests_of_a_caution_stand_alone) {
  const why_caution* back = caution("back-heavy-flexed");
  cr_assert_eq(back->tests.count, 3);
  for (unsigned i = 0; i < 3; i++)
    cr_expect_eq(back->tests.at[i].way, i + 1);
}

/// Two places named by one test are two ways, each with the other test of the element.
Test(lexicon, places_are_ways_of_their_own) {
  const why_caution* bar = caution("door-frame-bar");
  cr_assert_eq(bar->tests.count, 4);
  cr_expect_eq(bar->tests.at[1].subject, name("home-basic"));
  cr_expect_eq(bar->tests.at[1].way, 1);
  cr_expect_eq(bar->tests.at[3].subject, name("garage-gym"));
  cr_expect_eq(bar->tests.at[2].way, 2);
}

/// What holds for everybody may inform, but neither exclude nor stop: a sentence about the length
/// of a stretched band must not take all bands away.
Test(lexicon, what_holds_for_all_only_informs) {
  for (size_t i = 0; i < tables->restrictions.cautions.count; i++) {
    const why_caution* row = &tables->restrictions.cautions.at[i];
    cr_expect(row->condition || row->effect == WHY_EFFECT_INFORM, "%s",
              why_symbols_text(tables->symbols, row->id));
  }
}

Test(lexicon, every_tag_of_an_exercise_is_a_restriction) {
  for (size_t i = 0; i < tables->exercises.rows.count; i++)
    for (size_t k = 0; k < tables->exercises.rows.at[i].restricted.count; k++) {
      why_symbol tag = tables->exercises.rows.at[i].restricted.at[k];
      const why_restriction* row = why_restriction_find(&tables->restrictions, tag);
      cr_assert_not_null(row, "%s", why_symbols_text(tables->symbols, tag));
      cr_expect_eq(row->kind, WHY_RESTRICTION_DEMAND);
    }
}

Test(lexicon, sets_and_names) {
  const why_lexicon_entry* chain = why_lexicon_set_find(&tables->lexicon, name("posterior-chain"));
  cr_assert_not_null(chain);
  cr_expect_eq(chain->of.count, 3);
  cr_expect_str_eq(
      why_lexicon_name_of(&tables->lexicon, tables->symbols, tables->arena, name("hip-extension")),
      "hip extension");
  cr_expect_str_eq(
      why_lexicon_name_of(&tables->lexicon, tables->symbols, tables->arena, name("shoulder-plane")),
      "plane of shoulder elevation");
}

/// The three files themselves are sound: their checks find no error and no warning.
Test(lexicon, no_problem_beyond_stated_gaps) {
  for (size_t i = 0; i < why_problems_count(shipped_problems()); i++) {
    why_problem problem = why_problems_at(shipped_problems(), i);
    bool mine =
        strncmp(problem.check, "word-", 5) == 0 || strncmp(problem.check, "caution-", 8) == 0 ||
        strncmp(problem.check, "restriction-", 12) == 0 ||
        strncmp(problem.check, "equipment-", 10) == 0 || strncmp(problem.check, "place-", 6) == 0;
    cr_expect(!mine || problem.severity == WHY_NOTE, "%s:%u: %s: %s", problem.place.file,
              problem.place.line, problem.check, problem.text);
  }
}
