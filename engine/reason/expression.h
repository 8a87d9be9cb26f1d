// SPDX-License-Identifier: GPL-3.0-or-later
/// Arithmetic of `let` and `where`: parsed once, with a kind found for every part, then evaluated
/// for many bindings.
#ifndef WHY_REASON_EXPRESSION_H
#define WHY_REASON_EXPRESSION_H

#include "value.h"

typedef enum {
  WHY_EQUALS,
  WHY_DIFFERS,
  WHY_BELOW,
  WHY_ABOVE,
  WHY_AT_MOST,
  WHY_AT_LEAST
} why_comparison;

typedef struct why_expression why_expression;

/// How an expression gets at its surroundings while it is compiled.
typedef struct {
  why_arena* arena;
  why_symbols* symbols;
  const why_reasoning* reasoning;
  void* user;
  /// The number of a variable; WHY_NO_VARIABLE if refused (and reported).
  uint32_t (*variable)(void* user, const char* name, size_t length);
  /// What is known of a variable's kind.
  const why_slot* (*slot)(void* user, uint32_t variable);
} why_expression_scope;

/// Parse `text`; NULL with a sentence in `*wrong` when it is no expression.
why_expression* why_expression_parse(const why_expression_scope* scope, const char* text,
                                     const char** wrong);

/// A constant of a known kind.
why_expression* why_expression_constant(why_arena* arena, const why_slot* slot, why_value value);

/// The kind of the whole, as far as it is known: a number, a level, or (for a variable or constant
/// alone) a symbol. False while it is not known.
bool why_expression_slot(const why_expression* expression, const why_expression_scope* scope,
                         why_slot* slot);

/// Settle names of levels and check all operands, given the kind that is wanted. NULL when all
/// is well, else a sentence.
const char* why_expression_settle(why_expression* expression, const why_expression_scope* scope,
                                  const why_slot* wanted);

/// Call `each` for every variable.
void why_expression_variables(const why_expression* expression,
                              void (*each)(void* user, uint32_t variable), void* user);

/// The value under `variables`; false when it is not finite.
bool why_expression_value(const why_expression* expression, const why_value* variables,
                          why_value* value);

/// Whether `a` and `b`, of one kind, compare as wanted; symbols by equals and differs only.
bool why_values_compare(why_comparison comparison, why_value a, why_value b);

#endif
