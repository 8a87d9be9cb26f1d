// SPDX-License-Identifier: GPL-3.0-or-later
/// Front door of pool: what trials found, as effects with variances, and what they say together.
#ifndef WHY_POOL_H
#define WHY_POOL_H

#include "distribution.h" // IWYU pragma: export
#include "finding.h"      // IWYU pragma: export
#include "mixed.h"        // IWYU pragma: export

#endif
