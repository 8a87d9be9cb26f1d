// SPDX-License-Identifier: GPL-3.0-or-later
// Where to listen is all that the options say; each request says what its question needs.
#include "serving.h"

#include "serve/serve.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { PORT_MOST = 65535, PORT_DIGITS = 5 };

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
  return why_serve(knowledge, options->address, port, stdout);
}
