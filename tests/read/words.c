// SPDX-License-Identifier: GPL-3.0-or-later
// Looking up what people type, in the words of the knowledge base itself. Which word means what is
// common practice of lifters and coaches; the edit distances are counted by hand.
#include "read/words.h"

#include "read/read.h"
#include "read/spell.h"

#include <criterion/criterion.h>
#include <string.h>

static why_arena* arena;
static why_problems* problems;
static why_tables* tables;
static const why_words* words;

static void open_knowledge(void) {
  arena = why_arena_new(0);
  problems = why_problems_new();
  why_tables_open(WHY_HOME, NULL, arena, problems, &tables);
  words = why_words_new(arena, tables);
}

static void close_knowledge(void) {
  why_problems_free(problems);
  why_arena_free(arena);
}

TestSuite(words, .init = open_knowledge, .fini = close_knowledge);

static void expect(const char* typed, unsigned kinds, const char* id) {
  why_word_hits hits = why_words_find(words, arena, typed, kinds);
  cr_assert_eq(hits.count, 1, "\"%s\" has %zu meanings", typed, hits.count);
  cr_expect_str_eq(hits.at[0].id_text, id, "\"%s\" means %s", typed, hits.at[0].id_text);
}

Test(words, spelling_is_folded) {
  static const struct {
    const char *text, *key, *singular;
  } cases[] = {
      {"Pull-Ups", "pullups", "pullup"},
      {"farmer's walk", "farmerswalk", "farmerwalk"},
      {"farmer\xE2\x80\x99s walk", "farmerswalk", "farmerwalk"},
      {"leg presses", "legpresses", "legpress"},
      {"bench press", "benchpress", "benchpress"},
      {"boxes, benches", "boxesbenches", "boxbench"},
      {"% 1RM", "%1rm", "%1rm"},
      {"Über-Kreuz",
       "\xC3\x9C"
       "berkreuz",
       "\xC3\x9C"
       "berkreuz"},
      {" -- ", "", ""},
  };
  for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
    cr_expect_str_eq(why_spell_key(arena, cases[i].text, false), cases[i].key);
    cr_expect_str_eq(why_spell_key(arena, cases[i].text, true), cases[i].singular);
  }
}

Test(words, distance_counts_letters_and_swaps) {
  static const struct {
    const char *a, *b;
    unsigned distance;
  } cases[] = {
      {"", "", 0},         {"curl", "curl", 0},  {"curl", "", 4},
      {"curl", "crul", 1}, {"curl", "curls", 1}, {"curl", "cull", 1},
      {"ca", "abc", 3},    {"squat", "sqat", 1}, {"kitten", "sitting", 3},
  };
  for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
    cr_expect_eq(why_spell_distance(arena, cases[i].a, cases[i].b, 9), cases[i].distance);
    cr_expect_eq(why_spell_distance(arena, cases[i].b, cases[i].a, 9), cases[i].distance);
  }
  cr_expect_eq(why_spell_distance(arena, "kitten", "sitting", 2), 3, "beyond the limit: limit + 1");
  cr_expect_eq(why_spell_distance(arena, "a", "abcdefgh", 2), 3);
}

Test(words, goals) {
  expect("hammies", WHY_MEANS_GOAL, "hamstrings");
  expect("Gluteus Maximus", WHY_MEANS_GOAL, "gluteus-maximus");
  expect("biceps-femoris-short-head", WHY_MEANS_GOAL, "biceps-femoris-short-head");
  expect("calves", WHY_MEANS_GOAL, "calf");
  expect("shoulders", WHY_MEANS_GOAL, "deltoid");
  expect("hip extension", WHY_MEANS_GOAL, "hip-extension");
  expect("posterior chain", WHY_MEANS_GOAL, "posterior-chain");
  expect("deep external rotators", WHY_MEANS_GOAL, "deep-external-rotators");
  why_word_hits held = why_words_find(words, arena, "anti-rotation", WHY_MEANS_GOAL);
  cr_assert_eq(held.count, 1);
  cr_expect_str_eq(held.at[0].id_text, "trunk-rotation");
  cr_expect(held.at[0].held);
}

Test(words, exercises) {
  expect("RDLs", WHY_MEANS_EXERCISE, "barbell-romanian-deadlift");
  expect("pull ups", WHY_MEANS_EXERCISE, "pull-up");
  expect("squat", WHY_MEANS_EXERCISE, "barbell-back-squat");
  expect("calf raise", WHY_MEANS_EXERCISE, "calf-raise");
}

