// SPDX-License-Identifier: GPL-3.0-or-later
/// Random stratified programs, the same for the same seed: as elements of rules/reasoning and in
/// the input language of answer-set grounders. They hold joins, constants, recursion (also mutual),
/// absence, comparisons, and count, sum, least and most over earlier strata.
#ifndef WHY_TEST_RANDOM_H
#define WHY_TEST_RANDOM_H

#include "base/base.h"

enum {
  RANDOM_GIVEN = 4,   ///< Relations e0 to e3, which hold given facts.
  RANDOM_DERIVED = 8, ///< Relations d0 to d7; two make a stratum.
  RANDOM_RELATIONS = RANDOM_GIVEN + RANDOM_DERIVED,
  RANDOM_ARITY = 3
};

typedef struct {
  char name[8];
  unsigned arity;
  bool numeric; ///< The last slot holds a number.
  unsigned stratum;
} random_relation;

typedef struct {
  unsigned relation;
  const char* values[RANDOM_ARITY + 1]; ///< Texts of its slots, then NULL.
} random_fact;

typedef WHY_LIST(const char*) random_texts;

typedef struct {
  random_relation relations[RANDOM_RELATIONS];
  WHY_LIST(random_fact) facts;
  random_texts rules; ///< As XML elements.
  why_buffer logic;   ///< The rules as a logic program.
} random_program;

/// Draw a program from `seed` into `arena`.
random_program* random_program_new(why_arena* arena, uint64_t seed);

/// The XML of relation `number`.
const char* random_relation_xml(why_arena* arena, const random_program* from, unsigned number,
                                bool assumable);

/// The XML of fact `number`, and the fact in logic notation.
const char* random_fact_xml(why_arena* arena, const random_program* from, size_t number);
const char* random_fact_logic(why_arena* arena, const random_program* from, size_t number);

/// The next of a row of random numbers below `bound`.
unsigned random_below(uint64_t* state, unsigned bound);

/// Bring texts into an order drawn from `state`.
void random_shuffle(random_texts* texts, uint64_t* state);

#endif
