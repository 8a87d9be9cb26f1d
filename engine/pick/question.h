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

typedef WHY_LIST(const char*) why_texts;

/// A goal of a plan: 1 is the usual priority.
typedef struct {
  why_symbol muscle; ///< A group or a head.
  double priority;
} why_target;

typedef WHY_LIST(why_target) why_targets;

/// What a sentence asks for.
typedef enum {
  WHY_ASKED_PICK,
  WHY_ASKED_SWAP,
  WHY_ASKED_EXPLAIN,
  WHY_ASKED_COMPARE,
  WHY_ASKED_MOMENTS, ///< What an exercise asks of which muscles.
  WHY_ASKED_PLAN,
  WHY_ASKED_AUDIT
} why_asked_task;

/// What a word of a sentence was taken for.
typedef struct {
  const char* words; ///< As typed.
  const char* as;    ///< Name for people.
} why_heard;

/// How a sentence was understood.
typedef struct {
  why_asked_task task;
  WHY_LIST(why_heard) heard;
  why_texts mended; ///< "hamstings" read as "hamstrings": one sentence each.
  why_texts unused; ///< Words that changed nothing.
  why_texts notes;  ///< What was understood and has no effect, and why.
} why_asked;

typedef struct {
  const why_ground* ground;
  why_arena* arena;
  why_problems* problems; ///< What was not understood.
  why_thing goal;         ///< Head, group, set or action; id 0 when not said, as all below.
  why_things also;        ///< Further goals; what trains any of them is looked at.
  why_symbol exercise;
  why_symbol other; ///< To which `exercise` is compared.
  why_symbol replaced;
  const char* level;         ///< NULL when not said.
  size_t top;                ///< How many picks to show.
  const char* text;          ///< Pasted, to draft a study from; NULL when not said.
  const char* findings;      ///< A study as a table, CSV; NULL when not said.
  const char* findings_file; ///< As it is called in problems.
  why_symbol study;          ///< To show as a table.
  const char* list;          ///< Which kind to list; "" for the list of kinds.
  why_things have;
  why_things without;
  why_things avoid;
  why_things declined;            ///< Exercises and patterns that the person does not want.
  why_symbol pattern;             ///< Only picks of this movement pattern are shown; 0: of any.
  const why_asked* asked;         ///< NULL unless the question came as a sentence.
  double days;                    ///< Sessions of a planned week; 0 when not said, as the next.
  double minutes;                 ///< Of a session.
  const char* purpose;            ///< grow or keep; NULL when not said.
  const char* start;              ///< First day of a plan, YYYY-MM-DD; NULL when not said.
  why_targets targets;            ///< Goals of a plan.
  bool dosed;                     ///< How the picks are dosed is wanted too.
  const why_programme* programme; ///< What is to be audited, or NULL.
} why_question;

enum { WHY_TOP_USUAL = 5, WHY_TOP_LIMIT = 1000, WHY_WORDS_LIMIT = 200, WHY_SHOWN_LIMIT = 80 };

/// The place that is assumed when nothing is said to be at hand.
#define WHY_PLACE_USUAL "full-gym"

/// An empty question.
void why_question_init(why_question* question, const why_ground* ground, why_arena* arena,
                       why_problems* problems);

// Each takes what a person typed and returns WHY_QUESTION after reporting what is wrong with it.
//
// The one thing that `typed` means among `kinds` is put into `*thing`; `check` names the question's
// part in problems.
why_status why_question_resolve(why_question* question, const char* check, const char* typed,
                                unsigned kinds, why_thing* thing);
why_status why_question_goal(why_question* question, const char* typed);
why_status why_question_exercise(why_question* question, const char* typed, why_symbol* exercise);
why_status why_question_subject(why_question* question, const char* typed);
why_status why_question_study(why_question* question, const char* typed);
why_status why_question_level(why_question* question, const char* typed);
why_status why_question_top(why_question* question, const char* typed);
// Of a plan: sessions a week (1 to 6), minutes a session (10 to 240), what for (grow, keep), the
// first day, goals such as "glutes:2, hamstrings".
why_status why_question_days(why_question* question, const char* typed);
why_status why_question_minutes(why_question* question, const char* typed);
why_status why_question_purpose(why_question* question, const char* typed);
why_status why_question_start(why_question* question, const char* typed);
why_status why_question_targets(why_question* question, const char* list);
why_status why_question_target(why_question* question, const why_thing* goal); ///< One, by itself.

why_status why_question_have(why_question* question, const char* list);
why_status why_question_without(why_question* question, const char* list);
why_status why_question_avoid(why_question* question, const char* list);

/// Things at hand in addition to what was said, or to the usual place.
why_status why_question_get(why_question* question, const char* list);

/// What was ruled out, is to be avoided, or was declined, and is so no longer.
why_status why_question_allow(why_question* question, const char* list);

/// The levels that can be said, NULL behind the last.
const char* why_question_level_at(size_t index);

/// Report what is wrong with something typed; always WHY_QUESTION.
why_status why_question_refuse(why_question* question, const char* check, const char* sentence,
                               const char* typed);

/// Understand `sentence`, in the words of the person, and fill the question with it (ask.c).
/// WHY_QUESTION after reporting what is missing, ambiguous or cannot be answered.
why_status why_question_ask(why_question* question, const char* sentence);

/// For a comparison of two exercises without a goal: take what both of them train as the goal.
why_status why_question_common(why_question* question);

/// Tell an overlay what the question says; then only what it asks of a plan (the first calls it).
void why_question_assume(const why_question* question, why_overlay* overlay);
void why_question_assume_plan(const why_question* question, why_overlay* overlay);

#endif
