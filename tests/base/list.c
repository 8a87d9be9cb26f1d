// SPDX-License-Identifier: GPL-3.0-or-later
// Lists: items keep their values and indexes while the list grows, alone or beside others.
#include "base/list.h"

#include <criterion/criterion.h>

typedef struct {
  unsigned number;
  double weight;
} item;

typedef WHY_LIST(item) item_list;

Test(list, items_keep_their_place) {
  why_arena* arena = why_arena_new(0);
  item_list list = {0};
  for (unsigned i = 0; i < 20000; i++) {
    item* made = WHY_LIST_ADD(arena, list);
    cr_assert_eq(made->number, 0, "item %u is not zeroed", i);
    *made = (item){.number = i, .weight = i / 2.0};
  }
  cr_expect_eq(list.count, 20000);
  for (unsigned i = 0; i < 20000; i++)
    cr_assert(list.at[i].number == i && list.at[i].weight == i / 2.0, "item %u", i);
  why_arena_free(arena);
}

Test(list, two_lists_grow_side_by_side) {
  why_arena* arena = why_arena_new(0);
  item_list odd = {0};
  item_list even = {0};
  for (unsigned i = 0; i < 5000; i++) {
    item* made = i % 2 ? WHY_LIST_ADD(arena, odd) : WHY_LIST_ADD(arena, even);
    made->number = i;
  }
  for (unsigned i = 0; i < 2500; i++)
    cr_assert(even.at[i].number == 2 * i && odd.at[i].number == 2 * i + 1, "pair %u", i);
  why_arena_free(arena);
}

/// Doubling: what is asked of the arena stays within a small multiple of what is stored.
Test(list, growth_costs_a_multiple) {
  why_arena* arena = why_arena_new(0);
  item_list list = {0};
  for (unsigned i = 0; i < 100000; i++) {
    WHY_LIST_ADD(arena, list);
    if (i % 1000 == 0)
      why_arena_alloc(arena, 1); // so that it cannot grow where it stands
  }
  cr_expect_leq(why_arena_used(arena), 6 * 100000 * sizeof(item));
  why_arena_free(arena);
}
