// SPDX-License-Identifier: GPL-3.0-or-later
/// Rules from a string, for the suites of reason: read through the XML reader and the schema of
/// rules/reasoning, compiled, run, and shown as text.
#ifndef WHY_TEST_PROGRAM_H
#define WHY_TEST_PROGRAM_H

#include "reason/reason.h"

/// One program with its base and its question. Everything lives in `arena`.
typedef struct {
  why_arena* arena;
  why_symbols* symbols;
  why_problems* problems;
  why_reasoning reasoning;
  const why_program* program; ///< NULL when it did not compile.
  why_base* base;
  why_overlay* overlay;
  const why_limits* limits;
  why_status status; ///< Of the last step.
} program;

/// Read `text`, the inside of <reasoning>, and compile it. Fails the test when it does not fit the
/// schema. Problems of compiling stay in `problems`.
void program_compile(program* made, uint64_t hash_seed, const char* text);

/// Make and run the base, and make the overlay.
void program_start(program* made);

/// Assume a fact by texts in order of slots, NULL-terminated.
void program_assume(program* made, const char* relation, ...) __attribute__((sentinel));

/// Run the overlay.
void program_ask(program* made);

/// All of it, expecting no problem on the way.
void program_run(program* made, const char* text);
void program_free(program* made);

/// All visible facts of a relation in their order: "ann bea; bea cy". "" when there is none.
const char* program_dump(program* made, const char* relation);

/// The fact with these texts in order of slots, NULL-terminated; it must be there.
why_fact program_fact(program* made, const char* relation, ...) __attribute__((sentinel));

/// The first problem as "check line:column", counted in `text`; "" when there is none.
const char* program_problem(program* made);

/// The sentence of the best derivation of a fact.
const char* program_say(program* made, why_fact fact);

/// Expect `rules` (after `declared`) to be refused by `check` at the place marked with ^ in it.
void expect_refused(const char* declared, const char* rules, const char* check);

/// Expect that `relation` holds exactly these facts after running `text`.
void expect_facts(const char* text, const char* relation, const char* facts);

/// Relations that most tests use: edge and path over nodes, size of a node, grade of a node.
extern const char PROGRAM_GRAPH[];

/// A rule with a title, grounds and an id.
#define RULE(id, inside) "<rule id='" id "' grounds='practice'><title>t</title>" inside "</rule>\n"

#endif
