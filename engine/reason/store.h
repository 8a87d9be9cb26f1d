// SPDX-License-Identifier: GPL-3.0-or-later
/// Rows of all relations with their indexes and the records of how each row follows. A base has one
/// store; an overlay has another that stands on the base's and holds the relations that questions
/// reach.
#ifndef WHY_REASON_STORE_H
#define WHY_REASON_STORE_H

#include "index.h"
#include "program.h"

/// A set of values; no value has all bits set.
typedef struct {
  uint64_t* slots; ///< Open addressing: the bits of a value turned over; 0 where free.
  uint32_t slot_count;
  uint32_t count;
} why_value_set;

bool why_value_set_has(const why_value_set* set, why_value value);

/// Add a value; false when it was there.
bool why_value_set_add(why_value_set* set, why_arena* arena, why_value value);

/// The rows of one relation. Rows never move and are never taken away.
typedef struct {
  why_value* rows;
  uint32_t count;
  uint32_t room;
  unsigned width;
  uint32_t old;          ///< Rows known before the last round of the recursion at work.
  uint32_t end;          ///< Rows known when the round at work began.
  bool complete;         ///< All of its rows are here, or are being added by its own rules.
  uint32_t hidden_count; ///< Rows overruled by precedence, which rules and readers do not see ...
  bool* hidden;          ///< ... by row; NULL while there is none.
  uint32_t hidden_room;
  why_index* indexes; ///< By number of the mask; the first has all rows at any time.
  size_t index_count;
  double* steps;       ///< By row of a base: of its best derivation; NULL: all were given.
  uint32_t* best;      ///< By row of a base: the record of that, plus one; 0: it was given.
  uint32_t* derived;   ///< By row: its newest record, plus one.
  uint32_t* given;     ///< By row: where it was given, plus one; NULL while none was.
  why_value_set asked; ///< Values of the slot by which it is asked whose rows are all here.
} why_tuples;

static inline const why_value* why_tuples_row(const why_tuples* tuples, uint32_t row) {
  return tuples->rows + (size_t)row * tuples->width;
}

static inline bool why_tuples_hides(const why_tuples* tuples, uint32_t row) {
  return tuples->hidden_count && row < tuples->hidden_room && tuples->hidden[row];
}

/// Where a row was given, plus one; 0 when it was not.
static inline uint32_t why_tuples_given(const why_tuples* tuples, uint32_t row) {
  return tuples->given ? tuples->given[row] : 0;
}

typedef struct {
  why_place place; ///< file NULL: assumed.
  const why_from* from;
} why_given_at;

/// One way in which a row follows, as a run of words in its store: the rule, the next older record
/// of the row plus one, the row of every outer premise (WHY_NO_ROW where an else- value was used),
/// and two words for each value that no premise holds.
enum { WHY_RECORD_RULE, WHY_RECORD_BEFORE, WHY_RECORD_PREMISES };

/// How the relations of a store that questions reach are evaluated (settle.c).
typedef struct {
  why_rule_plans* rules; ///< By rule, those of questions.
  why_masks* masks;      ///< By relation: its indexes.
  int* parts;            ///< By relation: the slot by which it is asked, or -1: it is asked whole.
  uint32_t* rooms;       ///< By relation: for how many rows there is room to begin with.
  WHY_LIST(why_relation) given; ///< Relations of questions with facts that are given in the base.
  why_tuples* empty;  ///< What every question begins with (why_base_lay_out): by relation, those
                      ///< that it keeps, without rows; indexes NULL for the others ...
  why_index* indexes; ///< ... and all their indexes; NULL: every question makes them for itself.
  size_t index_count;
} why_question_plans;

typedef struct why_store {
  const why_program* program;
  why_symbols* symbols;
  why_arena* arena;
  why_arena* work;                 ///< For what goes when all is evaluated; NULL after that.
  const struct why_store* below;   ///< NULL for a base.
  why_tuples* tuples;              ///< By relation, those that are kept here.
  why_tuples** seen;               ///< By relation, wherever they are kept.
  const why_question_plans* plans; ///< NULL for a base.
  WHY_LIST(uint32_t) words;        ///< Records, one behind the other.
  WHY_LIST(why_given_at) givens;
  why_limits limits;
  why_problems* problems; ///< NULL: nobody listens.
  size_t facts;
  size_t derivations;
  size_t steps;
  bool open;   ///< An overlay evaluates what is asked for.
  bool failed; ///< A bound was exceeded or a pattern failed: nothing more is evaluated.
  struct why_machine* idle;               ///< Machines that can be used again.
  WHY_LIST(const why_condition*) doubted; ///< Conditions whose arithmetic was reported.
  struct why_matcher* matchers;           ///< By number of the match; made when first needed.
} why_store;

struct why_base {
  why_store store;
  why_question_plans plans;
};

struct why_overlay {
  why_store store;
  const why_base* base;
  size_t errors;             ///< Reported before it was opened.
  struct why_proofs* proofs; ///< Proofs found so far (proof.c).
};

