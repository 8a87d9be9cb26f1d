// SPDX-License-Identifier: GPL-3.0-or-later
// count, sum, least and most. The inside is evaluated into rows (by, over or kept, value), which
// are sorted so that equal ones and groups come together; nothing depends on the order in which
// they were found.
#include "store.h"

#include "value.h"

#include <math.h>
#include <string.h>

/// An aggregate at work: its rows lie on the machine's stack from `base` on.
typedef struct {
  const why_aggregate* of;
  const why_condition* condition;
  unsigned width; ///< by, then over or keep, then the value.
  size_t base;    ///< First value on the stack.
  size_t count;   ///< Rows.
  uint64_t bound; ///< Variables that had a value before: results must agree with it.
} rows;

static unsigned detail_count(const rows* at) {
  bool extreme = at->condition->kind == WHY_LEAST || at->condition->kind == WHY_MOST;
  return (unsigned)(extreme ? at->of->keep_count : at->of->over_count);
}

static const uint32_t* details(const rows* at) {
  bool extreme = at->condition->kind == WHY_LEAST || at->condition->kind == WHY_MOST;
  return extreme ? at->of->keep_inside : at->of->over;
}

static void push(why_machine* machine, why_value value) {
  *WHY_LIST_ADD(machine->store->work, machine->rows) = value;
}

static void take_in(why_machine* machine, void* user) {
  rows* at = user;
  for (size_t i = 0; i < at->of->by_count; i++)
    push(machine, machine->variables[at->of->by[i]]);
  for (unsigned i = 0; i < detail_count(at); i++)
    push(machine, machine->variables[details(at)[i]]);
  push(machine, at->of->of == WHY_NO_VARIABLE ? (why_value){0} : machine->variables[at->of->of]);
  at->count++;
}

static void collect(why_machine* machine, const why_step* step, rows* at) {
  void (*met)(why_machine*, void*) = machine->met;
  void* user = machine->user;
  machine->met = take_in;
  machine->user = at;
  why_machine_run(machine, step->inside);
  machine->met = met;
  machine->user = user;
}

static int compare_bits(const why_value* a, const why_value* b, unsigned width) {
  for (unsigned i = 0; i < width; i++)
    if (a[i].bits != b[i].bits)
      return a[i].bits < b[i].bits ? -1 : 1;
  return 0;
}

static void swap_rows(why_value* a, why_value* b, unsigned width) {
  for (unsigned i = 0; i < width; i++) {
    why_value kept = a[i];
    a[i] = b[i];
    b[i] = kept;
  }
}

static void sift_down(why_value* all, size_t root, size_t count, unsigned width) {
  for (size_t child = 2 * root + 1; child < count; child = 2 * root + 1) {
    if (child + 1 < count &&
        compare_bits(all + child * width, all + (child + 1) * width, width) < 0)
      child++;
    if (compare_bits(all + root * width, all + child * width, width) >= 0)
      return;
    swap_rows(all + root * width, all + child * width, width);
    root = child;
  }
}

/// Fewer rows are sorted by putting each in its place.
enum { FEW = 12 };

static void sort_few(why_value* all, size_t count, unsigned width) {
  for (size_t i = 1; i < count; i++)
    for (size_t k = i; k > 0 && compare_bits(all + (k - 1) * width, all + k * width, width) > 0;
         k--)
      swap_rows(all + (k - 1) * width, all + k * width, width);
}

/// Heapsort: in place, without recursion, never worse than n log n.
void why_rows_sort(why_value* all, size_t count, unsigned width) {
  if (count <= FEW) {
    sort_few(all, count, width);
    return;
  }
  for (size_t i = count / 2; i-- > 0;)
    sift_down(all, i, count, width);
  for (size_t i = count; i-- > 1;) {
    swap_rows(all, all + i * width, width);
    sift_down(all, 0, i, width);
  }
}

/// Drop equal neighbours; returns how many rows are left.
static size_t drop_equal(why_value* all, size_t count, unsigned width) {
  size_t kept = 0;
  for (size_t i = 0; i < count; i++) {
    if (kept && compare_bits(all + (kept - 1) * width, all + i * width, width) == 0)
      continue;
    memmove(all + kept * width, all + i * width, width * sizeof *all);
    kept++;
  }
  return kept;
}

/// The sum of the last value of each row, in a fixed order and with Neumaier's compensation: the
/// same whatever order the rows came in.
static double sum_rows(why_machine* machine, size_t first, size_t count, unsigned width) {
  size_t base = machine->rows.count;
  for (size_t i = 0; i < count; i++)
    push(machine, machine->rows.at[first + i * width + width - 1]);
  why_rows_sort(machine->rows.at + base, count, 1);
  const why_value* numbers = machine->rows.at + base;
  double sum = 0;
  double lost = 0;
  for (size_t i = 0; i < count; i++) {
    double number = numbers[i].number;
    double larger = sum + number;
    lost += fabs(sum) >= fabs(number) ? (sum - larger) + number : (number - larger) + sum;
    sum = larger;
  }
  machine->rows.count = base;
  return sum + lost;
}

