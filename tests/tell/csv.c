// SPDX-License-Identifier: GPL-3.0-or-later
// The format "csv" by RFC 4180.
#include "tell/format.h"

#include <criterion/criterion.h>
#include <math.h>

static why_node* add_record(why_arena* arena, why_node* list, const char* text, double number) {
  why_node* record = why_node_add(arena, list, WHY_NODE_RECORD, NULL);
  why_node_text(arena, record, "words", text);
  why_node_number(arena, record, "number", number);
  why_node* names = why_node_add(arena, record, WHY_NODE_LIST, "names");
  why_node_text(arena, names, NULL, "a");
  why_node_text(arena, names, NULL, "b");
  why_node_words(arena, record, WHY_ROLE_POINT, "for people only");
  return record;
}

/// Section 2, rules 5 to 7: fields with commas, quotes or line breaks stand in quotes, quotes
/// double.
Test(csv, quotes_what_must_be_quoted) {
  why_arena* arena = why_arena_new(0);
  why_buffer out = {.arena = arena};
  why_node* root = why_node_add(arena, NULL, WHY_NODE_RECORD, NULL);
  why_node* list = why_node_add(arena, root, WHY_NODE_LIST, "rows");
  list->sheet = true;
  add_record(arena, list, "plain", 1.5);
  add_record(arena, list, "a, \"b\"\nc", NAN);
  add_record(arena, list, NULL, -2);
  cr_expect(why_csv_write(root, &out));
  cr_expect_str_eq(why_buffer_text(&out), "words,number,names\r\n"
                                          "plain,1.5,a b\r\n"
                                          "\"a, \"\"b\"\"\nc\",,a b\r\n"
                                          ",-2,a b\r\n");
  why_arena_free(arena);
}

Test(csv, has_nothing_to_show_of_an_answer_without_a_table) {
  why_arena* arena = why_arena_new(0);
  why_buffer out = {.arena = arena};
  why_node* root = why_node_add(arena, NULL, WHY_NODE_RECORD, NULL);
  why_node_add(arena, root, WHY_NODE_LIST, "rows");
  cr_expect_not(why_csv_write(root, &out));
  why_arena_free(arena);
}
