// SPDX-License-Identifier: GPL-3.0-or-later
// Every way in which a fact follows, the best of them as a tree, and its sentences.
#include "program.h"

#include "random.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <string.h>

#define PATH_RULES                                                                                 \
  RULE("one", "<if fact='edge' a='?x' b='?y'/><then fact='path' a='?x' b='?y'/>")                  \
  RULE("two", "<if fact='path' a='?x' b='?y'/><if fact='path' a='?y' b='?z'/>"                     \
              "<then fact='path' a='?x' b='?z'/>")

static void run(program* made, const char* rules) {
  why_arena* arena = why_arena_new(0);
  program_run(made, why_arena_print(arena, "%s%s", PROGRAM_GRAPH, rules));
  why_arena_free(arena);
}

static size_t count_derivations(program* made, why_fact fact) {
  const why_derivation* list = NULL;
  return why_derivations(made->overlay, fact, &list);
}

/// a to d by four ways: over b, over c, directly by an edge, and as given.
static const char DIAMOND[] =
    "<fact relation='edge' a='a' b='b'/><fact relation='edge' a='a' b='c'/>"
    "<fact relation='edge' a='b' b='d'/><fact relation='edge' a='c' b='d'/>"
    "<fact relation='edge' a='a' b='d'/><fact relation='path' a='a' b='d'><from "
    "basis='common-practice'>told</from></fact>" PATH_RULES;

Test(reason_proof, every_derivation_is_kept) {
  program made;
  run(&made, DIAMOND);
  const why_derivation* list = NULL;
  cr_assert_eq(why_derivations(made.overlay, program_fact(&made, "path", "a", "d", NULL), &list),
               4);
  cr_expect_null(list[0].rule);
  cr_expect_str_eq(list[0].from->note, "told");
  cr_expect_str_eq(why_symbols_text(made.symbols, list[1].rule->id), "one");
  cr_expect_str_eq(why_fact_text(made.overlay, list[2].premises[0].fact, made.arena),
                   "path(a=a, b=b)");
  cr_expect_str_eq(why_fact_text(made.overlay, list[3].premises[0].fact, made.arena),
                   "path(a=a, b=c)");
  cr_expect_eq(count_derivations(&made, program_fact(&made, "path", "a", "b", NULL)), 1);
  program_free(&made);
}

/// In a chain of n edges the path over all of them divides in n - 1 places; each division is found
/// once, though both halves come from the recursion.
Test(reason_proof, no_derivation_is_kept_twice) {
  program made;
  char text[2000] = "";
  for (int i = 0; i < 8; i++)
    sprintf(text + strlen(text), "<fact relation='edge' a='n%d' b='n%d'/>", i, i + 1);
  strcat(text, PATH_RULES);
  run(&made, text);
  for (int to = 2; to <= 8; to++) {
    char name[4] = {'n', (char)('0' + to)};
    cr_expect_eq(count_derivations(&made, program_fact(&made, "path", "n0", name, NULL)),
                 (size_t)to - 1);
  }
  program_free(&made);
}

Test(reason_proof, the_best_is_the_smallest_tree) {
  program made;
  run(&made, "<fact relation='edge' a='a' b='b'/><fact relation='edge' a='b' b='c'/>"
             "<fact relation='edge' a='c' b='d'/><fact relation='edge' a='b' b='d'/>" PATH_RULES);
  const why_proof* proof =
      why_proof_best(made.overlay, program_fact(&made, "path", "a", "d", NULL));
  cr_assert_not_null(proof);
  cr_expect_eq(proof->steps, 3); // two edges, one join; over c it takes five
  cr_expect_str_eq(why_fact_text(made.overlay, proof->step.premises[1].fact, made.arena),
                   "path(a=b, b=d)");
  proof = why_proof_best(made.overlay, proof->step.premises[1].fact);
  cr_expect_eq(proof->steps, 1);
  cr_expect_eq(why_proof_best(made.overlay, proof->step.premises[0].fact)->steps, 0);
  program_free(&made);
}

Test(reason_proof, a_given_fact_needs_no_rule) {
  program made;
  run(&made, DIAMOND);
  const why_proof* proof =
      why_proof_best(made.overlay, program_fact(&made, "path", "a", "d", NULL));
  cr_expect_eq(proof->steps, 0);
  cr_expect_null(proof->step.rule);
  cr_expect_eq(proof->step.premise_count, 0);
  program_free(&made);
}

