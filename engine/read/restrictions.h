// SPDX-License-Identifier: GPL-3.0-or-later
/// The rows of rules/restrictions.xml; rules/schema/restrictions.rng explains what they mean.
#ifndef WHY_READ_RESTRICTIONS_H
#define WHY_READ_RESTRICTIONS_H

#include "word.h"

typedef enum {
  WHY_RESTRICTION_DEMAND,    ///< Something an exercise asks for.
  WHY_RESTRICTION_COMPLAINT, ///< What hurts.
  WHY_RESTRICTION_DANGER,    ///< Needs a doctor first.
  WHY_RESTRICTION_SITUATION
} why_restriction_kind;

typedef struct {
  why_symbol id;
  const char* name;
  why_restriction_kind kind;
  const char* means;
  const char* unmapped; ///< Why nothing follows from it yet; "" when something does.
  why_symbol_list implies;
  why_word_list words;
  why_place place;
} why_restriction;

typedef enum {
  WHY_TEST_ALWAYS,
  WHY_TEST_REACHES, ///< subject: coordinate; low and high: degrees.
  WHY_TEST_DEMANDS, ///< subject: action or "any"; low and high: shares of capacity.
  WHY_TEST_TAG,     ///< subject: restriction of kind demand.
  WHY_TEST_ITEM,    ///< subject: item of equipment.
  WHY_TEST_KIND,    ///< subject: kind of equipment.
  WHY_TEST_CONTACT, ///< subject: point of the body.
  WHY_TEST_HELD,    ///< subject: point of the body.
  WHY_TEST_HEAD_BELOW_HIPS,
  WHY_TEST_PATTERN, ///< subject: movement pattern.
  WHY_TEST_SIDES,   ///< subject: unilateral or bilateral.
  WHY_TEST_PLACE    ///< One row for each place that is named.
} why_test_kind;

/// One test of a caution. Those with the same `way` must hold together (in one posture); each way
/// alone is enough, and several places of one element are ways of their own.
typedef struct {
  why_test_kind kind;
  unsigned way; ///< From 1 within its caution.
  why_symbol subject;
  double low;          ///< -infinity when not bounded.
  double high;         ///< +infinity when not bounded.
  why_symbol loaded;   ///< yes, closed-chain, open-chain, or 0: does not matter.
  why_symbol position; ///< stretched, middle, shortened, or 0: any.
  bool pull;           ///< A contact that holds in any direction.
  why_place place;
} why_caution_test;

typedef enum {
  WHY_EFFECT_STOP,
  WHY_EFFECT_AVOID,
  WHY_EFFECT_CAUTION,
  WHY_EFFECT_INFORM,
  WHY_EFFECT_PREFER
} why_effect;

/// A test that the source names and that is not made.
typedef struct {
  const char* what;
  const char* reason;
  why_place place;
} why_untested;

typedef WHY_LIST(const char*) why_text_list;

typedef struct {
  why_symbol id;
  why_symbol area;
  why_symbol condition; ///< Restriction that the person must have; 0: holds for everybody.
  why_effect effect;
  why_symbol source; ///< 0 when the basis is common-practice.
  why_symbol basis;
  WHY_LIST(why_caution_test) tests;
  WHY_LIST(why_untested) left_out;
  const char* say;
  why_text_list regressions;
  const char* note;
  why_place place;
  why_place say_place;
} why_caution;

typedef struct {
  why_symbol thresholds_basis;
  WHY_LIST(why_restriction) restrictions;
  WHY_LIST(why_caution) cautions;
  why_text_list never;  ///< Words that no sentence may contain.
  why_text_list rather; ///< Words to use instead.
  const char* closing;  ///< The last words of every answer.
  const char* referral; ///< What is said instead of an answer after a stop.
} why_restrictions;

/// The row of that id, or NULL.
const why_restriction* why_restriction_find(const why_restrictions* restrictions, why_symbol id);

/// The names that the file uses: "demand", ...; "stop", ...
const char* why_restriction_kind_name(why_restriction_kind kind);
const char* why_effect_name(why_effect effect);

#endif
