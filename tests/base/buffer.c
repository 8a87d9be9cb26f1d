// SPDX-License-Identifier: GPL-3.0-or-later
// Growing text: always terminated, whatever the order of additions and wherever they cross its
// room.
#include "base/buffer.h"

#include <criterion/criterion.h>
#include <setjmp.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

static why_arena* arena;

static void make_arena(void) {
  arena = why_arena_new(0);
}

static void free_arena(void) {
  why_arena_free(arena);
}

TestSuite(buffer, .init = make_arena, .fini = free_arena);

Test(buffer, starts_empty) {
  why_buffer text = {.arena = arena};
  cr_expect_str_eq(why_buffer_text(&text), "");
  why_buffer_add(&text, "");
  why_buffer_add_bytes(&text, NULL, 0);
  cr_expect_str_eq(why_buffer_text(&text), "");
  cr_expect_eq(text.length, 0);
}

Test(buffer, additions_follow_each_other) {
  why_buffer text = {.arena = arena};
  why_buffer_add(&text, "hip ");
  why_buffer_add_bytes(&text, "extension and more", 9);
  why_buffer_print(&text, ", %d to %d", 0, 90);
  cr_expect_str_eq(why_buffer_text(&text), "hip extension, 0 to 90");
  cr_expect_eq(text.length, strlen("hip extension, 0 to 90"));
}

/// Printed texts of every length around the room that is there.
Test(buffer, printing_crosses_its_room) {
  for (int first = 0; first < 140; first++) {
    for (int second = 0; second < 140; second += 3) {
      why_buffer text = {.arena = arena};
      why_buffer_print(&text, "%*s", first, "");
      why_buffer_print(&text, "%*s|", second, "");
      cr_assert_eq(text.length, (size_t)(first + second + 1), "%d then %d", first, second);
      cr_assert_eq(strlen(why_buffer_text(&text)), text.length);
      cr_assert_eq(text.text[text.length - 1], '|');
    }
  }
}

Test(buffer, grows_to_any_size) {
  why_buffer text = {.arena = arena};
  for (int i = 0; i < 50000; i++) {
    why_buffer_print(&text, "%05d ", i);
    why_buffer_add(&text, "x");
  }
  cr_expect_eq(text.length, 50000 * 7);
  for (size_t i = 0; i < 50000; i += 997) {
    char expected[8];
    snprintf(expected, sizeof expected, "%05zu x", i);
    cr_assert_arr_eq(text.text + i * 7, expected, 7, "entry %zu", i);
  }
  cr_expect_leq(why_arena_used(arena), 4 * text.length, "printing leaves copies behind");
}

Test(buffer, bytes_may_be_zero) {
  why_buffer text = {.arena = arena};
  why_buffer_add_bytes(&text, "a\0b", 3);
  why_buffer_add(&text, "c");
  cr_expect_eq(text.length, 4);
  cr_expect_arr_eq(text.text, "a\0bc", 5);
}

Test(buffer, a_length_that_no_machine_has_leads_to_the_door) {
  why_buffer text = {.arena = arena};
  why_buffer_add(&text, "a");
  jmp_buf door;
  if (setjmp(door) == 0) {
    why_arena_guard(arena, &door);
    why_buffer_add_bytes(&text, "a", SIZE_MAX - 1);
    cr_expect_fail("so much was added");
  }
  cr_expect_str_eq(why_buffer_text(&text), "a");
}
