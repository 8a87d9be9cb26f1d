// SPDX-License-Identifier: GPL-3.0-or-later
// The rule of RoB 2 for the judgement over all domains. The first seven rows are worked cases of
// its rule ("RoB 2: a revised tool for assessing risk of bias in randomised trials", BMJ, 2019, DOI
// 10.1136/bmj.l4898); two of them leave a choice, which the tool gives to whoever judges.
#include "read/bias.h"

#include <criterion/criterion.h>
#include <string.h>

typedef struct {
  const char* domains[5];
  const char* may_be[2]; ///< Judgements over all that may stand.
} judged;

static const judged CASES[] = {
    {{"low", "low", "low", "low", "low"}, {"low"}},
    {{"low", "some", "low", "low", "low"}, {"some"}},
    {{"low", "low", "low", "high", "low"}, {"high"}},
    {{"some", "some", "low", "low", "low"}, {"some", "high"}},
    {{"some", "some", "low", "some", "some"}, {"some", "high"}},
    {{"high", "some", "low", "low", "some"}, {"high"}},
    {{"high", "high", "high", "high", "high"}, {"high"}},
    // Our own word for a domain that nobody could judge.
    {{"unclear", "low", "low", "low", "low"}, {"some", "unclear"}},
};

static bool may_be(const judged* each, const char* word) {
  for (size_t i = 0; i < 2; i++)
    if (each->may_be[i] && strcmp(each->may_be[i], word) == 0)
      return true;
  return false;
}

Test(bias, the_whole_follows_from_the_domains) {
  static const char* const WORDS[] = {"low", "some", "high", "unclear"};
  why_arena* arena = why_arena_new(0);
  why_symbols* symbols = why_symbols_new(arena, NULL, 0);
  for (size_t i = 0; i < sizeof CASES / sizeof *CASES; i++)
    for (size_t w = 0; w < sizeof WORDS / sizeof *WORDS; w++) {
      const char* const* domains = CASES[i].domains;
      why_risk_of_bias bias = {.randomisation = why_symbols_add(symbols, domains[0]),
                               .deviations = why_symbols_add(symbols, domains[1]),
                               .missing = why_symbols_add(symbols, domains[2]),
                               .measurement = why_symbols_add(symbols, domains[3]),
                               .selection = why_symbols_add(symbols, domains[4]),
                               .overall = why_symbols_add(symbols, WORDS[w])};
      cr_expect_eq(why_bias_contradiction(symbols, &bias) == NULL, may_be(&CASES[i], WORDS[w]),
                   "case %zu: %s over all", i + 1, WORDS[w]);
    }
  why_arena_free(arena);
}
