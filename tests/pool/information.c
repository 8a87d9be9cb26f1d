// SPDX-License-Identifier: GPL-3.0-or-later
// Sizes of trials against published ones.
#include "pool/information.h"

#include <criterion/criterion.h>

/// "A power primer", Psychological Bulletin 1992, 10.1037/0033-2909.112.1.155, table 2 (from
/// memory): two means, power 0.8 at 0.05, need 393, 64 and 26 in a group for 0.2, 0.5 and 0.8
/// standard deviations. That table stands on the t distribution, which takes one more than the
/// normal one where groups are small.
Test(information, people_of_two_groups) {
  why_trial_plan plan = {.alpha = 0.05, .power = 0.8, .difference = 0.2, .spread = 1};
  cr_assert_float_eq(why_people_in_group(&plan), 393, 0);
  plan.difference = 0.5;
  cr_assert_float_eq(why_people_in_group(&plan), 64 - 1, 0);
  plan.difference = 0.8;
  cr_assert_float_eq(why_people_in_group(&plan), 26 - 1, 0);
}

/// Only the ratio of difference and spread counts; limbs that change alike need fewer people.
Test(information, scale_and_correlation) {
  const why_trial_plan one = {.alpha = 0.05, .power = 0.8, .difference = 2, .spread = 6};
  const why_trial_plan ten = {.alpha = 0.05, .power = 0.8, .difference = 20, .spread = 60};
  cr_assert_float_eq(why_people_in_group(&one), why_people_in_group(&ten), 0);
  cr_assert_float_eq(why_people_within(&one, 0), why_people_in_group(&one), 0);
  cr_assert_lt(why_people_within(&one, 0.8), why_people_within(&one, 0.2));
}
