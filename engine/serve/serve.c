// SPDX-License-Identifier: GPL-3.0-or-later
// The server from start to stop. The threads that answer never see a signal: this one waits for it.
#include "serve.h"

#include "http.h"

#include <pthread.h>
#include <signal.h>
#include <string.h>
#include <time.h>

static why_status serve(const why_site* site, const char* address, unsigned port, FILE* out) {
  sigset_t stop;
  sigemptyset(&stop);
  sigaddset(&stop, SIGINT);
  sigaddset(&stop, SIGTERM);
  pthread_sigmask(SIG_BLOCK, &stop, NULL);
  why_http* http = why_http_start(site, address, port);
  if (!http)
    return WHY_MACHINE;
  bool wide = address && strchr(address, ':');
  fprintf(out, "http://%s%s%s:%u/\n", wide ? "[" : "", address ? address : "127.0.0.1",
          wide ? "]" : "", why_http_port(http));
  fflush(out);
  struct timespec second = {.tv_sec = 1};
  while (sigtimedwait(&stop, NULL, &second) < 0)
    why_http_sweep(http);
  why_http_stop(http);
  return WHY_OK;
}

why_status why_serve(const why_knowledge* knowledge, const char* address, unsigned port,
                     FILE* out) {
  why_site site;
  why_status status = WHY_MACHINE;
  if (why_site_init(&site, knowledge)) {
    site.local = why_address_is_local(address);
    if (!site.local)
      fprintf(stderr,
              "whylift: warning: everybody who reaches %s can ask; there is no password, and what "
              "is sent can be read on the way\n",
              address);
    status = serve(&site, address, port, out);
  }
  why_site_clear(&site);
  return status;
}
