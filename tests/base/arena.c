// SPDX-License-Identifier: GPL-3.0-or-later
// Memory of an arena: zeroed, aligned, never overlapping, within its limit, and given back with the
// clean-ups in the order in which they were promised. Overlaps are what the sanitizers look for
// too.
#include "base/arena.h"

#include <criterion/criterion.h>
#include <setjmp.h>
#include <stdalign.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

enum { FIRST_BLOCK = 16 * 1024 }; // as in engine/base/arena.c: growth is tested around its end

static bool is_filled(const char* piece, size_t size, int value) {
  for (size_t i = 0; i < size; i++)
    if ((unsigned char)piece[i] != (unsigned char)value)
      return false;
  return true;
}

Test(arena, pieces_are_zeroed_and_aligned) {
  why_arena* arena = why_arena_new(0);
  for (size_t size = 0; size < 3000; size += 7) {
    char* piece = why_arena_alloc(arena, size);
    cr_assert_eq((uintptr_t)piece % alignof(max_align_t), 0, "size %zu", size);
    cr_assert(is_filled(piece, size, 0), "size %zu", size);
    memset(piece, 0xa5, size);
  }
  why_arena_free(arena);
}

Test(arena, pieces_do_not_overlap) {
  enum { PIECES = 300 };
  why_arena* arena = why_arena_new(0);
  char* pieces[PIECES];
  for (size_t i = 0; i < PIECES; i++) {
    pieces[i] = why_arena_alloc(arena, i * 5 + 1);
    memset(pieces[i], (int)(i % 251), i * 5 + 1);
  }
  for (size_t i = 0; i < PIECES; i++)
    cr_assert(is_filled(pieces[i], i * 5 + 1, (int)(i % 251)), "piece %zu", i);
  why_arena_free(arena);
}

Test(arena, a_piece_may_be_larger_than_any_block) {
  size_t size = (size_t)9 * 1024 * 1024;
  why_arena* arena = why_arena_new(0);
  char* large = why_arena_alloc(arena, size);
  char* small = why_arena_alloc(arena, 10);
  memset(large, 1, size);
  memset(small, 2, 10);
  cr_expect(is_filled(large, size, 1));
  why_arena_free(arena);
}

/// Large pieces have blocks of their own, which the machine may move: their bytes and their
/// neighbours stay.
Test(arena, large_pieces_grow_with_what_they_hold) {
  enum { STEP = 700 * 1024, PIECES = 3 };
  why_arena* arena = why_arena_new(0);
  char* pieces[PIECES] = {NULL};
  for (size_t round = 1; round <= 8; round++) {
    for (size_t i = 0; i < PIECES; i++) {
      size_t size = round * STEP;
      pieces[i] = why_arena_grow(arena, pieces[i], size - STEP, size);
      cr_assert(is_filled(pieces[i], size - STEP, (int)i + 1), "piece %zu, %zu bytes", i, size);
      cr_assert(is_filled(pieces[i] + size - STEP, STEP, 0), "piece %zu, %zu bytes", i, size);
      memset(pieces[i], (int)i + 1, size);
    }
  }
  why_arena_free(arena);
}

Test(arena, large_pieces_count_against_the_limit) {
  enum { LIMIT = 4 * 1024 * 1024 };
  jmp_buf door;
  why_arena* arena = why_arena_new(LIMIT);
  why_arena_guard(arena, &door);
  if (setjmp(door)) {
    why_arena_free(arena);
    return;
  }
  char* piece = why_arena_alloc(arena, LIMIT / 2);
  piece = why_arena_grow(arena, piece, LIMIT / 2, LIMIT / 4 * 3);
  why_arena_grow(arena, piece, LIMIT / 4 * 3, LIMIT + 1);
  cr_assert_fail("it held more than its limit");
}

Test(arena, used_counts_what_was_handed_out) {
  why_arena* arena = why_arena_new(0);
  cr_expect_eq(why_arena_used(arena), 0);
  why_arena_alloc(arena, 1);
  size_t one = why_arena_used(arena);
  cr_expect_geq(one, 1);
  why_arena_alloc(arena, 1000);
  cr_expect_geq(why_arena_used(arena), one + 1000);
  why_arena_free(arena);
}

