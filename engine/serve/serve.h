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

enum { WHY_PORT_USUAL = 7417 };

/// Answer browsers and programs at `address` (NULL: this machine alone) and `port` (0: any that is
/// free) until SIGINT or SIGTERM comes; then finish what was begun. The address of the first page
/// is written to `out` when it can be asked. WHY_MACHINE after a message when nothing can be
/// listened to.
why_status why_serve(const why_knowledge* knowledge, const char* address, unsigned port, FILE* out);

#endif
