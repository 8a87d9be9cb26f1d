// SPDX-License-Identifier: GPL-3.0-or-later
/// Work that takes a second and more, done by a few threads beside those that read requests, so
/// that short answers never wait for it. How much runs and waits at once is limited.
#ifndef WHY_SERVE_LATER_H
#define WHY_SERVE_LATER_H

#include <stdbool.h>

enum {
  WHY_LATER_AT_ONCE = 2, ///< Jobs at work.
  WHY_LATER_WAITING = 6  ///< Jobs that wait for their turn; more are refused.
};

typedef struct why_later why_later;

/// What is done with a job, by one of the threads; `refused`: it is not to be done any more.
typedef void (*why_later_work)(void* user, void* job, bool refused);

/// Start the threads; NULL when the machine has none.
why_later* why_later_start(why_later_work work, void* user);

/// Take a place for a job; false when all are taken. why_later_put then gives the job, which will
/// be worked on once.
bool why_later_reserve(why_later* later);
void why_later_put(why_later* later, void* job);

/// Take no more jobs, refuse those that wait, finish those at work, and give everything back. NULL
/// is accepted.
void why_later_stop(why_later* later);

#endif
