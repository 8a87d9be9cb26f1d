// SPDX-License-Identifier: GPL-3.0-or-later
// Why a fact does not hold, and how assumptions bear on a conclusion.
#include "program.h"

#include <criterion/criterion.h>
#include <string.h>

static const char RULES[] =
    "<relation name='have' assumable='yes'><slot name='a' kind='node'/>"
    "<say>You have {a}.</say></relation>"
    "<relation name='shut' assumable='yes'><slot name='a' kind='node'/></relation>"
    "<relation name='wide'><slot name='a' kind='node'/></relation>"
    "<relation name='heavy'><slot name='a' kind='node'/></relation>"
    "<relation name='open'><slot name='a' kind='node'/></relation>"
    "<fact relation='edge' a='door' b='key'/><fact relation='edge' a='door' b='card'/>"
    "<fact relation='size' a='door' n='3'/><fact relation='size' a='gate' n='8'/>"
    "<rule id='can-open' grounds='practice'><title>t</title><if fact='edge' a='?x' b='?n'/>"
    "<if fact='have' a='?n'/><unless fact='shut' a='?x'/><then fact='open' a='?x'/></rule>"
    "<rule id='is-wide' grounds='practice'><title>t</title><if fact='size' a='?x' n='?n'/>"
    "<if fact='open' a='?x'/><where left='?n' is='above' right='2 * 4'/>"
    "<then fact='wide' a='?x'/></rule>"
    "<rule id='is-heavy' grounds='practice'><title>t</title>"
    "<sum name='?all' of='?n' over='?b' by='?x'><if fact='edge' a='?x' b='?b'/>"
    "<if fact='size' a='?b' n='?n'/></sum><then fact='heavy' a='?x'/></rule>";

static void start(program* made) {
  why_arena* arena = why_arena_new(0);
  program_compile(made, 0, why_arena_print(arena, "%s%s", PROGRAM_GRAPH, RULES));
  cr_assert_eq(made->status, WHY_OK, "%s", program_problem(made));
  program_start(made);
  why_arena_free(arena);
}

/// The misses of relation(node) as "rule kind what; ...".
static const char* dump(program* made, const char* relation, const char* node) {
  static const char* const KINDS[] = {"absent", "present", "compare", "empty", "other"};
  why_value value = why_value_of_symbol(why_symbols_add(made->symbols, node));
  const why_miss* misses = NULL;
  size_t count =
      why_misses(made->overlay, why_program_find(made->program, relation), 1, &value, &misses);
  why_buffer text = {.arena = made->arena};
  for (size_t i = 0; i < count; i++) {
    const why_miss* each = &misses[i];
    const char* what = "";
    if (each->kind == WHY_MISS_ABSENT)
      what = why_say_partly(made->overlay, each->relation, each->mask, each->values, NULL,
                            made->arena);
    else if (each->kind == WHY_MISS_PRESENT)
      what = why_fact_text(made->overlay, each->facts.at[0], made->arena);
    else
      what = why_say_miss(made->overlay, each, NULL, made->arena);
    why_buffer_print(&text, "%s%s %s %s", i ? "; " : "",
                     why_symbols_text(made->symbols, each->rule->id), KINDS[each->kind], what);
  }
  return why_buffer_text(&text);
}

Test(reason_whynot, an_absent_fact_each_way) {
  program made;
  start(&made);
  program_ask(&made);
  cr_expect_str_eq(dump(&made, "open", "door"),
                   "can-open absent You have card.; can-open absent You have key.");
  program_free(&made);
}

Test(reason_whynot, a_fact_that_stands_against_it) {
  program made;
  start(&made);
  program_assume(&made, "have", "key", NULL);
  program_assume(&made, "shut", "door", NULL);
  program_ask(&made);
  // The way by the card fails sooner and is not told.
  cr_expect_str_eq(dump(&made, "open", "door"), "can-open present shut(a=door)");
  program_free(&made);
}

Test(reason_whynot, a_comparison_with_its_values) {
  program made;
  start(&made);
  program_assume(&made, "have", "key", NULL);
  program_ask(&made);
  cr_expect_str_eq(dump(&made, "wide", "door"), "is-wide compare 3.00 is not above 8.00 (2 * 4)");
  program_free(&made);
}

Test(reason_whynot, what_is_missing_inside_of_a_total) {
  program made;
  start(&made);
  program_ask(&made);
  cr_expect_str_eq(dump(&made, "heavy", "door"), "is-heavy absent ; is-heavy absent ");
  program_free(&made);
}

Test(reason_whynot, how_assumptions_bear_on_a_conclusion) {
  program made;
  start(&made);
  const unsigned char* open =
      why_program_bearing(made.program, why_program_find(made.program, "open"), made.arena);
  cr_expect_eq(open[why_program_find(made.program, "have")], WHY_BEARS_FOR);
  cr_expect_eq(open[why_program_find(made.program, "shut")], WHY_BEARS_AGAINST);
  cr_expect_eq(open[why_program_find(made.program, "wide")], WHY_BEARS_NOT);
  const unsigned char* heavy =
      why_program_bearing(made.program, why_program_find(made.program, "heavy"), made.arena);
  cr_expect_eq(heavy[why_program_find(made.program, "size")], WHY_BEARS_FOR | WHY_BEARS_AGAINST);
  program_free(&made);
}
