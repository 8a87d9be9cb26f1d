// SPDX-License-Identifier: GPL-3.0-or-later
// Conditions one by one: if, unless, where, let, matches, else- values, constants and levels.
#include "program.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <string.h>

#define GRAPH                                                                                      \
  "<fact relation='edge' a='a' b='b'/><fact relation='edge' a='b' b='c'/>"                         \
  "<fact relation='edge' a='c' b='c'/>"                                                            \
  "<fact relation='node' a='a'/><fact relation='node' a='b'/><fact relation='node' a='c'/>"        \
  "<fact relation='size' a='a' n='1'/><fact relation='size' a='b' n='2.5'/>"                       \
  "<fact relation='size' a='c' n='-3'/>"                                                           \
  "<fact relation='graded' a='a' g='low'/><fact relation='graded' a='b' g='high'/>"

static void expect(const char* rules, const char* relation, const char* facts) {
  why_arena* arena = why_arena_new(0);
  expect_facts(why_arena_print(arena, "%s%s%s", PROGRAM_GRAPH, GRAPH, rules), relation, facts);
  why_arena_free(arena);
}

Test(reason_rules, a_rule_joins_its_conditions) {
  expect(RULE("r", "<if fact='edge' a='?x' b='?y'/><if fact='edge' a='?y' b='?z'/>"
                   "<then fact='path' a='?x' b='?z'/>"),
         "path", "a c; b c; c c");
}

Test(reason_rules, constants_and_blanks_stand_in_slots) {
  expect(RULE("r", "<if fact='edge' a='b' b='?y'/><then fact='out' a='?y'/>"), "out", "c");
  expect(RULE("r", "<if fact='edge' a='?x' b='_'/><then fact='out' a='?x'/>"), "out", "a; b; c");
  expect(RULE("r", "<if fact='edge' a='?x'/><then fact='out' a='?x'/>"), "out", "a; b; c");
  expect(RULE("r", "<if fact='size' a='?x' n='2.5'/><then fact='out' a='?x'/>"), "out", "b");
  expect(RULE("r", "<if fact='size' a='?x' n='-3.0'/><then fact='out' a='?x'/>"), "out", "c");
  expect(RULE("r", "<if fact='graded' a='?x' g='high'/><then fact='out' a='?x'/>"), "out", "b");
  expect(RULE("r", "<if fact='edge' a='zz' b='?y'/><then fact='out' a='?y'/>"), "out", "");
}

Test(reason_rules, a_variable_twice_in_one_condition_must_agree) {
  expect(RULE("r", "<if fact='edge' a='?x' b='?x'/><then fact='out' a='?x'/>"), "out", "c");
}

Test(reason_rules, every_conclusion_follows) {
  const char* rule = RULE("r", "<if fact='edge' a='a' b='?y'/><then fact='out' a='?y'/>"
                               "<then fact='out' a='a'/><then fact='graded' a='?y' g='middle'/>");
  expect(rule, "out", "a; b");
  expect(rule, "graded", "a low; b middle; b high");
}

Test(reason_rules, unless_asks_for_absence) {
  expect(RULE("r", "<if fact='node' a='?x'/><unless fact='graded' a='?x'/>"
                   "<then fact='out' a='?x'/>"),
         "out", "c");
  expect(RULE("r", "<if fact='node' a='?x'/><unless fact='graded' a='?x' g='low'/>"
                   "<then fact='out' a='?x'/>"),
         "out", "b; c");
  expect(RULE("r", "<unless fact='path'/><if fact='node' a='?x'/><then fact='out' a='?x'/>"), "out",
         "a; b; c");
  expect(RULE("r", "<unless fact='edge'/><if fact='node' a='?x'/><then fact='out' a='?x'/>"), "out",
         "");
  expect(RULE("r", "<if fact='node' a='?x'/><if fact='node' a='?y'/>"
                   "<unless fact='edge' a='?x' b='?y'/><then fact='path' a='?x' b='?y'/>"),
         "path", "a a; a c; b a; b b; c a; c b");
}

Test(reason_rules, unless_sees_what_other_rules_conclude) {
  const char* rules = RULE("a", "<if fact='node' a='?x'/><unless fact='out' a='?x'/>"
                                "<then fact='graded' a='?x' g='middle'/>")
      RULE("z", "<if fact='edge' a='?x' b='?y'/><where left='?x' is='differs' right='?y'/>"
                "<then fact='out' a='?x'/>");
  expect(rules, "graded", "a low; b high; c middle");
}

static void expect_where(const char* left, const char* is, const char* right, const char* facts) {
  why_arena* arena = why_arena_new(0);
  expect(why_arena_print(arena,
                         "<rule id='r' grounds='practice'><title>t</title>"
                         "<if fact='size' a='?x' n='?n'/>"
                         "<if fact='graded' a='?x' g='?g' else-g='middle'/>"
                         "<where left='%s' is='%s' right='%s'/><then fact='out' a='?x'/></rule>",
                         left, is, right),
         "out", facts);
  why_arena_free(arena);
}

