// SPDX-License-Identifier: GPL-3.0-or-later
/// A week of training: the rules of rules/reasoning/planning.xml say what it must hold, GLPK
/// chooses.
#ifndef WHY_PICK_PLAN_H
#define WHY_PICK_PLAN_H

#include "dose.h"

/// A muscle of the plan: a group or a head.
typedef struct {
  why_symbol muscle;
  bool is_group;
  const char* why; ///< goal, major or other.
  double least;
  double aim;
  double most;
  double priority;
  double sets;   ///< What the week gives it, as for the head for which each set counts most.
  bool hopeless; ///< No exercise for it can be set up here.
} why_plan_muscle;

/// A head of a muscle of the plan.
typedef struct {
  why_symbol head;
  size_t muscle;
  double weight; ///< Its part of its muscle times the priority.
  double aim;
  double most;
  double sets; ///< Indirect sets as halves.
} why_plan_head;

/// An exercise in one session.
typedef struct {
  why_symbol exercise;
  double sets;
  double seconds;
  why_symbol_list direct; ///< Heads of the plan for which its sets are direct.
  why_symbol_list longs;  ///< Those of them that are long under load.
  why_dose dose;
} why_plan_entry;

typedef struct {
  double weekday; ///< Days behind Monday.
  double seconds; ///< With warming up.
  double spine;   ///< Sets with a high load along the spine, medium ones as halves.
  WHY_LIST(why_plan_entry) entries;
} why_plan_day;

/// What must hold.
typedef enum {
  WHY_LIMIT_TIME,      ///< Minutes of all sessions.
  WHY_LIMIT_LEAST,     ///< Weekly sets of a muscle, at least.
  WHY_LIMIT_MOST,      ///< Weekly sets of a head, at most.
  WHY_LIMIT_EXERCISES, ///< Exercises of a session, at most.
  WHY_LIMIT_FEWEST,    ///< Exercises of a session, at least.
  WHY_LIMIT_SPINE,     ///< Load along the spine.
  WHY_LIMIT_LONG,      ///< A goal is trained at long muscle length.
  WHY_LIMIT_SHORTER,   ///< And at another.
  WHY_LIMIT_BASIC      ///< A basic movement; `about` is its name.
} why_limit_kind;

typedef struct {
  why_limit_kind kind;
  why_symbol about; ///< Muscle or head; 0 for others.
  double bound;
  double reached; ///< By the plan, or what relaxing would need.
  bool binds;
} why_limit;

/// A smallest set of limits whose relaxation makes a week possible.
typedef struct {
  WHY_LIST(why_limit) limits;
} why_way_out;

typedef struct {
  const why_question* question;
  why_arena* arena;
  const char* level;
  const char* purpose;
  double minutes;
  double least_exercises;
  double most_exercises;
  double spine_most;
  double session_most; ///< Sets of a head in one session.
  WHY_LIST(why_plan_muscle) muscles;
  WHY_LIST(why_plan_head) heads;
  WHY_LIST(why_plan_day) days; ///< Without entries where there is no such week.
  WHY_LIST(why_limit) limits;
  WHY_LIST(why_way_out) ways_out; ///< Where there is no such week.
  size_t candidates;              ///< Exercises that were looked at.
  double value;                   ///< Of the choice.
  double bound;                   ///< No choice is worth more.
  double gap;                     ///< GLPK's; 0: the optimum is proven.
  int nodes;
  why_reasons general; ///< What holds for every exercise.
  why_symbol_list measurements;
  why_texts referrals;
  why_picked* picked; ///< The overlay and question, for sentences.
} why_plan;

/// Plan a week. WHY_NO_PICK when no week holds all limits: `ways_out` says what would help.
why_status why_plan_run(const why_question* question, const why_plan** plan);

#endif
