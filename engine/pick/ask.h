// SPDX-License-Identifier: GPL-3.0-or-later
/// From a sentence to a question, in steps that each do one thing: cut into words, mend spelling,
/// find the longest known phrases and names, read amounts, settle what each name is there for
/// (at hand, not at hand, to avoid, a goal ...), and what is asked. What phrases mean stands in
/// rules/lexicon.xml. Private to pick.
#ifndef WHY_PICK_ASK_H
#define WHY_PICK_ASK_H

#include "question.h"

enum {
  WHY_SENTENCE_LIMIT = 1000, ///< Longest sentence, bytes.
  WHY_ASK_WORDS_LIMIT = 200, ///< Most words and marks of a sentence.
  WHY_ASK_GOALS_LIMIT = 4,   ///< Most goals of a sentence.
  WHY_ASK_SPAN_LIMIT = 8     ///< Longest known phrase, words.
};

/// A word, a number or a mark.
typedef struct {
  const char* typed;
  const char* read; ///< In lower case, without apostrophes, spelling mended.
  bool mark;        ///< Neither word nor number.
  bool number;
  size_t end; ///< Byte of the sentence behind it.
} why_ask_word;

/// What a span of words is there for.
typedef enum {
  WHY_USE_NONE,   ///< For nothing: it is said back as not used.
  WHY_USE_SILENT, ///< A phrase or a mark that did its work.
  WHY_USE_GOAL,
  WHY_USE_EXERCISE, ///< Mentioned: to be explained, compared, or passed over.
  WHY_USE_REPLACED,
  WHY_USE_DECLINED,
  WHY_USE_HAVE,
  WHY_USE_WITHOUT,
  WHY_USE_AVOID
} why_ask_use;

/// Words that belong together: a name, a phrase, a mark, an amount or a single unknown word.
typedef struct {
  size_t first; ///< Of its words.
  size_t count;
  const char* form;                  ///< As the lexicon is asked for it.
  unsigned kinds;                    ///< Of the things that it can mean; 0 for none.
  const why_lexicon_phrases* phrase; ///< NULL for all but phrases.
  double amount;                     ///< In the unit of `measure`; NAN for none.
  why_measure measure;
  double limit_kg;        ///< Of a thing; NAN for none.
  why_symbol restriction; ///< Of a part of the body that complains; 0 for none.
  const char* wrong;      ///< What is wrong with a number; NULL for nothing.
  why_ask_use use;
} why_ask_span;

typedef struct {
  why_question* question;
  why_asked* asked;
  why_matcher cutting;
  WHY_LIST(why_ask_word) words;
  WHY_LIST(why_ask_span) spans;
  const why_lexicon_phrases* beyond; ///< The first phrase that cannot be answered here.
  why_phrase_role wish;              ///< WHY_PHRASE_SWAP or _WHY, or _FILLER where none was said.
  why_ask_span* chosen;              ///< A pattern that is wanted in whichever form; NULL if none.
  double days;                       ///< Of training in a week; 0 when not said ...
  double minutes;                    ///< ... as of a session.
  bool danger;                       ///< A sign of danger was named.
  bool vague;                        ///< A complaint about no part that is known.
} why_asking;

// The steps, in order. Those that can refuse return WHY_QUESTION after reporting.
why_status why_ask_cut(why_asking* asking, const char* sentence); ///< ask_words.c
void why_ask_mend(why_asking* asking);                            ///< ask_words.c
void why_ask_recognise(why_asking* asking);                       ///< ask_span.c
void why_ask_amounts(why_asking* asking);                         ///< ask_amount.c
void why_ask_complaints(why_asking* asking);                      ///< ask_complaint.c
why_status why_ask_signs(why_asking* asking);                     ///< ask_complaint.c
void why_ask_scopes(why_asking* asking);                          ///< ask_scope.c
why_status why_ask_restrict(why_asking* asking);                  ///< ask_fill.c
why_status why_ask_fill(why_asking* asking);                      ///< ask_fill.c
why_status why_ask_decide(why_asking* asking);                    ///< ask_decide.c

/// Read the week that is written behind "check my programme".
why_status why_ask_audit(why_asking* asking, const char* sentence); ///< ask_week.c

/// Settle what a week is to be planned for.
why_status why_ask_plan(why_asking* asking); ///< ask_week.c

/// Whether the span is a place with nothing else, as "bands only".
bool why_ask_is_sole(const why_ask_span* span); ///< ask_scope.c

/// Whether the span is a phrase of that role.
bool why_ask_is(const why_ask_span* span, why_phrase_role role);

/// The first span that is a phrase of that role, or NULL.
const why_ask_span* why_ask_first(const why_asking* asking, why_phrase_role role);

/// Whether the span is a mark that ends a sentence, or is the mark `mark`.
bool why_ask_ends(const why_asking* asking, const why_ask_span* span);
bool why_ask_is_mark(const why_asking* asking, const why_ask_span* span, const char* mark);

/// The words of a span, as typed.
const char* why_ask_typed(const why_asking* asking, const why_ask_span* span);

/// Report what is missing in a sentence; returns WHY_QUESTION.
why_status why_ask_refuse(why_asking* asking, const char* sentence, const char* hint);

/// Add a restriction to the question, once.
void why_ask_avoid(why_asking* asking, why_symbol restriction);

#endif
