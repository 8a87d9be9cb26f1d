// SPDX-License-Identifier: GPL-3.0-or-later
// Questions on a base: what they evaluate, and that nothing differs from evaluating all anew.
#include "program.h"

#include "random.h"
#include "reason/store.h"

#include <criterion/criterion.h>
#include <string.h>

#define ASKED                                                                                      \
  "<relation name='have' assumable='yes'><slot name='a' kind='node'/>"                             \
  "<say>You have {a}.</say></relation>\n"

/// PROGRAM_GRAPH and more, with a base that has run.
static void start(program* made, const char* rules) {
  why_arena* arena = why_arena_new(0);
  program_compile(made, 0, why_arena_print(arena, "%s%s%s", PROGRAM_GRAPH, ASKED, rules));
  cr_assert_eq(made->status, WHY_OK);
  program_start(made);
  why_arena_free(arena);
}

static const char NEEDS[] =
    "<fact relation='edge' a='squat' b='bar'/><fact relation='edge' a='squat' b='rack'/>"
    "<fact relation='edge' a='curl' b='bar'/><fact relation='have' a='floor'/>"
    "<fact relation='edge' a='plank' b='floor'/>"
    "<relation name='lacks'><slot name='a' kind='node'/></relation>" RULE(
        "node", "<if fact='edge' a='?x'/><then fact='node' a='?x'/>")
        RULE("lacks", "<if fact='edge' a='?x' b='?n'/><unless fact='have' a='?n'>"
                      "<say>There is no {n}.</say></unless><then fact='lacks' a='?x'/>"
                      "<say>{x} needs {n}.</say>")
            RULE("can", "<if fact='node' a='?x'/><unless fact='lacks' a='?x'/>"
                        "<then fact='out' a='?x'/><say>{x} can be done.</say>");

Test(reason_overlay, what_is_assumed_decides) {
  program made;
  start(&made, NEEDS);
  program_assume(&made, "have", "bar", NULL);
  program_ask(&made);
  cr_expect_str_eq(program_dump(&made, "out"), "curl; plank");
  cr_expect_str_eq(program_dump(&made, "have"), "bar; floor");
  // Another question on the same base knows nothing of the first.
  made.overlay = why_overlay_new(made.base, made.arena, NULL);
  program_assume(&made, "have", "bar", NULL);
  program_assume(&made, "have", "rack", NULL);
  program_assume(&made, "have", "rack", NULL);
  program_ask(&made);
  cr_expect_str_eq(program_dump(&made, "out"), "curl; plank; squat");
  made.overlay = why_overlay_new(made.base, made.arena, NULL);
  program_ask(&made);
  cr_expect_str_eq(program_dump(&made, "out"), "plank");
  program_free(&made);
}

/// Only what an assumable relation reaches waits for the question.
Test(reason_overlay, the_rest_is_evaluated_once) {
  program made;
  start(&made, NEEDS);
  static const struct {
    const char* name;
    bool reached;
    const char* before;
  } EXPECTED[] = {{"have", true, "floor"},
                  {"lacks", true, ""},
                  {"out", true, ""},
                  {"node", false, "curl; plank; squat"},
                  {"edge", false, "curl bar; plank floor; squat bar; squat rack"}};
  for (size_t i = 0; i < sizeof EXPECTED / sizeof *EXPECTED; i++) {
    why_relation relation = why_program_find(made.program, EXPECTED[i].name);
    cr_expect_eq(why_program_relation(made.program, relation)->reached, EXPECTED[i].reached, "%s",
                 EXPECTED[i].name);
    cr_expect_str_eq(program_dump(&made, EXPECTED[i].name), EXPECTED[i].before);
  }
  // A fact of the base is the same row in every question.
  why_fact first = program_fact(&made, "node", "squat", NULL);
  made.overlay = why_overlay_new(made.base, made.arena, NULL);
  program_ask(&made);
  why_fact second = program_fact(&made, "node", "squat", NULL);
  cr_expect_eq(first.row, second.row);
  program_free(&made);
}

Test(reason_overlay, absence_at_a_question_is_explained) {
  program made;
  start(&made, NEEDS);
  program_assume(&made, "have", "rack", NULL);
  program_ask(&made);
  const why_derivation* list = NULL;
  cr_assert_eq(why_derivations(made.overlay, program_fact(&made, "lacks", "squat", NULL), &list),
               1);
  cr_expect_str_eq(why_say(made.overlay, &list[0], NULL, made.arena), "squat needs bar.");
  cr_assert_eq(list[0].premise_count, 2);
  cr_expect_eq(list[0].premises[1].kind, WHY_ABSENT);
  cr_expect_str_eq(why_say_absent(made.overlay, &list[0], &list[0].premises[1], NULL, made.arena),
                   "There is no bar.");
  program_free(&made);
}

