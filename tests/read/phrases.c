// SPDX-License-Identifier: GPL-3.0-or-later
// The index of phrases: what is found, what is known, and which slips of spelling are mended.
#include "shipped.h"

#include <criterion/criterion.h>

static why_arena* arena;
static const why_phrases* phrases;

static void open_phrases(void) {
  arena = why_arena_new(0);
  const why_tables* tables = shipped_open();
  phrases = why_phrases_new(arena, tables, why_words_new(arena, tables));
}

static void close_phrases(void) {
  shipped_close();
  why_arena_free(arena);
}

TestSuite(phrases, .init = open_phrases, .fini = close_phrases);

Test(phrases, are_found_by_their_key) {
  const why_lexicon_phrases* without = why_phrases_find(phrases, "no");
  cr_assert_not_null(without);
  cr_expect_eq(without->role, WHY_PHRASE_WITHOUT);
  cr_expect(without->denies);
  const why_lexicon_phrases* pounds = why_phrases_find(phrases, "lbs");
  cr_assert_not_null(pounds);
  cr_expect_eq(pounds->measure, WHY_MEASURE_LOAD);
  // The international pound, exact by definition (Federal Register doc. 59-5442).
  cr_expect_float_eq(pounds->factor, 0.45359237, 1e-12);
  cr_expect_null(why_phrases_find(phrases, "hamstrings"));
}

Test(phrases, slips_are_mended) {
  static const struct {
    const char *typed, *read; ///< NULL: left as it is.
  } cases[] = {
      {"hamstrnigs", "hamstring"}, {"exercize", "exercise"}, {"romanain", "romanian"},
      {"dumbels", "dumbell"},      {"tricepts", "triceps"},  {"sqat", "squat"},
      {"xylophone", NULL},         {"bnad", "band"},         {"qqq", NULL},
  };
  for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
    const char* read = why_phrases_mend(phrases, arena, cases[i].typed);
    if (cases[i].read)
      cr_expect_str_eq(read ? read : "", cases[i].read);
    else
      cr_expect_null(read, "%s: %s", cases[i].typed, read);
  }
}

Test(phrases, ordinary_words_are_known) {
  static const char* const WORDS[] = {"store", "book", "black", "angle", "hamstrings", "squats"};
  for (size_t i = 0; i < sizeof WORDS / sizeof *WORDS; i++)
    cr_expect(why_phrases_know(phrases, arena, WORDS[i]), "%s", WORDS[i]);
  cr_expect_not(why_phrases_know(phrases, arena, "hamstrnigs"));
}
