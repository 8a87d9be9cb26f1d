// SPDX-License-Identifier: GPL-3.0-or-later
// The tree as JSON: whole, or not at all.
#include "tell/format.h"

#include <criterion/criterion.h>
#include <setjmp.h>
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

/// jansson takes no text that is no UTF-8, as it takes none when there is no memory; a record must
/// not go out without it.
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
