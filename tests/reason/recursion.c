// SPDX-License-Identifier: GPL-3.0-or-later
// Recursion, and the bounds that stop a runaway.
#include "program.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <string.h>

#define PATH_RULES                                                                                 \
  RULE("one", "<if fact='edge' a='?x' b='?y'/><then fact='path' a='?x' b='?y'/>")                  \
  RULE("more", "<if fact='path' a='?x' b='?y'/><if fact='edge' a='?y' b='?z'/>"                    \
               "<then fact='path' a='?x' b='?z'/>")

static void expect(const char* rules, const char* relation, const char* facts) {
  why_arena* arena = why_arena_new(0);
  expect_facts(why_arena_print(arena, "%s%s", PROGRAM_GRAPH, rules), relation, facts);
  why_arena_free(arena);
}

Test(reason_recursion, transitive_closure_of_a_chain_and_a_cycle) {
  expect("<fact relation='edge' a='a' b='b'/><fact relation='edge' a='b' b='c'/>"
         "<fact relation='edge' a='c' b='d'/>" PATH_RULES,
         "path", "a b; a c; a d; b c; b d; c d");
  expect("<fact relation='edge' a='a' b='b'/><fact relation='edge' a='b' b='a'/>"
         "<fact relation='edge' a='b' b='c'/>" PATH_RULES,
         "path", "a a; a b; a c; b a; b b; b c");
}

/// Given facts of the recursive relation itself take part.
Test(reason_recursion, given_facts_start_it) {
  expect("<fact relation='path' a='a' b='b'/><fact relation='edge' a='b' b='c'/>"
         "<fact relation='edge' a='c' b='d'/>" RULE(
             "more", "<if fact='path' a='?x' b='?y'/><if fact='edge' a='?y' b='?z'/>"
                     "<then fact='path' a='?x' b='?z'/>"),
         "path", "a b; a c; a d");
}

Test(reason_recursion, a_rule_may_use_its_relation_twice) {
  char text[3000] = "";
  for (int i = 0; i < 9; i++)
    sprintf(text + strlen(text), "<fact relation='edge' a='n%d' b='n%d'/>", i, i + 1);
  strcat(text, RULE("one", "<if fact='edge' a='?x' b='?y'/><then fact='path' a='?x' b='?y'/>")
                   RULE("join", "<if fact='path' a='?x' b='?y'/><if fact='path' a='?y' b='?z'/>"
                                "<then fact='path' a='?x' b='?z'/>")
                       RULE("n", "<count name='?n' over='?x ?y'><if fact='path' a='?x' b='?y'/>"
                                 "</count><then fact='total' a='paths' n='?n'/>"));
  expect(text, "total", "paths 45");
}

Test(reason_recursion, same_generation) {
  expect("<fact relation='edge' a='b' b='a'/><fact relation='edge' a='c' b='a'/>"
         "<fact relation='edge' a='d' b='b'/><fact relation='edge' a='e' b='c'/>" RULE(
             "brothers", "<if fact='edge' a='?x' b='?p'/><if fact='edge' a='?y' b='?p'/>"
                         "<where left='?x' is='differs' right='?y'/>"
                         "<then fact='path' a='?x' b='?y'/>")
             RULE("cousins", "<if fact='edge' a='?x' b='?p'/><if fact='path' a='?p' b='?q'/>"
                             "<if fact='edge' a='?y' b='?q'/><then fact='path' a='?x' b='?y'/>"),
         "path", "b c; c b; d e; e d");
}

Test(reason_recursion, two_relations_that_rest_on_each_other) {
  const char* rules =
      "<relation name='even'><slot name='a' kind='node'/></relation>"
      "<relation name='odd'><slot name='a' kind='node'/></relation>"
      "<fact relation='even' a='n0'/><fact relation='edge' a='n0' b='n1'/>"
      "<fact relation='edge' a='n1' b='n2'/><fact relation='edge' a='n2' b='n3'/>"
      "<fact relation='edge' a='n3' b='n4'/>" RULE(
          "odd", "<if fact='even' a='?x'/><if fact='edge' a='?x' b='?y'/><then fact='odd' a='?y'/>")
          RULE("even", "<if fact='odd' a='?x'/><if fact='edge' a='?x' b='?y'/>"
                       "<then fact='even' a='?y'/>");
  expect(rules, "even", "n0; n2; n4");
  expect(rules, "odd", "n1; n3");
}

