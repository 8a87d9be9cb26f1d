// SPDX-License-Identifier: GPL-3.0-or-later
/// One question as an object of JSON, and its answer as another, on one line each.
#ifndef WHY_SERVE_LINE_H
#define WHY_SERVE_LINE_H

#include "asking.h"
#include "bytes.h"
#include "serve.h"

/// Answer the `length` bytes at `line` into `out`: the answer as `--format json` gives it, or
/// {"error", "problems"} (include/whylift/refusal.schema.json), with the "id" of the question in
/// front and, if `number` is not 0, the number of a line that is refused. One line, without the
/// newline. Returns how it ended; without memory for anything, `out` has failed.
why_status why_line_answer(const why_knowledge* knowledge, const char* line, size_t length,
                           size_t number, why_bytes* out);

/// The refusal of a question that was asked in another way.
void why_line_refuse(const why_asking* asking, size_t number, why_bytes* out);

/// What is refused, in words for programs: "question" or "machine".
const char* why_line_error(why_status status);

#endif
