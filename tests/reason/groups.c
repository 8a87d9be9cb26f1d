// SPDX-License-Identifier: GPL-3.0-or-later
// count, sum, least, most: groups, ties, what is kept, and values for empty groups.
#include "program.h"

#include <criterion/criterion.h>
#include <stdio.h>

#define EDGES                                                                                      \
  "<fact relation='edge' a='a' b='b'/><fact relation='edge' a='a' b='c'/>"                         \
  "<fact relation='edge' a='b' b='c'/><fact relation='node' a='a'/>"                               \
  "<fact relation='node' a='b'/><fact relation='node' a='c'/>"                                     \
  "<fact relation='size' a='a' n='0.1'/><fact relation='size' a='b' n='0.2'/>"                     \
  "<fact relation='size' a='c' n='0.2'/><fact relation='graded' a='a' g='high'/>"                  \
  "<fact relation='graded' a='b' g='low'/><fact relation='graded' a='c' g='middle'/>"

static void expect(const char* rules, const char* relation, const char* facts) {
  why_arena* arena = why_arena_new(0);
  expect_facts(why_arena_print(arena, "%s%s%s", PROGRAM_GRAPH, EDGES, rules), relation, facts);
  why_arena_free(arena);
}

Test(reason_groups, count_by_group) {
  expect(RULE("r", "<count name='?n' over='?y' by='?x'><if fact='edge' a='?x' b='?y'/></count>"
                   "<then fact='total' a='?x' n='?n'/>"),
         "total", "a 2; b 1");
}

Test(reason_groups, count_of_everything) {
  expect(RULE("r", "<count name='?n' over='?x ?y'><if fact='edge' a='?x' b='?y'/></count>"
                   "<then fact='total' a='all' n='?n'/>"),
         "total", "all 3");
}

Test(reason_groups, count_counts_each_combination_once) {
  expect(RULE("r", "<count name='?n' over='?y'><if fact='edge' a='?x' b='?y'/></count>"
                   "<then fact='total' a='all' n='?n'/>"),
         "total", "all 2");
}

Test(reason_groups, else_stands_for_an_empty_group) {
  expect(RULE("r", "<if fact='node' a='?x'/><count name='?n' over='?y' by='?x' else='0'>"
                   "<if fact='edge' a='?x' b='?y'/></count><then fact='total' a='?x' n='?n'/>"),
         "total", "a 2; b 1; c 0");
  expect(RULE("r", "<count name='?n' over='?y' else='0'><if fact='path' a='?y'/></count>"
                   "<then fact='total' a='all' n='?n'/>"),
         "total", "all 0");
  expect(RULE("r", "<if fact='node' a='?x'/><most name='?g' of='?h' by='?x' else='low'>"
                   "<if fact='edge' a='?x' b='?y'/><if fact='graded' a='?y' g='?h'/></most>"
                   "<then fact='result' a='?x' g='?g'/>"),
         "result", "a middle; b middle; c low");
}

Test(reason_groups, an_empty_group_without_else_gives_nothing) {
  expect(RULE("r", "<if fact='node' a='?x'/><count name='?n' over='?y' by='?x'>"
                   "<if fact='edge' a='?x' b='?y'/></count><then fact='total' a='?x' n='?n'/>"),
         "total", "a 2; b 1");
  expect(RULE("r", "<count name='?n' over='?y'><if fact='path' a='?y'/></count>"
                   "<then fact='total' a='all' n='?n'/>"),
         "total", "");
}

Test(reason_groups, sum_takes_equal_numbers_of_different_things) {
  expect(RULE("r", "<sum name='?s' of='?n' over='?x'><if fact='size' a='?x' n='?n'/></sum>"
                   "<then fact='total' a='all' n='?s'/>"),
         "total", "all 0.5");
  expect(RULE("r", "<sum name='?s' of='?n' over='?y' by='?x'><if fact='edge' a='?x' b='?y'/>"
                   "<if fact='size' a='?y' n='?n'/></sum><then fact='total' a='?x' n='?s'/>"),
         "total", "a 0.4; b 0.2");
}

Test(reason_groups, sum_takes_one_thing_once_for_each_number) {
  expect("<fact relation='size' a='a' n='5'/>" RULE(
             "r", "<sum name='?s' of='?n' over='?x'><if fact='size' a='?x' n='?n'/>"
                  "<if fact='node' a='_'/></sum><then fact='total' a='all' n='?s'/>"),
         "total", "all 5.5");
}

