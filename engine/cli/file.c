// SPDX-License-Identifier: GPL-3.0-or-later
#include "file.h"

#include "output.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { SHOWN = 200 };

static why_status refuse(const char* path, const char* reason) {
  fputs("whylift: ", stderr);
  why_output_words(stderr, path, SHOWN);
  fprintf(stderr, " cannot be read: %s\n", reason);
  return WHY_QUESTION;
}

/// One byte more than the limit tells that there is more.
static why_status read_all(FILE* from, const char* path, size_t limit, char* text, size_t* length) {
  errno = 0;
  *length = fread(text, 1, limit + 1, from);
  if (ferror(from))
    return refuse(path, strerror(errno));
  if (*length > limit)
    return refuse(path, "it is too large");
  text[*length] = '\0';
  return WHY_OK;
}

why_status why_file_read(const char* path, size_t limit, char** text, size_t* length) {
  bool standard = strcmp(path, "-") == 0;
  FILE* from = standard ? stdin : fopen(path, "rb");
  if (!from)
    return refuse(path, strerror(errno));
  *text = malloc(limit + 2);
  why_status status = *text ? read_all(from, path, limit, *text, length) : WHY_MACHINE;
  if (!standard)
    fclose(from);
  if (status != WHY_OK) {
    free(*text);
    *text = NULL;
  }
  return status;
}
