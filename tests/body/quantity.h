// SPDX-License-Identifier: GPL-3.0-or-later
/// What can be computed here and is published elsewhere: moment arms, lengths, the greatest moment
/// of all heads together, figures of heads, demands of exercises. tests/reference/figures.txt
/// explains how a line of text names one.
#ifndef WHY_TEST_QUANTITY_H
#define WHY_TEST_QUANTITY_H

#include "body/line.h"

/// What quantities are computed from.
typedef struct {
  const why_body_model* model;
  why_muscles* muscles;
  why_sharer* sharer;
  why_arena* arena;
  line at;
  why_angles posture; ///< Of the case, below what a line says itself.
} quantity_bench;

/// Compute the quantity of a kind (its first word), which the rest of the line tells.
double quantity_of(quantity_bench* bench, const char* kind);

/// Add angles until the line ends.
void quantity_read_angles(quantity_bench* bench, why_angles* angles);

#endif
