// SPDX-License-Identifier: GPL-3.0-or-later
// A ring of jobs under one lock. The threads are nice: where processors are few, short answers go
// first.
#include "later.h"

#include <pthread.h>
#include <stdlib.h>
#include <sys/resource.h>

enum { NICE = 5, PLACES = WHY_LATER_AT_ONCE + WHY_LATER_WAITING };

struct why_later {
  why_later_work work;
  void* user;
  pthread_mutex_t lock;
  pthread_cond_t changed;
  pthread_t threads[WHY_LATER_AT_ONCE];
  int thread_count;
  void* jobs[PLACES]; ///< Those that wait, from `first` on, round and round.
  int first;
  int announced; ///< Places that are reserved,
  int waiting;   ///< with a job that waits,
  int working;   ///< or is worked on.
  bool stopping;
};

/// The next job in turn, under the lock; NULL when none waits.
static void* take_job(why_later* later) {
  if (!later->waiting)
    return NULL;
  void* job = later->jobs[later->first];
  later->first = (later->first + 1) % PLACES;
  later->waiting--;
  later->working++;
  return job;
}

/// Wait for the next job; NULL when there never will be one.
static void* next_job(why_later* later) {
  while (!later->waiting && (!later->stopping || later->announced))
    pthread_cond_wait(&later->changed, &later->lock);
  return take_job(later);
}

/// Without the lock, which is held before and after.
static void do_job(why_later* later, void* job) {
  bool refused = later->stopping;
  pthread_mutex_unlock(&later->lock);
  later->work(later->user, job, refused);
  pthread_mutex_lock(&later->lock);
  later->working--;
}

static void* run(void* user) {
  why_later* later = user;
  setpriority(PRIO_PROCESS, 0, NICE); // on Linux, of this thread alone
  pthread_mutex_lock(&later->lock);
  for (void* job; (job = next_job(later));)
    do_job(later, job);
  pthread_mutex_unlock(&later->lock);
  return NULL;
}

why_later* why_later_start(why_later_work work, void* user) {
  why_later* made = calloc(1, sizeof *made);
  if (!made)
    return NULL;
  made->work = work;
  made->user = user;
  pthread_mutex_init(&made->lock, NULL);
  pthread_cond_init(&made->changed, NULL);
  while (made->thread_count < WHY_LATER_AT_ONCE &&
         pthread_create(&made->threads[made->thread_count], NULL, run, made) == 0)
    made->thread_count++;
  if (made->thread_count)
    return made;
  why_later_stop(made);
  return NULL;
}

bool why_later_reserve(why_later* later) {
  pthread_mutex_lock(&later->lock);
  int taken = later->announced + later->waiting + later->working;
  bool free_place = !later->stopping && taken < PLACES;
  later->announced += free_place;
  pthread_mutex_unlock(&later->lock);
  return free_place;
}

void why_later_put(why_later* later, void* job) {
  pthread_mutex_lock(&later->lock);
  later->jobs[(later->first + later->waiting) % PLACES] = job;
  later->waiting++;
  later->announced--;
  pthread_cond_broadcast(&later->changed);
  pthread_mutex_unlock(&later->lock);
}

void why_later_stop(why_later* later) {
  if (!later)
    return;
  pthread_mutex_lock(&later->lock);
  later->stopping = true;
  pthread_cond_broadcast(&later->changed);
  for (void* job; (job = take_job(later));)
    do_job(later, job);
  pthread_mutex_unlock(&later->lock);
  for (int i = 0; i < later->thread_count; i++)
    pthread_join(later->threads[i], NULL);
  pthread_cond_destroy(&later->changed);
  pthread_mutex_destroy(&later->lock);
  free(later);
}
