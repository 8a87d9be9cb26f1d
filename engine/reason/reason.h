// SPDX-License-Identifier: GPL-3.0-or-later
/// Front door of reason: relations, facts and rules; what follows from them; and why.
///
///   program   the compiled rules; never changes; shared by threads
///   base      the facts that hold for every question, and what follows from them; evaluated once,
///             then never changed; shared by threads
///   overlay   one question: assumed facts on top of a base, and what follows; one thread's own
///
/// Use: compile a program; make a base, add the facts that C knows (each with its place), run it;
/// for each question make an overlay on the base, assume facts, run it, and read. Everything is
/// read through an overlay; one without assumed facts shows the base alone.
///
/// Nothing that can be read depends on the order of files, facts or rules, or on hashing.
/// Exhausted memory takes the arena's door (why_arena_guard).
#ifndef WHY_REASON_H
#define WHY_REASON_H

#include "given.h"  // IWYU pragma: export
#include "repair.h" // IWYU pragma: export

#include "base/base.h"
#include "read/read.h"

#include <stdbool.h>
#include <stdint.h>

typedef struct why_program why_program;
typedef struct why_base why_base;
typedef struct why_overlay why_overlay;

enum {
  WHY_SLOTS_LIMIT = 16,       ///< Slots of a relation.
  WHY_VARIABLES_LIMIT = 48,   ///< Variables of a rule.
  WHY_CONDITIONS_LIMIT = 32,  ///< Conditions of a rule or aggregate.
  WHY_RELATIONS_LIMIT = 1000, ///< Relations of a program.
  WHY_RULES_LIMIT = 5000,     ///< Rules of a program.
};

/// A relation by its number, in order of names; WHY_NO_RELATION when there is none.
typedef uint32_t why_relation;
#define WHY_NO_RELATION UINT32_MAX

/// What a slot holds. A level is its rank as a number, 0 for the lowest; everything that is no
/// number and no level is a symbol.
typedef enum { WHY_SLOT_SYMBOL, WHY_SLOT_NUMBER, WHY_SLOT_LEVEL } why_slot_type;

typedef struct {
  why_symbol name;
  why_symbol kind;
  why_slot_type type;
  const why_level_set* levels; ///< Of a level slot, else NULL.
  bool key;
  why_preference prefer;
} why_slot;

typedef struct {
  why_symbol name;
  why_place place;
  bool assumable;
  bool reached; ///< An assumable relation reaches it, so overlays evaluate it.
  const char* say;
  unsigned slot_count;
  const why_slot* slots;
} why_relation_info;

/// The value of one slot. Equal values have equal bits.
typedef union {
  uint64_t bits;
  double number;
} why_value;

why_value why_value_of_symbol(why_symbol symbol);
why_value why_value_of_number(double number); ///< Minus zero becomes zero.
why_symbol why_value_symbol(why_value value);

/// A row of a relation. Holds for the life of its overlay, and in every overlay on the same base if
/// it was read in the base.
typedef struct {
  why_relation relation;
  uint32_t row;
} why_fact;

typedef struct {
  const why_fact* at;
  size_t count;
} why_facts;

// ---- program ----

/// Compile all relations, stated facts and rules. `symbols` gains the names that they use.
/// Returns WHY_KNOWLEDGE after reporting every error, each with its place in the XML.
/// `reasoning` and `symbols` must outlive the program.
why_status why_program_compile(const why_reasoning* reasoning, why_symbols* symbols,
                               why_arena* arena, why_problems* problems,
                               const why_program** program);

size_t why_program_relation_count(const why_program* program);
const why_relation_info* why_program_relation(const why_program* program, why_relation relation);

/// The relation called `name`, or WHY_NO_RELATION.
why_relation why_program_find(const why_program* program, const char* name);

/// The slot called `name` of a relation, or -1.
int why_program_slot(const why_program* program, why_relation relation, const char* name);

/// The rank of a level of the ordered kind `kind`, or -1.
int why_program_level(const why_program* program, const char* kind, const char* level);

/// By relation: whether its facts have a slot of `kind`, or can rest on facts that have one. In
/// `arena`.
const bool* why_program_leading_to(const why_program* program, const char* kind, why_arena* arena);

/// How many rules conclude a relation.
size_t why_program_rule_count(const why_program* program, why_relation relation);

/// The slot by which facts of a relation are brought into order after `place` other slots, and
/// whether the larger value comes first; -1 when no further slot decides.
int why_program_order(const why_program* program, why_relation relation, size_t place, bool* most);

/// How facts of one relation bear on facts of another, as bits.
typedef enum {
  WHY_BEARS_NOT = 0,
  WHY_BEARS_FOR = 1,     ///< More of them can bring such a fact, or numbers in it change.
  WHY_BEARS_AGAINST = 2, ///< More of them can take one away.
} why_bearing;

/// By relation: how its facts bear on whether facts of `relation` hold, as the rules are written.
/// Where no bit against is set, more facts never take one away. In `arena`.
const unsigned char* why_program_bearing(const why_program* program, why_relation relation,
                                         why_arena* arena);

