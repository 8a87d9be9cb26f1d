// SPDX-License-Identifier: GPL-3.0-or-later
/// How far long work has come, on standard error: only on a terminal, and only after half a second.
#ifndef WHY_CLI_PROGRESS_H
#define WHY_CLI_PROGRESS_H

#include <stdbool.h>
#include <stddef.h>
#include <time.h>

typedef struct {
  const char* what;
  struct timespec next; ///< When something is shown again.
  bool terminal;
  bool shown;
} why_progress;

why_progress why_progress_begin(const char* what);

/// Show that `done` of `all` are done; `progress` is a why_progress.
void why_progress_show(void* progress, size_t done, size_t all);

/// Clear what was shown.
void why_progress_end(why_progress* progress);

#endif
