// SPDX-License-Identifier: GPL-3.0-or-later
// Interned names: one number a text, the same whatever the seed, and overlays that leave the table
// below them alone.
#include "base/symbol.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <string.h>

static why_arena* arena;

static void make_arena(void) {
  arena = why_arena_new(0);
}

static void free_arena(void) {
  why_arena_free(arena);
}

TestSuite(symbol, .init = make_arena, .fini = free_arena);

static const char* name_of(unsigned number) {
  static char name[32];
  snprintf(name, sizeof name, "name-%u", number);
  return name;
}

Test(symbol, equal_texts_have_one_number) {
  why_symbols* symbols = why_symbols_new(arena, NULL, 0);
  why_symbol hip = why_symbols_add(symbols, "hip");
  why_symbol knee = why_symbols_add(symbols, "knee");
  cr_expect_neq(hip, 0);
  cr_expect_neq(hip, knee);
  cr_expect_eq(why_symbols_add(symbols, "hip"), hip);
  cr_expect_eq(why_symbols_add_bytes(symbols, "hipbone", 3), hip);
  cr_expect_eq(why_symbols_find(symbols, "knee"), knee);
  cr_expect_str_eq(why_symbols_text(symbols, hip), "hip");
}

Test(symbol, no_name_is_zero) {
  why_symbols* symbols = why_symbols_new(arena, NULL, 0);
  cr_expect_eq(why_symbols_add(symbols, ""), 0);
  cr_expect_eq(why_symbols_find(symbols, ""), 0);
  cr_expect_eq(why_symbols_find(symbols, "never added"), 0);
  cr_expect_str_eq(why_symbols_text(symbols, 0), "");
  cr_expect_eq(why_symbols_count(symbols), 1);
}

Test(symbol, a_text_is_copied) {
  why_symbols* symbols = why_symbols_new(arena, NULL, 0);
  char text[] = "soleus";
  why_symbol soleus = why_symbols_add(symbols, text);
  memset(text, 'x', strlen(text));
  cr_expect_str_eq(why_symbols_text(symbols, soleus), "soleus");
  cr_expect_eq(why_symbols_find(symbols, "soleus"), soleus);
}

Test(symbol, a_text_and_its_beginning_differ) {
  why_symbols* symbols = why_symbols_new(arena, NULL, 0);
  why_symbol longer = why_symbols_add(symbols, "leg-curl-seated");
  why_symbol shorter = why_symbols_add(symbols, "leg-curl");
  cr_expect_neq(longer, shorter);
  cr_expect_eq(why_symbols_find(symbols, "leg"), 0);
}

Test(symbol, bytes_behind_a_zero_do_not_count) {
  why_symbols* symbols = why_symbols_new(arena, NULL, 0);
  why_symbol plain = why_symbols_add(symbols, "ab");
  cr_expect_eq(why_symbols_add_bytes(symbols, "ab\0cd", 5), plain);
  cr_expect_eq(why_symbols_add_bytes(symbols, "\0cd", 3), 0);
}

/// Numbers are given in order of adding; hashing must not be seen. Enough names to enlarge often.
Test(symbol, many_names_under_different_seeds) {
  static const uint64_t seeds[] = {0, 1, 42, UINT64_C(0xdeadbeefcafef00d), UINT64_MAX};
  for (size_t s = 0; s < sizeof seeds / sizeof *seeds; s++) {
    why_symbols* symbols = why_symbols_new(arena, NULL, seeds[s]);
    for (unsigned i = 1; i <= 30000; i++)
      cr_assert_eq(why_symbols_add(symbols, name_of(i)), i, "seed %zu", s);
    cr_expect_eq(why_symbols_count(symbols), 30001);
    for (unsigned i = 1; i <= 30000; i++) {
      cr_assert_eq(why_symbols_find(symbols, name_of(i)), i, "seed %zu", s);
      cr_assert_str_eq(why_symbols_text(symbols, i), name_of(i), "seed %zu", s);
    }
  }
}

Test(symbol, an_overlay_reads_the_table_below) {
  why_symbols* base = why_symbols_new(arena, NULL, 1);
  why_symbol hip = why_symbols_add(base, "hip");
  why_symbols* overlay = why_symbols_new(arena, base, 2);
  cr_expect_eq(why_symbols_find(overlay, "hip"), hip);
  cr_expect_eq(why_symbols_add(overlay, "hip"), hip);
  why_symbol wish = why_symbols_add(overlay, "wish");
  cr_expect_eq(wish, why_symbols_count(base));
  cr_expect_eq(why_symbols_find(base, "wish"), 0);
  cr_expect_eq(why_symbols_count(base), 2);
  cr_expect_eq(why_symbols_count(overlay), 3);
  cr_expect_str_eq(why_symbols_text(overlay, hip), "hip");
  cr_expect_str_eq(why_symbols_text(overlay, wish), "wish");
  cr_expect_str_eq(why_symbols_text(overlay, 0), "");
}

Test(symbol, overlays_do_not_see_each_other) {
  why_symbols* base = why_symbols_new(arena, NULL, 0);
  why_symbols_add(base, "shared");
  why_symbols* one = why_symbols_new(arena, base, 0);
  why_symbols* other = why_symbols_new(arena, base, 0);
  why_symbol first = why_symbols_add(one, "only here");
  cr_expect_eq(why_symbols_find(other, "only here"), 0);
  cr_expect_eq(why_symbols_add(other, "only there"), first);
  cr_expect_str_eq(why_symbols_text(one, first), "only here");
  cr_expect_str_eq(why_symbols_text(other, first), "only there");
}

Test(symbol, three_tables_high) {
  why_symbols* tables[3] = {0};
  for (unsigned t = 0; t < 3; t++) {
    tables[t] = why_symbols_new(arena, t ? tables[t - 1] : NULL, t);
    for (unsigned i = 1; i <= 500; i++)
      why_symbols_add(tables[t], name_of(t * 500 + i));
  }
  for (unsigned i = 1; i <= 1500; i++) {
    cr_assert_eq(why_symbols_find(tables[2], name_of(i)), i);
    cr_assert_str_eq(why_symbols_text(tables[2], i), name_of(i));
  }
  cr_expect_eq(why_symbols_find(tables[1], name_of(1001)), 0);
}

Test(symbol, order_is_that_of_the_texts) {
  why_symbols* symbols = why_symbols_new(arena, NULL, 0);
  why_symbol late = why_symbols_add(symbols, "a");
  why_symbol early = why_symbols_add(symbols, "b");
  cr_expect_lt(why_symbol_compare(symbols, late, early), 0);
  cr_expect_gt(why_symbol_compare(symbols, early, late), 0);
  cr_expect_eq(why_symbol_compare(symbols, early, early), 0);
  cr_expect_lt(why_symbol_compare(symbols, 0, late), 0);
}