Test(arena, the_newest_piece_grows_where_it_stands) {
  why_arena* arena = why_arena_new(0);
  char* piece = why_arena_alloc(arena, 40);
  memset(piece, 7, 40);
  char* grown = why_arena_grow(arena, piece, 40, 4000);
  cr_expect_eq(grown, piece);
  cr_expect(is_filled(grown, 40, 7));
  cr_expect(is_filled(grown + 40, 3960, 0));
  why_arena_free(arena);
}

Test(arena, an_older_piece_moves_when_it_grows) {
  why_arena* arena = why_arena_new(0);
  char* piece = why_arena_alloc(arena, 40);
  memset(piece, 7, 40);
  char* other = why_arena_alloc(arena, 8);
  memset(other, 9, 8);
  char* grown = why_arena_grow(arena, piece, 40, 80);
  cr_expect_neq(grown, piece);
  cr_expect(is_filled(grown, 40, 7) && is_filled(grown + 40, 40, 0));
  memset(grown, 1, 80);
  cr_expect(is_filled(other, 8, 9));
  why_arena_free(arena);
}

/// Growing to about the size of a block, behind another piece in it, must not run past its end.
Test(arena, growth_stops_at_the_end_of_a_block) {
  for (size_t size = FIRST_BLOCK - 100; size < FIRST_BLOCK + 100; size++) {
    why_arena* arena = why_arena_new(0);
    char* before = why_arena_alloc(arena, FIRST_BLOCK / 2);
    memset(before, 3, FIRST_BLOCK / 2);
    char* piece = why_arena_alloc(arena, 64);
    char* grown = why_arena_grow(arena, piece, 64, size);
    cr_assert_neq(grown, piece, "%zu bytes cannot fit behind %d", size, FIRST_BLOCK / 2);
    memset(grown, 4, size);
    cr_assert(is_filled(before, FIRST_BLOCK / 2, 3));
    why_arena_free(arena);
  }
}

Test(arena, growth_may_fill_a_block_to_its_last_byte) {
  for (size_t size = FIRST_BLOCK - 40; size <= FIRST_BLOCK; size++) {
    why_arena* arena = why_arena_new(0);
    char* piece = why_arena_alloc(arena, 16);
    char* grown = why_arena_grow(arena, piece, 16, size);
    cr_assert_eq(grown, piece, "size %zu", size);
    memset(grown, 4, size);
    char* next = why_arena_alloc(arena, 100);
    memset(next, 5, 100);
    cr_assert(is_filled(grown, size, 4), "size %zu", size);
    why_arena_free(arena);
  }
}

Test(arena, growing_nothing_or_to_less) {
  why_arena* arena = why_arena_new(0);
  char* made = why_arena_grow(arena, NULL, 0, 50);
  cr_expect(is_filled(made, 50, 0));
  cr_expect_eq(why_arena_grow(arena, made, 50, 20), made);
  why_arena_free(arena);
}

Test(arena, texts_are_copied_and_printed) {
  why_arena* arena = why_arena_new(0);
  cr_expect_str_eq(why_arena_copy(arena, "femoris", 3), "fem");
  cr_expect_str_eq(why_arena_copy(arena, NULL, 0), "");
  cr_expect_str_eq(why_arena_print(arena, "%s at %d", "hip", 90), "hip at 90");
  cr_expect_eq(strlen(why_arena_print(arena, "%*d", 70000, 1)), 70000);
  why_arena_free(arena);
}

/// Take pieces of `size` until the door is used; the number that fitted, and whether it was used.
static size_t take_all(why_arena* arena, size_t size, size_t most, bool* jumped) {
  jmp_buf door;
  volatile size_t taken = 0;
  *jumped = false;
  if (setjmp(door)) {
    *jumped = true;
    return taken;
  }
  why_arena_guard(arena, &door);
  while (taken < most) {
    why_arena_alloc(arena, size);
    taken++;
  }
  return taken;
}

