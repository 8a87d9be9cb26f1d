// SPDX-License-Identifier: GPL-3.0-or-later
// Several findings in one sample as one effect. The expected values are worked by hand from the
// formulas for a mean of correlated effects (Introduction to Meta-Analysis, Wiley, 2009, DOI
// 10.1002/9780470743386, equations 24.5 and 24.6).
#include "pool/pool.h"

#include <criterion/criterion.h>

enum { FINDINGS = 3 };

static const why_arm ARMS[] = {{.id = 1}, {.id = 2}};

/// Two muscles of one arm and one of them in the other, with variances 1, 4 and 9.
static void set_up(why_finding rows[FINDINGS], why_result results[FINDINGS],
                   const why_study* study) {
  for (size_t i = 0; i < FINDINGS; i++) {
    results[i] = (why_result){.muscle = i == 1 ? 8 : 7};
    rows[i] = (why_finding){.study = study,
                            .sample = 5,
                            .arm = &ARMS[i == 2],
                            .result = &results[i],
                            .people = i == 2 ? 12 : 10,
                            .weeks = 8 + (double)i,
                            .log_growth = 1 + (double)i,
                            .variance = (double)((i + 1) * (i + 1))};
  }
}

static why_composite compose(const why_study* study) {
  why_arena* arena = why_arena_new(0);
  why_finding rows[FINDINGS];
  why_result results[FINDINGS];
  why_findings findings = {.head_correlation = 0.5, .limb_correlation = 0.2};
  why_finding_list members = {0};
  why_composites composites;
  set_up(rows, results, study);
  for (size_t i = 0; i < FINDINGS; i++)
    *WHY_LIST_ADD(arena, members) = &rows[i];
  why_composites_of(&findings, &members, arena, &composites);
  cr_assert_eq(composites.count, 1);
  why_composite made = composites.at[0];
  cr_expect_eq(made.sample, 5);
  cr_expect_eq(made.findings.count, FINDINGS);
  made.findings = (why_finding_list){0}; // dies with the arena
  why_arena_free(arena);
  return made;
}

/// Arms (1 + 2) / 2 and 3, so 2.25. Variance: the first arm (1 + 4 + 2 * 0.5 * 1 * 2) / 4 = 1.75,
/// the second 9, of their mean (1.75 + 9) / 4.
Test(pool_composite, of_groups_of_different_people) {
  const why_study parallel = {.id = 5};
  why_composite made = compose(&parallel);
  cr_expect_float_eq(made.log_growth, 2.25, 1e-15);
  cr_expect_float_eq(made.variance, 10.75 / 4, 1e-14);
  cr_expect_eq(made.arms, 2);
  cr_expect_eq(made.people, 22);
  cr_expect_eq(made.weeks, 10);
}

/// The same, and twice the covariance of both arms: the same muscle 0.2 * 1 * 3, the other one
/// 0.1 * 2 * 3, each with weights 1/4 and 1/2.
Test(pool_composite, of_limbs_of_the_same_people) {
  const why_study within = {.id = 5, .within_person = true};
  why_composite made = compose(&within);
  cr_expect_float_eq(made.log_growth, 2.25, 1e-15);
  cr_expect_float_eq(made.variance, 10.75 / 4 + 2 * (0.6 + 0.6) / 8, 1e-14);
  cr_expect_eq(made.people, 12, "a person with two limbs counts once");
}
