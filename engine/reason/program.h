// SPDX-License-Identifier: GPL-3.0-or-later
/// The compiled form of relations and rules. Private to reason.
///
/// A rule with several conclusions becomes several compiled rules. Its variables are numbered
/// through, those of each aggregate (a count, sum, least or most) behind those of the rule itself.
#ifndef WHY_REASON_PROGRAM_H
#define WHY_REASON_PROGRAM_H

#include "expression.h"
#include "reason.h"

#define WHY_NO_VARIABLE UINT32_MAX

enum {
  WHY_PREMISES_LIMIT = 96, ///< Conditions `if` of a rule, those inside aggregates included.
  WHY_GROUPS_LIMIT = 16,   ///< Aggregates of a rule.
};

// ---- relations ----

typedef struct {
  unsigned slot;
  why_preference first;
} why_sort_key;

/// Slots by which the rows of a relation are looked up, as masks.
typedef WHY_LIST(uint32_t) why_masks;

typedef struct {
  why_relation_info info;
  uint32_t key_mask; ///< 0: no key.
  bool prefers;      ///< Some slot states a precedence.
  unsigned stratum;  ///< Number of its group of mutually recursive relations, in order.
  const why_sort_key* order;
  size_t order_count;
  why_masks indexes;        ///< Of the indexes that plans need; the first has all slots.
  WHY_LIST(uint32_t) rules; ///< Numbers of the rules that conclude it.
} why_relation_inner;

// ---- rules ----

typedef enum { WHY_TERM_ANY, WHY_TERM_VALUE, WHY_TERM_VARIABLE } why_term_kind;

typedef struct {
  why_term_kind kind;
  uint32_t variable;
  why_value value;
} why_term;

/// A relation with a term for each slot.
typedef struct {
  why_relation relation;
  why_place place;
  why_term* terms;
} why_atom;

/// What is known of a variable. `slot.kind` is 0 until some slot or expression tells.
typedef struct {
  why_symbol name;
  why_place place; ///< Where it is first written.
  unsigned scope;  ///< 0: the rule; n: aggregate number n - 1.
  why_slot slot;
} why_variable;

typedef struct why_condition why_condition;

/// count, sum, least, most.
typedef struct {
  unsigned number; ///< Among the aggregates of the rule.
  uint32_t result; ///< Variables; WHY_NO_VARIABLE where absent.
  uint32_t of;
  uint32_t* over;
  size_t over_count;
  uint32_t* by; ///< Shared between the rule and the inside.
  size_t by_count;
  uint32_t* keep_inside;
  uint32_t* keep_outside;
  size_t keep_count;
  bool has_none;
  why_value none;
  why_condition* inside;
  size_t inside_count;
} why_aggregate;

struct why_condition {
  const why_condition_row* row;
  why_condition_kind kind;
  unsigned number;           ///< Among all of the program.
  why_atom atom;             ///< if, unless.
  uint32_t else_mask;        ///< if: slots with an else- value.
  why_value* else_values;    ///< if: by slot.
  unsigned premise;          ///< if: its number among all `if` of the rule.
  why_expression* left;      ///< where, let.
  why_expression* right;     ///< where.
  why_comparison comparison; ///< where.
  uint32_t variable;         ///< let: the result; matches: what is matched.
  const why_regex* pattern;  ///< matches.
  unsigned match;            ///< matches: its number in the program.
  why_aggregate* group;      ///< Aggregates.
};

/// Where the value of a variable is found again when only a derivation's record is at hand.
typedef struct {
  enum { WHY_FROM_NOWHERE, WHY_FROM_PREMISE, WHY_FROM_EXTRA } from;
  unsigned number; ///< Of the premise, or of the extra value.
  unsigned slot;
} why_origin;

typedef struct why_plan why_plan;