Test(reason_proof, ties_go_by_rule_and_premises) {
  program made;
  run(&made, "<fact relation='edge' a='a' b='z'/><fact relation='edge' a='a' b='b'/>"
             "<fact relation='edge' a='z' b='d'/><fact relation='edge' a='b' b='d'/>"
             "<fact relation='node' a='x'/>" PATH_RULES RULE("b-rule", "<if fact='node' a='?x'/>"
                                                                       "<then fact='out' a='?x'/>")
                 RULE("a-rule", "<if fact='node' a='?x'/><then fact='out' a='?x'/>"));
  const why_proof* proof =
      why_proof_best(made.overlay, program_fact(&made, "path", "a", "d", NULL));
  cr_expect_str_eq(why_fact_text(made.overlay, proof->step.premises[0].fact, made.arena),
                   "path(a=a, b=b)");
  proof = why_proof_best(made.overlay, program_fact(&made, "out", "x", NULL));
  cr_expect_str_eq(why_symbols_text(made.symbols, proof->step.rule->id), "a-rule");
  program_free(&made);
}

/// The facts above `proof` on the way down, as a list.
typedef struct above {
  why_fact fact;
  const struct above* next;
} above;

/// Rule applications in the tree; fails when a fact stands below itself.
static double check_tree(program* made, why_fact fact, const above* over) {
  const why_proof* proof = why_proof_best(made->overlay, fact);
  cr_assert_not_null(proof);
  for (const above* each = over; each; each = each->next)
    cr_assert_not(each->fact.relation == proof->step.fact.relation &&
                      each->fact.row == proof->step.fact.row,
                  "a fact stands below itself");
  above here = {proof->step.fact, over};
  double steps = proof->step.rule ? 1 : 0;
  for (size_t i = 0; i < proof->step.premise_count; i++)
    if (proof->step.premises[i].kind != WHY_ABSENT)
      steps += check_tree(made, proof->step.premises[i].fact, &here);
  cr_expect_eq(steps, proof->steps);
  return steps;
}

static void check_all_trees(program* made) {
  for (why_relation r = 0; r < why_program_relation_count(made->program); r++) {
    why_facts facts = why_facts_find(made->overlay, r, 0, NULL);
    for (size_t i = 0; i < facts.count; i++)
      check_tree(made, facts.at[i], NULL);
  }
}

Test(reason_proof, no_fact_stands_below_itself_in_a_cycle) {
  program made;
  char text[3000] = "";
  for (int i = 0; i < 7; i++)
    sprintf(text + strlen(text),
            "<fact relation='edge' a='n%d' b='n%d'/><fact relation='edge' a='n%d' b='n%d'/>", i,
            (i + 1) % 7, i, (i * 3) % 7);
  strcat(text, PATH_RULES);
  run(&made, text);
  check_all_trees(&made);
  program_free(&made);
}

Test(reason_proof, no_fact_stands_below_itself_in_drawn_programs) {
  for (uint64_t seed = 1; seed <= 20; seed++) {
    program made;
    why_arena* arena = why_arena_new(0);
    const random_program* drawn = random_program_new(arena, seed);
    why_buffer text = {.arena = arena};
    for (unsigned i = 0; i < RANDOM_RELATIONS; i++)
      why_buffer_add(&text, random_relation_xml(arena, drawn, i, false));
    for (size_t i = 0; i < drawn->facts.count; i++)
      why_buffer_add(&text, random_fact_xml(arena, drawn, i));
    for (size_t i = 0; i < drawn->rules.count; i++)
      why_buffer_add(&text, drawn->rules.at[i]);
    program_run(&made, why_buffer_text(&text));
    check_all_trees(&made);
    program_free(&made);
    why_arena_free(arena);
  }
}

/// A tree that doubles at each of 60 steps outgrows the digits of a double: one step more or less
/// cannot be told apart, and still no fact may stand below itself.
Test(reason_proof, trees_beyond_counting_are_sound) {
  program made;
  char text[8000] = "<fact relation='out' a='n00'/>";
  for (int i = 0; i < 60; i++)
    sprintf(text + strlen(text), "<fact relation='edge' a='n%02d' b='n%02d'/>", i, i + 1);
  strcat(text, "<fact relation='edge' a='n60' b='n59'/>"
               "<relation name='too'><slot name='a' kind='node'/></relation>" RULE(
                   "double", "<if fact='out' a='?x'/><if fact='too' a='?x'/>"
                             "<if fact='edge' a='?x' b='?y'/><then fact='out' a='?y'/>")
                   RULE("as-well", "<if fact='out' a='?x'/><then fact='too' a='?x'/>")
                       RULE("also", "<if fact='too' a='?x'/><then fact='out' a='?x'/>"));
  run(&made, text);
  const why_proof* proof = why_proof_best(made.overlay, program_fact(&made, "out", "n60", NULL));
  cr_assert_not_null(proof);
  cr_expect_gt(proof->steps, 1e18);
  // One way down suffices: the tree itself has more steps than can be walked.
  const why_proof* way[400];
  size_t depth = 0;
  for (const why_proof* at = proof; at; depth++) {
    cr_assert_lt(depth, 400);
    way[depth] = at;
    for (size_t i = 0; i < depth; i++)
      cr_assert_neq(way[i], at, "a fact stands below itself");
    size_t count = at->step.premise_count;
    at = count ? why_proof_best(made.overlay, at->step.premises[count > 1].fact) : NULL;
  }
  cr_expect_gt(depth, 60);
  program_free(&made);
}

