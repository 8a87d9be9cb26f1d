// SPDX-License-Identifier: GPL-3.0-or-later
/// From the pasted text of an abstract to the skeleton of a study for a person to confirm. Nothing
/// is guessed: a number is assigned only where the text says what it is and of whom; every other
/// number is kept in the list with what is known of it. Words that had to be left open read
/// WHY_TO_CONFIRM, which no check of the knowledge base lets pass.
#ifndef WHY_READ_DRAFT_H
#define WHY_READ_DRAFT_H

#include "draft_number.h"
#include "study_write.h"
#include "tables.h"
#include "words.h"

typedef struct {
  why_study study;
  why_symbols* symbols; ///< Of its names; stands on those of the tables.
  why_study_comments comments;
  why_draft_lexed text; ///< Sentences and numbers.
} why_draft;

/// Draft a study from `text`, UTF-8. WHY_QUESTION after reporting when the text is no UTF-8, longer
/// than WHY_DRAFT_TEXT_LIMIT, or holds no number.
why_status why_draft_new(const why_tables* tables, const why_words* words, const char* text,
                         why_arena* arena, why_problems* problems, why_draft** draft);

/// The draft as a file of evidence/studies.
const char* why_draft_xml(const why_draft* draft, why_arena* arena);

#endif
