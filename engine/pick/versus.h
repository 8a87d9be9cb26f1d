// SPDX-License-Identifier: GPL-3.0-or-later
/// Two exercises beside each other, for one goal: how much more one of them is expected to grow it,
/// how certain that is, why, and what would decide it. Numbers come from the growth model;
/// rules/reasoning/comparing.xml settles what they mean.
#ifndef WHY_PICK_VERSUS_H
#define WHY_PICK_VERSUS_H

#include "answer.h"

/// What one exercise does for one head.
typedef struct {
  double part; ///< How much of its growth is counted, 0 to 1; 0: it is not trained.
  const why_estimate* estimate; ///< NULL where it is not trained.
  const char* length; ///< Class of its length under load, by name; NULL: it does not move.
  double stress;      ///< Mean over the repetition, share of its capacity; NAN likewise.
} why_versus_part;

/// A wanted head in both.
typedef struct {
  why_symbol head;
  double weight; ///< Its part of the goal.
  why_versus_part sides[2];
  why_estimate difference; ///< The first less the second.
  const char* certainty;   ///< Of the difference; NULL where neither trains it.
} why_versus_head;

/// One of the two.
typedef struct {
  why_symbol exercise;
  const char* name;
  size_t number;                ///< Among the picks, from 1; 0: it is none.
  const char* verdict;          ///< In one sentence; NULL.
  const why_estimate* estimate; ///< Of the whole goal; NULL where it trains nothing of it.
  why_reasons reasons;
  why_texts cautions; ///< For this person.
} why_versus_side;

typedef struct {
  const why_picked*
      answer; ///< The question with all that it rests on; its overlay knows the differences.
  why_versus_side sides[2];
  bool possible; ///< Either trains a part of the goal, and no sign of danger was named; else
                 ///< nothing below is filled.
  why_estimate difference; ///< Of the whole goal, the first less the second; to one decimal.
  const char* verdict;     ///< a, b, about-equal, unclear.
  const char* leans;       ///< a, b; NULL: to neither.
  const char* certainty;
  WHY_LIST(why_versus_head) heads;
  why_reasons reasons;
  why_reasons decides;  ///< What would decide it.
  why_trial_plan plan;  ///< Of a trial that would;
  double people_group;  ///< how many people each of two groups needs,
  double people_within; ///< or a trial with two limbs of each person.
} why_versus;

/// Compare `question->exercise` with `question->other` for the goal. WHY_NO_PICK when it is not
/// possible; WHY_KNOWLEDGE when a rule fails or a quantity is missing, which is reported.
why_status why_versus_run(const why_question* question, const why_versus** versus);

#endif
