// SPDX-License-Identifier: GPL-3.0-or-later
/// What is taken where a study does not say how much its people differ: the quantities
/// pre-post-correlation, change-spread, head-correlation and limb-correlation of
/// evidence/measurements, each with its source and basis there.
#ifndef WHY_POOL_IMPUTE_H
#define WHY_POOL_IMPUTE_H

#include "read/read.h"

/// What to impute; NAN: as the evidence says. Sensitivity analyses set them to their bounds.
typedef struct {
  double pre_post_correlation; ///< For every method alike.
  double head_correlation;     ///< See why_finding_covariance.
  double limb_correlation;
} why_imputing;

/// All as the evidence says.
why_imputing why_imputing_usual(void);

/// What is usual for one way of measuring.
typedef struct {
  double correlation; ///< Of sizes before and after, above 0 and below 1.
  double spread;      ///< SD between people of the growth, as a share of the size: 0.05 is 5 %.
} why_usual;

/// WHY_KNOWLEDGE when the tables lack one of the quantities.
why_status why_usual_of(const why_tables* tables, const why_imputing* imputing, why_symbol method,
                        why_usual* usual);

/// The correlations themselves, filled in from the tables where NAN. WHY_KNOWLEDGE as above.
why_status why_imputing_fill(const why_tables* tables, why_imputing* imputing);

#endif
