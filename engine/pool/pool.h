// SPDX-License-Identifier: GPL-3.0-or-later
/// Front door of pool: what trials found, as effects with variances, and what they say together.
#ifndef WHY_POOL_H
#define WHY_POOL_H

#include "composite.h"       // IWYU pragma: export
#include "covariance.h"      // IWYU pragma: export
#include "deviation.h"       // IWYU pragma: export
#include "difference.h"      // IWYU pragma: export
#include "distribution.h"    // IWYU pragma: export
#include "effect.h"          // IWYU pragma: export
#include "finding.h"         // IWYU pragma: export
#include "growth.h"          // IWYU pragma: export
#include "growth_validate.h" // IWYU pragma: export
#include "impute.h"          // IWYU pragma: export
#include "influence.h"       // IWYU pragma: export
#include "information.h"     // IWYU pragma: export
#include "interval.h"        // IWYU pragma: export
#include "meta.h"            // IWYU pragma: export
#include "mixed.h"           // IWYU pragma: export
#include "outlook.h"         // IWYU pragma: export
#include "people.h"          // IWYU pragma: export
#include "printed.h"         // IWYU pragma: export
#include "record.h"          // IWYU pragma: export
#include "regress.h"         // IWYU pragma: export
#include "sensitivity.h"     // IWYU pragma: export
#include "smallstudy.h"      // IWYU pragma: export
#include "spread.h"          // IWYU pragma: export
#include "tau.h"             // IWYU pragma: export

#endif
