// SPDX-License-Identifier: GPL-3.0-or-later
// Pools the findings behind one exercise and one head.
#include "record.h"

#include "composite.h"
#include "growth_model.h"
#include "meta.h"
#include "smallstudy.h"

#include <math.h>

static const double STANDARD_WEEKS = 10;

/// Whether the row speaks for the cell as it is counted for cells: see main_rows.
static bool speaks_for(const why_growth_row* row, size_t cell) {
  for (size_t i = 0; i < row->heads.count; i++)
    for (size_t j = 0; j < row->heads.at[i].bouts.count; j++)
      if (row->heads.at[i].bouts.at[j].cell == cell)
        return why_growth_is_main(&row->heads.at[i], &row->heads.at[i].bouts.at[j]);
  return false;
}

static why_finding_list members_of(const why_growth_rows* rows, size_t cell, why_arena* arena) {
  why_finding_list members = {0};
  for (size_t i = 0; i < rows->rows.count; i++)
    if (rows->rows.at[i].finding && speaks_for(&rows->rows.at[i], cell))
      *WHY_LIST_ADD(arena, members) = rows->rows.at[i].finding;
  return members;
}

static bool is_controlled(const why_study* study) {
  bool control = false;
  for (size_t i = 0; i < study->arms.count; i++)
    control |= study->arms.at[i].control && !study->arms.at[i].left_out.reason;
  return study->randomised && control;
}

static double percent_of(double log_growth) {
  return 100 * expm1(log_growth);
}

/// What brings growth to ten weeks.
static double to_standard(const why_composite* sample) {
  return isfinite(sample->weeks) ? STANDARD_WEEKS / sample->weeks : 1;
}

static why_effects effects_of(const why_composites* samples, why_arena* arena) {
  double* effect = WHY_NEW_ARRAY(arena, double, samples->count);
  double* variance = WHY_NEW_ARRAY(arena, double, samples->count);
  for (size_t i = 0; i < samples->count; i++) {
    double factor = to_standard(&samples->at[i]);
    effect[i] = factor * samples->at[i].log_growth;
    variance[i] = factor * factor * samples->at[i].variance;
  }
  return why_effects_plain(effect, variance, samples->count);
}

/// The best fit to an exercise among what the arms of a sample trained.
static why_symbol best_fit(const why_tables* tables, const why_composite* sample,
                           why_symbol exercise) {
  static const char* const BEST_FIRST[] = {"exact", "close", "loose"};
  for (size_t k = 0; k < sizeof BEST_FIRST / sizeof *BEST_FIRST; k++) {
    why_symbol fit = why_symbols_find(tables->symbols, BEST_FIRST[k]);
    for (size_t i = 0; i < sample->findings.count; i++) {
      const why_arm* arm = sample->findings.at[i]->arm;
      for (size_t j = 0; j < arm->trained.count; j++)
        if (arm->trained.at[j].exercise == exercise && arm->trained.at[j].fit == fit)
          return fit;
    }
  }
  return 0;
}

static why_record_part part_of(const why_tables* tables, const why_composite* sample,
                               size_t exercise, double weight_pct) {
  why_record_part part = {.study = sample->findings.at[0]->study,
                          .weight = weight_pct / 100,
                          .percent = percent_of(to_standard(sample) * sample->log_growth)};
  part.controlled = is_controlled(part.study);
  part.trained = why_growth_is_trained(tables, part.study);
  part.fit = best_fit(tables, sample, tables->exercises.rows.at[exercise].id);
  for (size_t i = 0; i < sample->findings.count; i++) {
    part.alone |= sample->findings.at[i]->heads.count == 1;
    part.from_memory |= sample->findings.at[i]->from_memory;
  }
  return part;
}

static void pool(const why_tables* tables, const why_composites* samples, size_t small_from,
                 why_arena* arena, why_record* record) {
  why_meta meta;
  why_small_study small;
  why_pooling how = why_pooling_usual();
  why_effects effects = effects_of(samples, arena);
  if (why_meta_pool(&effects, &how, arena, &meta) != WHY_OK)
    return;
  record->percent = percent_of(meta.mean.estimate);
  record->low = percent_of(meta.mean.low);
  record->high = percent_of(meta.mean.high);
  record->new_low = percent_of(meta.new_study.low);
  record->new_high = percent_of(meta.new_study.high);
  record->i2_pct = meta.spread.i2_pct;
  record->p = meta.spread.p;
  record->small_p =
      samples->count >= small_from && why_small_study_mixed(&effects, &how, arena, &small) == WHY_OK
          ? small.slope.p
          : NAN;
  for (size_t i = 0; i < samples->count; i++) {
    record->people += samples->at[i].people;
    *WHY_LIST_ADD(arena, record->parts) =
        part_of(tables, &samples->at[i], record->exercise, why_meta_weight_pct(&meta, i));
  }
}

void why_records_of(const why_growth* growth, size_t small_from, why_arena* arena,
                    why_records* records) {
  const why_growth_rows* rows = growth->setup.rows;
  for (size_t c = 0; c < rows->cells.count; c++) {
    why_finding_list members = members_of(rows, c, arena);
    if (!members.count)
      continue;
    why_composites samples;
    why_composites_of(growth->findings, &members, arena, &samples);
    why_record made = {.exercise = rows->cells.at[c].exercise, .head = rows->cells.at[c].head};
    pool(growth->tables, &samples, small_from, arena, &made);
    if (made.parts.count)
      *WHY_LIST_ADD(arena, *records) = made;
  }
}