Test(reason_rules, numbers_compare_in_all_ways) {
  expect_where("?n", "equals", "1", "a");
  expect_where("?n", "differs", "1", "b; c");
  expect_where("?n", "below", "1", "c");
  expect_where("?n", "above", "1", "b");
  expect_where("?n", "at-most", "1", "a; c");
  expect_where("?n", "at-least", "1", "a; b");
  expect_where("1", "at-least", "?n", "a; c");
  expect_where("?n * 2", "equals", "5", "b");
}

Test(reason_rules, levels_compare_in_all_ways) {
  expect_where("?g", "equals", "middle", "c");
  expect_where("?g", "differs", "middle", "a; b");
  expect_where("?g", "below", "middle", "a");
  expect_where("?g", "above", "middle", "b");
  expect_where("?g", "at-most", "middle", "a; c");
  expect_where("?g", "at-least", "middle", "b; c");
  expect_where("middle", "below", "?g", "b");
  expect_where("step(?g, 1)", "equals", "high", "b; c");
  expect_where("max(?g, middle)", "equals", "middle", "a; c");
}

Test(reason_rules, names_compare_by_equals_and_differs) {
  expect_where("?x", "equals", "a", "a");
  expect_where("?x", "differs", "a", "b; c");
  expect_where("a", "equals", "?x", "a");
}

Test(reason_rules, names_of_any_origin_compare_with_constants) {
  expect(RULE("r", "<where left='?kept' is='differs' right='c'/><most name='?n' of='?n' "
                   "keep='?kept'><if fact='size' a='?kept' n='?n'/></most>"
                   "<then fact='total' a='?kept' n='?n'/>"),
         "total", "b 2.5");
  expect(RULE("r", "<count name='?n' over='?y' by='?x'><if fact='edge' a='?x' b='?y'/>"
                   "<where left='?x' is='differs' right='a'/></count>"
                   "<if fact='node' a='?x'/><then fact='total' a='?x' n='?n'/>"),
         "total", "b 1; c 1");
}

static void expect_let(const char* expression, const char* facts) {
  why_arena* arena = why_arena_new(0);
  expect(why_arena_print(arena,
                         "<rule id='r' grounds='practice'><title>t</title>"
                         "<if fact='size' a='?x' n='?n'/><let name='?m' is='%s'/>"
                         "<then fact='total' a='?x' n='?m'/></rule>",
                         expression),
         "total", facts);
  why_arena_free(arena);
}

Test(reason_rules, let_reckons) {
  expect_let("?n", "a 1; b 2.5; c -3");
  expect_let("?n + 2 * 3 - 1", "a 6; b 7.5; c 2");
  expect_let("(?n + 2) * 3", "a 9; b 13.5; c -3");
  expect_let("-?n", "a -1; b -2.5; c 3");
  expect_let("1 - -?n", "a 2; b 3.5; c -2");
  expect_let("12 / ?n / 2", "a 6; b 2.4; c -2");
  expect_let("8 - 3 - 2 + 0 * ?n", "a 3; b 3; c 3");
  expect_let("min(?n, 2, 0 - 1)", "a -1; b -1; c -3");
  expect_let("max(?n, 2)", "a 2; b 2.5; c 2");
  expect_let("abs(?n)", "a 1; b 2.5; c 3");
  expect_let("round(?n)", "a 1; b 3; c -3");
  expect_let("floor(?n / 2)", "a 0; b 1; c -2");
  expect_let("sqrt(?n * ?n)", "a 1; b 2.5; c 3");
  expect_let("log(exp(?n))", "a 1; b 2.5; c -3");
}

Test(reason_rules, step_stops_at_both_ends) {
  const char* rule = "<rule id='r' grounds='practice'><title>t</title>"
                     "<if fact='graded' a='?x' g='?g'/><if fact='size' a='?x' n='?n'/>"
                     "<let name='?h' is='step(?g, %s)'/><then fact='result' a='?x' g='?h'/></rule>";
  why_arena* arena = why_arena_new(0);
  const char* const STEPS[][2] = {{"1", "a middle; b high"},  {"0 - 1", "a low; b middle"},
                                  {"-2", "a low; b low"},     {"9", "a high; b high"},
                                  {"?n", "a middle; b high"}, {"0.4", "a low; b high"}};
  for (size_t i = 0; i < sizeof STEPS / sizeof *STEPS; i++) {
    char text[600];
    snprintf(text, sizeof text, rule, STEPS[i][0]);
    expect(text, "result", STEPS[i][1]);
  }
  why_arena_free(arena);
}

Test(reason_rules, let_of_a_known_variable_compares) {
  expect(RULE("r", "<if fact='size' a='?x' n='?n'/><let name='?n' is='2 + 0.5'/>"
                   "<then fact='out' a='?x'/>"),
         "out", "b");
}

