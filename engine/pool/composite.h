// SPDX-License-Identifier: GPL-3.0-or-later
/// One effect a sample: what several findings in the same people say together, so that a
/// meta-analysis of independent effects may take it. Source: "Introduction to Meta-Analysis",
/// Wiley, 2009, DOI 10.1002/9780470743386, chapters 23 to 25.
#ifndef WHY_POOL_COMPOSITE_H
#define WHY_POOL_COMPOSITE_H

#include "finding.h"

typedef WHY_LIST(const why_finding*) why_finding_list;

typedef struct {
  why_symbol sample; ///< Id of the study, or of the first of several with the same people.
  why_finding_list findings;
  size_t arms;
  double people;     ///< Over its arms; limbs of one person count once.
  double weeks;      ///< Of the longest finding; NAN when none is known.
  double log_growth; ///< Mean over arms of the mean over each arm's findings.
  double variance;   ///< Of that, with the covariances of why_finding_covariance.
} why_composite;

typedef WHY_LIST(why_composite) why_composites;

/// Put the findings of `members` together by sample, in the order in which samples come first.
/// `findings` is the collection that they belong to. In `arena`.
void why_composites_of(const why_findings* findings, const why_finding_list* members,
                       why_arena* arena, why_composites* composites);

#endif
