// SPDX-License-Identifier: GPL-3.0-or-later
// Proofs of sizes that no stack and no number can hold: a long chain, and a tree that doubles.
#include "program.h"

#include <criterion/criterion.h>
#include <math.h>

enum { CHAIN = 400 * 1000, DOUBLINGS = 1500 };

static const char DECLARED[] =
    "<relation name='start'><slot name='a' kind='node'/></relation>\n"
    "<relation name='next'><slot name='a' kind='node'/><slot name='b' kind='node'/></relation>\n"
    "<relation name='one'><slot name='a' kind='node'/></relation>\n"
    "<relation name='two'><slot name='a' kind='node'/></relation>\n";

/// Run `rules` over a start and `count` steps away from it.
static void run_chain(program* made, const char* rules, unsigned count) {
  why_arena* arena = why_arena_new(0);
  program_compile(made, 0, why_arena_print(arena, "%s%s", DECLARED, rules));
  why_arena_free(arena);
  cr_assert_eq(made->status, WHY_OK);
  made->base = why_base_new(made->program, made->symbols, made->arena, NULL);
  why_relation next = why_program_find(made->program, "next");
  why_relation start = why_program_find(made->program, "start");
  why_value values[2] = {why_value_of_symbol(why_symbols_add(made->symbols, "n0")), {0}};
  why_base_add(made->base, start, values, (why_place){.file = "start"}, NULL);
  for (unsigned i = 1; i <= count; i++) {
    const char* name = why_arena_print(made->arena, "n%u", i);
    values[1] = why_value_of_symbol(why_symbols_add(made->symbols, name));
    why_base_add(made->base, next, values, (why_place){.file = "next"}, NULL);
    values[0] = values[1];
  }
  cr_assert_eq(why_base_run(made->base, made->problems), WHY_OK);
  made->overlay = why_overlay_new(made->base, made->arena, NULL);
  cr_assert_eq(why_overlay_run(made->overlay, made->problems), WHY_OK);
}

/// The deepest way down, checking that every thing costs more than what it rests on.
static size_t follow(program* made, const why_proof* proof) {
  size_t depth = 0;
  while (proof->step.rule) {
    const why_proof* deeper = NULL;
    for (size_t i = 0; i < proof->step.premise_count; i++) {
      const why_proof* part = why_proof_best(made->overlay, proof->step.premises[i].fact);
      cr_assert_not_null(part);
      cr_assert_lt(part->steps, proof->steps);
      deeper = !deeper || part->steps > deeper->steps ? part : deeper;
    }
    proof = deeper;
    depth++;
  }
  return depth;
}

Test(reason_deep, a_chain_may_be_longer_than_a_stack) {
  program made;
  run_chain(&made,
            RULE("a", "<if fact='start' a='?a'/><then fact='one' a='?a'/>")
                RULE("b", "<if fact='one' a='?a'/><if fact='next' a='?a' b='?b'/>"
                          "<then fact='one' a='?b'/>"),
            CHAIN);
  const char* last = why_arena_print(made.arena, "n%d", CHAIN);
  const why_proof* proof = why_proof_best(made.overlay, program_fact(&made, "one", last, NULL));
  cr_assert_not_null(proof);
  cr_expect_float_eq(proof->steps, CHAIN + 1, 0);
  cr_expect_eq(follow(&made, proof), CHAIN + 1);
  program_free(&made);
}

Test(reason_deep, a_tree_may_have_more_steps_than_a_number_holds) {
  program made;
  run_chain(&made,
            RULE("a", "<if fact='start' a='?a'/><then fact='one' a='?a'/><then fact='two' a='?a'/>")
                RULE("b", "<if fact='one' a='?a'/><if fact='two' a='?a'/>"
                          "<if fact='next' a='?a' b='?b'/>"
                          "<then fact='one' a='?b'/><then fact='two' a='?b'/>"),
            DOUBLINGS);
  const char* last = why_arena_print(made.arena, "n%d", DOUBLINGS);
  const why_proof* proof = why_proof_best(made.overlay, program_fact(&made, "two", last, NULL));
  cr_assert_not_null(proof);
  cr_expect(isfinite(proof->steps));
  cr_expect_eq(follow(&made, proof), DOUBLINGS + 1);
  program_free(&made);
}
