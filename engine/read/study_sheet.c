// SPDX-License-Identifier: GPL-3.0-or-later
// Lays pieces out in rows: what is about the study stands in the first rows, then each arm and each
// finding begins a row of its own. A piece that finds its part taken goes to the next row.
#include "study_table.h"

#include <string.h>

typedef struct {
  const why_study_piece* at[WHY_PARTS];
  const char* arm; ///< The arm that the row is about, NULL: none.
} sheet_row;

typedef WHY_LIST(sheet_row) sheet_rows;

static bool is_of_arm(why_study_part part) {
  return part >= WHY_PART_ARM && part <= WHY_PART_JOINT_RANGE;
}

/// What is about the study goes to the first row where its part is free.
static void place_study(sheet_rows* rows, const why_study_piece* piece, why_arena* arena) {
  size_t i = 0;
  while (i < rows->count && rows->at[i].at[piece->part])
    i++;
  if (i == rows->count)
    WHY_LIST_ADD(arena, *rows);
  rows->at[i].at[piece->part] = piece;
}

/// What is in an arm goes on in its row unless its part, or one inside it, is taken there.
static void place_in_arm(sheet_rows* rows, const why_study_piece* piece, const char* arm,
                         why_arena* arena) {
  sheet_row* last = &rows->at[rows->count - 1];
  bool taken = piece->part == WHY_PART_ARM;
  for (why_study_part part = piece->part; part <= WHY_PART_JOINT_RANGE; part++)
    taken |= last->at[part] != NULL;
  if (taken)
    last = WHY_LIST_ADD(arena, *rows);
  last->at[piece->part] = piece;
  last->arm = arm;
}

static sheet_rows lay_out(const why_study_pieces* pieces, why_arena* arena) {
  sheet_rows rows = {0};
  for (size_t i = 0; i < pieces->count; i++)
    if (!is_of_arm(pieces->at[i].part) && !why_study_part_is_finding(pieces->at[i].part))
      place_study(&rows, &pieces->at[i], arena);
  const char* arm = NULL;
  for (size_t i = 0; i < pieces->count; i++) {
    const why_study_piece* piece = &pieces->at[i];
    if (piece->part == WHY_PART_ARM)
      arm = piece->cells.at[0].text;
    if (is_of_arm(piece->part))
      place_in_arm(&rows, piece, arm, arena);
    else if (why_study_part_is_finding(piece->part))
      WHY_LIST_ADD(arena, rows)->at[piece->part] = piece;
  }
  return rows;
}

/// The text of a row in a column, "" if there is none.
static const char* text_in(const sheet_row* row, const char* column, const char* study) {
  if (strcmp(column, "study") == 0)
    return study;
  if (strcmp(column, "arm") == 0 && row->arm)
    return row->arm;
  for (why_study_part part = 0; part < WHY_PARTS; part++) {
    if (why_study_part_is_finding(part) && row->at[part] && strcmp(column, WHY_FINDING_COLUMN) == 0)
      return why_study_part_kind_of(part)->element;
    for (size_t i = 0; row->at[part] && i < row->at[part]->cells.count; i++)
      if (strcmp(row->at[part]->cells.at[i].field->column, column) == 0)
        return row->at[part]->cells.at[i].text;
  }
  return "";
}

static bool has_column(const why_study_sheet* sheet, const char* column) {
  for (size_t i = 0; i < sheet->columns.count; i++)
    if (strcmp(sheet->columns.at[i], column) == 0)
      return true;
  return false;
}

static void add_column(why_study_sheet* sheet, const char* column, const sheet_rows* rows,
                       why_arena* arena) {
  bool used = false;
  for (size_t i = 0; i < rows->count; i++)
    used |= *text_in(&rows->at[i], column, "") != '\0';
  if (used && !has_column(sheet, column))
    *WHY_LIST_ADD(arena, sheet->columns) = column;
}

why_study_sheet why_study_sheet_of(const why_study* study, const why_symbols* symbols,
                                   why_arena* arena) {
  why_study_gatherer gatherer = {.arena = arena};
  const why_study_sink sink = why_study_gatherer_sink(&gatherer);
  const why_study_writing how = {.symbols = symbols};
  why_study_tell(study, &how, arena, &sink);
  const sheet_rows rows = lay_out(&gatherer.pieces, arena);
  const char* id = why_symbols_text(symbols, study->id);
  why_study_sheet sheet = {0};
  *WHY_LIST_ADD(arena, sheet.columns) = "study";
  *WHY_LIST_ADD(arena, sheet.columns) = WHY_FINDING_COLUMN;
  for (size_t i = 0; why_study_fields_at(i); i++)
    add_column(&sheet, why_study_fields_at(i)->column, &rows, arena);
  for (size_t i = 0; i < rows.count; i++) {
    const char** cells = WHY_NEW_ARRAY(arena, const char*, sheet.columns.count);
    for (size_t k = 0; k < sheet.columns.count; k++)
      cells[k] = text_in(&rows.at[i], sheet.columns.at[k], id);
    *WHY_LIST_ADD(arena, sheet.rows) = cells;
  }
  return sheet;
}
