// SPDX-License-Identifier: GPL-3.0-or-later
// Breaks words into lines of a picture.
#include "picture.h"

#include <string.h>

static double width_of(why_arena* arena, const char* text, size_t length, double size) {
  return why_words_width(why_arena_copy(arena, text, length), size, false);
}

static bool is_rest_of_character(char byte) {
  return ((unsigned char)byte & 0xC0) == 0x80;
}

/// How much of `text`, at least one character, fits when it is cut anywhere.
static size_t cut(why_arena* arena, const char* text, double size, double width) {
  size_t fits = 0;
  for (size_t i = 1; text[i - 1]; i++) {
    if (is_rest_of_character(text[i]))
      continue;
    if (fits && width_of(arena, text, i, size) > width)
      break;
    fits = i;
  }
  return fits;
}

/// How much of `text` goes on one line: up to a blank, or cut where the first word is too long.
static size_t line_of(why_arena* arena, const char* text, double size, double width) {
  size_t fits = 0;
  for (size_t end = strcspn(text, " ");; end += 1 + strcspn(text + end + 1, " ")) {
    if (width_of(arena, text, end, size) > width)
      return fits ? fits : cut(arena, text, size, width);
    fits = end;
    if (!text[end])
      return fits;
  }
}

why_lines why_words_wrap(why_arena* arena, const char* words, double size, double width) {
  why_lines lines = {0};
  words += strspn(words, " ");
  while (*words) {
    size_t length = line_of(arena, words, size, width);
    *WHY_LIST_ADD(arena, lines) = why_arena_copy(arena, words, length);
    words += length;
    words += strspn(words, " ");
  }
  return lines;
}