/// How the rule goes on.
typedef struct {
  void (*each)(why_machine* machine, void* user);
  void* user;
} next;

/// Give the rule's variable a value; false when it has another one already.
static bool agree(why_machine* machine, const rows* at, uint32_t variable, why_value value) {
  if (at->bound & why_bit(variable))
    return machine->variables[variable].bits == value.bits;
  machine->variables[variable] = value;
  return true;
}

static void give(why_machine* machine, const rows* at, why_value result, const next* then) {
  if (agree(machine, at, at->of->result, result))
    then->each(machine, then->user);
}

/// Which of two rows comes first by the texts of what is kept.
static bool is_before(const why_machine* machine, const rows* at, size_t a, size_t b) {
  for (unsigned i = 0; i < detail_count(at); i++) {
    const why_slot* slot = &machine->rule->variables[at->of->keep_inside[i]].slot;
    int order =
        why_value_compare(slot, machine->store->symbols, machine->rows.at[a + at->of->by_count + i],
                          machine->rows.at[b + at->of->by_count + i]);
    if (order)
      return order < 0;
  }
  return false;
}

static void give_row(why_machine* machine, const rows* at, size_t row, const next* then) {
  why_value result = machine->rows.at[row + at->width - 1];
  for (size_t i = 0; i < at->of->keep_count; i++)
    if (!agree(machine, at, at->of->keep_outside[i], machine->rows.at[row + at->of->by_count + i]))
      return;
  give(machine, at, result, then);
}

static void give_extreme(why_machine* machine, const rows* at, size_t first, size_t count,
                         const next* then) {
  unsigned value = at->width - 1;
  bool least = at->condition->kind == WHY_LEAST;
  size_t best = first;
  for (size_t i = 0; i < count; i++) {
    size_t row = first + i * at->width;
    double a = machine->rows.at[row + value].number;
    double b = machine->rows.at[best + value].number;
    if (least ? a < b : a > b)
      best = row;
    else if (a == b && is_before(machine, at, row, best))
      best = row;
  }
  why_value result = machine->rows.at[best + value];
  bool all = at->of->keep_count > 0 && !at->condition->row->first_tie;
  if (!all) {
    give_row(machine, at, best, then);
    return;
  }
  for (size_t i = 0; i < count; i++) {
    size_t row = first + i * at->width;
    if (machine->rows.at[row + value].bits == result.bits)
      give_row(machine, at, row, then);
  }
}

/// One group: rows that agree in `by`.
static void give_group(why_machine* machine, const rows* at, size_t first, size_t count,
                       const next* then) {
  for (size_t i = 0; i < at->of->by_count; i++)
    machine->variables[at->of->by[i]] = machine->rows.at[first + i];
  switch (at->condition->kind) {
  case WHY_COUNT:
    give(machine, at, why_value_of_number((double)count), then);
    break;
  case WHY_SUM:
    give(machine, at, why_value_of_number(sum_rows(machine, first, count, at->width)), then);
    break;
  default:
    give_extreme(machine, at, first, count, then);
    break;
  }
}

static void give_groups(why_machine* machine, const rows* at, const next* then) {
  for (size_t i = 0; i < at->count && !machine->failed;) {
    size_t first = at->base + i * at->width;
    size_t count = 1;
    while (i + count < at->count &&
           compare_bits(machine->rows.at + first, machine->rows.at + first + count * at->width,
                        (unsigned)at->of->by_count) == 0)
      count++;
    give_group(machine, at, first, count, then);
    i += count;
  }
}

void why_aggregate_run(why_machine* machine, const why_step* step,
                       void (*each)(why_machine* machine, void* user), void* user) {
  rows at = {.of = step->condition->group,
             .condition = step->condition,
             .base = machine->rows.count,
             .bound = step->bound};
  at.width = (unsigned)at.of->by_count + detail_count(&at) + 1;
  // The inside has variables of its own; of the rule's it binds only those in `by` that nothing has
  // bound, which each group then binds anew.
  collect(machine, step, &at);
  next then = {each, user};
  if (!machine->failed && at.count == 0 && at.of->has_none)
    give(machine, &at, at.of->none, &then);
  if (!machine->failed && at.count > 0) {
    why_rows_sort(machine->rows.at + at.base, at.count, at.width);
    at.count = drop_equal(machine->rows.at + at.base, at.count, at.width);
    machine->rows.count = at.base + at.count * at.width;
    give_groups(machine, &at, &then);
  }
  machine->rows.count = at.base;
}
