// SPDX-License-Identifier: GPL-3.0-or-later
// Keys, precedence between rows of one key, and the order in which rows are shown.
#include "program.h"

#include <criterion/criterion.h>
#include <string.h>

#define KEYED                                                                                      \
  "<levels name='grade'><level name='low'/><level name='middle'/><level name='high'/></levels>"    \
  "<relation name='seen'><slot name='a' kind='node'/></relation>"                                  \
  "<relation name='one'><slot name='a' kind='node' key='yes'/><slot name='n' kind='number'/>"      \
  "</relation>"                                                                                    \
  "<relation name='lowest'><slot name='a' kind='node' key='yes'/>"                                 \
  "<slot name='n' kind='number' prefer='least'/><slot name='b' kind='node'/></relation>"           \
  "<relation name='best'><slot name='a' kind='node' key='yes'/>"                                   \
  "<slot name='g' kind='grade' prefer='most'/><slot name='b' kind='node' prefer='least'/>"         \
  "</relation>"                                                                                    \
  "<relation name='all'><slot name='a' kind='node' key='yes'/><slot name='b' kind='node' "         \
  "key='yes'/></relation>\n"

/// The problem of evaluating KEYED with these facts and rules.
static void expect_problem(const char* text, const char* wanted) {
  program made;
  why_arena* arena = why_arena_new(0);
  program_compile(&made, 0, why_arena_print(arena, KEYED "%s", text));
  cr_assert_eq(made.status, WHY_OK);
  program_start(&made);
  cr_expect_eq(made.status, *wanted ? WHY_KNOWLEDGE : WHY_OK, "%s", text);
  cr_expect_str_eq(program_problem(&made), wanted, "%s: %s", text, program_problem(&made));
  program_free(&made);
  why_arena_free(arena);
}

Test(reason_keys, two_values_for_one_key_are_an_error) {
  expect_problem("<fact relation='one' a='x' n='2'/>\n<fact relation='one' a='x' n='1'/>"
                 "<fact relation='one' a='y' n='1'/>",
                 "key 3:1");
  expect_problem("<fact relation='one' a='x' n='1'/><fact relation='one' a='y' n='1'/>", "");
  expect_problem("<fact relation='one' a='x' n='1'/><fact relation='one' a='x' n='1.0'/>", "");
  expect_problem("<fact relation='one' a='x' n='1'/>\n"
                 "<fact relation='seen' a='x'/>" RULE("r", "<if fact='seen' a='?x'/>"
                                                           "<then fact='one' a='?x' n='2'/>"),
                 "key 2:1");
}

Test(reason_keys, both_places_and_rows_are_named) {
  program made;
  program_compile(&made, 0,
                  KEYED "<fact relation='one' a='x' n='2'/>\n<fact relation='one' a='x' n='1'/>");
  program_start(&made);
  cr_assert_eq(why_problems_count(made.problems), 1);
  why_problem problem = why_problems_at(made.problems, 0);
  cr_expect_str_eq(problem.text, "two values for one key: one(a=x, n=1) and one(a=x, n=2)");
  cr_expect_eq(problem.place.line, 3);
  cr_expect_eq(problem.other.line, 2);
  program_free(&made);
}

/// Three rows of one key: each is named with the first of them, whatever the order of the facts.
Test(reason_keys, problems_do_not_depend_on_the_order_of_facts) {
  static const char* const FACTS[] = {"<fact relation='one' a='x' n='1'/>",
                                      "<fact relation='one' a='x' n='2'/>",
                                      "<fact relation='one' a='x' n='3'/>"};
  static const int ORDERS[][3] = {{0, 1, 2}, {0, 2, 1}, {1, 0, 2}, {1, 2, 0}, {2, 0, 1}, {2, 1, 0}};
  for (size_t i = 0; i < 6; i++) {
    program made;
    char text[2000] = KEYED;
    for (int k = 0; k < 3; k++)
      strcat(text, FACTS[ORDERS[i][k]]);
    program_compile(&made, 0, text);
    program_start(&made);
    cr_assert_eq(why_problems_count(made.problems), 2);
    bool second = false, third = false;
    for (size_t k = 0; k < 2; k++) {
      const char* told = why_problems_at(made.problems, k).text;
      second =
          second || strcmp(told, "two values for one key: one(a=x, n=1) and one(a=x, n=2)") == 0;
      third = third || strcmp(told, "two values for one key: one(a=x, n=1) and one(a=x, n=3)") == 0;
    }
    cr_expect(second && third);
    program_free(&made);
  }
}

Test(reason_keys, a_key_of_all_slots_never_clashes) {
  expect_problem("<fact relation='all' a='x' b='y'/><fact relation='all' a='x' b='z'/>" RULE(
                     "r", "<if fact='all' a='?x' b='?y'/><if fact='all' a='?x' b='?z'/>"
                          "<then fact='seen' a='?z'/>"),
                 "");
}

Test(reason_keys, precedence_by_number) {
  expect_facts(KEYED "<fact relation='lowest' a='x' n='3' b='p'/>"
                     "<fact relation='lowest' a='x' n='-1' b='q'/>"
                     "<fact relation='lowest' a='y' n='2' b='p'/>",
               "lowest", "x -1 q; y 2 p");
}

Test(reason_keys, precedence_by_level_then_by_name) {
  expect_facts(KEYED "<fact relation='best' a='x' g='middle' b='a'/>"
                     "<fact relation='best' a='x' g='high' b='c'/>"
                     "<fact relation='best' a='x' g='high' b='b'/>"
                     "<fact relation='best' a='y' g='low' b='z'/>",
               "best", "x high b; y low z");
}

