// SPDX-License-Identifier: GPL-3.0-or-later
// Row by row, part by part: the cells of a part make a new piece, or are found to repeat one.
#include "study_table.h"

#include "csv.h"
#include "study_cells.h"

#include <string.h>
#include <strings.h>

enum { NONE = -1 };

typedef struct {
  why_cells cells;
  why_study_pieces* pieces;
  why_study_part finding;    ///< Of the row at hand; WHY_PARTS: it has none.
  ptrdiff_t open[WHY_PARTS]; ///< The piece of each part that the row is about; NONE.
} tabling;

typedef WHY_LIST(why_study_cell) cell_list;

static bool is_active(const tabling* t, size_t row, why_study_part part) {
  if (why_study_part_is_finding(part))
    return part == t->finding;
  bool unmapped = why_cells_text(&t->cells, row, "unmapped") != NULL;
  return part == WHY_PART_COUNTS_AS ? !unmapped : part == WHY_PART_UNMAPPED ? unmapped : true;
}

/// What the row finds; false after reporting a word that is none.
static bool settle_finding(tabling* t, size_t row) {
  const char* said = why_cells_text(&t->cells, row, WHY_FINDING_COLUMN);
  t->finding = !said && why_cells_text(&t->cells, row, "muscle") ? WHY_PART_RESULT : WHY_PARTS;
  for (why_study_part part = WHY_PART_RESULT; said && part <= WHY_PART_WITHIN; part++)
    if (strcmp(why_study_part_kind_of(part)->element, said) == 0)
      t->finding = part;
  if (!said || t->finding != WHY_PARTS)
    return true;
  why_cells_report(&t->cells, row, WHY_FINDING_COLUMN, "\"%s\" is no kind of finding", said);
  why_problems_hint(t->cells.problems,
                    "result (growth in an arm), contrast (between two arms) or within");
  return false;
}

static bool agree(const why_study_piece* piece, const cell_list* cells) {
  if (piece->cells.count != cells->count)
    return false;
  for (size_t i = 0; i < cells->count; i++) {
    const why_study_cell* other = why_study_piece_cell(piece, cells->at[i].field);
    if (!other || strcmp(other->text, cells->at[i].text) != 0)
      return false;
  }
  return true;
}

static ptrdiff_t add_piece(tabling* t, why_study_part part, size_t parent) {
  *WHY_LIST_ADD(t->cells.arena, *t->pieces) = (why_study_piece){.part = part, .parent = parent};
  return (ptrdiff_t)t->pieces->count - 1;
}

/// Add cells to a piece that may have some of them; what differs is reported.
static void join(tabling* t, ptrdiff_t index, const cell_list* cells) {
  why_study_piece* piece = &t->pieces->at[index];
  for (size_t i = 0; i < cells->count; i++) {
    const why_study_cell* cell = &cells->at[i];
    const why_study_cell* other = why_study_piece_cell(piece, cell->field);
    if (!other) {
      *WHY_LIST_ADD(t->cells.arena, piece->cells) = *cell;
    } else if (strcmp(other->text, cell->text) != 0) {
      why_problems_add(t->cells.problems, WHY_ERROR, "table", cell->place,
                       "column \"%s\" says \"%.60s\" here and \"%.60s\" in row %u",
                       cell->field->column, cell->text, other->text, other->place.line);
      why_problems_hint(t->cells.problems, cell->field->part == WHY_PART_STUDY
                                               ? "a table holds one study"
                                               : "say it once, or the same each time");
    }
  }
}

static ptrdiff_t find_once(const tabling* t, why_study_part part) {
  for (size_t i = 0; i < t->pieces->count; i++)
    if (t->pieces->at[i].part == part)
      return (ptrdiff_t)i;
  return NONE;
}

static ptrdiff_t find_arm(const tabling* t, const char* id) {
  for (size_t i = 0; i < t->pieces->count; i++) {
    const why_study_piece* piece = &t->pieces->at[i];
    if (piece->part == WHY_PART_ARM && strcmp(piece->cells.at[0].text, id) == 0)
      return (ptrdiff_t)i;
  }
  return NONE;
}

