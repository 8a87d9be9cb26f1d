// SPDX-License-Identifier: GPL-3.0-or-later
// Expected growth as given facts: there when the rules declare the relation, and nothing otherwise.
#include "read/shipped.h"
#include "reason/reason.h"

#include <criterion/criterion.h>
#include <string.h>

TestSuite(estimates, .fini = shipped_close);

/// The relation as rules/reasoning would declare it.
static why_reasoning declared(const why_tables* tables) {
  static const struct {
    const char* name;
    const char* kind;
    bool key;
  } SLOTS[] = {{"exercise", "exercise", true}, {"head", "head", true},
               {"training", "training", true}, {"percent", "number", false},
               {"low", "number", false},       {"high", "number", false},
               {"basis", "basis", false}};
  why_relation_row row = {
      .name = why_symbols_add(tables->symbols, "estimate"), .say = "", .about = ""};
  for (size_t i = 0; i < sizeof SLOTS / sizeof *SLOTS; i++)
    *WHY_LIST_ADD(tables->arena, row.slots) =
        (why_slot_row){.name = why_symbols_add(tables->symbols, SLOTS[i].name),
                       .kind = why_symbols_add(tables->symbols, SLOTS[i].kind),
                       .key = SLOTS[i].key};
  why_reasoning reasoning = {0};
  *WHY_LIST_ADD(tables->arena, reasoning.relations) = row;
  return reasoning;
}

typedef struct {
  why_facts facts;
  const why_overlay* overlay;
} given;

static given fill(const why_tables* tables, const why_reasoning* reasoning, bool mechanics,
                  why_problems* problems) {
  const why_program* program;
  cr_assert_eq(why_program_compile(reasoning, tables->symbols, tables->arena, problems, &program),
               WHY_OK);
  why_base* base = why_base_new(program, tables->symbols, tables->arena, NULL);
  why_giver giver = {.tables = tables,
                     .program = program,
                     .base = base,
                     .symbols = tables->symbols,
                     .arena = tables->arena,
                     .problems = problems};
  if (mechanics)
    why_given_mechanics(&giver);
  why_given_estimates(&giver);
  cr_assert_eq(why_base_run(base, problems), WHY_OK);
  why_overlay* overlay = why_overlay_new(base, tables->arena, NULL);
  why_relation relation = why_program_find(program, "estimate");
  given made = {.overlay = overlay};
  if (relation != WHY_NO_RELATION)
    made.facts = why_facts_find(overlay, relation, 0, (why_value[WHY_SLOTS_LIMIT]){{0}});
  return made;
}

static bool is(const why_tables* tables, const given* from, size_t fact, int slot,
               const char* text) {
  return why_fact_symbol(from->overlay, from->facts.at[fact], slot) ==
         why_symbols_find(tables->symbols, text);
}

Test(estimates, are_given_when_declared) {
  const why_tables* tables = shipped_open();
  why_problems* problems = why_problems_new();
  why_reasoning reasoning = declared(tables);
  given made = fill(tables, &reasoning, false, problems);
  cr_assert_gt(made.facts.count, 2000);
  double percent[2] = {0};
  for (size_t i = 0; i < made.facts.count; i++) {
    double mean = why_fact_number(made.overlay, made.facts.at[i], 3);
    cr_assert(why_fact_number(made.overlay, made.facts.at[i], 4) <= mean &&
              mean <= why_fact_number(made.overlay, made.facts.at[i], 5));
    if (is(tables, &made, i, 0, "barbell-back-squat") &&
        is(tables, &made, i, 1, "vastus-lateralis")) {
      cr_assert(is(tables, &made, i, 6, "own-trials"));
      percent[is(tables, &made, i, 2, "trained")] = mean;
    }
  }
  cr_assert(0 < percent[1] && percent[1] < percent[0], "beginners grow more");
  why_problems_free(problems);
}

/// Features that the mechanics have found already give the same.
Test(estimates, rest_on_the_same_mechanics) {
  const why_tables* tables = shipped_open();
  why_problems* problems = why_problems_new();
  why_reasoning reasoning = declared(tables);
  given one = fill(tables, &reasoning, false, problems);
  given two = fill(tables, &reasoning, true, problems);
  cr_assert_eq(one.facts.count, two.facts.count);
  for (size_t i = 0; i < one.facts.count; i++)
    cr_assert_float_eq(why_fact_number(one.overlay, one.facts.at[i], 3),
                       why_fact_number(two.overlay, two.facts.at[i], 3), 1e-9);
  why_problems_free(problems);
}

Test(estimates, are_not_computed_when_not_declared) {
  const why_tables* tables = shipped_open();
  why_problems* problems = why_problems_new();
  why_reasoning none = {0};
  size_t before = why_arena_used(tables->arena);
  cr_assert_eq(fill(tables, &none, false, problems).facts.count, 0);
  cr_assert_lt(why_arena_used(tables->arena) - before, 1000000);
  why_problems_free(problems);
}