Test(words, equipment_to_have_and_to_leave_out) {
  expect("dumbbell", WHY_MEANS_THING, "dumbbell");
  expect("dumbbells", WHY_MEANS_THING, "dumbbells");
  expect("cable", WHY_MEANS_THING, "cable-column");
  expect("cables", WHY_MEANS_THING, "cable-pair");
  expect("cables", WHY_MEANS_KIND, "cable");
  expect("machine", WHY_MEANS_KIND, "machine");
  expect("machines", WHY_MEANS_KIND, "machine");
  expect("weights", WHY_MEANS_KIND, "free-weight");
  expect("hotel room", WHY_MEANS_THING, "hotel-room");
  expect("nothing", WHY_MEANS_THING, "bodyweight-only");
  expect("bands", WHY_MEANS_THING, "long-band");
}

Test(words, restrictions) {
  expect("bad knees", WHY_MEANS_RESTRICTION, "knee-unspecified");
  expect("chest pain", WHY_MEANS_RESTRICTION, "danger-signs");
  expect("no axial loading", WHY_MEANS_RESTRICTION, "axial-load");
  expect("wrist extension", WHY_MEANS_RESTRICTION, "wrist-extension");
  expect("wrist extension", WHY_MEANS_GOAL, "wrist-extension");
}

Test(words, the_spot_decides_between_meanings) {
  expect("lower back", WHY_MEANS_GOAL, "erector-spinae");
  expect("lower back", WHY_MEANS_RESTRICTION, "lower-back");
  expect("gm", WHY_MEANS_EXERCISE, "barbell-good-morning");
  why_word_hits both = why_words_find(words, arena, "long head", WHY_MEANS_ANY);
  cr_assert_eq(both.count, 3);
  cr_expect_str_eq(both.at[0].id_text, "biceps-brachii-long-head", "in order of ids");
  cr_expect(both.at[0].ambiguous);
  cr_expect_str_eq(both.at[0].note, "needs the muscle");
}

Test(words, unmapped_words_say_why) {
  why_word_hits hits = why_words_find(words, arena, "Thrusters", WHY_MEANS_EXERCISE);
  cr_assert_eq(hits.count, 1);
  cr_assert_not_null(hits.at[0].unmapped);
  cr_expect_eq(hits.at[0].id, 0);
  cr_expect_eq(hits.at[0].unmapped->near.id,
               why_symbols_find(tables->symbols, "barbell-front-squat"));
}

Test(words, near_matches_are_few_and_in_order) {
  cr_expect_eq(why_words_find(words, arena, "hamstirngs", WHY_MEANS_GOAL).count, 0);
  why_word_hits near = why_words_near(words, arena, "hamstirngs", WHY_MEANS_GOAL);
  cr_assert_geq(near.count, 1);
  cr_assert_leq(near.count, WHY_NEAR_LIMIT);
  cr_expect_str_eq(near.at[0].id_text, "hamstrings");
  cr_expect_eq(near.at[0].distance, 1);
  for (size_t i = 1; i < near.count; i++)
    cr_expect_leq(near.at[i - 1].distance, near.at[i].distance);
  cr_expect_eq(why_words_near(words, arena, "qqqqqqqqqqqq", WHY_MEANS_ANY).count, 0);
  cr_expect_eq(why_words_near(words, arena, "", WHY_MEANS_GOAL).count, 0);
  near = why_words_near(words, arena, "dumbels", WHY_MEANS_THING);
  cr_assert_eq(near.count >= 1, 1);
  cr_expect_str_eq(near.at[0].id_text, "dumbbell", "dumbell is one of its words");
}

/// Reading order and hashing must not show in near matches.
Test(words, order_of_files_changes_nothing) {
  why_tables* other;
  why_tables_open(WHY_HOME, &(why_read_settings){.order_seed = 7, .hash_seed = 7}, arena, problems,
                  &other);
  const why_words* shuffled = why_words_new(arena, other);
  cr_assert_eq(why_words_count(words), why_words_count(shuffled));
  for (size_t i = 0; i < why_words_count(words); i++) {
    cr_assert_str_eq(why_words_at(words, i)->key, why_words_at(shuffled, i)->key);
    cr_assert_str_eq(why_words_at(words, i)->id_text, why_words_at(shuffled, i)->id_text);
  }
}

/// Every id and name finds its own row first: nothing is hidden by somebody else's word.
Test(words, names_find_themselves) {
  for (size_t i = 0; i < why_words_count(words); i++) {
    const why_word_hit* entry = why_words_at(words, i);
    if (entry->rank != WHY_RANK_OWN)
      continue;
    why_word_hits hits = why_words_find(words, arena, entry->word, entry->kind);
    cr_expect_eq(hits.count, 1, "\"%s\" has %zu meanings", entry->word, hits.count);
    cr_expect_eq(hits.at[0].id, entry->id);
  }
}
