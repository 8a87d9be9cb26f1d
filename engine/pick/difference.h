// SPDX-License-Identifier: GPL-3.0-or-later
/// What differs between two answers, pick by pick, and why: the facts on which one of them rests
/// and which do not hold in the other. The answers may come from two questions, two knowledge
/// bases, or both; nothing is assumed to have the same number in both, all is compared by names and
/// values.
#ifndef WHY_PICK_DIFFERENCE_H
#define WHY_PICK_DIFFERENCE_H

#include "answer.h"
#include "refit.h"

/// Something that one answer rests on, or that stands in the way in one of them.
typedef struct {
  const char* say;
  const char* mark; ///< Rule and grounds, or place in the XML; "" if neither.
  bool gone;        ///< It was so before; else it is so now.
} why_cause;

typedef enum {
  WHY_SHIFT_CAME,
  WHY_SHIFT_WENT,
  WHY_SHIFT_CHANGED, ///< Recommendation, certainty, step or estimate.
  WHY_SHIFT_MOVED,   ///< Only its place among the picks that both answers have.
  WHY_SHIFT_SLIGHT,  ///< Its place or step, since a new fit of the growth model moved estimates by
                     ///< less than is worth telling; no causes are looked for.
  WHY_SHIFT_PUSHED   ///< Only its number, since others came or went before it.
} why_shift_kind;

/// A pick that is not the same in both answers.
typedef struct {
  why_shift_kind kind;
  const char* exercise; ///< Id.
  const char* name;
  size_t number_before; ///< Among the picks, from 1; 0: it was none.
  size_t number_after;
  const why_pick_row* before; ///< NULL: it was none.
  const why_pick_row* after;
  WHY_LIST(why_cause) causes;
} why_shift;

typedef struct {
  const why_picked* before;
  const why_picked* after;
  double worth;            ///< The setting `shift-worth-telling`: points of expected growth.
  WHY_LIST(why_shift) all; ///< In order of the numbers after, then what went by those before.
  size_t same;             ///< Picks that are the same in both.
} why_shifts;

/// Compare two answers that show all of their picks (question->top). Lives in the arena of `after`;
/// both answers must outlive it.
const why_shifts* why_shifts_find(const why_picked* before, const why_picked* after);

/// Ids that one knowledge base has and the other has not, by kind ("studies", "rules",
/// "exercises").
typedef struct {
  const char* kind;
  const char* id;
  bool gone; ///< It stands in the first only.
} why_part_change;

typedef struct {
  const why_ground* before;
  const why_ground* after;
  WHY_LIST(why_part_change) parts;
  why_moved_list moved;              ///< Estimates of the heads asked about, by a new fit.
  WHY_LIST(const why_shifts*) goals; ///< One, or one for each group when no goal was named.
} why_comparison;

/// Answer both questions and compare. Without goal and exercise, every group of muscles is asked
/// about. WHY_KNOWLEDGE when a rule fails, reported to the question's problems.
why_status why_comparison_run(const why_question* before, const why_question* after,
                              const why_comparison** comparison);

#endif
