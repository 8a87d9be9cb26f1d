// SPDX-License-Identifier: GPL-3.0-or-later
/// Growing text in an arena. A zeroed buffer with its arena set is empty and ready.
#ifndef WHY_BASE_BUFFER_H
#define WHY_BASE_BUFFER_H

#include "arena.h"

typedef struct {
  why_arena* arena;
  char* text; ///< Terminated once anything was added; NULL before.
  size_t length;
  size_t room;
} why_buffer;

/// The text so far, terminated; "" when nothing was added.
const char* why_buffer_text(const why_buffer* buffer);

void why_buffer_add(why_buffer* buffer, const char* text);
void why_buffer_add_bytes(why_buffer* buffer, const char* bytes, size_t length);

/// Add text printed as by printf; the arguments must not point into this buffer.
void why_buffer_print(why_buffer* buffer, const char* format, ...)
    __attribute__((format(printf, 2, 3)));

#endif
