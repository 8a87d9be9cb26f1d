// SPDX-License-Identifier: GPL-3.0-or-later
// Expected growth of each head in each exercise, from mechanics and trials together. Nothing is
// computed unless the rules declare the relation.
#include "reason.h"

#include "pool/pool.h"

static const char* const BASES[] = {[WHY_BASIS_MECHANICS] = "mechanics-only",
                                    [WHY_BASIS_SAME_HEAD] = "same-head",
                                    [WHY_BASIS_OWN_TRIALS] = "own-trials"};

/// For people new to training, and for those who trained before.
static const char* const TRAINING[] = {"untrained", "trained"};

static void give_head(why_giver* giver, const why_growth* growth, size_t exercise, size_t head) {
  const why_exercise* row = &giver->tables->exercises.rows.at[exercise];
  why_goal_head part = {head, 1};
  why_goal goal = {&part, 1};
  for (int trained = 0; trained < 2; trained++) {
    why_estimate estimate;
    why_growth_estimate(growth, exercise, &goal, trained, giver->arena, &estimate);
    WHY_GIVE(giver, "estimate", row->place, WHY_SYM(row->id),
             WHY_SYM(giver->tables->anatomy.heads.at[head].id), WHY_TEXT(TRAINING[trained]),
             WHY_NUM(estimate.percent), WHY_NUM(estimate.low), WHY_NUM(estimate.high),
             WHY_TEXT(BASES[estimate.basis]));
  }
}

static void refuse(why_giver* giver) {
  why_problems_add(giver->problems, WHY_ERROR, "growth", (why_place){0},
                   "the growth model cannot be fitted: too few trials, or evidence/measurements "
                   "lacks a quantity that it needs");
  why_problems_hint(giver->problems, "take the relation estimate out of rules/reasoning/given.xml "
                                     "to reason without it");
}

void why_given_estimates(why_giver* giver) {
  if (why_program_find(giver->program, "estimate") == WHY_NO_RELATION)
    return;
  why_findings findings;
  why_growth* growth;
  why_imputing imputing = why_imputing_usual();
  why_growth_settings settings = why_growth_settings_usual();
  settings.features = giver->features;
  if (why_findings_collect(giver->tables, &imputing, giver->arena, &findings) != WHY_OK ||
      why_growth_fit(giver->tables, &findings, &settings, giver->arena, &growth) != WHY_OK) {
    refuse(giver);
    return;
  }
  for (size_t e = 0; e < giver->tables->exercises.rows.count; e++)
    for (size_t h = 0; h < giver->tables->anatomy.heads.count; h++)
      if (why_growth_knows(growth, e, h))
        give_head(giver, growth, e, h);
}
