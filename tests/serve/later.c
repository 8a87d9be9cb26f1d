// SPDX-License-Identifier: GPL-3.0-or-later
// Jobs beside the threads that answer: each is worked on once, no more run or wait than is allowed,
// and stopping refuses those that wait.
#include "serve/later.h"

#include <criterion/criterion.h>
#include <pthread.h>
#include <stdatomic.h>
#include <time.h>

enum { PLACES = WHY_LATER_AT_ONCE + WHY_LATER_WAITING };

typedef struct {
  pthread_mutex_t gate; ///< Held by a test while jobs are not to end.
  atomic_int running;
  atomic_int most;
} workshop;

typedef struct {
  atomic_int done;
  atomic_int refused;
} job;

static void work(void* user, void* at, bool refused) {
  workshop* shop = user;
  job* one = at;
  if (refused) {
    atomic_fetch_add(&one->refused, 1);
    return;
  }
  int running = atomic_fetch_add(&shop->running, 1) + 1;
  int most = atomic_load(&shop->most);
  while (running > most && !atomic_compare_exchange_weak(&shop->most, &most, running))
    continue;
  pthread_mutex_lock(&shop->gate);
  pthread_mutex_unlock(&shop->gate);
  atomic_fetch_sub(&shop->running, 1);
  atomic_fetch_add(&one->done, 1);
}

static void wait_for(atomic_int* number, int wanted) {
  for (int i = 0; i < 2000 && atomic_load(number) != wanted; i++)
    nanosleep(&(struct timespec){.tv_nsec = 5 * 1000 * 1000}, NULL);
  cr_assert_eq(atomic_load(number), wanted);
}

TestSuite(later, .timeout = 60);

Test(later, takes_as_many_as_there_are_places_and_does_each_once) {
  static workshop shop = {.gate = PTHREAD_MUTEX_INITIALIZER};
  static job jobs[PLACES];
  why_later* later = why_later_start(work, &shop);
  cr_assert_not_null(later);
  pthread_mutex_lock(&shop.gate);
  for (int i = 0; i < PLACES; i++) {
    cr_assert(why_later_reserve(later));
    why_later_put(later, &jobs[i]);
  }
  cr_expect_not(why_later_reserve(later));
  wait_for(&shop.running, WHY_LATER_AT_ONCE);
  pthread_mutex_unlock(&shop.gate);
  for (int i = 0; i < PLACES; i++)
    wait_for(&jobs[i].done, 1);
  cr_expect_eq(atomic_load(&shop.most), WHY_LATER_AT_ONCE);
  cr_expect(why_later_reserve(later), "places are free again");
  static job last;
  why_later_put(later, &last);
  why_later_stop(later);
  cr_expect_eq(atomic_load(&last.done) + atomic_load(&last.refused), 1);
}

typedef struct {
  why_later* later;
  pthread_t thread;
} stopping;

static void* stop(void* user) {
  why_later_stop(((stopping*)user)->later);
  return NULL;
}

Test(later, refuses_at_once_what_waits_when_it_stops) {
  static workshop shop = {.gate = PTHREAD_MUTEX_INITIALIZER};
  static job jobs[PLACES];
  stopping by = {.later = why_later_start(work, &shop)};
  cr_assert_not_null(by.later);
  pthread_mutex_lock(&shop.gate);
  for (int i = 0; i < PLACES; i++) {
    cr_assert(why_later_reserve(by.later));
    why_later_put(by.later, &jobs[i]);
    if (i < WHY_LATER_AT_ONCE)
      wait_for(&shop.running, i + 1);
  }
  pthread_create(&by.thread, NULL, stop, &by);
  for (int i = WHY_LATER_AT_ONCE; i < PLACES; i++)
    wait_for(&jobs[i].refused, 1);
  cr_expect_eq(atomic_load(&shop.running), WHY_LATER_AT_ONCE, "what is at work goes on");
  pthread_mutex_unlock(&shop.gate);
  pthread_join(by.thread, NULL);
  for (int i = 0; i < WHY_LATER_AT_ONCE; i++)
    cr_expect_eq(atomic_load(&jobs[i].done), 1);
}
