// SPDX-License-Identifier: GPL-3.0-or-later
// The rule of RoB 2 for the whole, and the check of studies by it.
#include "bias.h"

#include "evidence_checks.h"
#include "tables.h"

#include <string.h>

enum { DOMAINS = 5 };

static size_t count_judged(const why_symbols* symbols, const why_risk_of_bias* bias,
                           const char* word) {
  const why_symbol domains[DOMAINS] = {bias->randomisation, bias->deviations, bias->missing,
                                       bias->measurement, bias->selection};
  size_t count = 0;
  for (size_t i = 0; i < DOMAINS; i++)
    count += strcmp(why_symbols_text(symbols, domains[i]), word) == 0;
  return count;
}

const char* why_bias_contradiction(const why_symbols* symbols, const why_risk_of_bias* bias) {
  const char* overall = why_symbols_text(symbols, bias->overall);
  size_t high = count_judged(symbols, bias, "high");
  size_t unclear = count_judged(symbols, bias, "unclear");
  size_t concerns = count_judged(symbols, bias, "some") + unclear;
  if (high)
    return strcmp(overall, "high") == 0 ? NULL : "a domain is of high risk";
  if (strcmp(overall, "low") == 0)
    return concerns ? "not every domain is of low risk" : NULL;
  if (!concerns)
    return "every domain is of low risk";
  if (strcmp(overall, "high") == 0)
    return concerns > 1 ? NULL : "only one domain gives concerns";
  return strcmp(overall, "unclear") == 0 && !unclear ? "every domain was judged" : NULL;
}

static void check_bias(const why_inspection* inspection, const why_study* study) {
  const char* against = why_bias_contradiction(inspection->tables->symbols, &study->bias);
  if (!against)
    return;
  why_inspection_report(inspection, study->bias.place, "the risk of bias over all is %s, yet %s",
                        why_inspection_text(inspection, study->bias.overall), against);
  why_problems_hint(inspection->problems, "see the rule of RoB 2, DOI 10.1136/bmj.l4898");
}

static void bias_overall(const why_inspection* inspection) {
  why_each_study(inspection, check_bias);
}

why_check_rows why_bias_checks = {{"bias-overall", WHY_WARNING, bias_overall, NULL,
                                   "The risk of bias over all follows from its domains."},
                                  {0}};