/// Levels are finitely many, so they may be reckoned with in a recursion.
Test(reason_recursion, levels_come_to_an_end) {
  expect("<fact relation='graded' a='x' g='low'/>" RULE(
             "r", "<if fact='graded' a='?x' g='?g'/><let name='?h' is='step(?g, 1)'/>"
                  "<then fact='graded' a='?x' g='?h'/>"),
         "graded", "x low; x middle; x high");
}

/// The rule's own arithmetic may use numbers that earlier strata made.
Test(reason_recursion, absence_and_totals_of_earlier_strata) {
  expect("<fact relation='edge' a='a' b='b'/><fact relation='edge' a='b' b='c'/>"
         "<fact relation='edge' a='c' b='d'/><fact relation='out' a='d'/>"
         "<fact relation='size' a='b' n='1'/><fact relation='size' a='c' n='1'/>" RULE(
             "one", "<if fact='edge' a='?x' b='?y'/><then fact='path' a='?x' b='?y'/>")
             RULE("more", "<if fact='path' a='?x' b='?y'/><if fact='edge' a='?y' b='?z'/>"
                          "<unless fact='out' a='?z'/><count name='?n' over='?s' by='?y'>"
                          "<if fact='size' a='?y' n='?s'/></count>"
                          "<where left='?n' is='equals' right='1'/>"
                          "<then fact='path' a='?x' b='?z'/>"),
         "path", "a b; a c; b c; c d");
}

/// Evaluate a complete graph of 20 nodes under limits.
static void expect_limit(why_limits limits, bool stops) {
  static char text[60000];
  strcpy(text, PROGRAM_GRAPH);
  for (int i = 0; i < 20; i++)
    sprintf(text + strlen(text), "<fact relation='edge' a='n%d' b='n%d'/>", i, (i + 1) % 20);
  strcat(text, PATH_RULES);
  program made;
  program_compile(&made, 0, text);
  made.limits = &limits;
  program_start(&made);
  cr_expect_eq(made.status, stops ? WHY_KNOWLEDGE : WHY_OK);
  cr_expect_eq(why_problems_count(made.problems), stops ? 1 : 0);
  if (stops)
    cr_expect_str_eq(why_problems_at(made.problems, 0).check, "limit");
  program_free(&made);
}

Test(reason_recursion, every_bound_stops_a_runaway) {
  expect_limit((why_limits){0}, false);
  expect_limit((why_limits){.facts = 420}, false);
  expect_limit((why_limits){.facts = 419}, true);
  expect_limit((why_limits){.derivations = 420}, false);
  expect_limit((why_limits){.derivations = 419}, true);
  expect_limit((why_limits){.rounds = 20}, false);
  expect_limit((why_limits){.rounds = 18}, true);
  expect_limit((why_limits){.steps = 2000}, false);
  expect_limit((why_limits){.steps = 100}, true);
}

Test(reason_recursion, a_bound_holds_for_a_question_too) {
  program made;
  why_limits limits = {.facts = 10};
  why_arena* arena = why_arena_new(0);
  program_compile(&made, 0,
                  why_arena_print(arena, "%s%s%s", PROGRAM_GRAPH,
                                  "<relation name='asked' assumable='yes'>"
                                  "<slot name='a' kind='node'/></relation>",
                                  RULE("all", "<if fact='asked' a='?x'/><if fact='asked' a='?y'/>"
                                              "<then fact='path' a='?x' b='?y'/>")));
  program_start(&made);
  made.overlay = why_overlay_new(made.base, made.arena, &limits);
  for (int i = 0; i < 5; i++) {
    char name[4] = {'n', (char)('0' + i)};
    program_assume(&made, "asked", name, NULL);
  }
  program_ask(&made);
  cr_expect_eq(made.status, WHY_KNOWLEDGE);
  cr_expect_str_eq(program_problem(&made), "limit 10:79");
  program_free(&made);
  why_arena_free(arena);
}
