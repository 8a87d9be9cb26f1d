// SPDX-License-Identifier: GPL-3.0-or-later
// One line that is written over itself a few times a second, by a thread of its own: the work need
// not know that somebody waits.
#include "progress.h"

#include <pthread.h>
#include <stdatomic.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>
#include <unistd.h>

enum { FIRST_NS = 500 * 1000 * 1000, EVERY_NS = 100 * 1000 * 1000, SECOND_NS = 1000 * 1000 * 1000 };

struct why_progress {
  const char* what;
  struct timespec begun;
  pthread_t thread;
  pthread_mutex_t lock;
  pthread_cond_t changed;
  bool ended;
  atomic_size_t done;
  atomic_size_t all; ///< 0: not known.
};

static struct timespec now(void) {
  struct timespec time = {0};
  clock_gettime(CLOCK_MONOTONIC, &time);
  return time;
}

static struct timespec later(struct timespec time, long nanoseconds) {
  time.tv_nsec += nanoseconds;
  time.tv_sec += time.tv_nsec / SECOND_NS;
  time.tv_nsec %= SECOND_NS;
  return time;
}

static void show(why_progress* at) {
  size_t all = atomic_load(&at->all);
  if (all)
    fprintf(stderr, "\r%s: %zu of %zu", at->what, atomic_load(&at->done), all);
  else
    fprintf(stderr, "\r%s: %ld s", at->what, (long)(now().tv_sec - at->begun.tv_sec));
}

static void* run(void* user) {
  why_progress* at = user;
  bool shown = false;
  struct timespec next = later(at->begun, FIRST_NS);
  pthread_mutex_lock(&at->lock);
  while (!at->ended) {
    struct timespec time = now();
    bool due =
        time.tv_sec > next.tv_sec || (time.tv_sec == next.tv_sec && time.tv_nsec >= next.tv_nsec);
    if (due) {
      show(at);
      shown = true;
      next = later(time, EVERY_NS);
    }
    pthread_cond_timedwait(&at->changed, &at->lock, &next);
  }
  pthread_mutex_unlock(&at->lock);
  if (shown)
    fputs("\r\033[K", stderr);
  return NULL;
}

static void give_back(why_progress* at) {
  pthread_cond_destroy(&at->changed);
  pthread_mutex_destroy(&at->lock);
  free(at);
}

why_progress* why_progress_begin(const char* what) {
  why_progress* made = isatty(STDERR_FILENO) == 1 ? calloc(1, sizeof *made) : NULL;
  if (!made)
    return NULL;
  made->what = what;
  made->begun = now();
  pthread_condattr_t by_clock;
  pthread_condattr_init(&by_clock);
  pthread_condattr_setclock(&by_clock, CLOCK_MONOTONIC);
  pthread_cond_init(&made->changed, &by_clock);
  pthread_condattr_destroy(&by_clock);
  pthread_mutex_init(&made->lock, NULL);
  if (pthread_create(&made->thread, NULL, run, made) == 0)
    return made;
  give_back(made);
  return NULL;
}

void why_progress_count(void* progress, size_t done, size_t all) {
  why_progress* at = progress;
  if (!at)
    return;
  atomic_store(&at->done, done);
  atomic_store(&at->all, all);
}

void why_progress_end(why_progress* progress) {
  if (!progress)
    return;
  pthread_mutex_lock(&progress->lock);
  progress->ended = true;
  pthread_cond_signal(&progress->changed);
  pthread_mutex_unlock(&progress->lock);
  pthread_join(progress->thread, NULL);
  give_back(progress);
}
