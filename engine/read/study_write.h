// SPDX-License-Identifier: GPL-3.0-or-later
/// A study as the XML of evidence/schema/studies.rng: what why_studies_read reads, written.
#ifndef WHY_READ_STUDY_WRITE_H
#define WHY_READ_STUDY_WRITE_H

#include "draft_number.h"
#include "studies.h"
#include "study_sink.h"

/// What a draft writes where a person must put a word.
#define WHY_TO_CONFIRM "to-confirm"

/// What the file of a study begins with.
#define WHY_STUDY_REMARK "One growth trial; evidence/schema/studies.rng explains every attribute."

/// Remarks before elements, NULL where there is none; the lists have a place for each row.
typedef struct {
  const char* study;
  const char* population;
  const char* protocol;
  WHY_LIST(const char*) arms;
  WHY_LIST(const char*) results;
  WHY_LIST(const char*) contrasts;
} why_study_comments;

typedef struct {
  const why_symbols* symbols;         ///< Of the study's names.
  const why_study_comments* comments; ///< NULL: none.
  const why_draft_lexed* draft; ///< The mark of a draft is written, with sentences and numbers;
                                ///< NULL: not.
} why_study_writing;

/// Tell `study` to `sink`, element by element; texts that are made for it lie in `arena`.
void why_study_tell(const why_study* study, const why_study_writing* how, why_arena* arena,
                    const why_study_sink* sink);

/// Write `study` to `out`. Numbers are printed so that they read back as they are.
void why_study_write(const why_study* study, const why_study_writing* how, why_buffer* out);

/// A number as text, "" for NAN; in `arena`.
const char* why_number_text(why_arena* arena, double number);

#endif
