// SPDX-License-Identifier: GPL-3.0-or-later
/// A question in the words of the person who asks. Words are matched without regard to case,
/// hyphens and plurals; unknown and ambiguous words become problems with near matches.
#ifndef WHYLIFT_QUERY_H
#define WHYLIFT_QUERY_H

#include "knowledge.h"

typedef struct why_query why_query;

/// What can be said once.
typedef enum {
  WHY_GOAL,     ///< A group, muscle, head or action.
  WHY_EXERCISE, ///< The exercise to explain, or the first of two to compare.
  WHY_BESIDE,   ///< The exercise that it is compared with.
  WHY_REPLACE,  ///< The exercise to replace.
  WHY_SUBJECT,  ///< What trials are pooled about: a goal, else an exercise.
  WHY_LEVEL,    ///< beginner, intermediate or advanced.
  WHY_DAYS,     ///< Sessions of a planned week, 1 to 6.
  WHY_MINUTES,  ///< Minutes of a session, 10 to 240.
  WHY_PURPOSE,  ///< What a planned week is for: grow or keep.
  WHY_START,    ///< The first day of a plan, as 2026-01-05; only calendars need it.
  WHY_DOSE,     ///< "yes": say how the picks are dosed, with sources.
  WHY_TOP,      ///< How many picks to show: a whole number from 1 to 1000, or "all".
  WHY_KIND,     ///< What to list.
  WHY_TEXT,     ///< The abstract of a trial, pasted, to draft a study from: UTF-8, up to 64 KiB.
  WHY_STUDY     ///< A study of the knowledge base, by its id.
} why_word_asked;

/// What can be said many times; a value may itself be a comma-separated list.
typedef enum {
  WHY_HAVE,    ///< Equipment at hand: item, kind or place, with a limit such as dumbbells:15kg.
  WHY_WITHOUT, ///< Equipment that is not at hand: item or kind.
  WHY_AVOID,   ///< Restrictions.
  WHY_TARGET,  ///< Goals of a plan, each with a priority from 1 to 5 if wanted: "glutes:2, calves".
  WHY_GET,     ///< Equipment in addition to what was said to be at hand, or to the usual place.
  WHY_ALLOW    ///< What was said to be missing or to be avoided, and is so no longer.
} why_words_asked;

/// An empty question to `knowledge`, which must outlive it; NULL without memory.
WHY_API why_query* why_query_new(const why_knowledge* knowledge);

/// Say something. Returns WHY_QUESTION when a word is not understood; the reason is then among the
/// query's problems. Texts are copied.
WHY_API why_status why_query_set(why_query* query, why_word_asked word, const char* text);
WHY_API why_status why_query_add(why_query* query, why_words_asked words, const char* text);

/// Say all in one sentence of plain English: the goal, what is at hand or missing, what hurts, the
/// exercise to replace or to explain; then run WHY_ASK. Slang and small slips of spelling are
/// understood; the answer says back what was, and which words were not used. Returns WHY_QUESTION
/// when something is missing, has several meanings, or cannot be answered, and for more than 1000
/// bytes. A sign of danger (chest pain, numbness) is a sound question: its answer is a referral.
WHY_API why_status why_query_ask(why_query* query, const char* sentence);

/// Give a programme that somebody wrote down, for WHY_AUDIT: plain text such as
/// "Mon: RDL 3x8, leg ext 4x12", or the XML that programme.rng describes. `file` names it in
/// problems, which tell lines. At most 256 KiB. Returns WHY_QUESTION for what cannot be read at
/// all; lines that are not understood are told by the answer.
WHY_API why_status why_query_programme(why_query* query, const char* file, const char* text,
                                       size_t length);

/// Give a study as a table for WHY_DRAFT, which makes the file of a study of it: CSV, a finding a
/// row, with the columns that the manual lists. `file` names it in problems, which tell row and
/// column in place of line and column. At most 2 MiB.
WHY_API why_status why_query_findings(why_query* query, const char* file, const char* text,
                                      size_t length);

/// What was not understood so far; belongs to the query.
WHY_API const why_problems* why_query_problems(const why_query* query);

/// Give it back, after all answers made from it. NULL is accepted.
WHY_API void why_query_free(why_query* query);

#endif
