// SPDX-License-Identifier: GPL-3.0-or-later
/// What is known of relations while it is settled how questions are evaluated. Private to reason.
#ifndef WHY_REASON_ESTIMATE_H
#define WHY_REASON_ESTIMATE_H

#include "store.h"

typedef struct {
  why_base* base;
  why_planning with;
  why_expected_rows* expected;
  double* asked; ///< By relation: how many values it is asked for, mostly the same ones.
  bool* whole;   ///< By relation: somebody asks for all of it.
  uint64_t* map; ///< For counting.
} why_estimate;

/// A recursion is taken to bring some times what its beginning does.
enum { WHY_GROWTH_OF_RECURSION = 4 };

static inline const why_relation_inner* why_estimate_relation(const why_estimate* plan,
                                                              size_t relation) {
  return &plan->with.program->relations[relation];
}

/// Fill in what is expected of all relations, by typical questions if they are known.
void why_estimate_rows(why_estimate* plan, const why_lessons* lessons);

#endif
