// SPDX-License-Identifier: GPL-3.0-or-later
/// Everything that was read, as tables of rows. One knowledge base has one set of tables in one
/// arena; it never changes once reading and checking are done, and can be shared by threads.
#ifndef WHY_READ_TABLES_H
#define WHY_READ_TABLES_H

#include "abstracts.h"
#include "anatomy.h"
#include "base/base.h"
#include "census.h"
#include "equipment.h"
#include "exercises.h"
#include "lexicon.h"
#include "measured_muscles.h"
#include "measurements.h"
#include "reasoning.h"
#include "restrictions.h"
#include "reviews.h"
#include "studies.h"

typedef struct why_tables {
  why_arena* arena;     ///< Owns everything below.
  why_symbols* symbols; ///< Every id.
  const char* digest;   ///< Of all files and what is left out, independent of reading order.
  size_t file_count;
  why_symbol_list without; ///< What was left out though it stands in the files.

  why_census census; ///< Numbers by basis, and what is left out of use.

  why_abstracts abstracts;
  why_anatomy anatomy;
  why_equipment equipment;
  why_exercise_table exercises;
  why_lexicon lexicon;
  why_measured_table measured_muscles;
  why_measurement_table measurements;
  why_reasoning reasoning;
  why_restrictions restrictions;
  why_review_table reviews;
  why_study_table studies;
} why_tables;

#endif
