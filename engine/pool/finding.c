// SPDX-License-Identifier: GPL-3.0-or-later
// Collects what counts of all studies, and says why the rest does not.
#include "finding.h"

#include "covariance.h"
#include "people.h"

#include <math.h>
#include <string.h>

typedef struct {
  const why_tables* tables;
  why_arena* arena;
  const why_imputing* imputing;
  why_findings* findings;
} collector;

static bool is(const why_tables* tables, why_symbol symbol, const char* text) {
  return strcmp(why_symbols_text(tables->symbols, symbol), text) == 0;
}

static bool is_from_memory(const collector* c, const why_result* result) {
  for (size_t i = 0; i < result->basis.count; i++)
    if (is(c->tables, result->basis.at[i], "memory"))
      return true;
  return false;
}

static bool measured(const collector* c, const why_study* study, why_symbol arm,
                     const why_result* like) {
  for (size_t i = 0; i < study->results.count; i++) {
    const why_result* each = &study->results.at[i];
    if (each->arm == arm && each->muscle == like->muscle &&
        !why_result_uncounted(c->tables, study, each))
      return true;
  }
  return false;
}

/// Whether the people of a pooled arm were also measured arm by arm.
static bool is_counted_in_arms(const collector* c, const why_study* study, const why_arm* arm,
                               const why_result* result) {
  for (size_t i = 0; i < arm->pools.count; i++)
    if (measured(c, study, arm->pools.at[i], result))
      return true;
  return false;
}

/// Control arms that another study shares count there once.
static bool is_shared_control(const collector* c, const why_study* study, const why_arm* arm,
                              const why_result* result) {
  for (size_t i = 0; arm->control && i < study->overlaps.count; i++) {
    const why_overlap* overlap = &study->overlaps.at[i];
    const why_study* other = why_study_find(&c->tables->studies, overlap->study);
    if (!other || !is(c->tables, overlap->people, "controls"))
      continue;
    for (size_t k = 0; k < other->arms.count; k++)
      if (other->arms.at[k].control && measured(c, other, other->arms.at[k].id, result))
        return true;
  }
  return false;
}

/// Why a result makes no finding; NULL when nothing speaks against it so far.
static const char* why_not(const collector* c, const why_study* study, const why_arm* arm,
                           const why_result* result) {
  const char* uncounted = why_result_uncounted(c->tables, study, result);
  if (uncounted)
    return uncounted;
  if (why_result_superseded(study, result))
    return "earlier-week";
  if (is_counted_in_arms(c, study, arm, result))
    return "people-counted-in-arms";
  if (is_shared_control(c, study, arm, result))
    return "overlapping-sample";
  return NULL;
}

static void leave(collector* c, const why_study* study, const why_result* result,
                  const char* reason) {
  *WHY_LIST_ADD(c->arena, c->findings->unused) = (why_unused){study, result, reason};
}

static why_status collect_result(collector* c, const why_study* study, why_symbol sample,
                                 const why_result* result) {
  const why_arm* arm = why_study_arm(study, result->arm);
  if (!arm)
    return WHY_OK; // An error of the tables, reported by their checks.
  const char* reason = why_not(c, study, arm, result);
  why_symbol_list heads = why_result_heads(c->tables, result);
  bool imputed = false;
  double people = why_people_of(c->tables, study, result, &imputed);
  if (!reason && !heads.count)
    reason = "no-head";
  if (!reason && !(people >= 2))
    reason = "no-people-given";
  if (reason) {
    leave(c, study, result, reason);
    return WHY_OK;
  }
  why_usual usual;
  why_status status = why_usual_of(c->tables, c->imputing, result->method, &usual);
  if (status != WHY_OK)
    return status;
  why_printed printed = why_printed_growth(result, people, &usual);
  if (isnan(printed.log_growth)) {
    leave(c, study, result, "no-growth-given");
    return WHY_OK;
  }
  *WHY_LIST_ADD(c->arena, c->findings->rows) =
      (why_finding){.study = study,
                    .sample = sample,
                    .arm = arm,
                    .result = result,
                    .heads = heads,
                    .people = people,
                    .people_imputed = imputed,
                    .weeks = isfinite(result->week) ? result->week : study->weeks,
                    .log_growth = printed.log_growth,
                    .variance = printed.change_sd * printed.change_sd / people,
                    .change_sd = printed.change_sd,
                    .spread_from = printed.spread_from,
                    .correlation = printed.correlation,
                    .spread_bounded = printed.spread_bounded,
                    .from_percent = printed.from_percent,
                    .from_memory = is_from_memory(c, result)};
  return WHY_OK;
}

/// Numbers of the studies in order of their ids, which no order of reading changes.
static const size_t* by_id(const why_tables* tables, why_arena* arena) {
  const why_study* studies = tables->studies.rows.at;
  size_t* order = WHY_NEW_ARRAY(arena, size_t, tables->studies.rows.count + 1);
  for (size_t i = 0; i < tables->studies.rows.count; i++) {
    size_t at = i;
    for (; at > 0 &&
           why_symbol_compare(tables->symbols, studies[order[at - 1]].id, studies[i].id) > 0;
         at--)
      order[at] = order[at - 1];
    order[at] = i;
  }
  return order;
}

why_status why_findings_collect(const why_tables* tables, const why_imputing* imputing,
                                why_arena* arena, why_findings* findings) {
  why_imputing filled = *imputing;
  collector c = {.tables = tables, .arena = arena, .imputing = imputing, .findings = findings};
  *findings = (why_findings){0};
  why_status status = why_imputing_fill(tables, &filled);
  findings->head_correlation = filled.head_correlation;
  findings->limb_correlation = filled.limb_correlation;
  const why_study* studies = tables->studies.rows.at;
  const why_symbol* samples = why_samples_of(tables, arena);
  const size_t* order = by_id(tables, arena);
  for (size_t i = 0; i < tables->studies.rows.count; i++) {
    const why_study* study = &studies[order[i]];
    for (size_t k = 0; status == WHY_OK && k < study->results.count; k++)
      status = collect_result(&c, study, samples[order[i]], &study->results.at[k]);
  }
  return status;
}

/// Whether two arms of one sample are limbs or periods of the same people.
static bool are_same_people(const why_finding* a, const why_finding* b) {
  return a->study->within_person || b->study->within_person ||
         (a->arm->same_people_as && a->arm->same_people_as == b->arm->id) ||
         (b->arm->same_people_as && b->arm->same_people_as == a->arm->id);
}

static bool are_alike(const why_finding* a, const why_finding* b) {
  const why_result* one = a->result;
  const why_result* other = b->result;
  return one->muscle == other->muscle && one->site == other->site && one->side == other->side &&
         one->method == other->method;
}

double why_finding_covariance(const why_findings* findings, const why_finding* a,
                              const why_finding* b) {
  if (a == b)
    return a->variance;
  double correlation = 0;
  if (a->sample == b->sample && a->arm->id == b->arm->id)
    correlation = findings->head_correlation;
  else if (a->sample == b->sample && are_same_people(a, b))
    correlation = findings->limb_correlation * (are_alike(a, b) ? 1 : findings->head_correlation);
  return why_covariance_same_people(a->variance, b->variance, correlation);
}
