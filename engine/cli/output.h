// SPDX-License-Identifier: GPL-3.0-or-later
/// What the program writes: words of others made harmless, and an end that tells whether all was
/// written.
#ifndef WHY_CLI_OUTPUT_H
#define WHY_CLI_OUTPUT_H

#include "whylift/whylift.h"

#include <stdio.h>

/// Print `text`, at most `limit` characters of it and then "...". Control characters, signs that
/// turn the writing direction, and bytes that are no UTF-8 appear as \xNN, so that nothing typed or
/// read from a file can steer a terminal.
void why_output_words(FILE* out, const char* text, size_t limit);

/// Send off what stands in the buffer of standard output. Returns `status`, or WHY_MACHINE after a
/// message when not all could be written; a reader who has gone away gets no message.
why_status why_output_finish(why_status status);

#endif
