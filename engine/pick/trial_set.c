// SPDX-License-Identifier: GPL-3.0-or-later
// Pools a set of trials and looks at it from all sides: weights, leaving out, bias, small studies.
#include "trial_set.h"

#include <math.h>
#include <string.h>

/// The samples of a set, with the spreads of `findings`.
static why_composites composites_of(const why_trial_pool* p, const why_trial_set* set,
                                    const why_findings* findings) {
  why_finding_list members = {0};
  why_composites made;
  for (size_t i = 0; i < set->members.count; i++)
    *WHY_LIST_ADD(p->arena, members) = &findings->rows.at[set->members.at[i]];
  why_composites_of(findings, &members, p->arena, &made);
  return made;
}

static const why_effects* effects_of(const why_trial_pool* p, const why_composites* samples) {
  double* effect = WHY_NEW_ARRAY(p->arena, double, samples->count);
  double* variance = WHY_NEW_ARRAY(p->arena, double, samples->count);
  why_effects* made = WHY_NEW(p->arena, why_effects);
  for (size_t i = 0; i < samples->count; i++) {
    effect[i] = samples->at[i].log_growth;
    variance[i] = samples->at[i].variance;
  }
  *made = why_effects_plain(effect, variance, samples->count);
  return made;
}

static int grade_of(const why_trial_pool* p, why_symbol judgement) {
  const char* text = why_symbols_text(p->ground->symbols, judgement);
  for (int i = 0; i < WHY_BIAS_GRADES; i++)
    if (strcmp(why_bias_grade_id(i), text) == 0)
      return i;
  return 2; // unclear
}

static void judge(const why_trial_pool* p, why_trial* trial) {
  for (size_t i = 0; i < trial->composite->findings.count; i++) {
    const why_risk_of_bias* bias = &trial->composite->findings.at[i]->study->bias;
    const why_symbol judgements[WHY_BIAS_DOMAINS] = {bias->randomisation, bias->deviations,
                                                     bias->missing,       bias->measurement,
                                                     bias->selection,     bias->overall};
    for (int d = 0; d < WHY_BIAS_DOMAINS; d++) {
      int grade = grade_of(p, judgements[d]);
      trial->bias[d] = grade > trial->bias[d] ? grade : trial->bias[d];
    }
  }
}

static void add_trial(const why_trial_pool* p, why_trial_set* set, size_t i) {
  const why_composite* composite = &set->samples.at[i];
  why_trial* trial = WHY_LIST_ADD(p->arena, set->trials);
  trial->composite = composite;
  trial->growth = why_interval_around(composite->log_growth, sqrt(composite->variance), INFINITY);
  trial->weight_pct = why_meta_weight_pct(&set->meta, i);
  trial->has_influence = why_influence_of(&set->meta, i, p->arena, &trial->influence) == WHY_OK;
  judge(p, trial);
  for (int d = 0; d < WHY_BIAS_DOMAINS; d++)
    set->bias_pct[d][trial->bias[d]] += trial->weight_pct;
  set->people += composite->people;
}

static void test_small_studies(const why_trial_pool* p, why_trial_set* set,
                               const why_effects* effects) {
  const why_quantity* least = why_quantity_find(&p->ground->tables->measurements,
                                                p->ground->symbols, "small-study-studies", 0);
  why_pooling how = set->meta.how;
  set->is_tested = least && (double)effects->count >= least->amount.value &&
                   why_small_study_mixed(effects, &how, p->arena, &set->small) == WHY_OK;
}

static void try_correlations(const why_trial_pool* p, why_trial_set* set) {
  for (int i = 0; i < 2 && p->tried[i].rows.count; i++) {
    why_meta meta;
    why_composites samples = composites_of(p, set, &p->tried[i]);
    if (why_meta_pool(effects_of(p, &samples), &set->meta.how, p->arena, &meta) == WHY_OK)
      set->at_correlation[i] = meta.mean;
  }
}

static bool holds(why_symbol_list list, why_symbol symbol) {
  for (size_t i = 0; i < list.count; i++)
    if (list.at[i] == symbol)
      return true;
  return false;
}

static void add_heads(const why_trial_pool* p, why_trial_set* set) {
  for (size_t i = 0; i < set->members.count; i++) {
    why_symbol_list heads = p->findings->rows.at[set->members.at[i]].heads;
    for (size_t h = 0; h < heads.count; h++)
      if (!holds(set->heads, heads.at[h]))
        *WHY_LIST_ADD(p->arena, set->heads) = heads.at[h];
  }
}

why_status why_trial_set_pool(const why_trial_pool* p, why_trial_set* set) {
  why_pooling how = why_pooling_usual();
  set->samples = composites_of(p, set, p->findings);
  const why_effects* effects = effects_of(p, &set->samples);
  why_status status = why_meta_pool(effects, &how, p->arena, &set->meta);
  if (status != WHY_OK)
    return status;
  for (size_t i = 0; i < set->samples.count; i++)
    add_trial(p, set, i);
  add_heads(p, set);
  test_small_studies(p, set, effects);
  try_correlations(p, set);
  return WHY_OK;
}

const char* why_bias_grade_id(int grade) {
  static const char* const IDS[WHY_BIAS_GRADES] = {"low", "some", "unclear", "high"};
  return IDS[grade];
}

const char* why_bias_grade_words(int grade) {
  return grade == 1 ? "some concerns" : why_bias_grade_id(grade);
}

const char* why_bias_domain_id(int domain) {
  static const char* const IDS[WHY_BIAS_DOMAINS] = {"randomisation", "deviations", "missing",
                                                    "measurement",   "selection",  "overall"};
  return IDS[domain];
}

const char* why_bias_domain_words(int domain) {
  return domain == 2 ? "missing data" : why_bias_domain_id(domain);
}
