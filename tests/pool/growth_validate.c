// SPDX-License-Identifier: GPL-3.0-or-later
// Leaving studies out one by one, on a part of the shipped trials: what the counts must add up to.
#include "pool/pool.h"

#include <criterion/criterion.h>
#include <math.h>

TestSuite(growth_validate);

/// The first studies only, so that it is quick.
static why_findings first_studies(const why_findings* all, size_t studies) {
  why_findings some = *all;
  size_t seen = 0;
  for (size_t i = 0; i < all->rows.count; i++) {
    seen += i == 0 || all->rows.at[i].study != all->rows.at[i - 1].study;
    if (seen > studies) {
      some.rows.count = i;
      break;
    }
  }
  return some;
}

static void check_differences(const why_validated_differences* d) {
  cr_assert_eq(d->decided + d->others, d->count);
  cr_assert(d->right <= d->told && d->told <= d->decided);
  cr_assert_leq(d->covered, d->others);
  cr_assert(isfinite(d->error) && isfinite(d->error_none) && isfinite(d->width));
}

Test(growth_validate, counts_every_finding_and_difference_once) {
  why_arena* arena = why_arena_new(0);
  why_problems* problems = why_problems_new();
  why_read_settings settings = {0};
  why_tables* tables;
  cr_assert_eq(why_tables_open(WHY_HOME, &settings, arena, problems, &tables), WHY_OK);
  why_imputing imputing = why_imputing_usual();
  why_findings all;
  cr_assert_eq(why_findings_collect(tables, &imputing, arena, &all), WHY_OK);
  why_findings some = first_studies(&all, 30);
  cr_assert_lt(some.rows.count, all.rows.count);
  why_validation v;
  cr_assert_eq(why_growth_validate(tables, &some, arena, &v), WHY_OK);
  cr_assert_eq(v.chosen[WHY_BY_TRAINING], 0);
  cr_assert_eq(v.chosen[WHY_BY_STRESS] + v.chosen[WHY_BY_STRESS_AND_LENGTH], v.studies);
  cr_assert(v.findings > 0 && v.findings <= some.rows.count);
  cr_assert_leq(v.model.covered, v.findings);
  for (int k = 0; k < WHY_PREDICTORS; k++)
    cr_assert(isfinite(v.alone[k].error) && isfinite(v.alone[k].score) && v.alone[k].width > 0);
  check_differences(&v.exercises);
  check_differences(&v.controls);
  why_problems_free(problems);
  why_arena_free(arena);
}

Test(growth_validate, says_when_there_is_too_little_to_fit) {
  why_arena* arena = why_arena_new(0);
  why_problems* problems = why_problems_new();
  why_read_settings settings = {0};
  why_tables* tables;
  cr_assert_eq(why_tables_open(WHY_HOME, &settings, arena, problems, &tables), WHY_OK);
  why_findings none = {0};
  why_validation v;
  cr_assert_eq(why_growth_validate(tables, &none, arena, &v), WHY_KNOWLEDGE);
  why_problems_free(problems);
  why_arena_free(arena);
}
