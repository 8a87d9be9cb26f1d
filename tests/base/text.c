// SPDX-License-Identifier: GPL-3.0-or-later
// Cutting texts for display; which bytes are text.
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

/// The code point that four bytes or fewer stand for, by the definition of UTF-8 (RFC 3629, section
/// 3) and not by the table: decode, and encode again.
static bool is_one_character(const unsigned char* bytes, size_t length) {
  static const unsigned char LEAD[] = {0, 0x00, 0xC0, 0xE0, 0xF0};
  static const unsigned char MASK[] = {0, 0x80, 0xE0, 0xF0, 0xF8};
  static const unsigned long LEAST[] = {0, 0, 0x80, 0x800, 0x10000};
  if ((bytes[0] & MASK[length]) != LEAD[length])
    return false;
  unsigned long point = bytes[0] & (unsigned char)~MASK[length];
  for (size_t i = 1; i < length; i++) {
    if ((bytes[i] & 0xC0) != 0x80)
      return false;
    point = point << 6 | (bytes[i] & 0x3F);
  }
  return point >= LEAST[length] && point <= 0x10FFFF && (point < 0xD800 || point > 0xDFFF);
}

Test(text, is_utf8_character_by_character) {
  static const unsigned char AWKWARD[] = {0x01, 0x41, 0x7F, 0x80, 0x8F, 0x90, 0x9F, 0xA0, 0xBF,
                                          0xC0, 0xC1, 0xC2, 0xDF, 0xE0, 0xE1, 0xEC, 0xED, 0xEE,
                                          0xEF, 0xF0, 0xF1, 0xF3, 0xF4, 0xF5, 0xF8, 0xFF};
  enum { MANY = sizeof AWKWARD };
  size_t good = 0;
  for (size_t i = 0; i < (size_t)MANY * MANY * MANY * MANY; i++) {
    unsigned char bytes[5] = {AWKWARD[i % MANY], AWKWARD[i / MANY % MANY],
                              AWKWARD[i / MANY / MANY % MANY], AWKWARD[i / MANY / MANY / MANY], 0};
    size_t at = 0;
    for (size_t length = 1; at < 4 && length <= 4 - at;)
      if (is_one_character(bytes + at, length)) {
        at += length;
        length = 1;
      } else {
        length++;
      }
    cr_assert_eq(why_text_is_utf8((const char*)bytes), at == 4, "%02x %02x %02x %02x", bytes[0],
                 bytes[1], bytes[2], bytes[3]);
    good += at == 4;
  }
  cr_expect_gt(good, 100);
}
