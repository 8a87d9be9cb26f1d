// SPDX-License-Identifier: GPL-3.0-or-later
/// What a knowledge base holds: counts for `check`, names for `list`.
#ifndef WHY_PICK_CATALOGUE_H
#define WHY_PICK_CATALOGUE_H

#include "question.h"
#include "rulebook.h"

/// A thing and how many there are of it.
typedef struct {
  const char* what;
  size_t count;
} why_tally;

typedef WHY_LIST(why_tally) why_tallies;

typedef struct {
  const why_ground* ground;
  why_tallies things; ///< Exercises, heads, studies ...
  why_tallies bases;  ///< Numbers by basis, most first.
  why_idle idle;
  why_tallies left_out; ///< What is kept but not used, by kind and reason, most first.
} why_summary;

typedef struct {
  const char* id;
  const char* name;
  const char* more; ///< Something about it, or "".
} why_listed;

typedef struct {
  const why_ground* ground;
  const char* kind;
  WHY_LIST(why_listed) rows; ///< In order of ids.
  why_rulebook rules;        ///< Of the kind "rules", in place of rows.
} why_listing;

const why_summary* why_summary_new(const why_ground* ground, why_arena* arena,
                                   why_problems* problems);

/// List the kind that `question` names ("" lists the kinds). WHY_QUESTION for an unknown kind.
why_status why_listing_run(const why_question* question, why_listing** listing);

#endif
