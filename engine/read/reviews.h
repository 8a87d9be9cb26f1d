// SPDX-License-Identifier: GPL-3.0-or-later
/// Published reviews: evidence/reviews/*.xml as rows. They are outside checks for our own pooled
/// results. A number that is not known is NAN, a name 0, a string "".
#ifndef WHY_READ_REVIEWS_H
#define WHY_READ_REVIEWS_H

#include "studies.h"

/// A pooled estimate; the main one has the fields at the end too.
typedef struct {
  const char* name; ///< What is pooled, and in which direction.
  why_place place;
  const char* unit;
  double estimate;
  double se;
  why_low_high ci95;
  why_low_high range; ///< Smallest and largest of several estimates.
  why_p p;
  why_symbol_list basis;
  double studies;
  double people;
  double i2_pct;
  double tau2;
  const char* model;
  const char* where;
} why_pooled;

/// One effect that went into a review.
typedef struct {
  why_symbol study;
  why_place place;
  why_symbol arm;
  why_symbol muscle; ///< A name of the measured muscles.
  why_symbol site;
  const char* outcome;
  why_symbol partial_at; ///< short, long, mid.
  double week;
  const char* unit; ///< "": standardised.
  double effect;
  double se;
  why_symbol_list basis;
} why_included;

typedef struct {
  why_symbol id;
  why_place place;
  unsigned year; ///< 0: not known.
  const char* doi;
  const char* title;
  why_symbol title_as; ///< 0: as printed.
  const char* journal;
  const char* question;
  const char* note;
  why_pooled pooled;
  WHY_LIST(why_pooled) more;
  WHY_LIST(why_included) included;
} why_review;

typedef struct {
  WHY_LIST(why_review) rows;
} why_review_table;

/// NULL when there is none of that id.
const why_review* why_review_find(const why_review_table* table, why_symbol id);

#endif
