// SPDX-License-Identifier: GPL-3.0-or-later
/// Text and numbers inside XML and HTML, written so that nothing in them can end what they stand
/// in.
#ifndef WHY_TELL_MARKUP_H
#define WHY_TELL_MARKUP_H

#include "base/base.h"

#include <stdbool.h>

/// How many bytes the character at `text` takes; `*sound` says whether it may stand as it is: a
/// character of XML 1.0 (section 2.2) in well-formed UTF-8 (The Unicode Standard, table 3-7) that
/// does not turn the direction of writing. WHY_REPLACEMENT stands for others.
size_t why_markup_character(const char* text, bool* sound);

#define WHY_REPLACEMENT "\xEF\xBF\xBD" // U+FFFD

/// Write `text` for element content or a quoted attribute. The five characters of markup become
/// references; what may not stand becomes WHY_REPLACEMENT.
void why_markup_text(why_buffer* out, const char* text);

/// Write a number with at most two decimals and a full stop, whatever the locale; what is not
/// finite becomes 0.
void why_markup_number(why_buffer* out, double number);

/// ` name="text"`, ` name="number"`.
void why_markup_attribute(why_buffer* out, const char* name, const char* text);
void why_markup_measure(why_buffer* out, const char* name, double number);

/// `<name>text</name>`.
void why_markup_element(why_buffer* out, const char* name, const char* text);

#endif
