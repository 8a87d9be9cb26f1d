// SPDX-License-Identifier: GPL-3.0-or-later
/// How exercises are dosed, as rules/reasoning/dose.xml says for the level of a question.
#ifndef WHY_PICK_DOSE_H
#define WHY_PICK_DOSE_H

#include "answer.h"

typedef enum { WHY_DOSE_SETS, WHY_DOSE_REPETITIONS, WHY_DOSE_RESERVE, WHY_DOSE_REST } why_aspect;

enum { WHY_ASPECTS = WHY_DOSE_REST + 1 };

/// The dose of one exercise; an aspect that the rules leave open has NAN and no measurement.
typedef struct {
  why_symbol exercise;
  why_from_to at[WHY_ASPECTS]; ///< Sets, repetitions, repetitions in reserve, seconds of rest.
  why_symbol measurement[WHY_ASPECTS];
} why_dose;

typedef WHY_LIST(why_dose) why_doses;

/// Name of an aspect in the rules and for programs: "sets" ...
const char* why_aspect_name(why_aspect aspect);

/// The dose of `exercise` in the question of `answer`.
why_dose why_dose_of(const why_picked* answer, why_symbol exercise);

/// What holds for every exercise, in sentences, and the measurements that they rest on.
void why_dose_general(const why_picked* answer, why_reasons* sentences,
                      why_symbol_list* measurements);

#endif
