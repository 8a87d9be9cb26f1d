// SPDX-License-Identifier: GPL-3.0-or-later
// Each line says all that its question needs, so the options of other commands have no say here.
#include "batch.h"

#include "serve/serve.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>

static bool says_more(const why_options* options) {
  return options->have.count || options->without.count || options->avoid.count || options->level ||
         options->top || options->format;
}

why_status why_batch_run(const why_knowledge* knowledge, const why_options* options) {
  if (says_more(options)) {
    fputs("whylift: batch takes no such option: each line says what its question needs\n", stderr);
    return WHY_QUESTION;
  }
  errno = 0;
  why_status status = why_lines_answer(knowledge, stdin, stdout);
  if (ferror(stdin))
    fprintf(stderr, "whylift: the questions cannot be read: %s\n", strerror(errno));
  else if (status == WHY_MACHINE && !ferror(stdout))
    fprintf(stderr, "whylift: %s\n", why_status_text(status));
  return status;
}
