// SPDX-License-Identifier: GPL-3.0-or-later
/// Answers for programs and browsers: lines of JSON in a stream, and a page on a local address.
/// Everything here uses the public headers alone.
#ifndef WHY_SERVE_H
#define WHY_SERVE_H

#include "whylift/whylift.h"

#include <stdio.h>

enum { WHY_LINE_LIMIT = 64 * 1024 }; ///< Bytes of one line, or of one body of a request.

/// Read questions from `in`, one object of JSON a line (include/whylift/line.schema.json), and
/// write one object a line to `out`, in the same order, each sent off at once. A line that cannot
/// be answered gives an object with "error"; nothing but the end of `in` or a failing machine
/// ends it. Blank lines give nothing.
why_status why_lines_answer(const why_knowledge* knowledge, FILE* in, FILE* out);

/// A name and a text: {"have", "hotel-room"}.
typedef struct {
  const char* name;
  const char* value;
} why_pair;

/// Who asks and where: have, without, avoid, level.
typedef struct {
  const why_pair* pairs;
  size_t count;
  void (*progress)(void* user, size_t done, size_t all); ///< Called after each answer; or NULL.
  void* user;
} why_carry_request;

/// Write one page with every goal and every swap to `out` (a lifter carries it where there is no
/// network). Messages about wrong words go to standard error.
why_status why_carry(const why_knowledge* knowledge, const why_carry_request* request, FILE* out);

enum { WHY_PORT_USUAL = 7417 };

/// Answer browsers and programs from `knowledge`, read from `folder`, at `address` (NULL: this
/// machine alone) and `port` (0: any that is free) until SIGINT or SIGTERM comes; then finish what
/// was begun. The address of the first page is written to `out` when it can be asked. WHY_MACHINE
/// after a message when nothing can be listened to.
why_status why_serve(const why_knowledge* knowledge, const char* folder, const char* address,
                     unsigned port, FILE* out);

#endif