/// The last piece of a part that lies in `parent`.
static ptrdiff_t last_in(const tabling* t, why_study_part part, ptrdiff_t parent) {
  ptrdiff_t found = NONE;
  for (size_t i = 0; i < t->pieces->count; i++)
    if (t->pieces->at[i].part == part && (ptrdiff_t)t->pieces->at[i].parent == parent)
      found = (ptrdiff_t)i;
  return found;
}

static ptrdiff_t find_same(const tabling* t, why_study_part part, ptrdiff_t parent,
                           const cell_list* cells) {
  for (size_t i = 0; i < t->pieces->count; i++) {
    const why_study_piece* piece = &t->pieces->at[i];
    if (piece->part == part && (ptrdiff_t)piece->parent == parent && agree(piece, cells))
      return (ptrdiff_t)i;
  }
  return NONE;
}

/// The piece that a part of this row lies in; NONE when nothing tells.
static ptrdiff_t parent_of(tabling* t, why_study_part part) {
  why_study_part around = why_study_part_kind_of(part)->parent;
  if (around == WHY_PART_STUDY)
    return 0;
  if (around == WHY_PART_BIAS) {
    ptrdiff_t known = find_once(t, around);
    return known == NONE ? add_piece(t, around, 0) : known;
  }
  if (t->open[around] == NONE && around != WHY_PART_ARM) {
    ptrdiff_t outer = parent_of(t, around);
    t->open[around] = outer == NONE ? NONE : last_in(t, around, outer);
  }
  return t->open[around];
}

static bool tells_of_arm(const tabling* t, size_t row) {
  for (size_t i = 0; why_study_fields_at(i); i++) {
    const why_study_field* field = why_study_fields_at(i);
    if (field->part >= WHY_PART_ARM && field->part <= WHY_PART_JOINT_RANGE &&
        is_active(t, row, field->part) && strcmp(field->column, "arm") != 0 &&
        why_cells_text(&t->cells, row, field->column))
      return true;
  }
  return false;
}

static void take_arm(tabling* t, size_t row, const cell_list* cells) {
  const char* id = why_cells_text(&t->cells, row, "arm");
  if (!id) {
    why_problems_add(t->cells.problems, WHY_ERROR, "table", cells->at[0].place,
                     "column \"%s\" tells of an arm, but the row names none",
                     cells->at[0].field->column);
    why_problems_hint(t->cells.problems, "name it in the column \"arm\"");
    return;
  }
  ptrdiff_t known = find_arm(t, id);
  if (known == NONE && !tells_of_arm(t, row)) {
    why_cells_report(&t->cells, row, "arm", "no row above tells of an arm \"%.60s\"", id);
    why_problems_hint(t->cells.problems, "the first row of an arm says how many people it has "
                                         "(arm-n) and what they trained (exercise, as-written)");
    return;
  }
  t->open[WHY_PART_ARM] = known == NONE ? add_piece(t, WHY_PART_ARM, 0) : known;
  join(t, t->open[WHY_PART_ARM], cells);
}

static void take_part(tabling* t, why_study_part part, const cell_list* cells) {
  const why_study_part_kind* kind = why_study_part_kind_of(part);
  ptrdiff_t parent = parent_of(t, part);
  if (parent == NONE) {
    bool arm = t->open[WHY_PART_ARM] == NONE;
    why_problems_add(t->cells.problems, WHY_ERROR, "table", cells->at[0].place,
                     "nothing says what column \"%s\" is about", cells->at[0].field->column);
    why_problems_hint(t->cells.problems,
                      arm ? "name the arm in the column \"arm\""
                          : "fill the column \"as-written\", and before a joint's range the "
                            "column \"exercise\"");
    return;
  }
  ptrdiff_t same = kind->once                        ? find_once(t, part)
                   : why_study_part_is_finding(part) ? NONE
                                                     : find_same(t, part, parent, cells);
  t->open[part] = same == NONE ? add_piece(t, part, (size_t)parent) : same;
  join(t, t->open[part], cells);
}

