// SPDX-License-Identifier: GPL-3.0-or-later
/// Tables as text, by RFC 4180: a record a line, cells between commas, quotation marks around what
/// holds commas, line ends or quotation marks (those doubled). Semicolons or tabs between cells are
/// taken too, as programs write them where the comma is the decimal mark; a byte order mark is
/// passed over.
#ifndef WHY_READ_CSV_H
#define WHY_READ_CSV_H

#include "base/base.h"

enum {
  WHY_CSV_LIMIT = 2 * 1024 * 1024, ///< Bytes of one table.
  WHY_CSV_ROWS_LIMIT = 2000,
  WHY_CSV_COLUMNS_LIMIT = 200,
  WHY_CSV_CELL_LIMIT = 16 * 1024 ///< Bytes of one cell.
};

/// White space at both ends of a cell is gone, so that a cell of blanks is "".
typedef WHY_LIST(const char*) why_csv_row;

typedef struct {
  const char* file;
  char separator;
  WHY_LIST(why_csv_row)
  rows; ///< The first names the columns. A line without a cell is a row too,
        ///< so that row `i` is number i + 1 in a spreadsheet.
} why_csv;

/// The place of a cell: its row and column in a spreadsheet, counted from 1, stand for line and
/// column.
why_place why_csv_place(const why_csv* table, size_t row, size_t column);

/// Read `length` bytes of `text`, terminated. WHY_KNOWLEDGE, reported, for what is no table.
why_status why_csv_read(const char* file, const char* text, size_t length, why_arena* arena,
                        why_problems* problems, why_csv** table);

#endif
