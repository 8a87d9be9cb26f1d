// SPDX-License-Identifier: GPL-3.0-or-later
// In UTF-8 every byte of a character but its first is 10xxxxxx, so the cut moves back over those.
#include "text.h"

#include <stddef.h>
#include <string.h>

int why_text_fit(const char* text, int limit) {
  int length = (int)strnlen(text, (size_t)limit);
  if (!text[length])
    return length;
  while (length && ((unsigned char)text[length] & 0xC0) == 0x80)
    length--;
  return length;
}

/// How many bytes may follow a first byte, and between what the second must lie; the others lie
/// between 80 and BF.
typedef struct {
  unsigned char first, last;
  unsigned char follow;
  unsigned char least, most;
} sequence;

static const sequence SEQUENCES[] = {
    {0x01, 0x7F, 0, 0, 0},       {0xC2, 0xDF, 1, 0x80, 0xBF}, {0xE0, 0xE0, 2, 0xA0, 0xBF},
    {0xE1, 0xEC, 2, 0x80, 0xBF}, {0xED, 0xED, 2, 0x80, 0x9F}, {0xEE, 0xEF, 2, 0x80, 0xBF},
    {0xF0, 0xF0, 3, 0x90, 0xBF}, {0xF1, 0xF3, 3, 0x80, 0xBF}, {0xF4, 0xF4, 3, 0x80, 0x8F}};

/// The bytes of the character that `at` begins with; 0 when it is none.
static size_t character_length(const unsigned char* at) {
  for (size_t i = 0; i < sizeof SEQUENCES / sizeof *SEQUENCES; i++) {
    const sequence* row = &SEQUENCES[i];
    if (*at < row->first || *at > row->last)
      continue;
    for (size_t k = 1; k <= row->follow; k++)
      if (at[k] < (k == 1 ? row->least : 0x80) || at[k] > (k == 1 ? row->most : 0xBF))
        return 0;
    return 1 + (size_t)row->follow;
  }
  return 0;
}

bool why_text_is_utf8(const char* text) {
  const unsigned char* at = (const unsigned char*)text;
  for (size_t length; *at; at += length) {
    length = character_length(at);
    if (!length)
      return false;
  }
  return true;
}
