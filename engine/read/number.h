// SPDX-License-Identifier: GPL-3.0-or-later
/// Numbers out of text, for readers of XML and for constants in rules.
#ifndef WHY_READ_NUMBER_H
#define WHY_READ_NUMBER_H

#include <stdbool.h>

/// A number as XML Schema writes it, independent of the locale; false when `text` is none.
bool why_parse_number(const char* text, double* number);

#endif
