// SPDX-License-Identifier: GPL-3.0-or-later
/// Connections and since when each has finished nothing. A client that sends its request byte by
/// byte is never idle, and yet must not hold a place for ever.
#ifndef WHY_SERVE_WATCH_H
#define WHY_SERVE_WATCH_H

#include <pthread.h>
#include <stdbool.h>
#include <time.h>

typedef struct why_watched {
  struct why_watched* before;
  struct why_watched* after;
  int socket;
  struct timespec since;
  bool held; ///< It waits for us, not we for it.
} why_watched;

typedef struct {
  pthread_mutex_t lock;
  why_watched* first;
} why_watch;

void why_watch_init(why_watch* watch);
void why_watch_clear(why_watch* watch);

/// A connection opens (NULL without memory: it is then not watched), has sent a request that we are
/// slow with, has finished a request, closes.
why_watched* why_watch_open(why_watch* watch, int socket);
void why_watch_hold(why_watch* watch, why_watched* watched);
void why_watch_renew(why_watch* watch, why_watched* watched);
void why_watch_close(why_watch* watch, why_watched* watched);

/// Shut the sockets of all that have finished nothing for `seconds`; their owner notices and closes
/// them.
void why_watch_sweep(why_watch* watch, int seconds);

#endif
