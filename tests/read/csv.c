// SPDX-License-Identifier: GPL-3.0-or-later
// Tables as text: the grammar of RFC 4180, section 2, and what spreadsheets write beside it.
#include "read/csv.h"

#include "base/base.h"

#include <criterion/criterion.h>
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

TestSuite(csv, .init = begin, .fini = end);

static why_status read(const char* text, why_csv** table) {
  return why_csv_read("t.csv", text, strlen(text), arena, problems, table);
}

/// Cells joined by "|", rows by "/".
static const char* joined(const char* text) {
  why_csv* table = NULL;
  if (read(text, &table) != WHY_OK)
    return "refused";
  why_buffer all = {.arena = arena};
  for (size_t row = 0; row < table->rows.count; row++)
    for (size_t i = 0; i < table->rows.at[row].count; i++)
      why_buffer_print(&all, "%s%s", i ? "|" : row ? "/" : "", table->rows.at[row].at[i]);
  return why_buffer_text(&all);
}

Test(csv, examples_of_rfc_4180_section_2) {
  cr_expect_str_eq(joined("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n"), "aaa|bbb|ccc/zzz|yyy|xxx");
  cr_expect_str_eq(joined("aaa,bbb,ccc\r\nzzz,yyy,xxx"), "aaa|bbb|ccc/zzz|yyy|xxx");
  cr_expect_str_eq(joined("\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx"), "aaa|bbb|ccc/zzz|yyy|xxx");
  cr_expect_str_eq(joined("\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx"),
                   "aaa|b\r\nbb|ccc/zzz|yyy|xxx");
  cr_expect_str_eq(joined("\"aaa\",\"b\"\"bb\",\"ccc\""), "aaa|b\"bb|ccc");
}

Test(csv, what_spreadsheets_write) {
  cr_expect_str_eq(joined("\xEF\xBB\xBFname,n\nseated,20\n"), "name|n/seated|20");
  cr_expect_str_eq(joined("name;pre\nseated;3,97\n"), "name|pre/seated|3,97");
  cr_expect_str_eq(joined("name\tpre\nseated\t3,97\n"), "name|pre/seated|3,97");
  cr_expect_str_eq(joined("\"a;b;c\",n\nx,1\n"), "a;b;c|n/x|1");
  cr_expect_str_eq(joined("a,b\rc,d\r"), "a|b/c|d");
  cr_expect_str_eq(joined("a,b\n\n,\n  , x \n"), "a|b//|/|x");
  cr_expect_str_eq(joined("a, \"b, c\" ,d"), "a|b, c|d");
}

static void expect_refused(const char* text, unsigned row, unsigned column) {
  why_csv* table = NULL;
  size_t before = why_problems_count(problems);
  cr_expect_eq(read(text, &table), WHY_KNOWLEDGE);
  cr_assert_eq(why_problems_count(problems), before + 1);
  why_problem told = why_problems_at(problems, before);
  cr_expect_eq(told.place.line, row, "%s: row %u", told.text, told.place.line);
  cr_expect_eq(told.place.column, column, "%s: column %u", told.text, told.place.column);
  cr_expect_not_null(told.hint);
}

Test(csv, what_is_no_table_is_refused_by_row_and_column) {
  expect_refused("", 1, 1);
  expect_refused("a,b\nc,\"d\n", 2, 2);
  expect_refused("a,b\n\nc,\"d\" e\n", 3, 2);
  expect_refused("a,b\nc\"d,e\n", 2, 1);
  expect_refused("a,b\n\xFF\xFE,c\n", 1, 1);
  expect_refused("a,b\n\x01,c\n", 1, 1);
}

Test(csv, limits) {
  why_csv* table = NULL;
  why_buffer many = {.arena = arena};
  for (size_t i = 0; i <= WHY_CSV_ROWS_LIMIT; i++)
    why_buffer_add(&many, "a\n");
  cr_expect_eq(read(why_buffer_text(&many), &table), WHY_KNOWLEDGE);
  why_buffer wide = {.arena = arena};
  for (size_t i = 0; i < WHY_CSV_COLUMNS_LIMIT; i++)
    why_buffer_add(&wide, ",");
  cr_expect_eq(read(why_buffer_text(&wide), &table), WHY_KNOWLEDGE);
  why_buffer one = {.arena = arena};
  for (size_t i = 0; i <= WHY_CSV_CELL_LIMIT; i++)
    why_buffer_add(&one, "x");
  cr_expect_eq(read(why_buffer_text(&one), &table), WHY_KNOWLEDGE);
  while (one.length <= WHY_CSV_LIMIT)
    why_buffer_add(&one, "\nxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx");
  cr_expect_eq(read(why_buffer_text(&one), &table), WHY_KNOWLEDGE);
}
