// SPDX-License-Identifier: GPL-3.0-or-later
// Schemas that are broken or reach beyond their file, and what is reported of them.
#include "read/xml.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#define GRAMMAR "<grammar xmlns='http://relaxng.org/ns/structure/1.0'>\n"

/// Opening a schema that reads `text` reports one problem at `line` whose sentence holds `part`.
static void expect_refused(const char* text, unsigned line, const char* part) {
  char path[] = "/tmp/why-schema-XXXXXX";
  int descriptor = mkstemp(path);
  cr_assert_geq(descriptor, 0);
  cr_assert_eq(write(descriptor, text, strlen(text)), (ssize_t)strlen(text));
  close(descriptor);
  why_reader reader = {.arena = why_arena_new(0), .problems = why_problems_new()};
  why_xml_hush(true);
  cr_expect_null(why_schema_open(&reader, path, "schema.rng"), "%s", text);
  why_xml_hush(false);
  cr_assert_eq(why_problems_count(reader.problems), 1, "%s", text);
  why_problem problem = why_problems_at(reader.problems, 0);
  cr_expect_str_eq(problem.place.file, "schema.rng");
  cr_expect_eq(problem.place.line, line, "line %u, not %u: %s", problem.place.line, line, text);
  cr_expect_not_null(strstr(problem.text, part), "%s", problem.text);
  why_problems_free(reader.problems);
  why_arena_free(reader.arena);
  unlink(path);
}

Test(schema, broken_schemas_are_reported_where_they_break) {
  expect_refused("", 1, "empty");
  expect_refused(GRAMMAR "<start>", 2, "start");
  expect_refused("<a/>", 0, "");
  expect_refused(GRAMMAR "<start>\n<ref name='gone'/></start></grammar>", 3, "gone");
}

Test(schema, nothing_outside_the_file_is_followed) {
  expect_refused("<!DOCTYPE a SYSTEM 'http://127.0.0.1:1/a.dtd'><a/>", 1, "document type");
  expect_refused(GRAMMAR
                 "<start>\n<externalRef href='http://127.0.0.1:1/a.rng'/></start></grammar>",
                 3, "other files");
  expect_refused(GRAMMAR "<include href='/dev/zero'/></grammar>", 2, "other files");
}
