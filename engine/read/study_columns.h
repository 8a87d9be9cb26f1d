// SPDX-License-Identifier: GPL-3.0-or-later
/// The columns of a study as a table, and which attribute or text of a study's XML each one is.
/// evidence/schema/studies.rng explains what may stand there.
#ifndef WHY_READ_STUDY_COLUMNS_H
#define WHY_READ_STUDY_COLUMNS_H

#include "base/base.h"

#include <stdbool.h>

/// Elements of a study that have cells, in the order of the schema.
typedef enum {
  WHY_PART_STUDY,
  WHY_PART_POPULATION,
  WHY_PART_PROTOCOL,
  WHY_PART_NOTE,
  WHY_PART_LEFT_OUT,
  WHY_PART_OVERLAPS,
  WHY_PART_ARM,
  WHY_PART_TRAINED,
  WHY_PART_COUNTS_AS,
  WHY_PART_UNMAPPED,
  WHY_PART_JOINT_RANGE,
  WHY_PART_RESULT,
  WHY_PART_CONTRAST,
  WHY_PART_WITHIN,
  WHY_PART_BIAS,
  WHY_PART_REASON,
  WHY_PART_INTERESTS,
  WHY_PARTS ///< How many there are.
} why_study_part;

typedef struct {
  const char* element;
  why_study_part parent; ///< Of the study: itself.
  bool once;             ///< At most one in a study.
} why_study_part_kind;

const why_study_part_kind* why_study_part_kind_of(why_study_part part);

/// Whether it is a finding: of a row at most one.
bool why_study_part_is_finding(why_study_part part);

/// Several fields share a column where only one of their elements can stand in a row.
typedef struct {
  const char* column;
  why_study_part part;
  const char* leaf;      ///< A child element of the part; NULL: the part itself.
  const char* attribute; ///< NULL: the text inside.
  bool number;           ///< One number, or two with a blank between.
} why_study_field;

/// Field number `index`, NULL behind the last; those of one part follow each other in the order of
/// the schema, attributes of an element before its text.
const why_study_field* why_study_fields_at(size_t index);

/// The column that says what a row finds: result, contrast or within; empty: a result, if the row
/// names a muscle.
#define WHY_FINDING_COLUMN "finding"

#endif
