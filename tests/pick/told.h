// SPDX-License-Identifier: GPL-3.0-or-later
/// Asking the shipped knowledge base from a test, and having the answer told as JSON.
#ifndef WHY_TESTS_TOLD_H
#define WHY_TESTS_TOLD_H

#include "handle.h"

#include <jansson.h>

/// What to ask; NULL where nothing is said.
typedef struct {
  why_task task;
  const char* goal;
  const char* exercise;
  const char* replaced;
  const char* have;
  const char* without;
  const char* avoid;
  const char* top;
  const char* other;
  const char* level;
  const char* format; ///< "json" when not said.
} told_question;

/// Open the shipped knowledge base, failing the test when it is not sound. Without seeds it comes
/// from a snapshot where tests/units has named a folder for one in WHY_TEST_CACHE; a process has
/// room for one snapshot at a time.
why_knowledge* told_open(uint64_t order_seed, uint64_t hash_seed);

/// What stands behind it, opened without seeds and closed with `arena`.
const why_ground* told_ground(why_arena* arena);

/// An answer as JSON text (free it).
char* told_answer(const why_answer* answer);
char* told_answer_as(const why_answer* answer, const char* format);

/// The answer in its format (free it), and the status of the run. NULL when there is none.
char* told_text(const why_knowledge* knowledge, const told_question* question, why_status* status);

/// The same, parsed (json_decref it).
json_t* told_json(const why_knowledge* knowledge, const told_question* question,
                  why_status* status);

#endif
