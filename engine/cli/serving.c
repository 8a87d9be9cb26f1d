// SPDX-License-Identifier: GPL-3.0-or-later
// Of serve, the options say where to listen; each request says what its question needs. Of carry,
// they say who asks and where.
#include "serving.h"

#include "command.h"
#include "progress.h"
#include "serve/serve.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { PORT_MOST = 65535, PORT_DIGITS = 5, SAID_MOST = 3 * LISTS_LIMIT + 1 };

static bool read_port(const char* text, unsigned* port) {
  size_t length = strlen(text);
  *port = (unsigned)strtoul(text, NULL, 10);
  return length && length <= PORT_DIGITS && strspn(text, "0123456789") == length &&
         *port <= PORT_MOST;
}

why_status why_serving_run(const why_knowledge* knowledge, const why_options* options) {
  unsigned port = WHY_PORT_USUAL;
  if (options->port && !read_port(options->port, &port)) {
    fprintf(stderr, "whylift: a port is a whole number from 0 to %d\n", PORT_MOST);
    return WHY_QUESTION;
  }
  return why_serve(knowledge, why_command_folder(options), options->address, port, stdout);
}

static size_t say_all(const char* name, const why_lists* lists, why_pair* pairs) {
  for (int i = 0; i < lists->count; i++)
    pairs[i] = (why_pair){.name = name, .value = lists->at[i]};
  return (size_t)lists->count;
}

why_status why_carrying_run(const why_knowledge* knowledge, const why_options* options) {
  why_pair pairs[SAID_MOST];
  size_t count = say_all("have", &options->have, pairs);
  count += say_all("without", &options->without, pairs + count);
  count += say_all("avoid", &options->avoid, pairs + count);
  if (options->level)
    pairs[count++] = (why_pair){.name = "level", .value = options->level};
  if (options->format && strcmp(options->format, "html") != 0) {
    fputs("whylift: a page to carry is html\n", stderr);
    return WHY_QUESTION;
  }
  why_progress* progress = why_progress_begin("goals and swaps");
  why_carry_request request = {
      .pairs = pairs, .count = count, .progress = why_progress_count, .user = progress};
  why_status status = why_carry(knowledge, &request, stdout);
  why_progress_end(progress);
  return status;
}