/// The cells of a row that belong to a part.
static cell_list cells_of(const tabling* t, size_t row, why_study_part part) {
  cell_list found = {0};
  if (!is_active(t, row, part))
    return found;
  for (size_t i = 0; why_study_fields_at(i); i++) {
    const why_study_field* field = why_study_fields_at(i);
    const char* text = field->part == part ? why_cells_text(&t->cells, row, field->column) : NULL;
    if (text)
      *WHY_LIST_ADD(t->cells.arena, found) =
          (why_study_cell){field, text, why_cells_place(&t->cells, row, field->column)};
  }
  return found;
}

/// Each cell must have a part that it belongs to.
static void check_used(const tabling* t, size_t row) {
  for (size_t i = 0; why_study_fields_at(i); i++) {
    const why_study_field* field = why_study_fields_at(i);
    if (!why_cells_text(&t->cells, row, field->column))
      continue;
    bool used = false;
    for (size_t k = 0; why_study_fields_at(k); k++)
      used |= strcmp(why_study_fields_at(k)->column, field->column) == 0 &&
              is_active(t, row, why_study_fields_at(k)->part);
    if (used)
      continue;
    why_cells_report(&t->cells, row, field->column, "column \"%s\" belongs to %s, not to this row",
                     field->column, why_study_part_kind_of(field->part)->element);
    why_problems_hint(t->cells.problems,
                      "name the muscle, and in the column \"finding\" what the row is: "
                      "result, contrast or within");
    return;
  }
}

static void take_row(tabling* t, size_t row) {
  if (!settle_finding(t, row))
    return;
  check_used(t, row);
  for (why_study_part part = 0; part < WHY_PARTS; part++)
    t->open[part] = part == WHY_PART_STUDY ? 0 : NONE;
  for (why_study_part part = 0; part < WHY_PARTS; part++) {
    const cell_list cells = cells_of(t, row, part);
    if (!cells.count)
      continue;
    if (part == WHY_PART_ARM)
      take_arm(t, row, &cells);
    else
      take_part(t, part, &cells);
  }
}

/// A word for every field of a part that has none.
static void fill(tabling* t, why_study_part part, const char* word) {
  ptrdiff_t index = find_once(t, part);
  if (index == NONE)
    index = add_piece(t, part, 0);
  why_study_piece* piece = &t->pieces->at[index];
  for (size_t i = 0; word && why_study_fields_at(i); i++)
    if (why_study_fields_at(i)->part == part &&
        !why_study_piece_cell(piece, why_study_fields_at(i)))
      *WHY_LIST_ADD(t->cells.arena, piece->cells) =
          (why_study_cell){why_study_fields_at(i), word, why_csv_place(t->cells.table, 0, 0)};
}

why_status why_study_table_read(const char* file, const char* text, size_t length, why_arena* arena,
                                why_problems* problems, why_buffer* xml,
                                why_cell_origins* origins) {
  why_study_pieces pieces = {0};
  tabling t = {.pieces = &pieces};
  why_csv* table = NULL;
  why_status status = why_csv_read(file, text, length, arena, problems, &table);
  if (status == WHY_OK)
    status = why_cells_open(table, arena, problems, &t.cells);
  if (status != WHY_OK)
    return status;
  size_t before = why_problems_count_from(problems, WHY_ERROR);
  add_piece(&t, WHY_PART_STUDY, 0);
  for (size_t row = 1; row < table->rows.count; row++)
    take_row(&t, row);
  fill(&t, WHY_PART_POPULATION, NULL);
  fill(&t, WHY_PART_PROTOCOL, NULL);
  fill(&t, WHY_PART_BIAS, "unclear");
  if (why_problems_count_from(problems, WHY_ERROR) > before)
    return WHY_KNOWLEDGE;
  why_study_pieces_write(&pieces, xml, origins);
  return WHY_OK;
}

bool why_study_table_is(const char* path) {
  static const char END[] = ".csv";
  size_t length = strlen(path);
  return length >= strlen(END) && strcasecmp(path + length - strlen(END), END) == 0;
}