/// Text of level `rank` of an ordered kind's slot; "" when out of range.
const char* why_slot_level(const why_program* program, const why_slot* slot, double rank);

// ---- base ----

/// Bounds on one evaluation, so that a runaway ends as an error. Zero stands for the default.
typedef struct {
  size_t facts;       ///< Rows of all relations; 20 million.
  size_t derivations; ///< 40 million.
  size_t rounds;      ///< Rounds of one recursion; 1 million.
  size_t steps;       ///< Rows looked at in joins; 1000 million.
} why_limits;

/// An empty base in `arena` that holds the facts stated in the rules' XML. `limits` may be NULL.
why_base* why_base_new(const why_program* program, why_symbols* symbols, why_arena* arena,
                       const why_limits* limits);

/// Add a given fact: one value for every slot, symbols from the table the base was made with.
/// `place` is where a reader finds it. `from` may be NULL. Not after why_base_run.
void why_base_add(why_base* base, why_relation relation, const why_value* values, why_place place,
                  const why_from* from);

/// The same by texts (ids, numbers, levels), NULL-terminated values in order of slots. Returns
/// false after reporting a value that does not fit its slot, or a wrong number of values.
bool why_base_state(why_base* base, why_problems* problems, why_place place, const char* relation,
                    ...) __attribute__((sentinel));

/// Evaluate all that no assumable relation reaches. Errors (two values for one key, a bound
/// exceeded) are reported and give WHY_KNOWLEDGE.
why_status why_base_run(why_base* base, why_problems* problems);

/// What typical questions are like, in `arena`: the sizes of their relations. Add each when it has
/// run; it is not looked at again.
typedef struct why_lessons why_lessons;
why_lessons* why_lessons_new(const why_base* base, why_arena* arena);
void why_lessons_add(why_lessons* lessons, const why_overlay* typical);

/// Evaluate later questions as it suits those. After why_base_run, before any other question;
/// nothing that can be read hangs on it.
void why_base_learn(why_base* base, const why_lessons* lessons);

/// Make ready for facts of a relation to be found by the slots in `mask`. After why_base_run,
/// before any question.
void why_base_expect(why_base* base, why_relation relation, uint32_t mask);

/// Lay out what every question begins with, once for all. After the last why_base_expect.
void why_base_lay_out(why_base* base);

// ---- overlay ----

/// A question on a base that has run. Its own names go to why_overlay_symbols.
why_overlay* why_overlay_new(const why_base* base, why_arena* arena, const why_limits* limits);

/// The table for names that a question brings; it stands on the base's.
why_symbols* why_overlay_symbols(why_overlay* overlay);

/// Assume a fact of an assumable relation. Not after why_overlay_run or why_overlay_open.
void why_overlay_assume(why_overlay* overlay, why_relation relation, const why_value* values);

/// Evaluate the rest. Returns as why_base_run does. `problems` NULL: nobody listens.
why_status why_overlay_run(why_overlay* overlay, why_problems* problems);

/// Instead of running: evaluate what is read when it is read, and what that rests on, and nothing
/// else. Errors go to `problems`, which must outlive the reading; the status tells of those so far.
/// What is read is the same as after a run.
void why_overlay_open(why_overlay* overlay, why_problems* problems);
why_status why_overlay_status(const why_overlay* overlay);

// ---- reading ----

/// Facts of a relation whose slots in `mask` (bit i: slot i) have the given `values` (an array with
/// a place for every slot; NULL when mask is 0). Sorted by the relation's <order>, then by texts
/// and numbers of all slots; costs n log n of the rows found. The list lives in the overlay.
why_facts why_facts_find(why_overlay* overlay, why_relation relation, uint32_t mask,
                         const why_value* values);

/// Whether there is such a fact.
bool why_facts_exist(why_overlay* overlay, why_relation relation, uint32_t mask,
                     const why_value* values);

/// The values of a fact, one for every slot; valid until the overlay runs, then for its life, or,
/// when it was opened instead, until more is read.
const why_value* why_fact_values(const why_overlay* overlay, why_fact fact);

/// Value of one slot as a symbol, or as a number (levels: rank).
why_symbol why_fact_symbol(const why_overlay* overlay, why_fact fact, int slot);
double why_fact_number(const why_overlay* overlay, why_fact fact, int slot);

/// "acts(head=..., action=...)", for dumps and messages; in `arena`.
const char* why_fact_text(const why_overlay* overlay, why_fact fact, why_arena* arena);

// ---- why ----

/// A rule as people see it.
typedef struct {
  why_symbol id;
  why_symbol grounds;
  const char* title;
  const char* say;
  why_place place;
  const why_from* from;
} why_rule_info;

typedef enum {
  WHY_USED,    ///< A fact that a condition found.
  WHY_COUNTED, ///< A fact that a count, sum, least or most took in.
  WHY_ABSENT,  ///< No such fact: an unless, or an else- value that was used.
} why_premise_kind;

typedef struct why_proof why_proof;

