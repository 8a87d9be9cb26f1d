// SPDX-License-Identifier: GPL-3.0-or-later
/// What a programme amounts to in a week: sets a head, muscle lengths, joint actions, load along
/// the spine, what the rules remark on, and the change that would help most.
#ifndef WHY_PICK_AUDIT_H
#define WHY_PICK_AUDIT_H

#include "answer.h"

/// Weekly sets of a head.
typedef struct {
  why_symbol head;
  double direct;
  double published;    ///< Indirect sets as halves.
  double computed;     ///< Indirect sets by their share of stress.
  double at_length[3]; ///< Direct sets at short, middle and long muscle length.
} why_audit_head;

typedef struct {
  why_symbol group;
  double sets; ///< Indirect sets as halves; each set as for the head for which it counts most.
} why_audit_group;

typedef struct {
  const char* name;
  double weekday; ///< Days behind Monday; -1 where no weekday is named.
  double sets;
  double spine; ///< Sets with a high load along the spine, medium ones as halves.
} why_audit_day;

/// A change: `sets` of `exercise` more, or the same sets of it instead of `instead`.
typedef struct {
  why_symbol exercise; ///< 0: no change helps.
  why_symbol instead;  ///< 0 for an addition.
  const char* day;
  double sets;
  why_symbol_list heads; ///< Which heads come nearer to their aim, most first.
  why_symbol_list lost;  ///< Which come further from it.
} why_audit_change;

typedef struct {
  const why_question* question;
  const why_programme* programme;
  why_arena* arena;
  size_t rows; ///< Lines that are counted.
  const char* level;
  WHY_LIST(why_audit_head) heads;   ///< Those with any set, by group.
  WHY_LIST(why_audit_group) groups; ///< All major ones, in order of the anatomy.
  WHY_LIST(why_audit_day) days;
  why_symbol_list covered; ///< Joint actions.
  why_symbol_list missed;
  why_reasons remarks;
  why_audit_change addition;
  why_audit_change swap;
} why_audit;

/// Audit `question->programme`. WHY_QUESTION, reported by line, when nothing of it is understood.
why_status why_audit_run(const why_question* question, const why_audit** audit);

/// Read a programme (text or XML) into the question; `file` names it in messages. WHY_QUESTION
/// after reporting what is wrong.
why_status why_question_programme(why_question* question, const char* file, const char* text,
                                  size_t length);

#endif
