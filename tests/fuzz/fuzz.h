// SPDX-License-Identifier: GPL-3.0-or-later
/// What the fuzzing harnesses share. Each makes one program for libFuzzer; any finding of the
/// sanitizers, a crash, or a run beyond the time limit is a failure.
#ifndef WHY_TESTS_FUZZ_H
#define WHY_TESTS_FUZZ_H

#include <stddef.h>
#include <stdint.h>

enum { FUZZ_MEMORY = 64 * 1024 * 1024 }; ///< Bytes of one run's arena.

/// The entrance that libFuzzer calls.
int LLVMFuzzerTestOneInput(const uint8_t* bytes, size_t length);

/// Called once before, where getting ready takes long; no time limit counts it.
int LLVMFuzzerInitialize(int* count, char*** words);

#endif
