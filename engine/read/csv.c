// SPDX-License-Identifier: GPL-3.0-or-later
// Reads cell by cell; a quotation mark that is out of place ends the reading, since all that
// follows could be cut wrongly.
#include "csv.h"

#include "xml.h"

#include <stdbool.h>
#include <string.h>

typedef struct {
  why_csv* table;
  why_arena* arena;
  why_problems* problems;
  const char* here;
} csv_reader;

why_place why_csv_place(const why_csv* table, size_t row, size_t column) {
  return (why_place){
      .file = table->file, .line = (unsigned)row + 1, .column = (unsigned)column + 1};
}

static why_status refuse(const csv_reader* r, const char* sentence, const char* hint) {
  size_t rows = r->table->rows.count;
  size_t cells = rows ? r->table->rows.at[rows - 1].count : 0;
  why_problems_add(r->problems, WHY_ERROR, "table",
                   why_csv_place(r->table, rows ? rows - 1 : 0, cells), "%s", sentence);
  why_problems_hint(r->problems, "%s", hint);
  return WHY_KNOWLEDGE;
}

/// The sign that most often stands between the names of columns.
static char separator_of(const char* text) {
  static const char SIGNS[] = ",;\t";
  size_t counts[3] = {0};
  bool quoted = false;
  for (; *text && (quoted || (*text != '\n' && *text != '\r')); text++) {
    quoted ^= *text == '"';
    const char* sign = quoted ? NULL : strchr(SIGNS, *text);
    if (sign)
      counts[sign - SIGNS]++;
  }
  return counts[1] > counts[0] && counts[1] >= counts[2] ? ';' : counts[2] > counts[0] ? '\t' : ',';
}

static bool is_space(char c) {
  return c == ' ' || c == '\t' || c == '\r' || c == '\n';
}

static why_status add_cell(csv_reader* r, const char* text, size_t length) {
  why_csv_row* row = &r->table->rows.at[r->table->rows.count - 1];
  if (length > WHY_CSV_CELL_LIMIT)
    return refuse(r, "a cell is longer than 16 KiB", "is a quotation mark missing?");
  if (row->count == WHY_CSV_COLUMNS_LIMIT)
    return refuse(r, "there are more than 200 columns", "a study needs fewer");
  while (length && is_space(*text))
    text++, length--;
  while (length && is_space(text[length - 1]))
    length--;
  *WHY_LIST_ADD(r->arena, *row) = why_arena_copy(r->arena, text, length);
  return WHY_OK;
}

static bool ends_cell(const csv_reader* r) {
  return !*r->here || *r->here == r->table->separator || *r->here == '\n' || *r->here == '\r';
}

static why_status read_quoted(csv_reader* r) {
  why_buffer text = {.arena = r->arena};
  for (r->here++;; r->here++) {
    size_t plain = strcspn(r->here, "\"");
    why_buffer_add_bytes(&text, r->here, plain);
    r->here += plain;
    if (!*r->here)
      return refuse(r, "a quotation mark is never closed", "close it, or double it inside a cell");
    if (*++r->here != '"')
      break;
    why_buffer_add(&text, "\"");
  }
  r->here += strspn(r->here, " ");
  if (!ends_cell(r))
    return refuse(r, "something stands behind the closing quotation mark of a cell",
                  "put the whole cell in quotation marks and double those inside");
  return add_cell(r, why_buffer_text(&text), text.length);
}

static why_status read_plain(csv_reader* r) {
  const char* from = r->here;
  for (; !ends_cell(r); r->here++)
    if (*r->here == '"')
      return refuse(r, "a quotation mark stands in a cell that does not begin with one",
                    "put the whole cell in quotation marks and double those inside");
  return add_cell(r, from, (size_t)(r->here - from));
}

static why_status read_row(csv_reader* r) {
  if (r->table->rows.count == WHY_CSV_ROWS_LIMIT)
    return refuse(r, "there are more than 2000 rows", "write one study a table");
  WHY_LIST_ADD(r->arena, r->table->rows);
  for (;;) {
    const char* quote = r->here + strspn(r->here, " ");
    if (*quote == '"')
      r->here = quote;
    why_status status = *r->here == '"' ? read_quoted(r) : read_plain(r);
    if (status != WHY_OK)
      return status;
    if (*r->here != r->table->separator)
      break;
    r->here++;
  }
  r->here += r->here[0] == '\r' && r->here[1] == '\n' ? 2 : *r->here != 0;
  return WHY_OK;
}

/// What XML cannot hold either: control characters, halves of characters, the two that are none.
static bool is_plain(const char* text) {
  const unsigned char* c = (const unsigned char*)text;
  for (; *c; c++)
    if ((*c < ' ' && !strchr("\t\r\n", *c)) || *c == 0x7F || (*c == 0xED && c[1] >= 0xA0) ||
        (*c == 0xEF && c[1] == 0xBF && c[2] >= 0xBE))
      return false;
  return true;
}

static why_status refuse_text(const csv_reader* r, const char* text, size_t length) {
  if (length > WHY_CSV_LIMIT)
    return refuse(r, "the table is larger than 2 MiB", "write one study a table");
  if (strlen(text) != length || !why_text_is_utf8(text) || !is_plain(text))
    return refuse(r, "the table is no plain text in UTF-8",
                  "save it as text with commas (CSV), in UTF-8");
  return WHY_OK;
}

why_status why_csv_read(const char* file, const char* text, size_t length, why_arena* arena,
                        why_problems* problems, why_csv** table) {
  why_csv* made = WHY_NEW(arena, why_csv);
  made->file = file;
  csv_reader r = {made, arena, problems, text};
  why_status status = refuse_text(&r, text, length);
  if (strncmp(r.here, "\xEF\xBB\xBF", 3) == 0)
    r.here += 3;
  made->separator = separator_of(r.here);
  while (status == WHY_OK && *r.here)
    status = read_row(&r);
  if (status == WHY_OK && !made->rows.count)
    status = refuse(&r, "the table is empty", "its first row names the columns");
  *table = made;
  return status;
}
