// SPDX-License-Identifier: GPL-3.0-or-later
// A list under one lock; each operation is short.
#include "watch.h"

#include <stdlib.h>
#include <sys/socket.h>

static struct timespec now(void) {
  struct timespec time = {0};
  clock_gettime(CLOCK_MONOTONIC, &time);
  return time;
}

void why_watch_init(why_watch* watch) {
  *watch = (why_watch){0};
  pthread_mutex_init(&watch->lock, NULL);
}

void why_watch_clear(why_watch* watch) {
  pthread_mutex_destroy(&watch->lock);
}

why_watched* why_watch_open(why_watch* watch, int socket) {
  why_watched* made = malloc(sizeof *made);
  if (!made)
    return NULL;
  *made = (why_watched){.socket = socket, .since = now()};
  pthread_mutex_lock(&watch->lock);
  made->after = watch->first;
  if (watch->first)
    watch->first->before = made;
  watch->first = made;
  pthread_mutex_unlock(&watch->lock);
  return made;
}

void why_watch_hold(why_watch* watch, why_watched* watched) {
  if (!watched)
    return;
  pthread_mutex_lock(&watch->lock);
  watched->held = true;
  pthread_mutex_unlock(&watch->lock);
}

void why_watch_renew(why_watch* watch, why_watched* watched) {
  if (!watched)
    return;
  pthread_mutex_lock(&watch->lock);
  watched->since = now();
  watched->held = false;
  pthread_mutex_unlock(&watch->lock);
}

void why_watch_close(why_watch* watch, why_watched* watched) {
  if (!watched)
    return;
  pthread_mutex_lock(&watch->lock);
  if (watched->before)
    watched->before->after = watched->after;
  else
    watch->first = watched->after;
  if (watched->after)
    watched->after->before = watched->before;
  pthread_mutex_unlock(&watch->lock);
  free(watched);
}

void why_watch_sweep(why_watch* watch, int seconds) {
  struct timespec time = now();
  pthread_mutex_lock(&watch->lock);
  for (const why_watched* each = watch->first; each; each = each->after)
    if (!each->held && time.tv_sec - each->since.tv_sec > seconds)
      shutdown(each->socket, SHUT_RDWR);
  pthread_mutex_unlock(&watch->lock);
}
