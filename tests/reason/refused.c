// SPDX-License-Identifier: GPL-3.0-or-later
// What compiling refuses, each with its check and its exact place, marked with ^ in the rules.
#include "program.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <string.h>

static void expect(const char* rules, const char* check) {
  expect_refused(PROGRAM_GRAPH, rules, check);
}

Test(reason_refused, variables_that_nothing_binds) {
  expect(RULE("r", "<if fact='node' a='?x'/>\n  ^<then fact='edge' a='?x' b='?y'/>"), "unsafe");
  expect(RULE("r", "<if fact='node' a='?x'/>\n<if fact='node' a='?z'/>\n"
                   "   ^<unless fact='edge' a='?x' b='?y'/><then fact='out' a='?x'/>"),
         "unsafe");
  expect(RULE("r", "<if fact='node' a='?x'/>\n ^<where left='?n' is='above' right='1'/>"
                   "<if fact='size' a='?x' n='_'/><then fact='out' a='?x'/>"),
         "kind");
  expect(RULE("r", "<if fact='node' a='?x'/>\n<unless fact='size' a='?x'/>"
                   "<let name='?m' is='1 + 2'/>^<let name='?n' is='?k + ?m'/>"
                   "<then fact='total' a='?x' n='?n'/>"),
         "kind");
  expect(RULE("r", "<if fact='node' a='?x'/>^<let name='?m' is='?n + 1'/>"
                   "<let name='?n' is='?m - 1'/><then fact='total' a='?x' n='?n'/>"),
         "unsafe");
  expect(RULE("r", "<if fact='node' a='?x'/>^<matches text='?y' pattern='a'/>"
                   "<then fact='out' a='?x'/>"),
         "unsafe");
  expect(RULE("r", "<if fact='node' a='?y'/>^<if fact='size' a='?x' n='?n' else-n='1'/>"
                   "<then fact='total' a='?y' n='?n'/>"),
         "unsafe");
}

Test(reason_refused, variables_that_nothing_binds_in_a_group) {
  expect(RULE("r", "^<count name='?n' over='?z'><if fact='edge' a='?x' b='?y'/></count>"
                   "<then fact='total' a='x' n='?n'/>"),
         "unsafe");
  expect(RULE("r", "^<count name='?n' over='?y' by='?x' else='0'><if fact='edge' a='?x' b='?y'/>"
                   "</count><then fact='total' a='?x' n='?n'/>"),
         "unsafe");
  expect(RULE("r", "<count name='?n' over='?y'><if fact='edge' a='?x' b='?y'/>"
                   "^<unless fact='node' a='?z'/></count><then fact='total' a='x' n='?n'/>"),
         "unsafe");
  // A variable inside that also stands outside looks joined and is not.
  expect(RULE("r", "<if fact='node' a='?x'/><count name='?n' over='?y'>"
                   "<if fact='edge' ^a='?x' b='?y'/></count><then fact='total' a='?x' n='?n'/>"),
         "scope");
}

Test(reason_refused, sentences_about_nothing) {
  expect(RULE("r", "<if fact='node' a='?x'/><then fact='out' a='?x'/>\n ^<say>{y} is out.</say>"),
         "say");
  expect(RULE("r", "<if fact='node' a='?x'/><then fact='out' a='?x'/>^<say>{x is out.</say>"),
         "say");
  expect(RULE("r", "<if fact='size' a='?x' n='?n'/><then fact='out' a='?x'/>"
                   "^<say>{n:many}</say>"),
         "say");
  expect(RULE("r", "<count name='?n' over='?y'><if fact='edge' a='?y'/></count>"
                   "<then fact='total' a='x' n='?n'/>^<say>{y}</say>"),
         "say");
  expect(RULE("r", "<if fact='node' a='?x'/>^<unless fact='edge' a='?x'><say>{y}</say></unless>"
                   "<then fact='out' a='?x'/>"),
         "say");
  expect("^<relation name='said'><slot name='a' kind='node'/><say>{b} stands.</say></relation>",
         "say");
}

