// SPDX-License-Identifier: GPL-3.0-or-later
// Neither the order in which files are read nor hashing may change a byte of any answer.
#include "told.h"

#include <criterion/criterion.h>
#include <stdlib.h>

static const told_question QUESTIONS[] = {
    {.task = WHY_PICK, .goal = "hamstrings", .without = "machine", .top = "all"},
    {.task = WHY_PICK, .goal = "chest", .have = "dumbbells,flat-bench"},
    {.task = WHY_PICK, .goal = "hip-extension", .avoid = "axial-load"},
    {.task = WHY_SWAP, .replaced = "seated-leg-curl", .have = "hotel-room"},
    {.task = WHY_EXPLAIN, .exercise = "barbell-back-squat", .goal = "hamstrings"},
    {.task = WHY_EXPLAIN, .exercise = "seated-leg-curl", .goal = "hamstrings"},
    {.task = WHY_POOL, .goal = "quadriceps"},
    {.task = WHY_POOL, .exercise = "barbell-back-squat"},
};

enum { QUESTION_COUNT = sizeof QUESTIONS / sizeof *QUESTIONS };

static void compare_with(uint64_t order_seed, uint64_t hash_seed) {
  why_knowledge* usual = told_open(0, 0);
  why_knowledge* other = told_open(order_seed, hash_seed);
  cr_expect_str_eq(why_knowledge_digest(usual), why_knowledge_digest(other));
  for (size_t i = 0; i < QUESTION_COUNT; i++) {
    why_status status = WHY_OK;
    char* expected = told_text(usual, &QUESTIONS[i], &status);
    char* got = told_text(other, &QUESTIONS[i], &status);
    cr_assert_not_null(expected);
    cr_assert_not_null(got);
    cr_expect_str_eq(got, expected, "question %zu differs", i);
    free(expected);
    free(got);
  }
  why_knowledge_free(other);
  why_knowledge_free(usual);
}

Test(independence, of_reading_order) {
  compare_with(7, 0);
}

Test(independence, of_hashing) {
  compare_with(0, 11);
}

Test(independence, of_both) {
  compare_with(20261125, 5);
}
