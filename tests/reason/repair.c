// SPDX-License-Identifier: GPL-3.0-or-later
// The smallest sets of changes, held against every set there is, on drawn conditions that a change
// can only help.
#include "reason/repair.h"

#include "random.h"

#include <criterion/criterion.h>

enum { CHANGES = 12, TERMS = 6 };

/// Holds when all changes of one of its terms are made; a term is a set of changes as bits.
typedef struct {
  unsigned terms[TERMS];
  size_t count;
  size_t asked;
} condition;

static bool holds_bits(const condition* of, unsigned bits) {
  for (size_t i = 0; i < of->count; i++)
    if ((of->terms[i] & bits) == of->terms[i])
      return true;
  return false;
}

static bool holds(void* user, const bool* made) {
  condition* of = user;
  unsigned bits = 0;
  for (unsigned i = 0; i < CHANGES; i++)
    bits |= (unsigned)made[i] << i;
  of->asked++;
  return holds_bits(of, bits);
}

static unsigned size_of(unsigned bits) {
  unsigned size = 0;
  for (; bits; bits >>= 1)
    size += bits & 1;
  return size;
}

/// Whether it holds under the set, and under no part of it.
static bool is_smallest(const condition* of, unsigned bits) {
  if (!holds_bits(of, bits))
    return false;
  for (unsigned i = 0; i < CHANGES; i++)
    if ((bits >> i & 1) && holds_bits(of, bits & ~(1u << i)))
      return false;
  return true;
}

static condition draw(uint64_t* state) {
  condition made = {.count = random_below(state, TERMS + 1)};
  for (size_t i = 0; i < made.count; i++)
    for (unsigned k = random_below(state, 6); k > 0; k--)
      made.terms[i] |= 1u << random_below(state, CHANGES);
  return made;
}

static unsigned bits_of(const why_repair* set) {
  unsigned bits = 0;
  for (unsigned i = 0; i < set->count; i++)
    bits |= 1u << set->at[i];
  return bits;
}

Test(reason_repair, finds_what_trying_everything_finds) {
  uint64_t state = 7;
  size_t found = 0;
  for (size_t round = 0; round < 2000; round++) {
    why_arena* arena = why_arena_new(0);
    condition of = draw(&state);
    why_repairs sets;
    const why_repair_task task = {.count = CHANGES, .holds = holds, .user = &of, .arena = arena};
    bool ever = why_repairs_find(&task, &sets);
    cr_assert_eq(ever, holds_bits(&of, (1u << CHANGES) - 1));
    bool listed[1u << CHANGES] = {false};
    for (size_t i = 0; i < sets.count; i++) {
      unsigned bits = bits_of(&sets.at[i]);
      cr_assert(is_smallest(&of, bits), "round %zu: %x is not smallest", round, bits);
      cr_assert(!listed[bits], "round %zu: %x is listed twice", round, bits);
      cr_assert(i == 0 || sets.at[i - 1].count <= sets.at[i].count);
      listed[bits] = true;
    }
    for (unsigned bits = 0; bits < 1u << CHANGES; bits++)
      if (size_of(bits) <= WHY_REPAIR_MOST)
        cr_assert(listed[bits] == is_smallest(&of, bits), "round %zu: %x", round, bits);
    found += sets.count;
    why_arena_free(arena);
  }
  cr_expect_gt(found, 2000);
}

/// Among many changes that matter little it asks seldom.
Test(reason_repair, asks_seldom) {
  why_arena* arena = why_arena_new(0);
  condition of = {.terms = {1u << 3 | 1u << 9}, .count = 1};
  why_repairs sets;
  const why_repair_task task = {.count = CHANGES, .holds = holds, .user = &of, .arena = arena};
  why_repairs_find(&task, &sets);
  cr_assert_eq(sets.count, 1);
  cr_expect_eq(bits_of(&sets.at[0]), of.terms[0]);
  cr_expect_lt(of.asked, 30);
  why_arena_free(arena);
}