/// What does not win need not differ: only a tie for the first place is an error.
Test(reason_keys, only_winners_that_tie_are_an_error) {
  static const char* const FACTS[] = {"<fact relation='lowest' a='x' n='5' b='p'/>",
                                      "<fact relation='lowest' a='x' n='5' b='q'/>",
                                      "<fact relation='lowest' a='x' n='3' b='r'/>"};
  static const int ORDERS[][3] = {{0, 1, 2}, {0, 2, 1}, {1, 0, 2}, {1, 2, 0}, {2, 0, 1}, {2, 1, 0}};
  for (size_t i = 0; i < 6; i++) {
    char text[2000] = KEYED;
    for (int k = 0; k < 3; k++)
      strcat(text, FACTS[ORDERS[i][k]]);
    expect_facts(text, "lowest", "x 3 r");
  }
  expect_problem("<fact relation='lowest' a='x' n='3' b='p'/>\n"
                 "<fact relation='lowest' a='x' n='3' b='q'/>",
                 "key 2:1");
}

Test(reason_keys, rules_see_winners_only) {
  const char* rules = KEYED
      "<fact relation='best' a='x' g='low' b='p'/><fact relation='best' a='x' g='high' b='q'/>"
      "<fact relation='seen' a='p'/><fact relation='seen' a='q'/>"
      "<relation name='got'><slot name='how' kind='text'/><slot name='b' "
      "kind='any'/></relation>" RULE("if",
                                     "<if fact='best' b='?b'/><then fact='got' how='if' b='?b'/>")
          RULE("unless", "<if fact='seen' a='?b'/><unless fact='best' b='?b'/>"
                         "<then fact='got' how='unless' b='?b'/>")
              RULE("else", "<if fact='best' a='x' g='?g' b='p' else-g='middle'/>"
                           "<where left='?g' is='equals' right='middle'/>"
                           "<then fact='got' how='else' b='p'/>")
                  RULE("count", "<count name='?n' over='?b'><if fact='best' b='?b'/></count>"
                                "<where left='?n' is='equals' right='1'/>"
                                "<then fact='got' how='count' b='1'/>");
  expect_facts(rules, "got", "count 1; else p; if q; unless p");
}

Test(reason_keys, what_is_overruled_is_still_explained) {
  program made;
  program_run(&made, KEYED "<fact relation='seen' a='p'/><fact relation='seen' a='q'/>" RULE(
                         "r", "<if fact='seen' a='?b'/><then fact='best' a='x' g='high' b='?b'/>"));
  why_relation best = why_program_find(made.program, "best");
  why_fact winner = program_fact(&made, "best", "x", "high", "p", NULL);
  cr_expect_str_eq(program_dump(&made, "best"), "x high p");
  // Overruled rows lie behind the visible ones.
  why_fact loser = {best, winner.row + 1};
  const why_derivation* list = NULL;
  cr_expect_str_eq(why_fact_text(made.overlay, loser, made.arena), "best(a=x, g=high, b=q)");
  cr_assert_eq(why_derivations(made.overlay, loser, &list), 1);
  cr_expect_str_eq(why_fact_text(made.overlay, list[0].premises[0].fact, made.arena), "seen(a=q)");
  cr_expect_not_null(why_proof_best(made.overlay, loser));
  program_free(&made);
}

#define ORDERED                                                                                    \
  "<levels name='grade'><level name='low'/><level name='middle'/><level name='high'/></levels>"    \
  "<relation name='row'><slot name='a' kind='node'/><slot name='n' kind='number'/>"                \
  "<slot name='g' kind='grade'/></relation>"                                                       \
  "<fact relation='row' a='b' n='10' g='low'/><fact relation='row' a='a' n='9' g='high'/>"         \
  "<fact relation='row' a='c' n='-1' g='high'/><fact relation='row' a='d' n='9' g='high'/>"

Test(reason_keys, rows_are_shown_in_their_order) {
  expect_facts(ORDERED, "row", "a 9 high; b 10 low; c -1 high; d 9 high");
  expect_facts(ORDERED "<order relation='row'><by slot='n' first='most'/></order>", "row",
               "b 10 low; a 9 high; d 9 high; c -1 high");
  expect_facts(ORDERED "<order relation='row'><by slot='g' first='most'/>"
                       "<by slot='n' first='least'/><by slot='a' first='most'/></order>",
               "row", "c -1 high; d 9 high; a 9 high; b 10 low");
}

Test(reason_keys, facts_are_found_by_any_slots) {
  program made;
  program_run(&made, ORDERED);
  why_relation row = why_program_find(made.program, "row");
  why_value values[3] = {{0}};
  values[1] = why_value_of_number(9);
  cr_expect_eq(why_facts_find(made.overlay, row, 1U << 1, values).count, 2);
  cr_expect(why_facts_exist(made.overlay, row, 1U << 1, values));
  values[2] = why_value_of_number(0);
  cr_expect_eq(why_facts_find(made.overlay, row, 1U << 1 | 1U << 2, values).count, 0);
  cr_expect_not(why_facts_exist(made.overlay, row, 1U << 1 | 1U << 2, values));
  cr_expect_eq(why_facts_find(made.overlay, row, 0, NULL).count, 4);
  program_free(&made);
}
