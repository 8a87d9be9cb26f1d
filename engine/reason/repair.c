// SPDX-License-Identifier: GPL-3.0-or-later
// Sets grow by one change a round, each by the changes of a block that it does not meet yet, so
// that every set that meets all blocks is reached in as many rounds as it has changes. A set that
// meets all blocks known so far is tried; if what is sought does not hold, the largest set around
// it under which it still does not hold gives a new block: all changes outside of that.
#include "repair.h"

#include <stdlib.h>
#include <string.h>

typedef WHY_LIST(uint32_t) numbers;

/// A block: its changes as a list and as flags.
typedef struct {
  numbers list;
  bool* has;
} block;

typedef struct {
  const why_repair_task* task;
  WHY_LIST(block) blocks;
  bool* made;
} search;

static bool holds(search* run) {
  return run->task->holds(run->task->user, run->made);
}

static void set(search* run, const why_repair* repair, bool value) {
  for (unsigned i = 0; i < repair->count; i++)
    run->made[repair->at[i]] = value;
}

static bool has_all(const why_repair* all, const why_repair* some) {
  unsigned k = 0;
  for (unsigned i = 0; i < all->count && k < some->count; i++)
    k += all->at[i] == some->at[k];
  return k == some->count;
}

static bool meets(const why_repair* repair, const block* of) {
  for (unsigned i = 0; i < repair->count; i++)
    if (of->has[repair->at[i]])
      return true;
  return false;
}

/// The shortest block that the set does not meet; NULL when it meets all.
static const block* find_unmet(const search* run, const why_repair* repair) {
  const block* best = NULL;
  for (size_t i = 0; i < run->blocks.count; i++) {
    const block* each = &run->blocks.at[i];
    if (!meets(repair, each) && (!best || each->list.count < best->list.count))
      best = each;
  }
  return best;
}

/// Make all changes of the range that can be made while what is sought does not hold; halves of a
/// range that is too much are tried apart.
static void grow(search* run, size_t from, size_t to) {
  bool* before = run->made + from;
  bool* kept = WHY_NEW_ARRAY(run->task->arena, bool, to - from + 1);
  memcpy(kept, before, to - from);
  memset(before, true, to - from);
  if (!holds(run))
    return;
  memcpy(before, kept, to - from);
  if (to - from == 1)
    return;
  size_t middle = from + (to - from) / 2;
  grow(run, from, middle);
  grow(run, middle, to);
}

/// The block that is found around a set under which what is sought does not hold.
static void add_block(search* run, const why_repair* repair) {
  size_t count = run->task->count;
  block made = {.has = WHY_NEW_ARRAY(run->task->arena, bool, count + 1)};
  set(run, repair, true);
  grow(run, 0, count);
  for (size_t i = 0; i < count; i++) {
    made.has[i] = !run->made[i];
    if (made.has[i])
      *WHY_LIST_ADD(run->task->arena, made.list) = (uint32_t)i;
    run->made[i] = false;
  }
  *WHY_LIST_ADD(run->task->arena, run->blocks) = made;
}

static int by_numbers(const void* left, const void* right) {
  const why_repair* a = left;
  const why_repair* b = right;
  for (unsigned i = 0; i < a->count && i < b->count; i++)
    if (a->at[i] != b->at[i])
      return a->at[i] < b->at[i] ? -1 : 1;
  return (a->count > b->count) - (a->count < b->count);
}

/// The set with one change more, in order.
static why_repair with(const why_repair* repair, uint32_t change) {
  why_repair made = *repair;
  unsigned at = made.count++;
  for (; at > 0 && made.at[at - 1] > change; at--)
    made.at[at] = made.at[at - 1];
  made.at[at] = change;
  return made;
}

static bool has_found(const why_repairs* found, const why_repair* repair) {
  for (size_t i = 0; i < found->count; i++)
    if (has_all(repair, &found->at[i]))
      return true;
  return false;
}

/// Put the set among those found, or its extensions by a block that it misses among those to try.
static void try_set(search* run, const why_repair* repair, why_repairs* found,
                    why_repairs* longer) {
  if (has_found(found, repair))
    return;
  const block* unmet = find_unmet(run, repair);
  if (!unmet) {
    set(run, repair, true);
    bool held = holds(run);
    set(run, repair, false);
    if (held) {
      *WHY_LIST_ADD(run->task->arena, *found) = *repair;
      return;
    }
    if (repair->count == WHY_REPAIR_MOST)
      return;
    add_block(run, repair);
    unmet = &run->blocks.at[run->blocks.count - 1];
  }
  for (size_t i = 0; i < unmet->list.count && repair->count < WHY_REPAIR_MOST; i++)
    *WHY_LIST_ADD(run->task->arena, *longer) = with(repair, unmet->list.at[i]);
}

bool why_repairs_find(const why_repair_task* task, why_repairs* repairs) {
  search run = {.task = task, .made = WHY_NEW_ARRAY(task->arena, bool, task->count + 1)};
  *repairs = (why_repairs){0};
  memset(run.made, true, task->count);
  bool ever = holds(&run);
  memset(run.made, false, task->count);
  if (!ever)
    return false;
  why_repairs round = {0};
  *WHY_LIST_ADD(task->arena, round) = (why_repair){0};
  while (round.count) {
    why_repairs longer = {0};
    qsort(round.at, round.count, sizeof *round.at, by_numbers);
    for (size_t i = 0; i < round.count; i++)
      if (i == 0 || by_numbers(&round.at[i - 1], &round.at[i]) != 0)
        try_set(&run, &round.at[i], repairs, &longer);
    round = longer;
  }
  return true;
}
