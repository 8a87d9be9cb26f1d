// SPDX-License-Identifier: GPL-3.0-or-later
// Expected growth of each head in each exercise, from mechanics and trials together, and what
// trials of that exercise say alone. Nothing is computed unless the rules declare the relation
// estimate.
#include "reason.h"

#include "pool/pool.h"

#include <math.h>

/// For people new to training, and for those who trained before.
static const char* const TRAINING[] = {"untrained", "trained"};

static void give_head(why_giver* giver, size_t exercise, size_t head) {
  const why_exercise* row = &giver->tables->exercises.rows.at[exercise];
  why_goal_head part = {head, 1};
  why_goal goal = {&part, 1};
  for (int trained = 0; trained < 2; trained++) {
    why_estimate estimate;
    why_outlook_estimate(giver->outlook, exercise, &goal, trained, giver->arena, &estimate);
    WHY_GIVE(giver, "estimate", row->place, WHY_SYM(row->id),
             WHY_SYM(giver->tables->anatomy.heads.at[head].id), WHY_TEXT(TRAINING[trained]),
             WHY_NUM(estimate.percent), WHY_NUM(estimate.low), WHY_NUM(estimate.high),
             WHY_TEXT(why_growth_basis_id(estimate.basis)));
  }
}

static void give_estimates(why_giver* giver) {
  for (size_t e = 0; e < giver->tables->exercises.rows.count; e++)
    for (size_t h = 0; h < giver->tables->anatomy.heads.count; h++)
      if (why_outlook_knows(giver->outlook, e, h))
        give_head(giver, e, h);
}

static why_given yes_or_no(bool is) {
  return WHY_TEXT(is ? "yes" : "no");
}

static void give_record(why_giver* giver, const why_record* record) {
  const why_exercise* row = &giver->tables->exercises.rows.at[record->exercise];
  why_given exercise = WHY_SYM(row->id);
  why_given head = WHY_SYM(giver->tables->anatomy.heads.at[record->head].id);
  WHY_GIVE(giver, "record", row->place, exercise, head, WHY_NUM((double)record->parts.count),
           WHY_NUM(record->people), WHY_NUM(record->percent), WHY_NUM(record->low),
           WHY_NUM(record->high), WHY_NUM(record->i2_pct), WHY_NUM(record->p));
  if (isfinite(record->new_low))
    WHY_GIVE(giver, "record-new", row->place, exercise, head, WHY_NUM(record->new_low),
             WHY_NUM(record->new_high));
  if (isfinite(record->small_p))
    WHY_GIVE(giver, "record-small", row->place, exercise, head, WHY_NUM(record->small_p));
  for (size_t i = 0; i < record->parts.count; i++) {
    const why_record_part* part = &record->parts.at[i];
    WHY_GIVE(giver, "record-part", part->study->place, exercise, head, WHY_SYM(part->study->id),
             WHY_NUM(part->weight), WHY_NUM(part->percent), yes_or_no(part->alone),
             yes_or_no(part->controlled), yes_or_no(part->from_memory), WHY_SYM(part->fit),
             WHY_TEXT(TRAINING[part->trained]));
  }
}

static void give_records(why_giver* giver, const why_growth* growth) {
  const why_quantity* least =
      why_quantity_find(&giver->tables->measurements, giver->symbols, "small-study-studies", 0);
  size_t small_from = least ? (size_t)least->amount.value : SIZE_MAX;
  why_records records = {0};
  why_records_of(growth, small_from, giver->arena, &records);
  for (size_t i = 0; i < records.count; i++)
    give_record(giver, &records.at[i]);
}

static void refuse(why_giver* giver) {
  why_problems_add(giver->problems, WHY_ERROR, "growth", (why_place){0},
                   "the growth model cannot be fitted: too few trials, or evidence/measurements "
                   "lacks a quantity that it needs");
  why_problems_hint(giver->problems, "take the relation estimate out of rules/reasoning/given.xml "
                                     "to reason without it");
}

/// NULL after a problem.
static const why_growth* fit(why_giver* giver) {
  why_findings* findings = WHY_NEW(giver->arena, why_findings); // the fit looks at them again
  why_growth* growth;
  why_imputing imputing = why_imputing_usual();
  why_growth_settings settings = why_growth_settings_usual();
  settings.features = giver->features;
  if (why_findings_collect(giver->tables, &imputing, giver->arena, findings) == WHY_OK &&
      why_growth_fit(giver->tables, findings, &settings, giver->arena, &growth) == WHY_OK)
    return growth;
  refuse(giver);
  return NULL;
}

void why_given_estimates(why_giver* giver) {
  if (why_program_find(giver->program, "estimate") == WHY_NO_RELATION)
    return;
  const why_growth* growth = fit(giver);
  if (!growth)
    return;
  giver->outlook = why_outlook_new(growth, giver->tables->arena);
  give_estimates(giver);
  give_records(giver, growth);
}
