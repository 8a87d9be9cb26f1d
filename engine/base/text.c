// SPDX-License-Identifier: GPL-3.0-or-later
// In UTF-8 every byte of a character but its first is 10xxxxxx, so the cut moves back over those.
#include "text.h"

#include <string.h>

int why_text_fit(const char* text, int limit) {
  int length = (int)strnlen(text, (size_t)limit);
  if (!text[length])
    return length;
  while (length && ((unsigned char)text[length] & 0xC0) == 0x80)
    length--;
  return length;
}
