// SPDX-License-Identifier: GPL-3.0-or-later
/// Showing parts of texts that people typed.
#ifndef WHY_BASE_TEXT_H
#define WHY_BASE_TEXT_H

/// How many bytes of `text` to show, at most `limit`, so that no character of UTF-8 is cut in two:
/// for the "%.*s" of printf.
int why_text_fit(const char* text, int limit);

#endif
