// SPDX-License-Identifier: GPL-3.0-or-later
// A table writes all its decimals in one way; one that writes some with a comma and some with a
// point could mean thousands, and is refused.
#include "study_cells.h"

#include "spell.h"

#include <string.h>

/// The number of a column, that of columns when there is none.
static size_t find_column(const why_csv* table, const char* name) {
  const why_csv_row* names = &table->rows.at[0];
  size_t i = 0;
  while (i < names->count && strcmp(names->at[i], name) != 0)
    i++;
  return i;
}

const char* why_cells_text(const why_cells* cells, size_t row, const char* column) {
  size_t at = find_column(cells->table, column);
  const why_csv_row* all = &cells->table->rows.at[row];
  return at < cells->table->rows.at[0].count && at < all->count && *all->at[at] ? all->at[at]
                                                                                : NULL;
}

why_place why_cells_place(const why_cells* cells, size_t row, const char* column) {
  return why_csv_place(cells->table, row, find_column(cells->table, column));
}

void why_cells_report(const why_cells* cells, size_t row, const char* column, const char* format,
                      ...) {
  va_list arguments;
  va_start(arguments, format);
  const char* text = why_arena_vprint(cells->arena, format, arguments);
  va_end(arguments);
  why_problems_add(cells->problems, WHY_ERROR, "table", why_cells_place(cells, row, column), "%s",
                   text);
}

static const why_study_field* field_of(const char* column) {
  for (size_t i = 0; why_study_fields_at(i); i++)
    if (strcmp(why_study_fields_at(i)->column, column) == 0)
      return why_study_fields_at(i);
  return NULL;
}

static const char* nearest(why_arena* arena, const char* name) {
  const char* best = NULL;
  unsigned least = 4;
  for (size_t i = 0; why_study_fields_at(i); i++) {
    unsigned away = why_spell_distance(arena, name, why_study_fields_at(i)->column, least);
    if (away < least) {
      least = away;
      best = why_study_fields_at(i)->column;
    }
  }
  return best;
}

static void check_name(const why_cells* cells, size_t column) {
  const char* name = cells->table->rows.at[0].at[column];
  why_place place = why_csv_place(cells->table, 0, column);
  if (!*name || strcmp(name, WHY_FINDING_COLUMN) == 0 || field_of(name)) {
    if (*name && find_column(cells->table, name) < column)
      why_problems_add(cells->problems, WHY_ERROR, "table", place, "two columns are called \"%s\"",
                       name);
    return;
  }
  why_problems_add(cells->problems, WHY_ERROR, "table", place, "no column is called \"%.60s\"",
                   name);
  const char* near = nearest(cells->arena, name);
  if (near)
    why_problems_hint(cells->problems, "did you mean %s?", near);
  else
    why_problems_hint(cells->problems, "the manual lists the columns; `study table` writes a study "
                                       "of the knowledge base as an example");
}

static void check_row(const why_cells* cells, size_t row) {
  const why_csv_row* names = &cells->table->rows.at[0];
  const why_csv_row* all = &cells->table->rows.at[row];
  for (size_t i = 0; i < all->count; i++)
    if (*all->at[i] && (i >= names->count || !*names->at[i])) {
      why_problems_add(cells->problems, WHY_ERROR, "table", why_csv_place(cells->table, row, i),
                       "the cell \"%.60s\" stands under no name of a column", all->at[i]);
      why_problems_hint(cells->problems,
                        "put cells that hold commas in quotation marks, or name the column");
      return;
    }
}

static void report_decimal(const why_cells* cells, why_place place, const char* text,
                           const char* hint) {
  why_problems_add(cells->problems, WHY_ERROR, "table", place,
                   "\"%.60s\" can be read as more than one number", text);
  why_problems_hint(cells->problems, "%s", hint);
}

/// Look at the number in a cell; returns whether it has a decimal comma.
static bool look_at(const why_cells* cells, const char* text, why_place place) {
  bool comma = strchr(text, ',');
  if (comma && cells->table->separator == ',')
    report_decimal(cells, place, text,
                   "write decimals with a point and thousands without a mark, or put semicolons "
                   "between cells");
  else if (comma && strchr(text, '.'))
    report_decimal(cells, place, text, "write thousands without a mark");
  return comma;
}

/// One way of writing decimals in the whole table.
static void mend_decimals(const why_cells* cells, why_csv* table) {
  bool commas = false;
  why_place point = {0};
  const char* with_point = NULL;
  for (size_t row = 1; row < table->rows.count; row++)
    for (size_t i = 0; i < table->rows.at[row].count && i < table->rows.at[0].count; i++) {
      const why_study_field* field = field_of(table->rows.at[0].at[i]);
      const char* text = table->rows.at[row].at[i];
      if (!field || !field->number || !*text)
        continue;
      why_place place = why_csv_place(table, row, i);
      if (look_at(cells, text, place)) {
        char* mended = why_arena_copy(cells->arena, text, strlen(text));
        for (char* c = strchr(mended, ','); c; c = strchr(c, ','))
          *c = '.';
        table->rows.at[row].at[i] = mended;
        commas = true;
      } else if (!with_point && strchr(text, '.')) {
        with_point = text;
        point = place;
      }
    }
  if (commas && with_point && table->separator != ',')
    report_decimal(cells, point, with_point,
                   "other numbers of the table have a decimal comma: write all alike");
}

why_status why_cells_open(why_csv* table, why_arena* arena, why_problems* problems,
                          why_cells* cells) {
  *cells = (why_cells){table, arena, problems};
  size_t before = why_problems_count_from(problems, WHY_ERROR);
  for (size_t i = 0; i < table->rows.at[0].count; i++)
    check_name(cells, i);
  if (why_problems_count_from(problems, WHY_ERROR) > before)
    return WHY_KNOWLEDGE;
  for (size_t row = 1; row < table->rows.count; row++)
    check_row(cells, row);
  mend_decimals(cells, table);
  return why_problems_count_from(problems, WHY_ERROR) > before ? WHY_KNOWLEDGE : WHY_OK;
}
