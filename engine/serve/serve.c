// SPDX-License-Identifier: GPL-3.0-or-later
// The server from start to stop. The threads that answer never see a signal: this one waits for it.
#include "serve.h"

#include "carry.h"
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

why_status why_serve(const why_knowledge* knowledge, const char* folder, const char* address,
                     unsigned port, FILE* out) {
  why_site site;
  why_status status = WHY_MACHINE;
  if (why_site_init(&site, knowledge, folder)) {
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

static void complain(const json_t* problems) {
  size_t index;
  json_t* row;
  json_array_foreach(problems, index, row) {
    fprintf(stderr, "%s: %s [%s]\n", why_listed_text(row, "severity"), why_listed_text(row, "text"),
            why_listed_text(row, "check"));
    if (*why_listed_text(row, "hint"))
      fprintf(stderr, "  hint: %s\n", why_listed_text(row, "hint"));
  }
}

why_status why_carry(const why_knowledge* knowledge, const why_carry_request* request, FILE* out) {
  why_site site;
  why_bytes page = {0};
  json_t* problems = NULL;
  why_status status = WHY_MACHINE;
  if (why_site_init(&site, knowledge, NULL))
    status = why_carry_write(&site, request, &page, &problems);
  complain(problems);
  if (status == WHY_OK && fwrite(page.at, 1, page.length, out) != page.length)
    status = WHY_MACHINE;
  json_decref(problems);
  why_bytes_free(&page);
  why_site_clear(&site);
  return status;
}
