// SPDX-License-Identifier: GPL-3.0-or-later
// Means of dependent findings with their variance.
#include "composite.h"

#include <math.h>

static why_composite* composite_for(why_composites* composites, why_symbol sample,
                                    why_arena* arena) {
  for (size_t i = 0; i < composites->count; i++)
    if (composites->at[i].sample == sample)
      return &composites->at[i];
  why_composite* made = WHY_LIST_ADD(arena, *composites);
  *made = (why_composite){.sample = sample, .weeks = NAN};
  return made;
}

/// How many findings of the composite come from the arm of this one.
static size_t in_arm(const why_composite* composite, const why_finding* finding) {
  size_t count = 0;
  for (size_t i = 0; i < composite->findings.count; i++)
    count += composite->findings.at[i]->arm->id == finding->arm->id;
  return count;
}

static bool is_first_of_arm(const why_composite* composite, size_t i) {
  for (size_t k = 0; k < i; k++)
    if (composite->findings.at[k]->arm->id == composite->findings.at[i]->arm->id)
      return false;
  return true;
}

/// The most people that a finding of this one's arm measured.
static double people_of_arm(const why_composite* composite, const why_finding* finding) {
  double most = 0;
  for (size_t i = 0; i < composite->findings.count; i++)
    if (composite->findings.at[i]->arm->id == finding->arm->id)
      most = fmax(most, composite->findings.at[i]->people);
  return most;
}

static void count_people(why_composite* composite) {
  for (size_t i = 0; i < composite->findings.count; i++) {
    const why_finding* each = composite->findings.at[i];
    composite->weeks = fmax(composite->weeks, each->weeks);
    if (!is_first_of_arm(composite, i))
      continue;
    double people = people_of_arm(composite, each);
    composite->arms++;
    composite->people =
        each->study->within_person ? fmax(composite->people, people) : composite->people + people;
  }
}

static double share(const why_composite* composite, size_t i) {
  return 1 / ((double)composite->arms * (double)in_arm(composite, composite->findings.at[i]));
}

static void combine(const why_findings* findings, why_composite* composite) {
  for (size_t i = 0; i < composite->findings.count; i++) {
    const why_finding* one = composite->findings.at[i];
    composite->log_growth += share(composite, i) * one->log_growth;
    for (size_t k = 0; k < composite->findings.count; k++)
      composite->variance += share(composite, i) * share(composite, k) *
                             why_finding_covariance(findings, one, composite->findings.at[k]);
  }
}

void why_composites_of(const why_findings* findings, const why_finding_list* members,
                       why_arena* arena, why_composites* composites) {
  *composites = (why_composites){0};
  for (size_t i = 0; i < members->count; i++) {
    const why_finding* each = members->at[i];
    why_composite* composite = composite_for(composites, each->sample, arena);
    *WHY_LIST_ADD(arena, composite->findings) = each;
  }
  for (size_t i = 0; i < composites->count; i++) {
    count_people(&composites->at[i]);
    combine(findings, &composites->at[i]);
  }
}