/// Ten times 0.1 is 1 with compensation, 0.9999999999999999 without; 1e16 + 1 - 1e16 is 1.
Test(reason_groups, sum_loses_no_digits) {
  char text[4000] = "";
  int used = 0;
  for (int i = 0; i < 10; i++)
    used += snprintf(text + used, sizeof text - (size_t)used,
                     "<fact relation='size' a='x%d' n='0.1'/>", i);
  snprintf(text + used, sizeof text - (size_t)used, "%s",
           "<fact relation='size' a='y1' n='1e16'/><fact relation='size' a='y2' n='1'/>"
           "<fact relation='size' a='y3' n='-1e16'/>" RULE(
               "x", "<sum name='?s' of='?n' over='?x'><if fact='size' a='?x' n='?n'/>"
                    "<matches text='?x' pattern='^x'/></sum><where left='?s' is='equals' "
                    "right='1'/><then fact='out' a='tenths'/>")
               RULE("y", "<sum name='?s' of='?n' over='?x'><if fact='size' a='?x' n='?n'/>"
                         "<matches text='?x' pattern='^y'/></sum><where left='?s' is='equals' "
                         "right='1'/><then fact='out' a='large'/>"));
  expect(text, "out", "large; tenths");
}

Test(reason_groups, least_and_most_of_numbers_and_levels) {
  expect(RULE("r", "<least name='?n' of='?n'><if fact='size' a='?x' n='?n'/></least>"
                   "<then fact='total' a='all' n='?n'/>"),
         "total", "all 0.1");
  expect(RULE("r", "<most name='?m' of='?n'><if fact='size' a='?x' n='?n'/></most>"
                   "<then fact='total' a='all' n='?m'/>"),
         "total", "all 0.2");
  expect(RULE("r", "<least name='?g' of='?g'><if fact='graded' a='?x' g='?g'/></least>"
                   "<then fact='result' a='all' g='?g'/>"),
         "result", "all low");
  expect(RULE("r", "<most name='?g' of='?h' by='?x'><if fact='edge' a='?x' b='?y'/>"
                   "<if fact='graded' a='?y' g='?h'/></most><then fact='result' a='?x' g='?g'/>"),
         "result", "a middle; b middle");
}

Test(reason_groups, most_keeps_its_rows) {
  expect(RULE("r", "<most name='?n' of='?n' keep='?x'><if fact='size' a='?x' n='?n'/></most>"
                   "<then fact='total' a='?x' n='?n'/>"),
         "total", "b 0.2; c 0.2");
  expect(RULE("r", "<most name='?n' of='?n' keep='?x' ties='all'><if fact='size' a='?x' n='?n'/>"
                   "</most><then fact='total' a='?x' n='?n'/>"),
         "total", "b 0.2; c 0.2");
  expect(RULE("r", "<most name='?n' of='?n' keep='?x' ties='first'><if fact='size' a='?x' n='?n'/>"
                   "</most><then fact='total' a='?x' n='?n'/>"),
         "total", "b 0.2");
  expect(RULE("r", "<least name='?n' of='?n' keep='?x'><if fact='size' a='?x' n='?n'/></least>"
                   "<then fact='total' a='?x' n='?n'/>"),
         "total", "a 0.1");
}

/// The first tie goes by texts, not by the order in which names came up.
Test(reason_groups, the_first_tie_goes_by_texts) {
  expect("<fact relation='size' a='zeta' n='9'/><fact relation='size' a='alpha' n='9'/>"
         "<fact relation='size' a='mu' n='9'/>" RULE(
             "r", "<most name='?n' of='?n' keep='?x' ties='first'><if fact='size' a='?x' n='?n'/>"
                  "</most><then fact='out' a='?x'/>"),
         "out", "alpha");
}

Test(reason_groups, several_variables_are_kept) {
  expect(RULE("r", "<most name='?n' of='?n' by='?x' keep='?y ?g'><if fact='edge' a='?x' b='?y'/>"
                   "<if fact='size' a='?y' n='?n'/><if fact='graded' a='?y' g='?g'/></most>"
                   "<where left='?g' is='equals' right='low'/><then fact='path' a='?x' b='?y'/>"),
         "path", "a b");
}