Test(reason_refused, cycles_through_absence_and_totals) {
  expect(RULE("r", "<if fact='node' a='?x'/>^<unless fact='out' a='?x'/><then fact='out' a='?x'/>"),
         "stratification");
  expect(RULE("a", "<if fact='node' a='?x'/><if fact='path' a='?x' b='?x'/>"
                   "<then fact='out' a='?x'/>")
             RULE("b", "<if fact='node' a='?x'/>\n^<unless fact='out' a='?x'/>"
                       "<then fact='path' a='?x' b='?x'/>"),
         "stratification");
  expect(RULE("r", "<if fact='node' a='?x'/>\n^<if fact='result' a='?x' g='?g' else-g='low'/>"
                   "<then fact='result' a='?x' g='?g'/>"),
         "stratification");
  expect(RULE("r", "<count name='?n' over='?x'>^<if fact='total' a='?x'/></count>"
                   "<then fact='total' a='all' n='?n'/>"),
         "stratification");
  expect(RULE("r", "<sum name='?s' of='?n' over='?x'>^<if fact='total' a='?x' n='?n'/></sum>"
                   "<then fact='total' a='all' n='?s'/>"),
         "stratification");
  expect(RULE("r", "<most name='?g' of='?h'>^<if fact='result' a='_' g='?h'/></most>"
                   "<then fact='result' a='all' g='?g'/>"),
         "stratification");
  expect("<relation name='best'><slot name='a' kind='node' key='yes'/>"
         "<slot name='g' kind='grade' prefer='most'/></relation>\n" RULE(
             "r", "^<if fact='best' a='?x' g='?g'/><let name='?h' is='step(?g, 1)'/>"
                  "<then fact='best' a='?x' g='?h'/>"),
         "stratification");
}

Test(reason_refused, arithmetic_in_recursion) {
  expect(RULE("r", "<if fact='total' a='?x' n='?n'/>\n ^<let name='?m' is='?n + 1'/>"
                   "<then fact='total' a='?x' n='?m'/>"),
         "arithmetic-in-recursion");
  expect(RULE("a", "<if fact='total' a='?x' n='?n'/><then fact='size' a='?x' n='?n'/>")
             RULE("b", "<if fact='size' a='?x' n='?n'/>^<let name='?m' is='?n + 1'/>"
                       "<then fact='total' a='?x' n='?m'/>"),
         "arithmetic-in-recursion");
}

Test(reason_refused, names_of_nothing) {
  expect(RULE("r", "<if ^fact='nodes' a='?x'/><then fact='out' a='?x'/>"), "relation");
  expect(RULE("r", "<if fact='node' a='?x'/><unless ^fact='nodes' a='?x'/>"
                   "<then fact='out' a='?x'/>"),
         "relation");
  expect(RULE("r", "<if fact='node' a='?x'/>\n<then ^fact='outs' a='?x'/>"), "relation");
  expect("\n <fact ^relation='nodes' a='x'/>", "relation");
  expect("<order ^relation='nodes'><by slot='a' first='least'/></order>", "relation");
  expect(RULE("r", "<if fact='node' ^x='?x'/><if fact='node' a='?x'/><then fact='out' a='?x'/>"),
         "slot");
  expect(RULE("r", "<if fact='node' a='?x'/><then fact='out' a='?x' ^b='?x'/>"), "slot");
  expect(RULE("r", "<if fact='size' a='?x' n='?n' ^else-m='1'/><then fact='out' a='?x'/>"), "slot");
  expect(RULE("r", "<if fact='size' a='x' n='1' ^else-n='1'/><then fact='out' a='x'/>"), "slot");
  expect(RULE("r", "<if fact='node' a='?x'/>^<then fact='total' a='?x'/>"), "slot");
  expect(RULE("r", "<if fact='node' a='?x'/>^<then fact='total' a='?x' n='_'/>"), "slot");
  expect("<fact relation='node' ^b='x' a='x'/>", "slot");
  expect("^<fact relation='size' a='x'/>", "slot");
  expect("<order relation='node'>^<by slot='b' first='least'/></order>", "slot");
}

