// SPDX-License-Identifier: GPL-3.0-or-later
// One line that is written over itself, a few times a second.
#include "progress.h"

#include <stdio.h>
#include <unistd.h>

enum { FIRST_NS = 500 * 1000 * 1000, EVERY_NS = 100 * 1000 * 1000, SECOND_NS = 1000 * 1000 * 1000 };

static struct timespec now(void) {
  struct timespec time = {0};
  clock_gettime(CLOCK_MONOTONIC, &time);
  return time;
}

static struct timespec later(long nanoseconds) {
  struct timespec time = now();
  time.tv_nsec += nanoseconds;
  time.tv_sec += time.tv_nsec / SECOND_NS;
  time.tv_nsec %= SECOND_NS;
  return time;
}

why_progress why_progress_begin(const char* what) {
  return (why_progress){
      .what = what, .next = later(FIRST_NS), .terminal = isatty(STDERR_FILENO) == 1};
}

void why_progress_show(void* progress, size_t done, size_t all) {
  why_progress* at = progress;
  struct timespec time = now();
  if (!at->terminal || time.tv_sec < at->next.tv_sec ||
      (time.tv_sec == at->next.tv_sec && time.tv_nsec < at->next.tv_nsec))
    return;
  fprintf(stderr, "\r%s: %zu of %zu", at->what, done, all);
  at->shown = true;
  at->next = later(EVERY_NS);
}

void why_progress_end(why_progress* progress) {
  if (progress->shown)
    fputs("\r\033[K", stderr);
}