Test(reason_overlay, only_assumable_relations_can_be_assumed) {
  program made;
  start(&made, NEEDS);
  program_assume(&made, "out", "squat", NULL);
  program_ask(&made);
  cr_expect_str_eq(program_dump(&made, "out"), "plank");
  program_free(&made);
}

/// Names that only the question knows.
Test(reason_overlay, a_question_brings_its_own_names) {
  program made;
  start(&made, RULE("unknown", "<if fact='have' a='?x'/><unless fact='edge' b='?x'/>"
                               "<then fact='path' a='?x' b='nothing'/>"));
  program_assume(&made, "have", "trampoline", NULL);
  program_ask(&made);
  cr_expect_str_eq(program_dump(&made, "path"), "trampoline nothing");
  program_free(&made);
}

Test(reason_overlay, keys_are_settled_at_a_question) {
  program made;
  start(&made, "<relation name='level' assumable='yes'><slot name='who' kind='text' key='yes'/>"
               "<slot name='g' kind='grade'/></relation>");
  program_assume(&made, "level", "me", "low", NULL);
  program_assume(&made, "level", "me", "high", NULL);
  program_ask(&made);
  cr_expect_eq(made.status, WHY_KNOWLEDGE);
  cr_expect_eq(why_problems_count(made.problems), 1);
  program_free(&made);
}

/// Facts that are met early rest on some that are met late, which rest on early ones again: what is
/// cheapest comes out after more than one look at each.
Test(reason_overlay, the_best_tree_is_found_in_any_order) {
  program made;
  why_arena* arena = why_arena_new(0);
  why_buffer text = {.arena = arena};
  static const char* const EDGES[] = {"rs", "pq", "qr", "hp"};
  for (size_t i = 0; i < sizeof EDGES / sizeof *EDGES; i++)
    why_buffer_print(&text, "<fact relation='edge' a='%c' b='%c'/>", EDGES[i][0], EDGES[i][1]);
  static const struct {
    const char* from;
    int length;
  } CHAINS[] = {{"p", 20}, {"h", 6}};
  for (size_t i = 0; i < sizeof CHAINS / sizeof *CHAINS; i++) {
    const char* from = CHAINS[i].from;
    why_buffer_print(&text, "<fact relation='edge' a='%s' b='%s1'/>", from, from);
    for (int k = 1; k < CHAINS[i].length; k++)
      why_buffer_print(&text, "<fact relation='edge' a='%s%d' b='%s%d'/>", from, k, from, k + 1);
  }
  why_buffer_add(&text, RULE("begin", "<if fact='have' a='?x'/><then fact='out' a='?x'/>")
                            RULE("go", "<if fact='edge' a='?x' b='?y'/><if fact='out' a='?y'/>"
                                       "<then fact='out' a='?x'/>")
                                RULE("all", "<if fact='out' a='r'/><if fact='out' a='p'/>"
                                            "<if fact='out' a='h'/><then fact='out' a='t'/>"));
  start(&made, why_buffer_text(&text));
  program_assume(&made, "have", "s", NULL);
  program_assume(&made, "have", "p20", NULL);
  program_assume(&made, "have", "h6", NULL);
  program_ask(&made);
  // out(s) 1, r 2, q 3, p 4, h 5; by the chains p would be 21 and h 7.
  cr_expect_eq(why_proof_best(made.overlay, program_fact(&made, "out", "t", NULL))->steps, 12);
  cr_expect_eq(why_proof_best(made.overlay, program_fact(&made, "out", "h", NULL))->steps, 5);
  program_free(&made);
  why_arena_free(arena);
}

// ---- drawn programs ----

static const char* join(why_arena* arena, const random_texts* texts) {
  why_buffer all = {.arena = arena};
  for (size_t i = 0; i < texts->count; i++)
    why_buffer_add(&all, texts->at[i]);
  return why_buffer_text(&all);
}

/// A drawn program as XML; facts of relations in `assumed` (bits) are left out.
static random_texts elements(why_arena* arena, const random_program* drawn, unsigned assumed) {
  random_texts all = {0};
  for (unsigned i = 0; i < RANDOM_RELATIONS; i++)
    *WHY_LIST_ADD(arena, all) = random_relation_xml(arena, drawn, i, assumed >> i & 1);
  for (size_t i = 0; i < drawn->facts.count; i++)
    if (!(assumed >> drawn->facts.at[i].relation & 1))
      *WHY_LIST_ADD(arena, all) = random_fact_xml(arena, drawn, i);
  for (size_t i = 0; i < drawn->rules.count; i++)
    *WHY_LIST_ADD(arena, all) = drawn->rules.at[i];
  return all;
}