Test(reason_refused, values_of_the_wrong_kind) {
  expect(RULE("r", "<if fact='graded' a='?x' ^g='highest'/><then fact='out' a='?x'/>"), "value");
  expect(RULE("r", "<if fact='size' a='?x' ^n='two'/><then fact='out' a='?x'/>"), "value");
  expect(RULE("r", "<if fact='node' ^a=''/><then fact='out' a='x'/>"), "value");
  expect(RULE("r", "<if fact='graded' a='?x' g='?g' ^else-g='none'/><then fact='out' a='?x'/>"),
         "value");
  expect(RULE("r", "<if fact='node' a='?x'/>^<count name='?n' over='?y' by='?x' else='none'>"
                   "<if fact='edge' a='?x' b='?y'/></count><then fact='total' a='?x' n='?n'/>"),
         "value");
  expect("<fact relation='size' a='x' ^n='1,5'/>", "value");
  expect("<fact relation='size' a='x' ^n='nan'/>", "value");
  expect("<fact relation='graded' a='x' ^g='2'/>", "value");
  expect("<fact relation='node' ^a='?x'/>", "value");
  expect("<fact relation='node' ^a='_'/>", "value");
  expect(RULE("r", "<if fact='node' ^a='?'/><then fact='out' a='x'/>"), "variable");
  expect(RULE("r", "<if fact='node' ^a='?x '/><then fact='out' a='x'/>"), "variable");
}

Test(reason_refused, kinds_that_clash) {
  expect(RULE("r", "<if fact='node' a='?x'/><if fact='size' ^n='?x'/><then fact='out' a='?x'/>"),
         "kind");
  expect(RULE("r", "<if fact='graded' a='?x' g='?g'/><then fact='total' a='?x' ^n='?g'/>"), "kind");
  expect("<relation name='tool'><slot name='t' kind='tool'/></relation>" RULE(
             "r", "<if fact='node' a='?x'/><unless fact='tool' ^t='?x'/><then fact='out' a='?x'/>"),
         "kind");
  expect("<relation name='thing'><slot name='t' kind='any'/></relation>" RULE(
             "r", "<if fact='size' a='?x' n='?n'/><then fact='thing' ^t='?n'/>"),
         "kind");
}

/// "any" goes with every kind of names, and lets none through to another.
Test(reason_refused, any_goes_with_all_names_but_joins_no_kinds) {
  static const char ANY[] = "<relation name='thing'><slot name='t' kind='any'/></relation>"
                            "<relation name='tool'><slot name='t' kind='tool'/></relation>";
  why_arena* arena = why_arena_new(0);
  expect_facts(why_arena_print(arena, "%s%s<fact relation='node' a='x'/>%s", PROGRAM_GRAPH, ANY,
                               RULE("r", "<if fact='node' a='?x'/><then fact='thing' t='?x'/>")),
               "thing", "x");
  expect_refused(why_arena_print(arena, "%s%s", PROGRAM_GRAPH, ANY),
                 RULE("r", "<if fact='thing' t='?x'/><if fact='node' a='?x'/>"
                           "<then fact='tool' ^t='?x'/>"),
                 "kind");
  why_arena_free(arena);
}

Test(reason_refused, kinds_that_clash_in_expressions) {
  expect(RULE("r", "<if fact='graded' a='?x' g='?g'/>^<let name='?m' is='?g + 1'/>"
                   "<then fact='total' a='?x' n='?m'/>"),
         "kind");
  expect(RULE("r", "<if fact='graded' a='?x' g='?g'/>^<where left='?g' is='above' right='1'/>"
                   "<then fact='out' a='?x'/>"),
         "kind");
  expect(RULE("r", "<if fact='graded' a='?x' g='?g'/>^<where left='?g' is='above' right='top'/>"
                   "<then fact='out' a='?x'/>"),
         "kind");
  expect(RULE("r", "<if fact='edge' a='?x' b='?y'/>^<where left='?x' is='below' right='?y'/>"
                   "<then fact='out' a='?x'/>"),
         "kind");
  expect(RULE("r", "<if fact='size' a='?x' n='?n'/>^<matches text='?n' pattern='1'/>"
                   "<then fact='out' a='?x'/>"),
         "kind");
  expect(RULE("r", "^<most name='?n' of='?x'><if fact='node' a='?x'/></most>"
                   "<then fact='out' a='?n'/>"),
         "kind");
  expect(RULE("r", "<if fact='node' a='?x'/>^<let name='?y' is='?x'/><then fact='out' a='?y'/>"),
         "kind");
  expect(RULE("r", "<if fact='size' a='?x' n='?n'/>^<let name='?g' is='step(?n, 1)'/>"
                   "<then fact='result' a='?x' g='?g'/>"),
         "kind");
}

