// SPDX-License-Identifier: GPL-3.0-or-later
/// That long work goes on, and how far it has come, on standard error: only on a terminal, and only
/// after half a second.
#ifndef WHY_CLI_PROGRESS_H
#define WHY_CLI_PROGRESS_H

#include <stddef.h>

typedef struct why_progress why_progress;

/// Work begins; `what` says in a few words which, and outlives it. NULL, which all below accept,
/// where there is nobody to show it to.
why_progress* why_progress_begin(const char* what);

/// So far `done` of `all` are done; until this is called, seconds are shown. `progress` is a
/// why_progress.
void why_progress_count(void* progress, size_t done, size_t all);

/// The work has ended: clear what was shown.
void why_progress_end(why_progress* progress);

#endif