static void assume_facts(program* made, const random_program* drawn, unsigned assumed) {
  for (size_t i = 0; i < drawn->facts.count; i++) {
    const random_fact* fact = &drawn->facts.at[i];
    if (assumed >> fact->relation & 1)
      program_assume(made, drawn->relations[fact->relation].name, fact->values[0], fact->values[1],
                     fact->values[2], NULL);
  }
}

typedef WHY_LIST(why_fact) fact_list;

static bool add_once(why_arena* arena, fact_list* list, why_fact fact) {
  for (size_t i = 0; i < list->count; i++)
    if (list->at[i].relation == fact.relation && list->at[i].row == fact.row)
      return false;
  *WHY_LIST_ADD(arena, *list) = fact;
  return true;
}

/// What the best tree of a fact rests on, down to facts of the base.
static void follow_tree(program* made, why_fact fact, fact_list* list) {
  if (!add_once(made->arena, list, fact) ||
      !why_program_relation(made->program, fact.relation)->reached)
    return;
  const why_proof* proof = why_proof_best(made->overlay, fact);
  for (size_t i = 0; i < proof->step.premise_count; i++)
    if (proof->step.premises[i].kind != WHY_ABSENT)
      follow_tree(made, proof->step.premises[i].fact, list);
}

typedef struct {
  program* made;
  fact_list met;
  size_t again; ///< How often a fact of the question was met again.
} walked;

static bool note_walk(void* user, why_fact fact) {
  walked* to = user;
  bool reached = why_program_relation(to->made->program, fact.relation)->reached;
  to->again += !add_once(to->made->arena, &to->met, fact) && reached;
  return true;
}

static bool stop_walk(void* user, why_fact fact) {
  (void)fact;
  ++*(size_t*)user;
  return false;
}

/// A walk comes by what the tree holds, and by nothing else.
static void check_walk(program* made, why_fact fact) {
  fact_list tree = {0};
  walked walk = {.made = made};
  size_t first = 0;
  follow_tree(made, fact, &tree);
  why_proof_walk(made->overlay, fact, note_walk, &walk);
  cr_assert_eq(walk.again, 0);
  cr_assert_eq(walk.met.count, tree.count);
  for (size_t i = 0; i < tree.count; i++)
    cr_assert_not(add_once(made->arena, &walk.met, tree.at[i]));
  why_proof_walk(made->overlay, fact, stop_walk, &first);
  cr_assert_eq(first, 1);
}

/// Everything that can be read of a program: all facts, all their derivations, their best proofs.
static const char* read_all(program* made) {
  why_buffer text = {.arena = made->arena};
  for (why_relation r = 0; r < why_program_relation_count(made->program); r++) {
    why_facts facts = why_facts_find(made->overlay, r, 0, NULL);
    for (size_t i = 0; i < facts.count; i++) {
      const why_derivation* list = NULL;
      check_walk(made, facts.at[i]);
      size_t count = why_derivations(made->overlay, facts.at[i], &list);
      why_buffer_print(&text, "%s %.0f\n", why_fact_text(made->overlay, facts.at[i], made->arena),
                       why_proof_best(made->overlay, facts.at[i])->steps);
      for (size_t d = 0; d < count; d++) {
        why_buffer_print(
            &text,
            "  %s:", list[d].rule ? why_symbols_text(made->symbols, list[d].rule->id) : "given");
        for (size_t p = 0; p < list[d].premise_count; p++)
          if (list[d].premises[p].kind != WHY_ABSENT)
            why_buffer_print(&text, " %s",
                             why_fact_text(made->overlay, list[d].premises[p].fact, made->arena));
        why_buffer_add(&text, "\n");
      }
    }
  }
  return why_buffer_text(&text);
}

/// Compile, run and read a drawn program, with its elements in an order drawn from `order_seed`.
static const char* evaluate(why_arena* arena, const random_program* drawn, unsigned assumed,
                            uint64_t hash_seed, uint64_t order_seed) {
  program made;
  random_texts all = elements(arena, drawn, assumed);
  if (order_seed)
    random_shuffle(&all, &order_seed);
  program_compile(&made, hash_seed, join(arena, &all));
  cr_assert_eq(made.status, WHY_OK, "%s", program_problem(&made));
  program_start(&made);
  assume_facts(&made, drawn, assumed);
  program_ask(&made);
  cr_assert_eq(made.status, WHY_OK, "%s", program_problem(&made));
  const char* all_read = read_all(&made);
  const char* kept = why_arena_copy(arena, all_read, strlen(all_read));
  program_free(&made);
  return kept;
}

