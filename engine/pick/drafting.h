// SPDX-License-Identifier: GPL-3.0-or-later
/// A study drafted from a pasted text, or made from a table; and a study as a table.
#ifndef WHY_PICK_DRAFTING_H
#define WHY_PICK_DRAFTING_H

#include "question.h"

typedef struct {
  const why_question* question;
  const why_draft* draft; ///< NULL: from a table.
  const char* xml;        ///< As a file of evidence/studies.
} why_drafting;

typedef struct {
  const why_question* question;
  why_study_sheet sheet;
} why_tabling;

/// Draft a study from `question->text`, or make it from `question->findings`. WHY_QUESTION,
/// reported, when it is no text to draft from, or no sound table.
why_status why_drafting_run(const why_question* question, const why_drafting** drafting);

/// The study `question->study` as a table.
why_status why_tabling_run(const why_question* question, const why_tabling** tabling);

#endif
