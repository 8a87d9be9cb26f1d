// SPDX-License-Identifier: GPL-3.0-or-later
// Parsing within limits, exact places, and typed access.
#include "read/xml.h"

#include <criterion/criterion.h>
#include <string.h>

typedef struct {
  why_reader reader;
  xmlDoc* doc;
} opened;

static opened open_text(const char* text) {
  why_arena* arena = why_arena_new(0);
  opened made = {.reader = {.arena = arena,
                            .symbols = why_symbols_new(arena, NULL, 0),
                            .problems = why_problems_new(),
                            .file = "test.xml",
                            .text = why_arena_copy(arena, text, strlen(text))}};
  made.doc = why_xml_parse(&made.reader, strlen(text));
  return made;
}

static void close_text(opened* at) {
  xmlFreeDoc(at->doc);
  why_problems_free(at->reader.problems);
  why_arena_free(at->reader.arena);
}

static void expect_refused(const char* text, const char* check, unsigned line) {
  opened at = open_text(text);
  cr_assert_null(at.doc);
  cr_assert_eq(why_problems_count(at.reader.problems), 1);
  why_problem problem = why_problems_at(at.reader.problems, 0);
  cr_expect_str_eq(problem.check, check);
  if (line)
    cr_expect_eq(problem.place.line, line);
  close_text(&at);
}

Test(xml, places_of_elements_and_attributes) {
  opened at = open_text("<?xml version=\"1.0\"?>\n"
                        "<!-- <not this=\"one\"> -->\n"
                        "<a>\n"
                        "  <b first='x > y'\n"
                        "     second=\"2\"/><c/>\n"
                        "</a>\n");
  const xmlNode* root = xmlDocGetRootElement(at.doc);
  const xmlNode* b = why_xml_first(root, "b");
  const xmlNode* c = why_xml_next(b, "c");
  why_place place = why_xml_place(&at.reader, root);
  cr_expect_eq(place.line, 3);
  cr_expect_eq(place.column, 1);
  place = why_xml_place(&at.reader, b);
  cr_expect_eq(place.line, 4);
  cr_expect_eq(place.column, 3);
  place = why_xml_place_of(&at.reader, b, "second");
  cr_expect_eq(place.line, 5);
  cr_expect_eq(place.column, 6);
  place = why_xml_place(&at.reader, c);
  cr_expect_eq(place.line, 5);
  cr_expect_eq(place.column, 18);
  close_text(&at);
}

Test(xml, a_document_type_is_refused_before_it_expands) {
  expect_refused("<?xml version=\"1.0\"?>\n"
                 "<!DOCTYPE a [<!ENTITY x \"xxxxxxxx\"><!ENTITY y \"&x;&x;&x;&x;\">]>\n"
                 "<a>&y;</a>",
                 "no-doctype", 2);
  expect_refused("<!DOCTYPE a SYSTEM \"file:///etc/hostname\"><a/>", "no-doctype", 1);
}

Test(xml, what_is_not_well_formed_is_refused_with_its_line) {
  expect_refused("<a>\n<b>\n</a>", "well-formed", 3);
  expect_refused("", "well-formed", 0);
  expect_refused("<a>&nbsp;</a>", "well-formed", 1);
  expect_refused("<a", "well-formed", 0);
}

Test(xml, other_encodings_are_refused) {
  expect_refused("<?xml version=\"1.0\" encoding=\"ISO-8859-1\"?><a/>", "plain", 0);
}

Test(xml, nesting_is_bounded) {
  char text[2000] = "";
  for (int i = 0; i < WHY_DEPTH_LIMIT + 2; i++)
    strcat(text, "<a>");
  for (int i = 0; i < WHY_DEPTH_LIMIT + 2; i++)
    strcat(text, "</a>");
  expect_refused(text, "depth", 0);
}

Test(xml, typed_values) {
  opened at = open_text("<a n='1.5' bad='one' flag='yes' ids=' x  y\n z ' v='1 2 3'>"
                        "  two\n  words <b/> more </a>");
  const xmlNode* root = xmlDocGetRootElement(at.doc);
  cr_expect_eq(why_xml_number(&at.reader, root, "n", 0), 1.5);
  cr_expect_eq(why_xml_number(&at.reader, root, "absent", 7), 7);
  cr_expect_eq(why_problems_count(at.reader.problems), 0);
  cr_expect_eq(why_xml_number(&at.reader, root, "bad", 7), 7);
  cr_expect_eq(why_problems_count(at.reader.problems), 1);
  cr_expect(why_xml_flag(root, "flag"));
  cr_expect_not(why_xml_flag(root, "n"));
  why_symbol_list ids = why_xml_symbols(&at.reader, root, "ids");
  cr_assert_eq(ids.count, 3);
  cr_expect_str_eq(why_symbols_text(at.reader.symbols, ids.at[2]), "z");
  double values[2] = {0};
  cr_expect_eq(why_xml_numbers(&at.reader, root, "v", values, 2), 2);
  cr_expect_eq(values[1], 2);
  cr_expect_str_eq(why_xml_text(&at.reader, root), "two words more");
  close_text(&at);
}

Test(xml, numbers_are_plain) {
  double number = 0;
  cr_expect(why_parse_number("-2.5", &number));
  cr_expect_eq(number, -2.5);
  cr_expect_not(why_parse_number("", &number));
  cr_expect_not(why_parse_number("2,5", &number));
  cr_expect_not(why_parse_number("INF", &number));
  cr_expect_not(why_parse_number("0x10", &number));
}

Test(xml, whole_numbers_stay_in_bounds) {
  opened at = open_text("<a year='2014' none='' half='1.5' below='-1' above='1e300'/>");
  const xmlNode* root = xmlDocGetRootElement(at.doc);
  cr_expect_eq(why_xml_whole(&at.reader, root, "year"), 2014);
  cr_expect_eq(why_xml_whole(&at.reader, root, "absent"), 0);
  cr_expect_eq(why_problems_count(at.reader.problems), 0);
  cr_expect_eq(why_xml_whole(&at.reader, root, "half"), 0);
  cr_expect_eq(why_xml_whole(&at.reader, root, "below"), 0);
  cr_expect_eq(why_xml_whole(&at.reader, root, "above"), 0);
  cr_expect_eq(why_problems_count(at.reader.problems), 3);
  close_text(&at);
}

Test(xml, an_element_that_is_not_there_has_nothing) {
  opened at = open_text("<a/>");
  cr_expect_null(why_xml_first(NULL, "b"));
  cr_expect_not(why_xml_is(NULL, "b"));
  cr_expect_not(why_xml_has(NULL, "b"));
  cr_expect_str_eq(why_xml_name(NULL), "");
  cr_expect_str_eq(why_xml_text(&at.reader, NULL), "");
  cr_expect_str_eq(why_xml_string(&at.reader, NULL, "b"), "");
  cr_expect_eq(why_xml_place_of(&at.reader, NULL, "b").line, 0);
  close_text(&at);
}
