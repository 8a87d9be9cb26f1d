// SPDX-License-Identifier: GPL-3.0-or-later
// Folding of typed words, and the edit distance with swaps of neighbours: the recurrence of
// Damerau (doi 10.1145/363958.363994) in the form of optimal string alignment, kept in three rows.
#include "spell.h"

#include <string.h>

static bool is_letter(unsigned char c) {
  return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '%' || c == '#' || c == '+' ||
         c >= 0x80;
}

/// Apostrophes join ("farmer's" is one word); the curly one is three bytes of UTF-8.
static size_t apostrophe_at(const char* text) {
  if (*text == '\'')
    return 1;
  return strncmp(text, "\xE2\x80\x99", 3) == 0 ? 3 : 0;
}

static bool ends_in(const char* word, size_t length, const char* ending) {
  size_t size = strlen(ending);
  return length > size && memcmp(word + length - size, ending, size) == 0;
}

/// The length of a word without its plural s: "presses", "benches" and "boxes" lose two letters,
/// "press" and "us" none.
static size_t singular_length(const char* word, size_t length) {
  if (ends_in(word, length, "sses") || ends_in(word, length, "ches") ||
      ends_in(word, length, "shes") || ends_in(word, length, "xes"))
    return length - 2;
  bool plural = length > 2 && word[length - 1] == 's' && word[length - 2] != 's';
  return plural ? length - 1 : length;
}

/// Copy one word in lower case behind `key`; `*text` moves past it. Returns its length.
static size_t copy_word(const char** text, char* key) {
  size_t length = 0;
  for (; **text; ++*text) {
    size_t joint = apostrophe_at(*text);
    if (joint) {
      *text += joint - 1;
      continue;
    }
    unsigned char c = (unsigned char)**text;
    if (c >= 'A' && c <= 'Z')
      c = (unsigned char)(c - 'A' + 'a');
    if (!is_letter(c))
      break;
    key[length++] = (char)c;
  }
  return length;
}

const char* why_spell_key(why_arena* arena, const char* text, bool singular) {
  char* key = why_arena_alloc(arena, strlen(text) + 1);
  size_t length = 0;
  while (*text) {
    size_t word = copy_word(&text, key + length);
    length += singular ? singular_length(key + length, word) : word;
    if (*text)
      text++;
  }
  key[length] = '\0';
  return key;
}

static unsigned least(unsigned a, unsigned b) {
  return a < b ? a : b;
}

enum { USUAL_LENGTH = 127 };

unsigned why_spell_distance(why_arena* scratch, const char* a, const char* b, unsigned limit) {
  size_t rows = strlen(a), columns = strlen(b);
  size_t apart = rows > columns ? rows - columns : columns - rows;
  if (apart > limit)
    return limit + 1;
  unsigned few[3 * (USUAL_LENGTH + 1)]; // one call for each known word: no memory for usual ones
  unsigned* before =
      columns <= USUAL_LENGTH ? few : WHY_NEW_ARRAY(scratch, unsigned, 3 * (columns + 1));
  unsigned* above = before + columns + 1;
  unsigned* row = above + columns + 1;
  for (size_t j = 0; j <= columns; j++)
    above[j] = (unsigned)j;
  for (size_t i = 1; i <= rows; i++) {
    unsigned best = row[0] = (unsigned)i;
    for (size_t j = 1; j <= columns; j++) {
      row[j] = least(least(above[j], row[j - 1]) + 1, above[j - 1] + (a[i - 1] != b[j - 1]));
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
        row[j] = least(row[j], before[j - 2] + 1);
      best = least(best, row[j]);
    }
    if (best > limit)
      return limit + 1;
    unsigned* spare = before;
    before = above;
    above = row;
    row = spare;
  }
  return least(above[columns], limit + 1);
}
