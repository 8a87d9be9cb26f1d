// SPDX-License-Identifier: GPL-3.0-or-later
// UTF-8 by the table of well-formed byte sequences in the Unicode Standard (table 3-7).
#include "output.h"

#include <errno.h>
#include <string.h>

typedef struct {
  unsigned char first_low, first_high, second_low, second_high;
  int length;
} form;

static const form FORMS[] = {
    {0x00, 0x7F, 0, 0, 1},       {0xC2, 0xDF, 0x80, 0xBF, 2}, {0xE0, 0xE0, 0xA0, 0xBF, 3},
    {0xE1, 0xEC, 0x80, 0xBF, 3}, {0xED, 0xED, 0x80, 0x9F, 3}, {0xEE, 0xEF, 0x80, 0xBF, 3},
    {0xF0, 0xF0, 0x90, 0xBF, 4}, {0xF1, 0xF3, 0x80, 0xBF, 4}, {0xF4, 0xF4, 0x80, 0x8F, 4},
};

/// The bytes of the character at `text`; 0 when it is none.
static int length_at(const unsigned char* text) {
  for (size_t i = 0; i < sizeof FORMS / sizeof *FORMS; i++) {
    const form* row = &FORMS[i];
    if (*text < row->first_low || *text > row->first_high)
      continue;
    if (row->length > 1 && (text[1] < row->second_low || text[1] > row->second_high))
      return 0;
    for (int k = 2; k < row->length; k++)
      if ((text[k] & 0xC0) != 0x80)
        return 0;
    return row->length;
  }
  return 0;
}

/// Control characters (also U+0080 to U+009F), and the marks and overrides of direction (U+200E,
/// U+200F, U+202A to U+202E, U+2066 to U+2069).
static bool is_harmless(const unsigned char* text, int length) {
  if (length == 1)
    return *text >= ' ' && *text != 0x7F;
  if (length == 2)
    return !(*text == 0xC2 && text[1] < 0xA0);
  if (length != 3 || *text != 0xE2)
    return length > 0;
  bool directs = text[1] == 0x80 &&
                 ((text[2] >= 0xAA && text[2] <= 0xAE) || text[2] == 0x8E || text[2] == 0x8F);
  return !directs && !(text[1] == 0x81 && text[2] >= 0xA6 && text[2] <= 0xA9);
}

void why_output_words(FILE* out, const char* text, size_t limit) {
  const unsigned char* rest = (const unsigned char*)text;
  for (size_t i = 0; i < limit && *rest; i++) {
    int length = length_at(rest);
    if (is_harmless(rest, length)) {
      fwrite(rest, 1, (size_t)length, out);
      rest += length;
      continue;
    }
    for (int k = 0; k < (length ? length : 1); k++)
      fprintf(out, "\\x%02x", *rest++);
  }
  if (*rest)
    fputs("...", out);
}

why_status why_output_finish(why_status status) {
  if (fflush(stdout) == 0 && !ferror(stdout))
    return status;
  if (errno != EPIPE)
    fprintf(stderr, "whylift: the answer cannot be written: %s\n", strerror(errno));
  return WHY_MACHINE;
}
