// SPDX-License-Identifier: GPL-3.0-or-later
#include "body/line.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

char* line_word(line* at) {
  return strtok_r(NULL, " \n", &at->rest);
}

double line_number(line* at) {
  const char* text = line_word(at);
  cr_assert_not_null(text, "a number is missing");
  char* end = NULL;
  double value = strtod(text, &end);
  cr_assert(end && *end == '\0', "not a number: %s", text);
  return value;
}

why_symbol line_name(const line* at, const char* text) {
  cr_assert_not_null(text, "a name is missing");
  why_symbol found = why_symbols_find(at->symbols, text);
  cr_assert_neq(found, 0, "unknown name: %s", text);
  return found;
}

why_symbol line_next_name(line* at) {
  return line_name(at, line_word(at));
}

void line_each(line* at, const char* file, void (*read)(void* user, const char* first),
               void* user) {
  char text[512];
  FILE* stream = fopen(file, "r");
  cr_assert_not_null(stream, "cannot open %s", file);
  while (fgets(text, sizeof text, stream)) {
    cr_assert_not_null(strchr(text, '\n'), "%s: a line is too long: %s", file, text);
    at->rest = text;
    const char* first = line_word(at);
    if (first && first[0] != '#')
      read(user, first);
  }
  fclose(stream);
}