Test(reason_overlay, thirty_drawn_programs_agree_with_evaluation_from_scratch) {
  size_t length = 0;
  for (uint64_t seed = 1; seed <= 30; seed++) {
    why_arena* arena = why_arena_new(0);
    const random_program* drawn = random_program_new(arena, seed);
    const char* scratch = evaluate(arena, drawn, 0, 0, 0);
    length += strlen(scratch);
    for (unsigned assumed = 1; assumed < 1U << RANDOM_GIVEN; assumed = assumed * 3 + 1)
      cr_expect_str_eq(evaluate(arena, drawn, assumed, 0, 0), scratch, "seed %d, assumed %u",
                       (int)seed, assumed);
    why_arena_free(arena);
  }
  cr_expect_gt(length, 100000); // something was compared
}

/// Ask an opened overlay for every value of every slot, later relations first; the answers are read
/// whole afterwards. Adds how many values relations were asked for.
static void ask_by_values(program* made, size_t* asked) {
  for (why_relation r = (why_relation)why_program_relation_count(made->program); r-- > 0;) {
    const why_relation_info* info = why_program_relation(made->program, r);
    for (unsigned slot = 0; slot < info->slot_count; slot++) {
      for (int n = 0; n < 6; n++) {
        why_value values[WHY_SLOTS_LIMIT] = {{0}};
        const char* name = why_arena_print(made->arena, "c%d", n);
        values[slot] = info->slots[slot].type == WHY_SLOT_NUMBER
                           ? why_value_of_number(n)
                           : why_value_of_symbol(why_symbols_find(made->symbols, name));
        why_facts facts = why_facts_find(made->overlay, r, 1U << slot, values);
        for (size_t i = 0; i < facts.count; i++)
          cr_assert_eq(why_fact_values(made->overlay, facts.at[i])[slot].bits, values[slot].bits);
      }
    }
    *asked += made->overlay->store.tuples[r].asked.count;
  }
}

Test(reason_overlay, what_is_asked_for_is_what_a_run_finds) {
  size_t asked = 0;
  for (uint64_t seed = 41; seed <= 80; seed++) {
    why_arena* arena = why_arena_new(0);
    const random_program* drawn = random_program_new(arena, seed);
    const char* whole = evaluate(arena, drawn, 3, 0, 0);
    random_texts all = elements(arena, drawn, 3);
    program made;
    program_compile(&made, 0, join(arena, &all));
    program_start(&made);
    assume_facts(&made, drawn, 3);
    why_overlay_open(made.overlay, made.problems);
    ask_by_values(&made, &asked);
    cr_expect_str_eq(read_all(&made), whole, "seed %d", (int)seed);
    cr_expect_eq(why_overlay_status(made.overlay), WHY_OK);
    program_free(&made);
    why_arena_free(arena);
  }
  cr_expect_gt(asked, 100, "%zu", asked); // relations were asked by parts
}

/// What typical questions have taught changes plans and nothing else, even where later questions
/// are of another kind: the first is asked without facts, the second with all of them.
Test(reason_overlay, what_was_learnt_cannot_be_seen) {
  size_t asked = 0;
  for (uint64_t seed = 81; seed <= 110; seed++) {
    why_arena* arena = why_arena_new(0);
    const random_program* drawn = random_program_new(arena, seed);
    const char* whole = evaluate(arena, drawn, 3, 0, 0);
    random_texts all = elements(arena, drawn, 3);
    program made;
    program_compile(&made, 0, join(arena, &all));
    program_start(&made);
    program_ask(&made);
    for (int lesson = 0; lesson < 2; lesson++) {
      why_lessons* lessons = why_lessons_new(made.base, arena);
      why_lessons_add(lessons, made.overlay);
      why_base_learn(made.base, lessons);
      made.overlay = why_overlay_new(made.base, made.arena, NULL);
      assume_facts(&made, drawn, 3);
      why_overlay_open(made.overlay, made.problems);
      ask_by_values(&made, &asked);
      cr_expect_str_eq(read_all(&made), whole, "seed %d, lesson %d", (int)seed, lesson);
    }
    program_free(&made);
    why_arena_free(arena);
  }
  cr_expect_gt(asked, 20, "%zu", asked);
}

Test(reason_overlay, neither_hashing_nor_order_can_be_seen) {
  for (uint64_t seed = 31; seed <= 40; seed++) {
    why_arena* arena = why_arena_new(0);
    const random_program* drawn = random_program_new(arena, seed);
    const char* plain = evaluate(arena, drawn, 2, 0, 0);
    cr_expect_str_eq(evaluate(arena, drawn, 2, 7, 0), plain);
    cr_expect_str_eq(evaluate(arena, drawn, 2, 0, 11), plain);
    cr_expect_str_eq(evaluate(arena, drawn, 2, 5, 5), plain);
    why_arena_free(arena);
  }
}
