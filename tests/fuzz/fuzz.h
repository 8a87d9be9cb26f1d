// SPDX-License-Identifier: GPL-3.0-or-later
/// What the fuzzing harnesses share. Each feeds one entrance, all in one program for libFuzzer; any
/// finding of the sanitizers, a crash, or an input that takes too long is a failure.
#ifndef WHY_TESTS_FUZZ_H
#define WHY_TESTS_FUZZ_H

#include "whylift/whylift.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum { FUZZ_MEMORY = 64 * 1024 * 1024 }; ///< Bytes of one run's arena.

/// Where bytes of others come in.
typedef struct {
  const char* name;
  void (*begin)(void); ///< Called once before all inputs, or NULL.
  void (*feed)(const uint8_t* bytes, size_t length);
} fuzz_entrance;

extern const fuzz_entrance fuzz_abstract, fuzz_csv, fuzz_line, fuzz_programme, fuzz_request,
    fuzz_rules, fuzz_sentence, fuzz_words, fuzz_xml;

/// The shipped knowledge base.
const why_knowledge* fuzz_knowledge(void);

/// Tell `answer` in `format` to nobody: it must succeed, in plain text.
void fuzz_tell(const why_answer* answer, const char* format);

#endif
