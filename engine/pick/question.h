// SPDX-License-Identifier: GPL-3.0-or-later
/// A question, understood: words resolved to ids of the knowledge base.
#ifndef WHY_PICK_QUESTION_H
#define WHY_PICK_QUESTION_H

#include "ground.h"

/// A thing that was named.
typedef struct {
  why_meaning kind;
  why_symbol id;
  double limit_kg; ///< NAN where no limit was given.
} why_thing;

typedef WHY_LIST(why_thing) why_things;

typedef struct {
  const why_ground* ground;
  why_arena* arena;
  why_problems* problems; ///< What was not understood.
  why_thing goal;         ///< Head, group, set or action; id 0 when not said, as all below.
  why_symbol exercise;
  why_symbol replaced;
  const char* level; ///< NULL when not said.
  size_t top;        ///< How many picks to show.
  const char* list;  ///< Which kind to list; "" for the list of kinds.
  why_things have;
  why_things without;
  why_things avoid;
} why_question;

enum { WHY_TOP_USUAL = 5, WHY_TOP_LIMIT = 1000, WHY_WORDS_LIMIT = 200, WHY_SHOWN_LIMIT = 80 };

/// An empty question.
void why_question_init(why_question* question, const why_ground* ground, why_arena* arena,
                       why_problems* problems);

// Each takes what a person typed and returns WHY_QUESTION after reporting what is wrong with it.
why_status why_question_goal(why_question* question, const char* typed);
why_status why_question_exercise(why_question* question, const char* typed, why_symbol* exercise);
why_status why_question_level(why_question* question, const char* typed);
why_status why_question_top(why_question* question, const char* typed);
why_status why_question_have(why_question* question, const char* list);
why_status why_question_without(why_question* question, const char* list);
why_status why_question_avoid(why_question* question, const char* list);

/// Tell an overlay what the question says.
void why_question_assume(const why_question* question, why_overlay* overlay);

#endif
