// SPDX-License-Identifier: GPL-3.0-or-later
// Counts people, and finds samples that several studies report on.
#include "people.h"

#include <math.h>
#include <string.h>

static bool is(const why_tables* tables, why_symbol symbol, const char* text) {
  return strcmp(why_symbols_text(tables->symbols, symbol), text) == 0;
}

/// Arms that one person can be in at the same time.
static double limbs(const why_tables* tables, const why_study* study) {
  bool crossover = is(tables, study->design, "crossover-randomised") ||
                   is(tables, study->design, "crossover-nonrandomised");
  return crossover ? (double)study->arms.count : study->within_person ? 2 : 1;
}

static double equal_share(const why_tables* tables, const why_study* study) {
  double left = study->n * limbs(tables, study);
  double arms = 0;
  for (size_t i = 0; i < study->arms.count; i++) {
    const why_arm* arm = &study->arms.at[i];
    if (arm->pools.count || arm->same_people_as)
      continue;
    if (isfinite(arm->n))
      left -= arm->n;
    else
      arms++;
  }
  return fmin(study->n, floor(left / arms));
}

double why_people_of(const why_tables* tables, const why_study* study, const why_result* result,
                     bool* imputed) {
  const why_arm* arm = why_study_arm(study, result->arm);
  *imputed = false;
  if (isfinite(result->n))
    return result->n;
  if (arm && isfinite(arm->n))
    return arm->n;
  *imputed = isfinite(study->n);
  return *imputed ? equal_share(tables, study) : NAN;
}

/// Whether results of both count although people are the same. Where only the other's count, this
/// one may be a summary of several trials that share nobody among them.
static bool shares_people(const why_tables* tables, const why_study* a, const why_study* b) {
  for (size_t i = 0; i < a->overlaps.count; i++) {
    const why_overlap* overlap = &a->overlaps.at[i];
    if (overlap->study == b->id && !overlap->keep_other && !is(tables, overlap->people, "controls"))
      return true;
  }
  return false;
}

/// Give both studies the sample that comes first; false when they have it already.
static bool join(const why_tables* tables, why_symbol* a, why_symbol* b) {
  if (*a == *b)
    return false;
  *a = *b = why_symbol_compare(tables->symbols, *a, *b) < 0 ? *a : *b;
  return true;
}

why_symbol* why_samples_of(const why_tables* tables, why_arena* arena) {
  size_t count = tables->studies.rows.count;
  const why_study* studies = tables->studies.rows.at;
  why_symbol* samples = WHY_NEW_ARRAY(arena, why_symbol, count);
  for (size_t i = 0; i < count; i++)
    samples[i] = studies[i].id;
  for (bool moved = true; moved;) {
    moved = false;
    for (size_t i = 0; i < count; i++)
      for (size_t k = 0; k < count && studies[i].overlaps.count; k++)
        if (shares_people(tables, &studies[i], &studies[k]) &&
            join(tables, &samples[i], &samples[k]))
          moved = true;
  }
  return samples;
}
