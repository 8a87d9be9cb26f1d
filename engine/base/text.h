// SPDX-License-Identifier: GPL-3.0-or-later
/// Texts that people typed: whether they are text, and showing parts of them.
#ifndef WHY_BASE_TEXT_H
#define WHY_BASE_TEXT_H

#include <stdbool.h>

/// How many bytes of `text` to show, at most `limit`, so that no character of UTF-8 is cut in two:
/// for the "%.*s" of printf.
int why_text_fit(const char* text, int limit);

/// Whether `text` is well-formed UTF-8, by the table of well-formed byte sequences in the Unicode
/// Standard (version 15, table 3-7).
bool why_text_is_utf8(const char* text);

#endif
