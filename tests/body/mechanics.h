// SPDX-License-Identifier: GPL-3.0-or-later
/// The shipped knowledge base, opened for tests of the sharing.
#ifndef WHY_TEST_MECHANICS_H
#define WHY_TEST_MECHANICS_H

#include "body/body.h"

typedef struct {
  why_arena* arena;
  why_problems* problems;
  why_tables* tables;
  const why_body_model* model;
  why_muscles* muscles;
  why_sharer* sharer;
} mechanics;

void mechanics_open(mechanics* made);
void mechanics_close(mechanics* of);

/// Each must exist.
const why_exercise* mechanics_exercise(const mechanics* of, const char* id);
size_t mechanics_head(const mechanics* of, const char* id);

#endif
