// SPDX-License-Identifier: GPL-3.0-or-later
// The tree as JSON: whole, or not at all.
#include "tell/format.h"

#include <criterion/criterion.h>
#include <jansson.h>
#include <math.h>
#include <setjmp.h>
#include <stdlib.h>
#include <string.h>

static why_node* record(why_arena* arena, const char* text) {
  why_node* root = why_node_add(arena, NULL, WHY_NODE_RECORD, NULL);
  why_node_text(arena, root, "name", text);
  why_node_number(arena, root, "count", 3);
  return root;
}

Test(json, writes_what_the_tree_holds) {
  why_arena* arena = why_arena_new(0);
  why_buffer out = {.arena = arena};
  why_json_write(record(arena, "a \"b\" \xC3\xA9"), &out);
  cr_expect_not_null(strstr(why_buffer_text(&out), "\"name\": \"a \\\"b\\\" \xC3\xA9\""));
  cr_expect_not_null(strstr(why_buffer_text(&out), "\"count\": 3"));
  why_arena_free(arena);
}

/// What jansson reads of it and writes again is the same to the byte: escapes, numbers of every
/// size, empty and nested things.
Test(json, is_what_jansson_writes) {
  static const double NUMBERS[] = {0,
                                   -0.0,
                                   1,
                                   -17,
                                   0.1,
                                   -2.5,
                                   1.0 / 3,
                                   1e-7,
                                   123e-9,
                                   1e15,
                                   9e15,
                                   1.25e18,
                                   1e300,
                                   5e-324,
                                   0.1 + 0.2,
                                   1e5 / 7,
                                   2.9999999999999,
                                   99999999999.97};
  why_arena* arena = why_arena_new(0);
  why_node* root = why_node_add(arena, NULL, WHY_NODE_RECORD, NULL);
  why_node* list = why_node_add(arena, root, WHY_NODE_LIST, "numbers");
  for (size_t i = 0; i < sizeof NUMBERS / sizeof *NUMBERS; i++)
    why_node_number(arena, list, NULL, NUMBERS[i]);
  for (int c = 1; c < 0x80; c++)
    why_node_text(arena, root, why_arena_print(arena, "%d", c), why_arena_print(arena, "a%cb", c));
  why_node_text(arena, root, "wide \" name", "\xC3\xA9 \xE2\x82\xAC \xF0\x9F\x92\xAA");
  why_node_text(arena, root, "absent", NULL);
  why_node_text(arena, root, "empty", "");
  why_node_add(arena, root, WHY_NODE_RECORD, "nothing");
  for (int depth = 0; depth < 40; depth++)
    list = why_node_add(arena, list, WHY_NODE_LIST, NULL);
  why_node_words(arena, list, WHY_ROLE_POINT, "for people");
  why_buffer out = {.arena = arena};
  why_json_write(root, &out);
  json_error_t error;
  json_t* value = json_loads(why_buffer_text(&out), JSON_REJECT_DUPLICATES, &error);
  cr_assert_not_null(value, "%s", error.text);
  char* text = json_dumps(value, JSON_INDENT(2) | JSON_REAL_PRECISION(12));
  cr_expect_str_eq(why_buffer_text(&out), why_arena_print(arena, "%s\n", text));
  free(text);
  json_decref(value);
  why_arena_free(arena);
}

Test(json, has_no_number_without_end) {
  why_arena* arena = why_arena_new(0);
  why_node* root = why_node_add(arena, NULL, WHY_NODE_RECORD, NULL);
  why_node_number(arena, root, "a", NAN);
  why_node_number(arena, root, "b", -INFINITY);
  why_buffer out = {.arena = arena};
  why_json_write(root, &out);
  cr_expect_str_eq(why_buffer_text(&out), "{\n  \"a\": null,\n  \"b\": null\n}\n");
  why_arena_free(arena);
}

/// A text that is no UTF-8 cannot stand in JSON; a record must not go out without it.
Test(json, leaves_nothing_out_in_silence) {
  why_arena* arena = why_arena_new(0);
  jmp_buf door;
  if (!setjmp(door)) {
    why_arena_guard(arena, &door);
    why_buffer out = {.arena = arena};
    why_json_write(record(arena, "\xFF"), &out);
    cr_assert(false, "wrote %s", why_buffer_text(&out));
  }
  why_arena_free(arena);
}
