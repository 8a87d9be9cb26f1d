// SPDX-License-Identifier: GPL-3.0-or-later
/// An answer as the rules give it: rows and sentences, not yet in any format. Everything lives in
/// the answer's arena, together with the overlay that it was read from.
#ifndef WHY_PICK_ANSWER_H
#define WHY_PICK_ANSWER_H

#include "question.h"

#include "pool/pool.h"

/// A sentence with what it rests on.
typedef struct {
  const char* say;
  const char* rule;      ///< Id of the rule.
  const char* grounds;   ///< anatomy, mechanism, trials, practice, safety.
  const char* certainty; ///< NULL where the grounds are neutral.
  why_symbol_list studies;
} why_reason;

typedef WHY_LIST(why_reason) why_reasons;

typedef struct {
  why_symbol head;
  double part;                  ///< How much of its growth is counted, 0 to 1.
  const char* certainty;        ///< NULL where none was earned.
  const why_estimate* estimate; ///< NULL without a growth model.
} why_head_part;

typedef struct {
  why_symbol exercise;
  const char* name;
  const char* name_here; ///< With the load that is used here in place of the usual one.
  const char* recommendation;
  const char* certainty;
  int step;
  const why_estimate* estimate; ///< Of the whole goal; NULL without a growth model.
  WHY_LIST(why_head_part) heads;
  why_reasons reasons;
  why_reasons lost;
  why_texts cautions;
} why_pick_row;

typedef struct {
  why_symbol exercise;
  const char* name;
  const char* recommendation;
  why_reasons reasons;
} why_against_row;

typedef struct {
  why_symbol exercise;
  const char* name;
  int share; ///< Of the weekly work for the goal, per cent; 0 where it is not shared.
  why_reasons because;
} why_near_row;

/// One step of an explanation; its parts are what it rests on.
typedef struct why_step {
  const char* say;
  const char* mark; ///< Rule id and grounds, or the place in the XML; "" if neither.
  size_t more;      ///< Like parts that are not shown.
  struct why_step* first;
  struct why_step* last;
  struct why_step* next;
} why_step;

/// One change to what a question says.
typedef struct {
  const char* words;      ///< How it begins: "get".
  const char* assumption; ///< The relation: "have-item".
  const char* kind;       ///< What is changed: "item" ...
  const char* id;         ///< ... and which.
} why_alteration;

/// A smallest set of changes that makes an exercise a pick.
typedef struct {
  WHY_LIST(why_alteration) changes;
  const char* say; ///< "get barbell and weight plates".
  size_t number;   ///< Where the exercise then stands among the picks, from 1.
} why_way;

/// Rules that would have made an exercise a pick, each with the condition that fails.
typedef struct {
  why_step* steps;      ///< Below a root without words.
  why_symbol_list path; ///< Rules that would have followed, the last first.
} why_failure;

/// Why an exercise that is asked about is no pick, or stands where it stands.
typedef struct {
  size_t number;           ///< It is a pick: its place, from 1; else 0.
  why_texts above;         ///< What puts picks before it, one sentence each.
  bool possible;           ///< It can be done as things are.
  bool hopeless;           ///< It cannot be done whatever is changed.
  why_failure failed;      ///< As things are.
  WHY_LIST(why_way) ways;  ///< Smallest first; what the exercise itself names before stand-ins.
  size_t vain;             ///< Smallest sets that would make it possible, and still no pick.
  const char* vain_first;  ///< The first of them in words; NULL: none, or no change was needed.
  why_failure vain_failed; ///< What would still keep it from being a pick.
  bool cut;                ///< There were more sets than are tried.
} why_absence;

typedef struct {
  const why_question* question;
  why_arena* arena;
  why_overlay* overlay;
  why_symbol_list heads; ///< The wanted heads.
  why_goal goal;         ///< The same, in the same order, with their weights.
  bool trained;          ///< Growth is that of people who trained before.
  WHY_LIST(why_pick_row) picks;
  size_t pick_count;   ///< Of picks of the kind that is shown, shown or not.
  bool pattern_missed; ///< No pick is of the pattern that was asked for, so that all are shown.
  size_t all_count;    ///< Of all picks.
  WHY_LIST(why_against_row) against;
  size_t against_count;
  why_near_row leading; ///< The first pick with its share, where something completes it.
  WHY_LIST(why_near_row) complement; ///< What fills the gaps of the best pick.
  WHY_LIST(why_near_row) nearest;
  size_t rejected_count;
  why_texts notices;   ///< What everybody should hear about the equipment of the picks.
  why_texts referrals; ///< Signs of danger: nothing is picked, this is said.
  why_texts notes;     ///< Why there is no pick.
  why_step* chain;     ///< Explanations, one below the other; NULL when none was asked for.
  why_symbol_list chain_studies; ///< Studies that the chain rests on.
  const char* verdict;           ///< In one sentence, for explanations.
  const why_absence* absence;    ///< For explanations.
} why_picked;

/// Run the rules for `question` and read picks, advice against and near misses. Returns WHY_OK,
/// WHY_NO_PICK, or WHY_KNOWLEDGE when a rule fails (reported to the question's problems).
why_status why_pick_run(const why_question* question, why_picked** answer);

/// Whether and where `exercise` is a pick in an overlay: its place from 1, or 0.
size_t why_pick_place(const why_ground* ground, why_overlay* overlay, why_symbol exercise);

/// The same, and the whole chain for `question->exercise`.
why_status why_explain_run(const why_question* question, why_picked** answer);

#endif