typedef struct {
  why_rule_info info; ///< First, so that a rule can be shown as it is.
  const why_rule_row* row;
  unsigned number;
  why_atom head;
  why_variable* variables;
  unsigned variable_count;
  why_origin* origins; ///< By variable.
  why_condition* conditions;
  size_t condition_count;
  const why_condition** premises; ///< All `if` by number; those inside aggregates last.
  unsigned premise_count;
  unsigned outer_premise_count; ///< Those outside of aggregates.
  unsigned group_count;
  unsigned extra_count; ///< Values that a derivation must keep itself.
  bool in_overlay;      ///< Evaluated for every question.
  bool recursive;       ///< Some premise is in the recursion of its conclusion.
} why_rule;

/// A group of relations that rest on each other, or one relation.
typedef struct {
  WHY_LIST(why_relation) relations;
  bool recursive;
  bool reached; ///< Questions evaluate it.
} why_stratum;

typedef struct {
  why_relation relation;
  const why_value* values;
  const why_fact_row* row;
} why_stated;

struct why_program {
  const why_reasoning* reasoning;
  why_symbols* symbols;
  why_relation_inner* relations; ///< In order of names.
  size_t relation_count;
  WHY_LIST(why_rule) rules;
  WHY_LIST(why_stated) facts;
  WHY_LIST(why_stratum) strata; ///< In the order in which they can be evaluated.
  unsigned condition_count;
  unsigned match_count;
  struct why_rule_plans* plans; ///< By rule: how the base evaluates it.
};

// ---- plans ----

/// Which rows of a relation a step may see: all; or, in recursion, those known before the last
/// round, those that the last round brought, or both.
typedef enum { WHY_ALL, WHY_OLD, WHY_DELTA, WHY_NOW } why_range;

typedef enum {
  WHY_STEP_SCAN,   ///< For each fitting row ...
  WHY_STEP_ABSENT, ///< If there is no fitting row ...
  WHY_STEP_WHERE,
  WHY_STEP_LET,
  WHY_STEP_MATCHES,
  WHY_STEP_GROUP,
  WHY_STEP_END ///< The conditions are met.
} why_step_kind;

/// A slot and the variable it is bound to or compared with.
typedef struct {
  unsigned slot;
  uint32_t variable;
} why_slot_variable;

typedef struct {
  why_step_kind kind;
  const why_condition* condition;
  why_range range;
  uint32_t mask;            ///< Slots known beforehand.
  unsigned index;           ///< Number of the relation's index for `mask`.
  why_slot_variable* binds; ///< Slots that give a variable its value.
  size_t bind_count;
  why_slot_variable* checks; ///< Slots that must equal a variable bound by an earlier slot.
  size_t check_count;
  const why_plan* inside; ///< group.
  bool checks_result;     ///< let: the variable has a value already.
  uint64_t bound;         ///< group: variables bound before it, as bits.
  double before;          ///< Estimate of how often the step is reached.
} why_step;

struct why_plan {
  why_step* steps; ///< Ends with WHY_STEP_END.
  size_t count;
  double size; ///< Estimate of how often its end is reached; 0 where nothing was estimated.
  double work; ///< And of the rows looked at.
};

/// All plans of one rule.
typedef struct why_rule_plans {
  const why_plan* first;   ///< All of the facts there are.
  const why_plan** deltas; ///< One for each premise in the head's own recursion.
  size_t delta_count;
  const why_plan**
      again;            ///< By aggregate: its inside for one known group, to show what it took in.
  const why_plan* part; ///< For one value of the slot by which its conclusion is asked.
} why_rule_plans;

// ---- compiling ----

typedef struct {
  const why_reasoning* reasoning;
  why_symbols* symbols;
  why_arena* arena;
  why_problems* problems;
  why_program* program;
} why_compiler;

/// Relations, levels, orders and stated facts (declare.c).
void why_declare(why_compiler* compiler);

/// The kind called `kind`, as a slot without a name.
why_slot why_slot_of_kind(const why_program* program, const why_symbols* symbols, why_symbol kind);