// ---- sentences ----

static const char* name_of(void* user, const char* kind, const char* id) {
  (void)user;
  if (strcmp(kind, "node") == 0 && strcmp(id, "back-squat") == 0)
    return "the back squat";
  return strcmp(kind, "level") == 0 ? "a level" : id;
}

Test(reason_proof, sentences_are_filled_in) {
  program made;
  run(&made,
      "<fact relation='size' a='back-squat' n='2.346'/><fact relation='size' a='plank' n='-0.04'/>"
      "<fact relation='graded' a='back-squat' g='high'/>" RULE(
          "r", "<if fact='size' a='?x' n='?n'/><if fact='graded' a='?x' g='?g' else-g='low'/>"
               "<then fact='out' a='?x'/><say>{x}: {n}, {n:0}, {n:1}, {n:2}; {g}.</say>"));
  cr_expect_str_eq(program_say(&made, program_fact(&made, "out", "back-squat", NULL)),
                   "back-squat: 2.346, 2, 2.3, 2.35; high.");
  cr_expect_str_eq(program_say(&made, program_fact(&made, "out", "plank", NULL)),
                   "plank: -0.04, 0, 0.0, -0.04; low.");
  const why_naming naming = {.name = name_of};
  const why_proof* proof =
      why_proof_best(made.overlay, program_fact(&made, "out", "back-squat", NULL));
  cr_expect_str_eq(why_say(made.overlay, &proof->step, &naming, made.arena),
                   "the back squat: 2.346, 2, 2.3, 2.35; a level.");
  program_free(&made);
}

Test(reason_proof, a_given_fact_speaks_by_its_relation) {
  program made;
  run(&made, "<relation name='weighs'><slot name='a' kind='node'/><slot name='kg' kind='number'/>"
             "<say>{a} weighs {kg:1} kg.</say></relation>"
             "<fact relation='weighs' a='bar' kg='20'/><fact relation='node' a='x'/>");
  cr_expect_str_eq(program_say(&made, program_fact(&made, "weighs", "bar", "20", NULL)),
                   "bar weighs 20.0 kg.");
  cr_expect_str_eq(program_say(&made, program_fact(&made, "node", "x", NULL)), "");
  program_free(&made);
}

/// What is absent speaks by its own sentence; an else- value that was used is absence too.
Test(reason_proof, absence_is_a_premise) {
  program made;
  run(&made, "<fact relation='node' a='x'/>" RULE(
                 "r", "<if fact='node' a='?x'/><unless fact='edge' a='?x' b='_'>"
                      "<say>Nothing leaves {x}.</say></unless>"
                      "<if fact='size' a='?x' n='?n' else-n='3'/>"
                      "<then fact='total' a='?x' n='?n'/>"));
  const why_derivation* list = NULL;
  cr_assert_eq(why_derivations(made.overlay, program_fact(&made, "total", "x", "3", NULL), &list),
               1);
  cr_assert_eq(list[0].premise_count, 3);
  const why_premise* unless = &list[0].premises[1];
  cr_expect_eq(unless->kind, WHY_ABSENT);
  cr_expect_eq(unless->mask, 1);
  cr_expect_str_eq(why_say_absent(made.overlay, &list[0], unless, NULL, made.arena),
                   "Nothing leaves x.");
  cr_expect_eq(list[0].premises[2].kind, WHY_ABSENT);
  cr_expect_eq(list[0].premises[2].mask, 1); // any size of x, not a size of 3
  cr_expect_str_eq(why_say_absent(made.overlay, &list[0], &list[0].premises[2], NULL, made.arena),
                   "");
  program_free(&made);
}

/// The example with everything in it, as its authors of rules see it.
Test(reason_proof, the_example_says_why) {
  program made;
  static char text[20000];
  FILE* file = fopen(WHY_HOME "/tests/reason/example.xml", "r");
  cr_assert_not_null(file);
  text[fread(text, 1, sizeof text - 1, file)] = '\0';
  fclose(file);
  char* from = strstr(text, "<reasoning>") + strlen("<reasoning>");
  *strstr(from, "</reasoning>") = '\0';
  program_compile(&made, 0, from);
  cr_assert_eq(made.status, WHY_OK);
  program_start(&made);
  program_assume(&made, "wants", "cy", "cordless-drill", NULL);
  program_ask(&made);
  cr_expect_str_eq(program_dump(&made, "trusts"), "ann bea full; ann cy none; bea cy none");
  cr_expect_str_eq(program_dump(&made, "lends"), "");
  made.overlay = why_overlay_new(made.base, made.arena, NULL);
  program_ask(&made);
  cr_expect_eq(why_problems_count(made.problems), 0);
  program_free(&made);
}
