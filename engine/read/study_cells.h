// SPDX-License-Identifier: GPL-3.0-or-later
/// The cells of a table of findings by the names of their columns, numbers with a decimal point.
#ifndef WHY_READ_STUDY_CELLS_H
#define WHY_READ_STUDY_CELLS_H

#include "csv.h"
#include "study_columns.h"

typedef struct {
  const why_csv* table;
  why_arena* arena;
  why_problems* problems;
} why_cells;

/// Check the names of the columns, that every cell has one, and how decimals are written; decimal
/// commas become points. WHY_KNOWLEDGE, reported, when something is wrong.
why_status why_cells_open(why_csv* table, why_arena* arena, why_problems* problems,
                          why_cells* cells);

/// The text of a cell; NULL when it is empty or the table lacks the column.
const char* why_cells_text(const why_cells* cells, size_t row, const char* column);

why_place why_cells_place(const why_cells* cells, size_t row, const char* column);

void why_cells_report(const why_cells* cells, size_t row, const char* column, const char* format,
                      ...) __attribute__((format(printf, 4, 5)));

#endif
