// SPDX-License-Identifier: GPL-3.0-or-later
/// Reads the cases of tests/reference/statics/*.txt, whose headers explain their words, and builds
/// an exercise and a stance from each.
#ifndef WHY_TESTS_STATICS_CASE_H
#define WHY_TESTS_STATICS_CASE_H

#include "body/body.h"

enum { CASE_EXPECTS = 8 };

typedef struct {
  char what[24]; ///< demand, body, load, both, both-body, force, share, pull,
                 ///< balance.
  char of[48];   ///< Action, coordinate or contact point.
  double value;
  double within;
  char unit[12];
  double known; ///< What the engine gives where it is known to differ; NAN: it agrees.
} case_expect;

typedef struct {
  char id[64];
  double pelvis_deg[3]; ///< Pitch, roll, yaw.
  char lean[24];        ///< Contact point to lean over; "" for none.
  why_exercise exercise;
  bool from_catalogue; ///< With the catalogue's posture.
  size_t expect_count;
  case_expect expects[CASE_EXPECTS];
} statics_case;

typedef WHY_LIST(statics_case) statics_cases;

/// Read one file of cases into `arena`; fails the test when the file or a word in it is wrong.
statics_cases statics_cases_read(const char* file, const why_body_model* model, why_arena* arena);

/// The stance of a case: that of its exercise.
why_stance statics_case_stance(const statics_case* each, const why_body_model* model);

#endif
