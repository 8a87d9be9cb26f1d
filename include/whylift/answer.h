// SPDX-License-Identifier: GPL-3.0-or-later
/// An answer: what the rules conclude for one question.
#ifndef WHYLIFT_ANSWER_H
#define WHYLIFT_ANSWER_H

#include "query.h"

#include <stdbool.h>

typedef struct why_answer why_answer;

typedef enum {
  WHY_PICK,     ///< Exercises for a goal, best first.
  WHY_SWAP,     ///< Exercises that replace another.
  WHY_EXPLAIN,  ///< Why an exercise is, or is not, a pick for a goal: the whole chain.
  WHY_COMPARE,  ///< Which of two exercises grows a goal more, and how certain that is.
  WHY_MOMENTS,  ///< What the muscles must give in an exercise, joint by joint.
  WHY_POOL,     ///< What trials found for a goal or with an exercise, pooled.
  WHY_VALIDATE, ///< How well the growth model predicts studies that are left out; a minute or more.
  WHY_AUDIT,    ///< What a programme (why_query_programme) amounts to in a week.
  WHY_PLAN,     ///< A week of training, chosen by integer programming.
  WHY_ASK,      ///< What a sentence asks for (why_query_ask): one of the tasks above.
  WHY_CHECK,    ///< What the knowledge base holds and what was left out.
  WHY_LIST,     ///< The names of one kind of thing.
  WHY_DRAFT,    ///< A study drafted from a pasted text (WHY_TEXT), for a person to confirm, or
                ///< made from a table (why_query_findings).
  WHY_TABULATE  ///< A study of the knowledge base (WHY_STUDY) as a table, a finding a row.
} why_task;

/// Answer `query`. On WHY_OK and WHY_NO_PICK `*answer` is set and owned by the caller; on
/// WHY_QUESTION something is missing or wrong in the question, and its problems say what.
WHY_API why_status why_run(why_query* query, why_task task, why_answer** answer);

/// What differs between the answers to two questions, and why: a what-if. They may be put to one
/// knowledge base or to two. `task` is WHY_PICK or WHY_SWAP; when neither names a goal, every group
/// of muscles is compared. Returns as why_run does, WHY_OK also when nothing differs; `*answer`
/// needs both queries while it lives. What is wrong is among the problems of either query.
WHY_API why_status why_differ(why_query* before, why_query* after, why_task task,
                              why_answer** answer);

/// One pick, as a view that lives as long as the answer.
typedef struct {
  const char* exercise;       ///< Id.
  const char* name;           ///< For people.
  const char* recommendation; ///< GRADE's strength.
  const char* certainty;      ///< GRADE's word, or NULL where it was not earned.
  int step;                   ///< Benefit steps below the best pick.
} why_pick;

WHY_API size_t why_answer_count(const why_answer* answer);
WHY_API why_pick why_answer_at(const why_answer* answer, size_t index);

WHY_API void why_answer_free(why_answer* answer);

#endif
