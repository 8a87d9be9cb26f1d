// SPDX-License-Identifier: GPL-3.0-or-later
// Studies as tables of findings.
#include "read/study_table.h"

#include "read/study_columns.h"
#include "shipped.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <string.h>

static why_arena* arena;
static why_problems* problems;

static void begin(void) {
  arena = why_arena_new(0);
  problems = why_problems_new();
}

static void end(void) {
  why_problems_free(problems);
  why_arena_free(arena);
}

TestSuite(study_table, .init = begin, .fini = end);

static void add_cell(why_buffer* out, const char* text) {
  why_buffer_add(out, "\"");
  for (; *text; text++)
    why_buffer_add(out, *text == '"' ? "\"\"" : (char[]){*text, '\0'});
  why_buffer_add(out, "\"");
}

static const char* table_of(const why_study_sheet* sheet) {
  why_buffer out = {.arena = arena};
  for (size_t i = 0; i < sheet->columns.count; i++)
    why_buffer_print(&out, "%s%s", i ? "," : "", sheet->columns.at[i]);
  for (size_t row = 0; row < sheet->rows.count; row++)
    for (size_t i = 0; i < sheet->columns.count; i++) {
      why_buffer_add(&out, i ? "," : "\r\n");
      add_cell(&out, sheet->rows.at[row][i]);
    }
  return why_buffer_text(&out);
}

static why_status read(const char* text, const char** xml) {
  why_buffer out = {.arena = arena};
  why_cell_origins origins = {0};
  why_status status =
      why_study_table_read("t.csv", text, strlen(text), arena, problems, &out, &origins);
  *xml = why_buffer_text(&out);
  return status;
}

/// Every study that is shipped comes back from its table as the same file.
Test(study_table, a_table_read_again_is_the_same_study) {
  const why_tables* tables = shipped_open();
  cr_assert(tables->studies.rows.count > 0);
  for (size_t i = 0; i < tables->studies.rows.count; i++) {
    const why_study* study = &tables->studies.rows.at[i];
    const char* id = why_symbols_text(tables->symbols, study->id);
    why_buffer before = {.arena = arena};
    const why_study_writing how = {.symbols = tables->symbols};
    why_study_write(study, &how, &before);
    const why_study_sheet sheet = why_study_sheet_of(study, tables->symbols, arena);
    const char* after = NULL;
    cr_expect_eq(read(table_of(&sheet), &after), WHY_OK, "%s", id);
    cr_expect_str_eq(after, why_buffer_text(&before), "%s", id);
  }
  for (size_t i = 0; i < why_problems_count(problems); i++)
    cr_log_error("%u:%u %s", why_problems_at(problems, i).place.line,
                 why_problems_at(problems, i).place.column, why_problems_at(problems, i).text);
  shipped_close();
}

#define HEAD  "study,design,sex,people-basis,protocol-basis,title,arm,arm-n,as-written,exercise,fit,"
#define STUDY "mine,single-arm,men,memory,memory,Mine,a,10,curl,barbell-curl,exact,"

/// A row for each finding that repeats what is about study and arm says it once.
Test(study_table, what_is_repeated_stands_once) {
  const char* once = NULL;
  const char* twice = NULL;
  cr_assert_eq(
      read(HEAD "muscle,change-pct\n" STUDY "biceps brachii,3\n,,,,,,a,,,,,brachialis,4\n", &once),
      WHY_OK);
  cr_assert_eq(
      read(HEAD "muscle,change-pct\n" STUDY "biceps brachii,3\n" STUDY "brachialis,4\n", &twice),
      WHY_OK);
  cr_expect_str_eq(once, twice);
  cr_expect(strstr(once, "<result arm=\"a\" muscle=\"brachialis\" change-pct=\"4\"/>"));
  cr_expect(strstr(once, "overall=\"unclear\""));
}

Test(study_table, decimal_commas_between_semicolons) {
  const char* xml = NULL;
  cr_assert_eq(read("study;arm;arm-n;muscle;pre-mean;change-ci95\n"
                    "mine;a;10;biceps brachii;3,97;-0,5 1,25\n",
                    &xml),
               WHY_OK);
  cr_expect(strstr(xml, "pre-mean=\"3.97\""));
  cr_expect(strstr(xml, "change-ci95=\"-0.5 1.25\""));
}