Test(reason_rules, a_division_by_zero_gives_no_fact_and_one_problem) {
  program made;
  why_arena* arena = why_arena_new(0);
  program_compile(&made, 0,
                  why_arena_print(arena, "%s%s%s", PROGRAM_GRAPH, GRAPH,
                                  RULE("r", "<if fact='size' a='?x' n='?n'/><if fact='node'/>\n"
                                            "<let name='?m' is='6 / (?n - min(?n, 1))'/>"
                                            "<then fact='total' a='?x' n='?m'/>")));
  program_start(&made);
  program_ask(&made);
  cr_expect_eq(made.status, WHY_OK);
  cr_expect_str_eq(program_dump(&made, "total"), "b 4");
  cr_expect_eq(why_problems_count(made.problems), 1);
  cr_expect_str_eq(program_problem(&made), "arithmetic 11:1");
  program_free(&made);
  why_arena_free(arena);
}

Test(reason_rules, what_is_not_finite_gives_no_fact) {
  const char* const WRONG[] = {"1 / 0",         "sqrt(0 - 1)", "log(0)",
                               "exp(1000)",     "1 / (1 / 0)", "min(1, 1 / 0)",
                               "max(1, 0 / 0)", "0 * (1 / 0)", "exp(800) - exp(800)"};
  for (size_t i = 0; i < sizeof WRONG / sizeof *WRONG; i++) {
    program made;
    char text[4000];
    snprintf(text, sizeof text,
             "%s%s<rule id='r' grounds='practice'><title>t</title><if fact='node' a='?x'/>"
             "<let name='?m' is='%s'/><then fact='total' a='?x' n='?m'/></rule>",
             PROGRAM_GRAPH, GRAPH, WRONG[i]);
    program_compile(&made, 0, text);
    program_start(&made);
    program_ask(&made);
    cr_expect_str_eq(program_dump(&made, "total"), "", "%s", WRONG[i]);
    cr_expect_eq(why_problems_count(made.problems), 1, "%s", WRONG[i]);
    program_free(&made);
  }
}

Test(reason_rules, patterns_match_names) {
  expect("<fact relation='node' a='barbell-squat'/><fact relation='node' a='squat-jump'/>" RULE(
             "r", "<if fact='node' a='?x'/><matches text='?x' pattern='(^|-)squat$'/>"
                  "<then fact='out' a='?x'/>"),
         "out", "barbell-squat");
  expect("<fact relation='node' a='Übung'/>" RULE(
             "r", "<if fact='node' a='?x'/><matches text='?x' pattern='(?i)^ü.ung$'/>"
                  "<then fact='out' a='?x'/>"),
         "out", "Übung");
}

Test(reason_rules, a_pattern_that_runs_away_is_stopped) {
  program made;
  char text[6000];
  snprintf(text, sizeof text, "%s<fact relation='node' a='%s'/>%s", PROGRAM_GRAPH,
           "aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa!",
           RULE("r", "<if fact='node' a='?x'/><matches text='?x' pattern='^(a|aa|a+)+$'/>"
                     "<then fact='out' a='?x'/>"));
  program_compile(&made, 0, text);
  program_start(&made);
  cr_expect_eq(made.status, WHY_KNOWLEDGE);
  cr_expect_eq(why_problems_count(made.problems), 1);
  cr_expect_str_eq(why_problems_at(made.problems, 0).check, "pattern");
  program_free(&made);
}

Test(reason_rules, an_else_value_stands_in_for_a_missing_fact) {
  const char* rule = RULE("r", "<if fact='node' a='?x'/>"
                               "<if fact='graded' a='?x' g='?g' else-g='middle'/>"
                               "<then fact='result' a='?x' g='?g'/>");
  expect(rule, "result", "a low; b high; c middle");
  // A fact with another value is a fact: the else- value does not stand in for it.
  expect(RULE("r", "<if fact='graded' a='a' g='?g'/><if fact='node' a='?x'/>"
                   "<if fact='graded' a='?x' g='?g' else-g='low'/>"
                   "<then fact='out' a='?x'/>"),
         "out", "a; c");
  expect(RULE("r", "<if fact='size' a='nobody' n='?n' else-n='7'/>"
                   "<then fact='total' a='x' n='?n'/>"),
         "total", "x 7");
}

Test(reason_rules, an_else_value_sees_what_rules_conclude) {
  expect(RULE("a", "<if fact='node' a='?x'/><if fact='graded' a='?x' g='?g' else-g='middle'/>"
                   "<then fact='result' a='?x' g='?g'/>")
             RULE("z", "<if fact='edge' a='?x' b='?x'/><then fact='graded' a='?x' g='high'/>"),
         "result", "a low; b high; c high");
}

Test(reason_rules, order_of_conditions_does_not_matter) {
  static const char* const PARTS[] = {"<where left='?m' is='above' right='0'/>",
                                      "<let name='?m' is='?n + 2'/>",
                                      "<unless fact='edge' a='?x' b='?x'/>",
                                      "<if fact='size' a='?x' n='?n'/>",
                                      "<if fact='edge' a='?x'/>",
                                      "<where left='?x' is='differs' right='q'/>"};
  for (unsigned turn = 0; turn < 6; turn++) {
    char text[2000] = "<rule id='r' grounds='practice'><title>t</title>";
    for (unsigned i = 0; i < 6; i++)
      strcat(text, PARTS[(i * 5 + turn) % 6]);
    strcat(text, "<then fact='total' a='?x' n='?m'/></rule>");
    expect(text, "total", "a 3; b 4.5");
  }
}
