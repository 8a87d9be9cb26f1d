// SPDX-License-Identifier: GPL-3.0-or-later
/// From the tables of studies to effects that can be pooled: the growth of every muscle in every
/// arm as a log ratio with its sampling variance, and what two findings have in common.
#ifndef WHY_POOL_FINDING_H
#define WHY_POOL_FINDING_H

#include "read/read.h"

/// Where the spread of the change comes from, best first.
typedef enum {
  WHY_SPREAD_CHANGE,      ///< The SD of the changes was printed, in the unit or in per cent.
  WHY_SPREAD_INTERVAL,    ///< From a printed 95 % interval of the mean change.
  WHY_SPREAD_P,           ///< From an exactly printed p of the change.
  WHY_SPREAD_CORRELATION, ///< From the SDs before and after and an imputed correlation.
  WHY_SPREAD_METHOD,      ///< Imputed: what is usual for the method of measuring.
} why_spread_from;

/// Growth of one muscle (at one site, by one method) in one arm, from before to the last
/// measurement that the study made of it. One result of the tables makes one finding at most.
typedef struct {
  const why_study* study; ///< Borrowed from the tables, as are arm and result.
  const why_arm* arm;     ///< What was trained is in arm->trained; arm->control: nothing was.
  const why_result* result;
  why_symbol_list heads; ///< What the value answers for; one or more, in the order of the tables.
  double people;         ///< Measured, a whole number of 2 or more.
  double weeks;          ///< From the first to the last measurement; NAN when not known.
  double log_growth;     ///< ln(size after / size before), a pure number; 0.05 is 5.1 %.
  double variance;       ///< Of log_growth, by sampling of people; above 0, a pure number.
  double change_sd; ///< SD between people of the log growth, so that variance = its square over
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

/// What to impute; NAN: as the quantities in evidence/measurements say. Sensitivity analyses set
/// them to their bounds.
typedef struct {
  double pre_post_correlation; ///< For every method alike.
  double head_correlation;
  double limb_correlation;
} why_imputing;

why_imputing why_imputing_usual(void);

/// All findings of the tables; they live in `arena`, and borrow from the tables. WHY_KNOWLEDGE when
/// a quantity that imputing needs is missing from the tables.
why_status why_findings_collect(const why_tables* tables, const why_imputing* imputing,
                                why_arena* arena, why_findings* findings);

/// Sampling covariance of the log growth of two findings, the variance when `a` is `b`; 0 for
/// different people. Muscles, sites or sides measured in the same limbs of the same people
/// correlate by head_correlation; the same muscle in two arms of the same people (limbs or periods)
/// by limb_correlation; different muscles in two such arms by the product, which keeps every matrix
/// of such covariances positive definite.
double why_finding_covariance(const why_findings* findings, const why_finding* a,
                              const why_finding* b);

/// A within-study difference in the growth of one muscle (same site, side and method): a minus b.
typedef struct {
  const why_finding* a; ///< Borrowed from the findings.
  const why_finding* b;
  const why_contrast* reported; ///< What the study says of it; NULL when it is silent.
  double log_difference;        ///< log_growth of a minus that of b, a pure number.
  double variance;              ///< Of log_difference; above 0.
  bool from_p;                  ///< The variance follows from an exact p that the study prints.
} why_difference;

typedef WHY_LIST(why_difference) why_differences;

/// Every pair of arms of one study that measured the same muscle alike; a control arm is always b,
/// else `a` comes first in the file. In `arena`.
void why_differences_of(const why_findings* findings, why_arena* arena,
                        why_differences* differences);

#endif
