// SPDX-License-Identifier: GPL-3.0-or-later
/// The rows of rules/reasoning/*.xml as they were written: relations, stated facts, rules. What
/// they mean is decided where rules are compiled (reason); rules/schema/reasoning.rng explains the
/// language.
#ifndef WHY_READ_REASONING_H
#define WHY_READ_REASONING_H

#include "base/base.h"

#include <stdbool.h>

/// A name given in an attribute, with its place.
typedef struct {
  why_symbol name;
  why_place place;
} why_named;

typedef WHY_LIST(why_named) why_named_list;

/// A slot of a condition, conclusion or fact: slot name and what was written for it.
typedef struct {
  why_symbol slot;
  const char* text;
  why_place place;
} why_slot_text;

typedef WHY_LIST(why_slot_text) why_slot_texts;

typedef struct {
  why_symbol name;
  why_place place;
  why_named_list levels; ///< From the lowest to the highest.
} why_level_set;

typedef enum { WHY_PREFER_NONE, WHY_PREFER_LEAST, WHY_PREFER_MOST } why_preference;

typedef struct {
  why_symbol name;
  why_symbol kind;
  why_place place;
  bool key;
  why_preference prefer;
} why_slot_row;

typedef struct {
  why_symbol name;
  why_place place;
  bool assumable;
  const char* about; ///< "" when absent, as all strings here.
  const char* say;
  WHY_LIST(why_slot_row) slots;
} why_relation_row;

typedef struct {
  why_symbol slot;
  why_place place;
  why_preference first;
} why_order_key;

typedef struct {
  why_named relation;
  why_place place;
  WHY_LIST(why_order_key) keys;
} why_order_row;

/// What a fact or rule comes from.
typedef struct {
  why_symbol_list sources;
  why_symbol basis; ///< 0 when absent.
  const char* note;
} why_from;

typedef struct {
  why_named relation;
  why_place place;
  why_slot_texts slots;
  why_from from;
} why_fact_row;

typedef enum {
  WHY_IF,
  WHY_UNLESS,
  WHY_WHERE,
  WHY_LET,
  WHY_MATCHES,
  WHY_COUNT,
  WHY_SUM,
  WHY_LEAST,
  WHY_MOST
} why_condition_kind;

typedef struct why_condition_row why_condition_row;
typedef WHY_LIST(why_condition_row) why_condition_list;

/// One condition. Variables are named without their question mark; fields that a kind does not
/// have are zero or "".
struct why_condition_row {
  why_condition_kind kind;
  why_place place;
  why_named relation;        ///< if, unless.
  why_slot_texts slots;      ///< if, unless.
  why_slot_texts otherwise;  ///< if: the else- values, by slot.
  const char* say;           ///< unless.
  const char* left;          ///< where; let and matches: the expression or pattern.
  const char* right;         ///< where.
  const char* compare;       ///< where: equals, differs, below, above, at-most, at-least.
  why_named name;            ///< let and aggregates: the result; matches: the variable.
  why_named of;              ///< sum, least, most.
  why_named_list over;       ///< count, sum.
  why_named_list by;         ///< Aggregates.
  why_named_list keep;       ///< least, most.
  bool first_tie;            ///< least, most: ties="first".
  const char* none;          ///< Aggregates: else; NULL when absent.
  why_condition_list inside; ///< Aggregates.
};

/// A conclusion.
typedef struct {
  why_named relation;
  why_place place;
  why_slot_texts slots;
} why_conclusion_row;

typedef struct {
  why_symbol id;
  why_place place;
  why_symbol grounds;
  const char* title;
  const char* say;
  why_place say_place;
  why_from from;
  why_condition_list conditions;
  WHY_LIST(why_conclusion_row) conclusions;
} why_rule_row;

typedef struct {
  WHY_LIST(why_level_set) levels;
  WHY_LIST(why_relation_row) relations;
  WHY_LIST(why_order_row) orders;
  WHY_LIST(why_fact_row) facts;
  WHY_LIST(why_rule_row) rules;
} why_reasoning;

#endif