/// `plans` is NULL for a base.
void why_store_init(why_store* store, const why_program* program, why_symbols* symbols,
                    why_arena* arena, const why_store* below, const why_question_plans* plans,
                    const why_limits* limits);

/// The rows of a relation, wherever they are kept.
static inline why_tuples* why_store_tuples(const why_store* store, why_relation relation) {
  return store->seen[relation];
}

/// The store that keeps the records of a relation.
const why_store* why_store_of(const why_store* store, why_relation relation);

/// The plans of a rule of this store.
const why_rule_plans* why_store_plans(const why_store* store, const why_rule* rule);

/// The number of the row with these values, added if new. Their hash is of all slots.
uint32_t why_store_add(why_store* store, why_relation relation, const why_value* values,
                       uint32_t hash);

/// The same for a fact that is not derived; the first place it was given at is kept.
void why_store_give(why_store* store, why_relation relation, const why_value* values,
                    why_place place, const why_from* from);

/// Room for a record of `count` words; where it begins, or NULL when there can be no more.
uint32_t* why_store_record(why_store* store, size_t count);

/// A reader at the first row with the key of `values` in the slots of index number `index`.
static inline why_index_reader why_tuples_first(why_tuples* tuples, why_arena* arena,
                                                unsigned index, const why_value* values) {
  why_index* used = &tuples->indexes[index];
  if (used->filled < tuples->count)
    why_index_fill(used, arena, tuples->rows, tuples->count);
  return why_index_first(used, tuples->rows, why_index_hash(used->mask, values), values);
}

/// Hide rows that `prefer` overrules, and report keys with two values, among the rows from `first`
/// on. Call once their keys can get no more rows.
void why_store_settle(why_store* store, why_relation relation, uint32_t first);

// ---- evaluation ----

enum { WHY_PENDING = 16 };

/// One run of plans: the bindings at hand (machine.c).
typedef struct why_machine why_machine;
struct why_machine {
  why_store* store;
  const why_rule* rule;
  why_value variables[WHY_VARIABLES_LIMIT];
  uint32_t premises[WHY_PREMISES_LIMIT]; ///< Rows, by number of the premise.
  /// What to do when all conditions of a plan are met.
  void (*met)(why_machine* machine, void* user);
  void* user;
  WHY_LIST(why_value) rows; ///< Stack of rows that aggregates take in.
  bool silent;              ///< What is wrong was reported before.
  bool failed;              ///< Unwind.
  why_machine* next;        ///< Of the idle ones.
  /// Conclusions that wait to be added together (chain.c).
  uint32_t pending;
  uint32_t hashes[WHY_PENDING];
  size_t records[WHY_PENDING];
  why_value conclusions[WHY_PENDING][WHY_SLOTS_LIMIT];
};

/// A machine for one rule, to be given back.
why_machine* why_machine_new(why_store* store, const why_rule* rule);
void why_machine_free(why_machine* machine);

void why_machine_run(why_machine* machine, const why_plan* plan);

/// Report that evaluation ends for "too many `what`".
void why_machine_stop(why_machine* machine, const char* what);

/// Evaluate all strata of a base that no question reaches (chain.c).
void why_store_run(why_store* store);

/// See to it that all rows of a relation that questions reach, or all those with the `values` at
/// hand in the slots of `mask`, are there (chain.c).
void why_store_demand(why_store* store, why_relation relation, uint32_t mask,
                      const why_value* values);

/// Settle how the questions of a base are evaluated (settle.c), by typical ones if they are known.
/// Its store has run.
void why_base_plan(why_base* base, const why_lessons* lessons);

// ---- derivations (derivation.c) ----

/// The derivation behind a record of the store `of`, in the memory of the store that it is seen
/// through; and that of a fact which was given or assumed.
why_derivation why_record_restore(why_store* seen, const why_store* of, size_t record,
                                  why_fact fact);
why_derivation why_given_restore(const why_store* of, why_fact fact);

typedef WHY_LIST(why_fact) why_fact_list;

/// List the facts that a record rests on, those that a condition counted once each, in no settled
/// order. The list is emptied first and grows in `arena`.
void why_record_facts(why_store* seen, const why_store* of, size_t record, why_arena* arena,
                      why_fact_list* facts);

/// Order by rule id, then by the texts of the premises.
int why_derivation_compare(const why_store* seen, const why_derivation* a, const why_derivation* b);

// ---- best derivations ----

/// Settle the best derivation of every fact of a base (best.c).
void why_base_prove(why_base* base);

/// Steps of a tree over `parts`: one more than all of them have (best.c). Brings `parts` into order
/// where it matters.
double why_steps_over(double* parts, size_t count);

// ---- aggregates (aggregate.c) ----

/// Evaluate `step` and call `each` once for every group with its result bound.
void why_aggregate_run(why_machine* machine, const why_step* step,
                       void (*each)(why_machine* machine, void* user), void* user);

/// Sort `count` rows of `width` values by their bits; equal rows come together.
void why_rows_sort(why_value* rows, size_t count, unsigned width);

#endif
