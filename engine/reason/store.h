// SPDX-License-Identifier: GPL-3.0-or-later
/// Rows of all relations with their indexes and the records of how each row follows. A base has one
/// store; an overlay has another that stands on the base's and holds the relations that questions
/// reach.
#ifndef WHY_REASON_STORE_H
#define WHY_REASON_STORE_H

#include "index.h"
#include "program.h"

/// The rows of one relation. Rows never move, except that rows overruled by precedence are brought
/// behind the others once their relation is complete.
typedef struct {
  why_value* rows;
  uint32_t count;
  uint32_t room;
  unsigned width;
  uint32_t visible; ///< Rows that rules and readers see; the rest are overruled.
  uint32_t old;     ///< Rows known before the last round of the recursion at work.
  uint32_t end;     ///< Rows known when the round at work began.
  why_index* indexes;
  uint32_t* derived; ///< By row: its newest record, plus one.
  uint32_t* given;   ///< By row: where it was given, plus one.
} why_tuples;

/// One way in which a row follows: the rule, and a run of words that holds the row of every outer
/// premise (WHY_NO_ROW where an else- value was used) and the values that no premise holds.
typedef struct {
  uint32_t rule;
  uint32_t before; ///< The next older record of the row, plus one.
  size_t words;
} why_record;

typedef struct {
  why_place place; ///< file NULL: assumed.
  const why_from* from;
} why_given_at;

typedef struct why_store {
  const why_program* program;
  why_symbols* symbols;
  why_arena* arena;
  const struct why_store* below; ///< NULL for a base.
  why_tuples* tuples;            ///< By relation.
  WHY_LIST(why_record) records;
  WHY_LIST(uint64_t) words;
  WHY_LIST(why_given_at) givens;
  why_limits limits;
  size_t facts;
  size_t steps;
} why_store;

struct why_base {
  why_store store;
};

struct why_overlay {
  why_store store;
  const why_base* base;
  struct why_proofs* proofs; ///< Proofs found so far (proof.c).
};

void why_store_init(why_store* store, const why_program* program, why_symbols* symbols,
                    why_arena* arena, const why_store* below, const why_limits* limits);

/// The rows of a relation, wherever they are kept.
why_tuples* why_store_tuples(const why_store* store, why_relation relation);

/// The store that keeps the records of a relation.
const why_store* why_store_of(const why_store* store, why_relation relation);

/// The number of the row with these values, added if new.
uint32_t why_store_add(why_store* store, why_relation relation, const why_value* values);

/// The first row with the key of `values` in the slots of index number `index`.
uint32_t why_tuples_first(why_tuples* tuples, why_arena* arena, unsigned index,
                          const why_value* values);

static inline const why_value* why_tuples_row(const why_tuples* tuples, uint32_t row) {
  return tuples->rows + (size_t)row * tuples->width;
}

/// Bring rows that `prefer` overrules behind the others, and report keys with two values. Call once
/// the relation is complete.
void why_store_settle(why_store* store, why_relation relation, why_problems* problems);

// ---- evaluation (chain.c) ----

/// One run of plans: the bindings at hand.
typedef struct why_machine why_machine;
struct why_machine {
  why_store* store;
  why_problems* problems; ///< NULL: nobody listens.
  const why_rule* rule;
  why_value variables[WHY_VARIABLES_LIMIT];
  uint32_t premises[WHY_PREMISES_LIMIT]; ///< Rows, by number of the premise.
  /// What to do when all conditions of a plan are met.
  void (*met)(why_machine* machine, void* user);
  void* user;
  WHY_LIST(why_value) rows;               ///< Stack of rows that aggregates take in.
  WHY_LIST(const why_condition*) doubted; ///< Conditions whose arithmetic was reported.
  struct why_matcher* matchers;           ///< By number of the match; made when first needed.
  bool failed; ///< A bound was exceeded or an error was reported: unwind.
};

void why_machine_run(why_machine* machine, const why_plan* plan);

/// Evaluate the strata of `store`: all for a base, those that questions reach for an overlay.
why_status why_store_run(why_store* store, why_problems* problems);

// ---- aggregates (aggregate.c) ----

/// Evaluate `step` and call `each` once for every group with its result bound.
void why_aggregate_run(why_machine* machine, const why_step* step,
                       void (*each)(why_machine* machine, void* user), void* user);

/// Sort `count` rows of `width` values by their bits; equal rows come together.
void why_rows_sort(why_value* rows, size_t count, unsigned width);

#endif
