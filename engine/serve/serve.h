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

#endif
