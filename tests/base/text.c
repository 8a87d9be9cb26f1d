// SPDX-License-Identifier: GPL-3.0-or-later
// Cutting texts for display.
#include "base/text.h"

#include <criterion/criterion.h>

Test(text, fits_whole_characters) {
  cr_expect_eq(why_text_fit("", 3), 0);
  cr_expect_eq(why_text_fit("abc", 3), 3);
  cr_expect_eq(why_text_fit("abcd", 3), 3);
  cr_expect_eq(why_text_fit("ab\xC3\xA9", 3), 2);
  cr_expect_eq(why_text_fit("ab\xC3\xA9", 4), 4);
  cr_expect_eq(why_text_fit("a\xF0\x9F\x92\xAA", 4), 1);
  cr_expect_eq(why_text_fit("\x80\x80\x80\x80", 2), 0, "bytes that are no UTF-8");
}