Test(arena, the_limit_leads_to_the_door) {
  why_arena* arena = why_arena_new(100000);
  bool jumped;
  size_t taken = take_all(arena, 1000, 1000, &jumped);
  cr_expect(jumped);
  cr_expect_leq(taken * 1000, 100000);
  cr_expect_geq(taken * 1000, 80000, "only %zu bytes of 100000 could be used", taken * 1000);
  cr_expect_leq(why_arena_used(arena), 100000);
  why_arena_free(arena);
}

Test(arena, what_fits_the_limit_exactly_is_given) {
  why_arena* arena = why_arena_new(4096);
  bool jumped;
  cr_expect_eq(take_all(arena, 4096, 1, &jumped), 1);
  cr_expect_not(jumped);
  cr_expect_eq(take_all(arena, 1, 1, &jumped), 0);
  cr_expect(jumped);
  why_arena_free(arena);
}

static bool is_refused(size_t count, size_t size) {
  why_arena* arena = why_arena_new(0);
  jmp_buf door;
  volatile bool refused = true;
  if (setjmp(door) == 0) {
    why_arena_guard(arena, &door);
    why_arena_array(arena, count, size);
    refused = false;
  }
  why_arena_free(arena);
  return refused;
}

Test(arena, sizes_that_no_machine_has_lead_to_the_door) {
  cr_expect(is_refused(1, SIZE_MAX));
  cr_expect(is_refused(1, SIZE_MAX - 8));
  cr_expect(is_refused(SIZE_MAX, 2));
  cr_expect(is_refused(2, SIZE_MAX / 2));
  cr_expect(is_refused(SIZE_MAX / 16 + 2, 16));
  cr_expect_not(is_refused(1, 16));
}

static char order[8];
static size_t cleaned;

static void note(void* letter) {
  order[cleaned++] = *(const char*)letter;
}

Test(arena, clean_ups_run_last_in_first_out) {
  static char letters[] = "abc";
  why_arena* arena = why_arena_new(0);
  for (size_t i = 0; i < 3; i++)
    why_arena_defer(arena, note, &letters[i]);
  cr_expect_eq(cleaned, 0);
  why_arena_free(arena);
  cr_expect_str_eq(order, "cba");
}

/// A clean-up may look at what lives in the arena: memory goes after all of them have run.
Test(arena, clean_ups_still_find_their_memory) {
  why_arena* arena = why_arena_new(0);
  why_arena_defer(arena, note, why_arena_copy(arena, "z", 1));
  why_arena_alloc(arena, (size_t)1024 * 1024);
  why_arena_free(arena);
  cr_expect_str_eq(order, "z");
}

/// What is handed over when nothing fits any more is cleaned at once: nobody else knows of it.
Test(arena, a_clean_up_that_cannot_be_kept_runs_at_once) {
  why_arena* arena = why_arena_new(64);
  why_arena_alloc(arena, 64);
  jmp_buf door;
  if (setjmp(door) == 0) {
    why_arena_guard(arena, &door);
    why_arena_defer(arena, note, "q");
    cr_expect_fail("the promise was kept without memory");
  }
  cr_expect_str_eq(order, "q");
  why_arena_free(arena);
  cr_expect_str_eq(order, "q");
}

Test(arena, without_a_door_exhaustion_ends_the_process, .exit_code = 4) {
  why_arena* arena = why_arena_new(100);
  why_arena_alloc(arena, 101);
}

Test(arena, nothing_can_be_given_back) {
  why_arena_free(NULL);
  why_arena_free(why_arena_new(0));
}

static void count_up(void* object) {
  ++*(int*)object;
}

/// Branches go with their parent at the latest, and leave by its door.
Test(arena, a_branch_belongs_to_its_parent) {
  int given_back = 0;
  why_arena* arena = why_arena_new(1 << 20);
  why_arena* first = why_arena_branch(arena);
  why_arena* second = why_arena_branch(arena);
  why_arena_defer(first, count_up, &given_back);
  why_arena_defer(second, count_up, &given_back);
  why_arena_free(second);
  cr_expect_eq(given_back, 1);
  jmp_buf door;
  if (setjmp(door) == 0) {
    why_arena_guard(arena, &door);
    why_arena_alloc(why_arena_branch(arena), 2 << 20);
    cr_assert_fail("a branch has no limit");
  }
  why_arena_free(arena);
  cr_expect_eq(given_back, 2);
}
