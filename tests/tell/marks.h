// SPDX-License-Identifier: GPL-3.0-or-later
/// What suites ask of any picture.
#ifndef WHY_TESTS_MARKS_H
#define WHY_TESTS_MARKS_H

#include "tell/picture.h"

/// Whether a mark says exactly `words`.
bool marks_say(const why_picture* picture, const char* words);

/// Fail for each pair of words of which one covers the other, and for words, lines or discs that
/// leave the picture.
void marks_check(const why_picture* picture, const char* name);

/// Whether libxml2 takes the text as well-formed; fails the test otherwise.
void marks_check_xml(const char* text, size_t length, const char* name);

#endif
