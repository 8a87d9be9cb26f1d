// SPDX-License-Identifier: GPL-3.0-or-later
/// The rules as a class reads them, and those that never matter.
#ifndef WHY_PICK_RULEBOOK_H
#define WHY_PICK_RULEBOOK_H

#include "question.h"

/// One rule in full.
typedef struct {
  const why_rule_row* row;
  why_symbol_list reads;   ///< Relations that its conditions look at, each once, in their order.
  why_symbol_list refuses; ///< Relations of which it wants no fact.
  why_symbol_list gives;
} why_ruled;

typedef WHY_LIST(why_ruled) why_rulebook;

/// All rules, file by file in order of their names, within a file as they stand there.
why_rulebook why_rulebook_new(const why_ground* ground, why_arena* arena);

/// What never matters.
typedef struct {
  why_symbol_list rules; ///< Gave no fact, neither without a question nor for any of those asked.
  why_symbol_list relations; ///< Neither a rule nor the program reads them.
  size_t questions;          ///< How many were asked.
} why_idle;

/// Ask for every group of muscles in several ways, for swaps of every movement pattern, and so on,
/// and see which rules gave facts. A second or so. Errors go to `problems`.
why_idle why_idle_find(const why_ground* ground, why_arena* arena, why_problems* problems);

#endif