Test(reason_refused, expressions_that_are_none) {
  static const char* const WRONG[] = {"",
                                      "1 +",
                                      "* 2",
                                      "(1",
                                      "1)",
                                      "?n ?n",
                                      "foo(?n)",
                                      "min(?n)",
                                      "abs()",
                                      "abs(1, 2)",
                                      "1.2.3",
                                      "?",
                                      "?n % 2",
                                      "$",
                                      "1e5",
                                      "step(?n)",
                                      "min(1, 2, 3, 4, 5, 6, 7, 8, 9)"};
  for (size_t i = 0; i < sizeof WRONG / sizeof *WRONG; i++) {
    char text[400];
    snprintf(text, sizeof text,
             RULE("r", "<if fact='size' a='?x' n='?n'/>^<let name='?m' is='%s'/>"
                       "<then fact='total' a='?x' n='?m'/>"),
             WRONG[i]);
    expect(text, "expression");
  }
}

Test(reason_refused, expressions_without_bounds) {
  char deep[300] = "";
  for (int i = 0; i < 60; i++)
    strcat(deep, "(");
  strcat(deep, "1");
  for (int i = 0; i < 60; i++)
    strcat(deep, ")");
  char wide[700] = "1";
  for (int i = 0; i < 300; i++)
    strcat(wide, "+1");
  const char* const BOTH[] = {deep, wide};
  for (size_t i = 0; i < 2; i++) {
    char text[1000];
    snprintf(text, sizeof text,
             RULE("r", "<if fact='node' a='?x'/>^<let name='?m' is='%s'/>"
                       "<then fact='total' a='?x' n='?m'/>"),
             BOTH[i]);
    expect(text, "expression");
  }
}

Test(reason_refused, patterns_that_are_none) {
  expect(RULE("r", "<if fact='node' a='?x'/>^<matches text='?x' pattern='(a'/>"
                   "<then fact='out' a='?x'/>"),
         "pattern");
  char text[1600] = "<rule id='r' grounds='practice'><title>t</title><if fact='node' a='?x'/>"
                    "^<matches text='?x' pattern='";
  size_t length = strlen(text);
  memset(text + length, 'a', 1001);
  strcpy(text + length + 1001, "'/><then fact='out' a='?x'/></rule>");
  expect(text, "pattern");
}

Test(reason_refused, what_stands_twice) {
  expect("\n^<relation name='node'><slot name='a' kind='node'/></relation>", "twice");
  expect("<relation name='x'><slot name='a' kind='node'/>^<slot name='a' kind='node'/></relation>",
         "twice");
  expect("^<levels name='grade'><level name='low'/></levels>", "twice");
  expect("<levels name='x'><level name='low'/><level ^name='low'/></levels>", "twice");
  expect("^<levels name='number'><level name='one'/></levels>", "twice");
  expect("<order relation='node'><by slot='a' first='least'/></order>\n"
         "^<order relation='node'><by slot='a' first='most'/></order>",
         "twice");
  expect(RULE("r", "<if fact='node' a='?x'/><then fact='out' a='?x'/>") "^" RULE(
             "r", "<if fact='out' a='?x'/><then fact='node' a='?x'/>"),
         "twice");
}

Test(reason_refused, keys_that_cannot_be) {
  expect("<relation name='x'><slot name='a' kind='node' key='yes'/>"
         "^<slot name='b' kind='node' key='yes' prefer='most'/></relation>",
         "key");
  expect("^<relation name='x'><slot name='a' kind='node'/>"
         "<slot name='b' kind='number' prefer='most'/></relation>",
         "key");
}

Test(reason_refused, results_asked_for_twice) {
  expect(RULE("r", "^<count name='?x' over='?y' by='?x'><if fact='size' a='?y' n='?x'/></count>"
                   "<then fact='total' a='k' n='?x'/>"),
         "variable");
  expect(RULE("r", "<if fact='node' a='?z'/>^<most name='?n' of='?k' keep='?y' by='?z' else='0'>"
                   "<if fact='size' a='?y' n='?k'/><if fact='edge' a='?z' b='?y'/></most>"
                   "<then fact='total' a='?z' n='?n'/>"),
         "variable");
}

/// The same text many times; `number` of the first one too many is marked.
static void repeat(char* text, size_t room, const char* each, int count, int marked) {
  size_t used = strlen(text);
  for (int i = 0; i < count; i++) {
    if (i == marked)
      text[used++] = '^';
    used += (size_t)snprintf(text + used, room - used, each, i, i);
  }
}

