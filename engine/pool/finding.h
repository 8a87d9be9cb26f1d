// SPDX-License-Identifier: GPL-3.0-or-later
/// From the tables of studies to effects that can be pooled: the growth of every muscle in every
/// arm as a log ratio with its sampling variance, and what two findings have in common.
#ifndef WHY_POOL_FINDING_H
#define WHY_POOL_FINDING_H

#include "printed.h"

/// Growth of one muscle (at one site, by one method) in one arm, from before to the last
/// measurement that the study made of it. One result of the tables makes one finding at most.
typedef struct {
  const why_study* study; ///< Borrowed from the tables, as are arm and result.
  why_symbol sample;  ///< The first (by id) of the studies that share people: its own id for most.
                      ///< Findings of one sample must not be pooled as if independent.
  const why_arm* arm; ///< What was trained is in arm->trained; arm->control: nothing was.
  const why_result* result;
  why_symbol_list heads; ///< What the value answers for; one or more, in the order of the tables.
  double people;         ///< Measured, a whole number of 2 or more.
  bool people_imputed; ///< An equal share of the study's people: the arm's own number is not known.
  double weeks;        ///< From the first to the last measurement; NAN when not known.
  double log_growth;   ///< ln(size after / size before), a pure number; 0.05 is 5.1 %.
  double variance;     ///< Of log_growth, by sampling of people; above 0, a pure number.
  double change_sd;    ///< SD between people of the log growth, so that variance = its square over
                       ///< `people`; a pure number.
  why_spread_from spread_from;
  double correlation;  ///< Between sizes before and after: imputed for WHY_SPREAD_CORRELATION,
                       ///< computed where all three SDs are printed, else NAN.
  bool spread_bounded; ///< The imputed spread was moved to what a printed bound of p allows.
  bool from_percent;   ///< The size of the effect is a printed mean of per cent changes, else that
                       ///< of the means.
  bool from_memory;    ///< One of its numbers was written down from memory.
} why_finding;

/// A result that made no finding, and why: "retracted", "overlapping-sample" and the other reasons
/// of <left-out>; "earlier-week"; "people-counted-in-arms"; "no-growth-given"; "no-people-given";
/// "no-head".
typedef struct {
  const why_study* study;
  const why_result* result;
  const char* reason;
} why_unused;

typedef struct {
  WHY_LIST(why_finding) rows; ///< By id of the study, then in the order of its file.
  WHY_LIST(why_unused) unused;
  double head_correlation; ///< See why_finding_covariance.
  double limb_correlation;
} why_findings;

/// All findings of the tables; they live in `arena`, and borrow from the tables. WHY_KNOWLEDGE when
/// a quantity that imputing needs is missing from the tables.
why_status why_findings_collect(const why_tables* tables, const why_imputing* imputing,
                                why_arena* arena, why_findings* findings);

/// Sampling covariance of the log growth of two findings, the variance when `a` is `b`; 0 for
/// different people. Whatever was measured in one arm correlates by head_correlation; the same
/// muscle, site, side and method in two arms of the same people (limbs or periods) by
/// limb_correlation; different ones in two such arms by the product, which keeps matrices of such
/// covariances positive definite.
double why_finding_covariance(const why_findings* findings, const why_finding* a,
                              const why_finding* b);

#endif