/// A rule while it is being compiled.
typedef struct {
  why_compiler* compiler;
  const why_rule_row* row;
  why_rule* rule;
  why_atom* heads; ///< One for each conclusion.
  size_t head_count;
  unsigned scope;              ///< Of the conditions at work: 0, or 1 + number of the aggregate.
  const why_aggregate* around; ///< The aggregate at work, NULL outside.
  why_expression_scope expressions;
  bool sound; ///< Nothing was reported so far.
} why_builder;

/// Report an error of the rule at work; it is not compiled further.
void why_builder_report(why_builder* builder, const char* check, why_place place,
                        const char* format, ...) __attribute__((format(printf, 4, 5)));

/// Whether what stands behind the name in {name} or {name:1} ends as it must (say.c).
bool why_say_ends(const char* text);

/// One compiled rule for each conclusion of `row` (rule.c); errors are reported.
void why_rule_compile(why_compiler* compiler, const why_rule_row* row);

/// Conditions and conclusions with their variables (atom.c). What a comparison means depends on the
/// kinds of its variables, so comparisons are built when these are known.
why_condition* why_conditions_build(why_builder* builder, const why_condition_list* rows);
void why_wheres_build(why_builder* builder, why_condition* conditions, size_t count);
why_atom why_atom_build(why_builder* builder, const why_named* relation, why_place place,
                        const why_slot_texts* slots, bool conclusion);

/// The number of a variable in the scope at work, made if new; WHY_NO_VARIABLE after reporting.
uint32_t why_builder_variable(why_builder* builder, why_symbol name, why_place place);

/// Find the kinds of all variables, and settle expressions (typing.c).
void why_rule_type(why_builder* builder);
bool why_variable_assign(why_builder* builder, uint32_t variable, const why_slot* slot,
                         why_place place);

/// Variables as bits.
static inline uint64_t why_bit(uint32_t variable) {
  return UINT64_C(1) << variable;
}
uint64_t why_atom_variables(const why_atom* atom, unsigned slot_count);
uint64_t why_expression_bits(const why_expression* expression);

/// Which variables a condition needs before it can be met, and which it gives (safety.c).
/// `bound` is what is known so far; the aggregate case depends on it.
typedef struct {
  uint64_t needs;
  uint64_t gives;
} why_flow;
why_flow why_condition_flow(const why_program* program, const why_condition* condition,
                            uint64_t bound);

/// All variables that can be bound by `conditions` starting from `bound`; `ready` (may be NULL)
/// gets a bit for each condition that can be met.
uint64_t why_conditions_bind(const why_program* program, const why_condition* conditions,
                             size_t count, uint64_t bound, uint64_t* ready);

/// Report every variable that no condition binds.
void why_rule_check_safety(why_builder* builder);

/// Strata, what overlays evaluate, and the errors of recursion (stratum.c).
void why_strata_find(why_compiler* compiler);

/// What is expected of a relation when questions are planned (estimate.c).
typedef struct {
  double rows;
  double different[WHY_SLOTS_LIMIT]; ///< Values of each slot.
} why_expected_rows;

/// What plans are made with.
typedef struct {
  why_arena* arena;
  const why_program* program;
  why_masks* masks;                  ///< By relation: its indexes; gains those that a plan needs.
  const why_expected_rows* expected; ///< By relation; NULL before anything is known.
  const double* fitting; ///< By condition: rows with the values that it names; NAN: not counted.
} why_planning;

/// Plans of one rule but for `part` (plan.c); strata are known.
void why_rule_plan(const why_planning* planning, const why_rule* rule, why_rule_plans* plans);

/// The plan of a rule when the variables in `bound` are known; its part when some are.
const why_plan* why_rule_plan_bound(const why_planning* planning, const why_rule* rule,
                                    uint64_t bound);

/// How many conclusions of a rule are expected, all facts taken.
double why_rule_size(const why_planning* planning, const why_rule* rule);

/// How many rows of the condition's relation are expected for each binding of `bound`.
double why_condition_fan(const why_planning* planning, const why_condition* condition,
                         uint64_t bound);

/// The number of the index with `mask`, made if new (plan.c).
unsigned why_masks_number(why_arena* arena, why_masks* masks, uint32_t mask);

#endif
