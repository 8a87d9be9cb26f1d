// SPDX-License-Identifier: GPL-3.0-or-later
/// Front door of pick: from words to a question, from a question to what the rules answer.
#ifndef WHY_PICK_H
#define WHY_PICK_H

#include "answer.h"     // IWYU pragma: export
#include "audit.h"      // IWYU pragma: export
#include "catalogue.h"  // IWYU pragma: export
#include "difference.h" // IWYU pragma: export
#include "dose.h"       // IWYU pragma: export
#include "drafting.h"   // IWYU pragma: export
#include "exertion.h"   // IWYU pragma: export
#include "ground.h"     // IWYU pragma: export
#include "moments.h"    // IWYU pragma: export
#include "motion.h"     // IWYU pragma: export
#include "plan.h"       // IWYU pragma: export
#include "question.h"   // IWYU pragma: export
#include "trials.h"     // IWYU pragma: export
#include "validation.h" // IWYU pragma: export
#include "versus.h"     // IWYU pragma: export

#endif
