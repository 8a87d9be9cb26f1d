// SPDX-License-Identifier: GPL-3.0-or-later
/// A study as a table: a finding a row, columns as study_columns.h lists them. A row may also tell
/// of the study, an arm and what it trained; what was told once need not be repeated, and what is
/// repeated must agree.
#ifndef WHY_READ_STUDY_TABLE_H
#define WHY_READ_STUDY_TABLE_H

#include "study_pieces.h"
#include "study_write.h"

/// Make the XML of a study of `length` bytes of CSV (terminated); `origins` gets the cell behind
/// each piece of it. What the table leaves open is written as what it is: a risk of bias that
/// nobody judged is unclear. WHY_KNOWLEDGE, reported with rows and columns, when the table is none
/// or contradicts itself; whether words and numbers are sound is for the schema and the checks.
why_status why_study_table_read(const char* file, const char* text, size_t length, why_arena* arena,
                                why_problems* problems, why_buffer* xml, why_cell_origins* origins);

/// Whether a file is taken for a table: by the end of its name, ".csv".
bool why_study_table_is(const char* path);

/// A table of texts, "" where there is none: only the columns that are used.
typedef struct {
  WHY_LIST(const char*) columns;
  WHY_LIST(const char**) rows; ///< Of as many texts as there are columns.
} why_study_sheet;

/// `study` as such a table: reading it again gives the same study.
why_study_sheet why_study_sheet_of(const why_study* study, const why_symbols* symbols,
                                   why_arena* arena);

#endif
