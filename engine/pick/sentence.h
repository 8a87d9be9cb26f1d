// SPDX-License-Identifier: GPL-3.0-or-later
/// Sentences of facts: the rules' own words, with names for ids, and like sentences about several
/// heads drawn into one.
#ifndef WHY_PICK_SENTENCE_H
#define WHY_PICK_SENTENCE_H

#include "answer.h"

/// Add the sentences of every relation that `part` shows (facts "shows" of the rules), for facts
/// whose slot "exercise" is `exercise`.
void why_sentence_collect(const why_picked* answer, const char* part, why_symbol exercise,
                          why_reasons* reasons);

/// The same without the studies behind them, which takes much less.
void why_sentence_collect_said(const why_picked* answer, const char* part, why_symbol exercise,
                               why_reasons* reasons);

/// The first for all facts of these relations, which need not be about an exercise.
void why_sentence_collect_all(const why_picked* answer, const char* part, why_reasons* reasons);

/// What the rules say about an exercise in one sentence: the first of part "verdict", or NULL.
const char* why_sentence_verdict(const why_picked* answer, why_symbol exercise);

/// How `derivation` is put in words.
const char* why_sentence_of(const why_picked* answer, const why_derivation* derivation);

/// The names of ids for sentences.
why_naming why_sentence_naming(const why_picked* answer);

#endif
