// SPDX-License-Identifier: GPL-3.0-or-later
/// Contrasts between arms of one study: what randomisation protects.
#ifndef WHY_POOL_DIFFERENCE_H
#define WHY_POOL_DIFFERENCE_H

#include "finding.h"

/// A within-study difference in the growth of one muscle (same site, side and method): a minus b.
typedef struct {
  const why_finding* a; ///< Borrowed from the findings.
  const why_finding* b;
  const why_contrast* reported; ///< What the study says of it, in either order of the arms; NULL
                                ///< when it is silent or its word does not count.
  double log_difference;        ///< log_growth of a minus that of b, a pure number.
  double variance;              ///< Of log_difference; above 0.
  bool from_p; ///< The variance follows from an exact p of the difference that the study prints,
               ///< taken where the spread of an arm would be imputed.
} why_difference;

typedef WHY_LIST(why_difference) why_differences;

/// Every pair of arms of one study that measured the same muscle alike; a control arm is always b,
/// else `a` comes first in the file. In `arena`.
void why_differences_of(const why_tables* tables, const why_findings* findings, why_arena* arena,
                        why_differences* differences);

#endif