static void expect_refused(const char* text, unsigned row, unsigned column) {
  const char* xml = NULL;
  size_t before = why_problems_count(problems);
  cr_expect_eq(read(text, &xml), WHY_KNOWLEDGE, "%s", text);
  cr_assert_eq(why_problems_count(problems), before + 1, "%s: %zu", text,
               why_problems_count(problems) - before);
  why_problem told = why_problems_at(problems, before);
  cr_expect_eq(told.place.line, row, "%s: row %u", told.text, told.place.line);
  cr_expect_eq(told.place.column, column, "%s: column %u", told.text, told.place.column);
  cr_expect_not_null(told.hint, "%s", told.text);
}

Test(study_table, what_contradicts_itself_is_refused_by_row_and_column) {
  expect_refused("study,weks\nmine,8\n", 1, 2);
  expect_refused("study,weeks\nmine,8,9\n", 2, 3);
  expect_refused("study,weeks\nmine,8\n,9\n", 3, 2);
  expect_refused("study,weeks\nmine,8\nother,\n", 3, 1);
  expect_refused("study,arm,muscle\nmine,a,brachialis\n", 2, 2);
  expect_refused("study,exercise\nmine,barbell-curl\n", 2, 2);
  expect_refused("study,arm,exercise\nmine,a,barbell-curl\n", 2, 3);
  expect_refused("study,change-pct\nmine,5\n", 2, 2);
  expect_refused("study,finding\nmine,growth\n", 2, 2);
  expect_refused("study,weeks\nmine,\"1,5\"\n", 2, 2);
  expect_refused("study;weeks\nmine;1.500,5\n", 2, 2);
  expect_refused("study;weeks;age\nmine;1,5;20.5\n", 2, 3);
}

Test(study_table, two_columns_of_one_name_are_refused) {
  const char* xml = NULL;
  cr_expect_eq(read("study,weeks,weeks\nmine,8,8\n", &xml), WHY_KNOWLEDGE);
}

/// A table in a knowledge base: what schema and checks find is told by row and column.
Test(study_table, schema_and_checks_tell_rows_and_columns) {
  static const struct {
    const char* file;
    unsigned row, column;
  } CASES[] = {{"unknown-exercise", 2, 10}, {"unknown-word", 2, 10}};
  for (size_t i = 0; i < sizeof CASES / sizeof *CASES; i++) {
    why_tables* tables = NULL;
    why_problems* found = why_problems_new();
    const why_read_settings settings = {
        .study = why_arena_print(arena, WHY_HOME "/tests/tables/%s.csv", CASES[i].file)};
    cr_expect_eq(why_tables_open(WHY_HOME, &settings, arena, found, &tables), WHY_KNOWLEDGE);
    bool told = false;
    for (size_t k = 0; k < why_problems_count(found); k++) {
      why_problem each = why_problems_at(found, k);
      if (each.severity == WHY_ERROR)
        cr_log_info("%s:%u:%u: %s", each.place.file, each.place.line, each.place.column, each.text);
      told |= each.severity == WHY_ERROR && each.place.line == CASES[i].row &&
              each.place.column == CASES[i].column;
    }
    cr_expect(told, "%s", CASES[i].file);
    why_problems_free(found);
  }
}

/// The manual names every column.
Test(study_table, the_manual_lists_the_columns) {
  FILE* manual = fopen(WHY_HOME "/engine/cli/whylift.1", "r");
  cr_assert_not_null(manual);
  why_buffer all = {.arena = arena};
  char line[1000];
  bool listed = false;
  while (fgets(line, sizeof line, manual)) {
    listed = strncmp(line, ".S", 2) == 0 ? strstr(line, "as a table") != NULL : listed;
    line[strcspn(line, "\n")] = ' ';
    if (listed)
      why_buffer_add(&all, line);
  }
  fclose(manual);
  for (size_t i = 0; why_study_fields_at(i); i++)
    cr_expect(strstr(why_buffer_text(&all),
                     why_arena_print(arena, " %s ", why_study_fields_at(i)->column)),
              "%s", why_study_fields_at(i)->column);
}
