// SPDX-License-Identifier: GPL-3.0-or-later
/// Telling an answer in a format.
#ifndef WHYLIFT_TELL_H
#define WHYLIFT_TELL_H

#include "answer.h"

/// Takes `length` bytes of the answer; returns false to stop (a broken pipe).
typedef bool (*why_sink)(void* user, const char* bytes, size_t length);

/// Write `answer` in `format` ("text", "json" ...; why_format_at lists them) to `sink`. Returns
/// WHY_QUESTION for an unknown format, and for one that has nothing to show of this answer (a
/// picture of a list); WHY_MACHINE when the sink stops or memory runs out.
WHY_API why_status why_tell(const why_answer* answer, const char* format, why_sink sink,
                            void* user);

/// The name of format number `index`, NULL behind the last.
WHY_API const char* why_format_at(size_t index);

#endif
