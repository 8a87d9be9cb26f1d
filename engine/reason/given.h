// SPDX-License-Identifier: GPL-3.0-or-later
/// From tables to given facts: the relations of rules/reasoning/given.xml, filled from the files
/// of the knowledge base and from what the body stage computes. Each fact carries the place in the
/// XML that it stands for.
#ifndef WHY_REASON_GIVEN_H
#define WHY_REASON_GIVEN_H

#include "base/base.h"
#include "body/body.h"
#include "read/read.h"

typedef struct why_program why_program;
typedef struct why_base why_base;
typedef struct why_outlook why_outlook;

/// Who fills: the base, and what is needed to make values and report.
typedef struct {
  const why_tables* tables;
  const why_program* program;
  why_base* base;
  why_symbols* symbols;
  why_arena* arena; ///< For what goes when all is given.
  why_problems* problems;
  const why_feature** features; ///< Of all heads in each exercise, once mechanics are given and
                                ///< where something later needs them; else NULL.
  const why_outlook* outlook;   ///< What the growth model expects, once estimates are given and
                                ///< where the rules want them; else NULL. It lives with the tables.
} why_giver;

/// A value on its way into a fact; the slot decides how it is stored.
typedef struct {
  enum { WHY_GIVE_SYMBOL, WHY_GIVE_NUMBER, WHY_GIVE_TEXT } kind;
  why_symbol symbol;
  double number;
  const char* text;
} why_given;

#define WHY_SYM(value)  ((why_given){.kind = WHY_GIVE_SYMBOL, .symbol = (value)})
#define WHY_NUM(value)  ((why_given){.kind = WHY_GIVE_NUMBER, .number = (value)})
#define WHY_TEXT(value) ((why_given){.kind = WHY_GIVE_TEXT, .text = (value)})

/// State a fact of `relation`. A relation that the rules do not declare is passed over: a teacher
/// may leave it out. Slots that do not fit are reported once a relation (check "given").
void why_giver_state(why_giver* giver, const char* relation, why_place place, size_t count,
                     const why_given* values);

#define WHY_GIVE(giver, relation, place, ...)                                                      \
  why_giver_state((giver), (relation), (place),                                                    \
                  sizeof((const why_given[]){__VA_ARGS__}) / sizeof(why_given),                    \
                  (const why_given[]){__VA_ARGS__})

/// Fill all given relations.
void why_given_fill(why_giver* giver);

// One for each subject; called by why_given_fill.
void why_given_anatomy(why_giver* giver);
void why_given_exercises(why_giver* giver);
void why_given_mechanics(why_giver* giver);
void why_given_equipment(why_giver* giver);
void why_given_restrictions(why_giver* giver);
void why_given_studies(why_giver* giver);
void why_given_measurements(why_giver* giver);
void why_given_loads(why_giver* giver); ///< Loads of one exercise from another.
void why_given_estimates(why_giver* giver);

#endif