/// A result, or what is kept, may be known already: then both must agree.
Test(reason_groups, results_agree_with_what_is_known) {
  expect(RULE("r",
              "<if fact='size' a='k' n='?n'/><count name='?n' over='?y' by='?x'>"
              "<if fact='edge' a='?x' b='?y'/></count><then fact='out' a='?x'/>") "<fact "
                                                                                  "relation='size' "
                                                                                  "a='k' n='2'/>",
         "out", "a");
  expect(RULE("r", "<if fact='graded' a='?x' g='low'/><most name='?n' of='?n' keep='?x'>"
                   "<if fact='size' a='?x' n='?n'/></most><then fact='total' a='?x' n='?n'/>"),
         "total", "b 0.2");
  expect(RULE("r", "<count name='?n' over='?y' by='?x'><if fact='edge' a='?x' b='?y'/></count>"
                   "<count name='?n' over='?y' by='?z'><if fact='edge' a='?y' b='?z'/></count>"
                   "<then fact='path' a='?x' b='?z'/>"),
         "path", "a c; b b");
}

Test(reason_groups, groups_hold_every_plain_condition) {
  expect(RULE("r", "<if fact='node' a='?x'/><count name='?n' over='?y' by='?x' else='0'>"
                   "<if fact='edge' a='?x' b='?y'/><unless fact='graded' a='?y' g='low'/>"
                   "<if fact='size' a='?y' n='?s' else-n='1'/><let name='?t' is='?s * 10'/>"
                   "<where left='?t' is='above' right='1'/><matches text='?y' pattern='c'/>"
                   "</count><then fact='total' a='?x' n='?n'/>"),
         "total", "a 1; b 1; c 0");
}

/// The inside may need values that only the rule knows; such a group waits for them.
Test(reason_groups, the_inside_may_rest_on_its_group) {
  expect(RULE("r", "<count name='?n' over='?y' by='?m'><if fact='size' a='?y' n='?k'/>"
                   "<where left='?k' is='at-least' right='?m'/></count>"
                   "<if fact='size' a='?x' n='?m'/><then fact='total' a='?x' n='?n'/>"),
         "total", "a 3; b 2; c 2");
}

Test(reason_groups, one_rule_holds_several) {
  expect(RULE("r", "<count name='?n' over='?x'><if fact='node' a='?x'/></count>"
                   "<sum name='?s' of='?k' over='?x'><if fact='size' a='?x' n='?k'/></sum>"
                   "<let name='?mean' is='?s / ?n'/><let name='?part' is='?mean * 6'/>"
                   "<then fact='total' a='mean' n='?part'/>"),
         "total", "mean 1");
}

Test(reason_groups, what_was_counted_is_explained) {
  program made;
  why_arena* arena = why_arena_new(0);
  program_run(&made, why_arena_print(arena, "%s%s%s", PROGRAM_GRAPH, EDGES,
                                     RULE("r", "<if fact='node' a='?x'/><most name='?n' of='?n' "
                                               "by='?x' keep='?y'><if fact='edge' a='?x' b='?y'/>"
                                               "<if fact='size' a='?y' n='?n'/></most>"
                                               "<then fact='path' a='?x' b='?y'/>")));
  const why_derivation* list = NULL;
  why_fact fact = program_fact(&made, "path", "a", "c", NULL);
  cr_assert_eq(why_derivations(made.overlay, fact, &list), 1);
  cr_assert_eq(list[0].premise_count, 3);
  cr_expect_eq(list[0].premises[0].kind, WHY_USED);
  cr_expect_eq(list[0].premises[1].kind, WHY_COUNTED);
  cr_expect_str_eq(why_fact_text(made.overlay, list[0].premises[1].fact, arena), "edge(a=a, b=c)");
  cr_expect_str_eq(why_fact_text(made.overlay, list[0].premises[2].fact, arena),
                   "size(a=c, n=0.2)");
  program_free(&made);
  why_arena_free(arena);
}

/// Explaining looks at the counted facts again, however many steps the question was allowed.
Test(reason_groups, explaining_has_no_bound) {
  program made;
  why_arena* arena = why_arena_new(0);
  why_limits limits = {.steps = 40};
  program_compile(&made, 0,
                  why_arena_print(arena, "%s%s%s", PROGRAM_GRAPH, EDGES,
                                  RULE("r", "<if fact='node' a='?x'/><count name='?n' over='?y' "
                                            "by='?x'><if fact='edge' a='?x' b='?y'/></count>"
                                            "<then fact='total' a='?x' n='?n'/>")));
  made.limits = &limits;
  program_start(&made);
  cr_assert_eq(made.status, WHY_OK);
  for (int i = 0; i < 30; i++) {
    const why_derivation* list = NULL;
    why_fact fact = program_fact(&made, "total", "a", "2", NULL);
    cr_assert_eq(why_derivations(made.overlay, fact, &list), 1);
    cr_assert_eq(list[0].premise_count, 3, "time %d", i);
  }
  program_free(&made);
  why_arena_free(arena);
}