Test(reason_refused, too_much_of_a_thing) {
  static char text[20000];
  strcpy(text, "^<relation name='wide'>");
  repeat(text, sizeof text, "<slot name='a%d' kind='node'/>", WHY_SLOTS_LIMIT + 1, -1);
  strcat(text, "</relation>");
  expect(text, "limit");
  strcpy(text, "<rule id='r' grounds='practice'><title>t</title>");
  repeat(text, sizeof text, "<if fact='edge' a='?x' b='?x'/>", WHY_CONDITIONS_LIMIT + 1,
         WHY_CONDITIONS_LIMIT);
  strcat(text, "<then fact='out' a='?x'/></rule>");
  expect(text, "limit");
  strcpy(text, "<rule id='r' grounds='practice'><title>t</title>");
  repeat(text, sizeof text, "<if fact='edge' a='?a%d' b='?b%d'/>", WHY_VARIABLES_LIMIT / 2, -1);
  strcat(text, "<if fact='node' ^a='?z'/><then fact='out' a='?z'/></rule>");
  expect(text, "limit");
  strcpy(text, "<rule id='r' grounds='practice'><title>t</title>");
  repeat(text, sizeof text,
         "<count name='?n%d' over='?v'><if fact='node' a='?v'/><if fact='edge' a='?v'/></count>",
         17, 16);
  strcat(text, "<then fact='out' a='x'/></rule>");
  expect(text, "limit");
}

Test(reason_refused, too_many_relations) {
  static char text[WHY_RELATIONS_LIMIT * 80];
  *text = '\0';
  repeat(text, sizeof text, "<relation name='r%d'><slot name='a' kind='node'/></relation>\n",
         WHY_RELATIONS_LIMIT + 1, WHY_RELATIONS_LIMIT);
  expect_refused("", text, "limit");
}

Test(reason_refused, too_many_rules) {
  static char text[WHY_RULES_LIMIT * 130];
  *text = '\0';
  repeat(text, sizeof text,
         "<rule id='r%d' grounds='practice'><title>t</title><if fact='node' a='?x'/>"
         "<then fact='out' a='?x'/></rule>\n",
         WHY_RULES_LIMIT + 1, WHY_RULES_LIMIT);
  expect(text, "limit");
}

/// All errors of all rules are reported at once.
Test(reason_refused, every_error_is_reported) {
  program made;
  why_arena* arena = why_arena_new(0);
  program_compile(&made, 0,
                  why_arena_print(arena, "%s%s%s%s", PROGRAM_GRAPH,
                                  RULE("a", "<if fact='gone'/><then fact='out' a='x'/>"),
                                  RULE("b", "<if fact='node' b='?x'/><then fact='out' a='x'/>"),
                                  RULE("c", "<if fact='node'/><then fact='out' a='?y'/>")));
  cr_expect_eq(made.status, WHY_KNOWLEDGE);
  cr_expect_eq(why_problems_count(made.problems), 3);
  program_free(&made);
  why_arena_free(arena);
}

/// A rule with several conclusions is one rule, and its errors are one.
Test(reason_refused, no_error_is_reported_twice) {
  program made;
  why_arena* arena = why_arena_new(0);
  program_compile(&made, 0,
                  why_arena_print(arena, "%s%s", PROGRAM_GRAPH,
                                  RULE("r", "<if fact='total' a='?x' n='?n'/><let name='?m' "
                                            "is='?n + 1'/><then fact='total' a='?x' n='?m'/>"
                                            "<then fact='total' a='y' n='?m'/>")));
  cr_expect_eq(why_problems_count(made.problems), 1);
  program_free(&made);
  why_arena_free(arena);
}

Test(reason_refused, a_cycle_is_shown) {
  program made;
  why_arena* arena = why_arena_new(0);
  program_compile(&made, 0,
                  why_arena_print(arena, "%s%s%s%s", PROGRAM_GRAPH,
                                  RULE("a", "<if fact='out' a='?x'/><then fact='node' a='?x'/>"),
                                  RULE("b", "<if fact='node' a='?x'/><then fact='edge' a='?x' "
                                            "b='?x'/>"),
                                  RULE("c", "<if fact='size' a='?x'/><unless fact='edge' a='?x'/>"
                                            "<then fact='out' a='?x'/>")));
  cr_assert_eq(why_problems_count(made.problems), 1);
  cr_expect_str_eq(why_problems_at(made.problems, 0).hint, "the cycle: out <- edge <- node <- out");
  program_free(&made);
  why_arena_free(arena);
}
