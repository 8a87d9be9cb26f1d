// SPDX-License-Identifier: GPL-3.0-or-later
/// What the parts of drafting share. Each part turns some of the forms that were met into fields of
/// the study, in the order of the functions below.
#ifndef WHY_READ_DRAFT_PARTS_H
#define WHY_READ_DRAFT_PARTS_H

#include "draft.h"
#include "draft_form.h"

/// An arm as the text calls it.
typedef struct {
  const char* label; ///< "HT", or "".
  const char* words; ///< "hip thrust", without "group"; or "".
  why_symbol id;
} why_draft_arm;

/// A muscle or an arm that a sentence names.
typedef struct {
  size_t start; ///< In the shape.
  size_t end;
  bool is_arm;
  why_symbol name; ///< Id of the arm, or name of the measured muscle; 0: a muscle that no name of
                   ///< evidence/studies/muscles.xml stands for alone.
} why_draft_named;

typedef WHY_LIST(why_draft_named) why_draft_named_list;

/// A short name of a muscle, as the text explains it: "vastus lateralis (VL)".
typedef struct {
  const char* letters;
  why_symbol muscle;
} why_short_name;

/// A value that stands in the study, where in the text it was.
typedef struct {
  size_t sentence;
  size_t at;    ///< Of its first number.
  size_t end;   ///< Of its form.
  size_t index; ///< Of the result or contrast.
  bool of_contrast;
  bool in_percent;
} why_placed;

typedef struct {
  const why_tables* tables;
  const why_words* words;
  why_arena* arena;
  why_draft* draft;
  const char* whole; ///< The text in one line.
  why_draft_found_list found;
  const char* spread; ///< "sd", "se", "" when the text does not say, NULL when it says both.
  WHY_LIST(why_draft_arm) arms;
  WHY_LIST(why_short_name) shorts;
  WHY_LIST(why_placed) placed;
  why_symbol only_muscle; ///< The one that the whole text names; 0: none or several.
  why_symbol to_confirm;
} why_drafter;

/// Put a number to use: its value into `*field` (NULL: nowhere), unless it can be read in two ways,
/// or `*field` holds another value; then it stays open, and false comes back.
bool why_draft_use(why_draft_number* number, double* field, const char* what);
void why_draft_open(why_draft_number* number, const char* what);
void why_draft_ignore(why_draft_number* number, const char* what);

/// All numbers of a form that nobody used.
void why_draft_open_all(const why_draft_found* found, const char* what);

/// Part of a text between two bytes.
const char* why_draft_between(const why_drafter* d, size_t sentence, size_t start, size_t end);

/// The clause around byte `at` of a sentence's shape.
void why_draft_clause(const why_drafter* d, size_t sentence, size_t at, size_t* start, size_t* end);

/// What `[start, end)` of a sentence's shape names.
why_draft_named_list why_draft_mentions(const why_drafter* d, size_t sentence, size_t start,
                                        size_t end);

/// The one muscle (arm) among the mentions; 0 when there is none or several. `*count`: how many
/// differ.
why_symbol why_draft_sole(const why_draft_named_list* mentions, bool arms, size_t* count);

/// Add `sentence` to the remark `*comment`, once.
void why_draft_quote(const why_drafter* d, const char** comment, size_t sentence);

void why_draft_people(why_drafter* d);   ///< Population and protocol (draft_people.c).
void why_draft_arms(why_drafter* d);     ///< Arms (draft_arms.c), before what names them.
void why_draft_training(why_drafter* d); ///< Sets, repetitions, loads of arms (draft_arms.c).
void why_draft_results(why_drafter* d);  ///< Growth (draft_results.c).
void why_draft_tests(why_drafter* d);    ///< Effect sizes, intervals, p (draft_tests.c).

#endif
