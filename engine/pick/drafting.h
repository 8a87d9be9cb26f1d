// SPDX-License-Identifier: GPL-3.0-or-later
/// A study drafted from a pasted text, as an answer.
#ifndef WHY_PICK_DRAFTING_H
#define WHY_PICK_DRAFTING_H

#include "question.h"

typedef struct {
  const why_question* question;
  const why_draft* draft;
  const char* xml; ///< As a file of evidence/studies.
} why_drafting;

/// Draft a study from `question->text`. WHY_QUESTION, reported, when it is no text to draft from.
why_status why_drafting_run(const why_question* question, const why_drafting** drafting);

#endif