/// One thing that a derivation rests on, in the order of the rule's conditions.
typedef struct {
  why_premise_kind kind;
  unsigned condition;    ///< Number of the rule's condition, from 0.
  why_fact fact;         ///< Used, counted: why_proof_best tells why it holds.
  why_relation relation; ///< Absent: the relation and the values looked for (by slot in mask).
  uint32_t mask;
  const why_value* values;
  const char* say; ///< Absent: the sentence of the unless, not yet filled in; "" if none.
} why_premise;

/// One way in which a fact follows. A given or assumed fact has no rule and no premises.
typedef struct {
  why_fact fact;
  const why_rule_info* rule; ///< NULL: given (place says where) or assumed (place.file is NULL).
  why_place place;           ///< Of the rule, or of the given fact.
  const why_from* from;      ///< Of the given fact or the rule; NULL when not stated.
  size_t premise_count;
  const why_premise* premises;
  const why_value* variables; ///< Values of the rule's variables, for why_say.
  const void* inner;          ///< The compiled rule.
} why_derivation;

/// Every way in which `fact` follows, sorted by rule id and then by the texts of the premises. In
/// the overlay. Overruled facts (see prefer in the schema) have derivations too.
size_t why_derivations(why_overlay* overlay, why_fact fact, const why_derivation** list);

/// The best derivation of a fact, that of the tree with fewest steps; ties by rule id, then by the
/// texts of the premises. The best derivations of its premises are the rest of the tree, in which
/// no fact stands below itself.
struct why_proof {
  why_derivation step;
  double steps;    ///< Rule applications in the tree, parts that occur twice counted twice.
  uint32_t number; ///< Of the fact among all that proofs of the overlay have met.
};

const why_proof* why_proof_best(why_overlay* overlay, why_fact fact);

/// Call for a fact and for all that its best tree rests on, in no settled order: facts of the
/// question once each, and what they rest on where `enter` says so; facts of the base as they come,
/// and nothing below them. Takes much less than the proofs. `enter` asks for no proofs.
void why_proof_walk(why_overlay* overlay, why_fact fact, bool (*enter)(void* user, why_fact fact),
                    void* user);

/// Note which rules gave a fact that is at hand in the overlay or its base: `fired` by number of
/// the rule among those that the program was compiled from.
void why_rules_note(const why_overlay* overlay, bool* fired);

/// How ids are shown: the display name of `id`, a thing of kind `kind`; NULL: as it is.
typedef struct {
  const char* (*name)(void* user, const char* kind, const char* id);
  void* user;
} why_naming;

/// The sentence for a derivation: the rule's <say>, for a given fact its relation's <say>; "" when
/// there is none. `naming` may be NULL. In `arena`.
const char* why_say(const why_overlay* overlay, const why_derivation* derivation,
                    const why_naming* naming, why_arena* arena);

/// The sentence of a relation about a fact of which only the slots in `mask` are known; what is not
/// known is shown as "...". "" when the relation has no sentence. In `arena`.
const char* why_say_partly(const why_overlay* overlay, why_relation relation, uint32_t mask,
                           const why_value* values, const why_naming* naming, why_arena* arena);

/// The sentence of the unless behind an absent premise of `derivation`; "" when it has none.
const char* why_say_absent(const why_overlay* overlay, const why_derivation* derivation,
                           const why_premise* premise, const why_naming* naming, why_arena* arena);

// ---- why not ----

enum { WHY_MISSES_LIMIT = 6 }; ///< Of one rule; more are counted.

/// What keeps a rule from giving a fact.
typedef enum {
  WHY_MISS_ABSENT,  ///< A fact that an `if` looks for is not there.
  WHY_MISS_PRESENT, ///< A fact is there that an `unless` must not find.
  WHY_MISS_COMPARE, ///< A comparison does not come out.
  WHY_MISS_EMPTY,   ///< There is nothing to count, to add up or to choose from.
  WHY_MISS_OTHER    ///< Arithmetic without a value, or a text that does not match.
} why_miss_kind;

/// One way in which a rule fails: the condition, when those before it in the rule (as far as it
/// needs them) are met.
typedef struct {
  const why_rule_info* rule;
  why_miss_kind kind;
  const why_condition_row* row; ///< The condition as written.
  why_relation relation;        ///< Absent: what is looked for, ...
  uint32_t mask;                ///< ... by the slots that are known.
  const why_value* values;
  why_facts facts;            ///< Present: what stands against it, in the order of facts.
  const why_value* variables; ///< Of the rule, those in `bound` as bits.
  uint64_t bound;
  size_t more;       ///< Further ways in which the rule fails as late, that are not listed.
  const void* inner; ///< The compiled condition and rule.
  const void* whole;
} why_miss;

/// For every rule that could give a fact with these values in the slots of `mask`, the ways in
/// which it fails last, in order of rule ids and then of the facts met on the way. For a fact that
/// does not hold. The overlay is open or has run.
size_t why_misses(why_overlay* overlay, why_relation relation, uint32_t mask,
                  const why_value* values, const why_miss** list);

/// What a comparison came to: "0.13 is not at least 0.6 * 0.9, which is 0.54"; "" for other misses.
const char* why_say_miss(const why_overlay* overlay, const why_miss* miss, const why_naming* naming,
                         why_arena* arena);

#endif
