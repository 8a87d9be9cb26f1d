// SPDX-License-Identifier: GPL-3.0-or-later
// A stream of lines: read one, answer it, send it off. A line that is longer than allowed is read
// to its end and refused, so that the next one is met at its start.
#include "line.h"

#include <stdlib.h>
#include <string.h>

typedef struct {
  char* at;
  size_t length; ///< May be above WHY_LINE_LIMIT: the rest was not kept.
} line;

/// The next line without its newline; false at the end of the stream.
static bool read_next(FILE* in, line* next) {
  next->length = 0;
  int byte = getc_unlocked(in);
  if (byte == EOF)
    return false;
  for (; byte != EOF && byte != '\n'; byte = getc_unlocked(in)) {
    if (next->length < WHY_LINE_LIMIT)
      next->at[next->length] = (char)byte;
    next->length += next->length <= WHY_LINE_LIMIT;
  }
  return true;
}

static bool is_blank(const line* next) {
  for (size_t i = 0; i < next->length && i < WHY_LINE_LIMIT; i++)
    if (!strchr(" \t\r", next->at[i]) || !next->at[i])
      return false;
  return next->length <= WHY_LINE_LIMIT;
}

static void refuse_length(size_t number, why_bytes* out) {
  why_bytes_print(out,
                  "{\"line\":%zu,\"error\":\"question\",\"problems\":[{\"severity\":\"error\","
                  "\"check\":\"length\",\"text\":\"this line is too long\","
                  "\"hint\":\"a line holds at most %d bytes\"}]}",
                  number, WHY_LINE_LIMIT);
}

static bool send_line(const why_bytes* out, FILE* to) {
  return !out->failed && fwrite(out->at, 1, out->length, to) == out->length &&
         putc('\n', to) != EOF && fflush(to) == 0;
}

why_status why_lines_answer(const why_knowledge* knowledge, FILE* in, FILE* out) {
  line next = {.at = malloc(WHY_LINE_LIMIT)};
  why_bytes answer = {0};
  bool sound = next.at != NULL;
  for (size_t number = 1; sound && read_next(in, &next); number++) {
    if (is_blank(&next))
      continue;
    why_bytes_clear(&answer);
    if (next.length > WHY_LINE_LIMIT)
      refuse_length(number, &answer);
    else
      why_line_answer(knowledge, next.at, next.length, number, &answer);
    sound = send_line(&answer, out);
  }
  sound = sound && !ferror(in);
  why_bytes_free(&answer);
  free(next.at);
  return sound ? WHY_OK : WHY_MACHINE;
}
