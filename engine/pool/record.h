// SPDX-License-Identifier: GPL-3.0-or-later
/// What trials of one exercise say of one head by themselves, pooled over studies: the numbers that
/// certainty is judged by.
#ifndef WHY_POOL_RECORD_H
#define WHY_POOL_RECORD_H

#include "growth.h"

/// One sample of people in a record.
typedef struct {
  const why_study* study; ///< Borrowed from the tables.
  double weight;          ///< Share of the pooled mean, 0 to 1.
  double percent;         ///< Growth, % per 10 weeks.
  bool alone;             ///< The head was measured by itself, not as one with others.
  bool controlled;        ///< Randomised, with an arm that did not train.
  bool from_memory;       ///< One of its numbers was written down from memory.
  bool trained;           ///< Its people had trained before.
  why_symbol fit; ///< Of what its arms trained to the exercise, the best: exact, close, loose.
} why_record_part;

/// Growth within arms that trained mostly this exercise, of one head or of several among which it
/// is a good part; % per 10 weeks, in proportion to the weeks trained.
typedef struct {
  size_t exercise; ///< Index in the tables, as `head`.
  size_t head;
  double people;
  double percent; ///< Random effects, REML; guarded Hartung-Knapp (see why_pooling_usual).
  double low;     ///< 95 %.
  double high;
  double new_low; ///< Of a new study; NAN with fewer than three samples.
  double new_high;
  double i2_pct;  ///< Share of the differences that is not chance,
  double p;       ///< and the chance of such differences without any.
  double small_p; ///< Of the test of small studies; NAN with fewer than `small_from` samples.
  WHY_LIST(why_record_part) parts; ///< In the order of the findings.
} why_record;

typedef WHY_LIST(why_record) why_records;

/// The records of all exercises and heads that have trials of their own (`growth` counts those), in
/// `arena`. From `small_from` samples on small studies are tested.
void why_records_of(const why_growth* growth, size_t small_from, why_arena* arena,
                    why_records* records);

#endif
