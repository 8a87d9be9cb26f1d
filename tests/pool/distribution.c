// SPDX-License-Identifier: GPL-3.0-or-later
// Quantiles and tails against another program's (tests/reference/pool/distributions.txt).
#include "pool/numbers.h"
#include "pool/pool.h"

#include <criterion/criterion.h>
#include <math.h>

static double computed(const number_case* each) {
  double normal = number_of(each, "normal-quantile");
  if (!isnan(normal))
    return why_normal_quantile(normal);
  const char* const words[] = {"t-quantile", "t-two-sided", "chi2-quantile", "chi2-tail"};
  double (*const functions[])(double, double) = {why_t_quantile, why_t_two_sided, why_chi2_quantile,
                                                 why_chi2_tail};
  for (size_t i = 0; i < sizeof words / sizeof *words; i++)
    if (number_text(each, words[i], 0))
      return functions[i](number_at(each, words[i], 0, 0), number_at(each, words[i], 0, 1));
  return why_f_tail(number_at(each, "f-tail", 0, 0), number_at(each, "f-tail", 0, 1),
                    number_at(each, "f-tail", 0, 2));
}

Test(pool_distribution, agrees_with_another_program) {
  why_arena* arena = why_arena_new(0);
  number_cases cases = {0};
  number_cases_read("distributions.txt", arena, &cases);
  for (size_t i = 0; i < cases.count; i++)
    number_check(cases.at[i], "value", computed(cases.at[i]));
  why_arena_free(arena);
}

Test(pool_distribution, t_without_end_of_freedom_is_normal) {
  cr_expect_eq(why_t_quantile(0.8, INFINITY), why_normal_quantile(0.8));
  cr_expect_eq(why_t_two_sided(-1.3, INFINITY), why_normal_two_sided(1.3));
}
