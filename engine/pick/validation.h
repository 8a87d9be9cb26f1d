// SPDX-License-Identifier: GPL-3.0-or-later
/// How well the growth model predicts studies that it has not seen, as an answer.
#ifndef WHY_PICK_VALIDATION_H
#define WHY_PICK_VALIDATION_H

#include "question.h"

#include "pool/pool.h"

typedef struct {
  const why_question* question;
  why_validation found;
  WHY_LIST(why_sensitivity) tried; ///< With the least and the greatest correlation.
} why_validated;

/// Leave out every study in turn; a minute or more. WHY_KNOWLEDGE, reported, when there are too few
/// trials to fit, or a quantity is missing that the model needs.
why_status why_validation_run(const why_question* question, const why_validated** validated);

#endif
