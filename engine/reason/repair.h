// SPDX-License-Identifier: GPL-3.0-or-later
/// The smallest sets of changes under which something holds that does not hold now. What is sought
/// may only be helped by a change, never hindered (why_program_bearing tells of which assumptions
/// that is so); then it holds under a set exactly when the set meets every *block*: a set of
/// changes without all of which it cannot hold. This is the duality of conflicts and hitting sets
/// in: Reiter, A theory of diagnosis from first principles, Artificial Intelligence 32, 1987, doi
/// 10.1016/0004-3702(87)90062-2.
#ifndef WHY_REASON_REPAIR_H
#define WHY_REASON_REPAIR_H

#include "base/base.h"

#include <stdbool.h>
#include <stdint.h>

enum { WHY_REPAIR_MOST = 3 }; ///< Changes of the largest set that is looked for.

/// A set of changes by their numbers, which rise.
typedef struct {
  unsigned count;
  uint32_t at[WHY_REPAIR_MOST];
} why_repair;

typedef WHY_LIST(why_repair) why_repairs;

/// What is sought.
typedef struct {
  size_t count; ///< Changes there are, numbered from 0.
  /// Whether it holds when the changes with `made[i]` are made.
  bool (*holds)(void* user, const bool* made);
  void* user;
  why_arena* arena;
} why_repair_task;

/// Every set of up to WHY_REPAIR_MOST changes under which it holds and no smaller part of which
/// would do, the smallest first, then by the numbers in it. When it holds without a change, that is
/// the empty set alone. Returns whether it holds when all changes are made: if not, no set of any
/// size will do.
bool why_repairs_find(const why_repair_task* task, why_repairs* repairs);

#endif
