// SPDX-License-Identifier: GPL-3.0-or-later
// libmicrohttpd with a few threads, each with its own epoll. An answer is short work as a rule, so
// it is done where the request was read; what takes long is done later, by other threads, while the
// connection rests.
#include "http.h"

#include "later.h"
#include "route.h"
#include "serve.h"
#include "watch.h"

#include <errno.h>
#include <microhttpd.h>
#include <netdb.h>
#include <stdatomic.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/socket.h>
#include <time.h>
#include <unistd.h>

enum {
  CONNECTIONS = 1000,            ///< Open at once; more wait.
  CONNECTION_MEMORY = 32 * 1024, ///< Bytes of one request's line and headers, at most.
  IDLE_SECONDS = 30,             ///< A connection on which nothing at all happens.
  WHOLE_SECONDS = 15,            ///< One on which no request gets finished.
  STOP_SECONDS = 5,
  FEWEST_THREADS = 2,
  MOST_THREADS = 64
};

struct why_http {
  const why_site* site;
  struct MHD_Daemon* daemon;
  unsigned port;
  atomic_int busy; ///< Requests begun and not yet finished.
  why_later* later;
  why_watch watch;
};

/// One request on its way. `target` is copied: the library cuts its own up.
typedef struct {
  char* target;
  why_bytes body;
  bool begun;
  bool over; ///< The body is longer than allowed.
  bool answered;
  struct MHD_Connection* connection; ///< Of this and the rest, while it is answered later.
  why_request asked;
  why_reply reply;
} underway;

static void* begin(void* user, const char* target, struct MHD_Connection* connection) {
  (void)connection;
  why_http* http = user;
  underway* made = calloc(1, sizeof *made);
  if (!made)
    return NULL;
  made->target = strndup(target, WHY_TARGET_LIMIT + 1); // one more, so that too long is seen
  if (!made->target) {
    free(made);
    return NULL;
  }
  atomic_fetch_add(&http->busy, 1);
  return made;
}

static why_watched* watched_of(struct MHD_Connection* connection) {
  const union MHD_ConnectionInfo* info =
      MHD_get_connection_info(connection, MHD_CONNECTION_INFO_SOCKET_CONTEXT);
  return info ? info->socket_context : NULL;
}

static void end(void* user, struct MHD_Connection* connection, void** request,
                enum MHD_RequestTerminationCode why) {
  (void)why;
  why_http* http = user;
  underway* at = *request;
  if (!at)
    return;
  why_watch_renew(&http->watch, watched_of(connection));
  why_bytes_free(&at->reply.body); // unless it was sent
  why_bytes_free(&at->body);
  free(at->target);
  free(at);
  *request = NULL;
  atomic_fetch_sub(&http->busy, 1);
}

/// Several connections that come at once wake all threads; whoever has taken one leaves the next to
/// the others, so that no thread has all of them.
static void leave_next_to_others(void) {
  nanosleep(&(struct timespec){.tv_nsec = 100 * 1000}, NULL);
}

static void connect_or_leave(void* user, struct MHD_Connection* connection, void** context,
                             enum MHD_ConnectionNotificationCode code) {
  why_http* http = user;
  if (code == MHD_CONNECTION_NOTIFY_STARTED) {
    const union MHD_ConnectionInfo* info =
        MHD_get_connection_info(connection, MHD_CONNECTION_INFO_CONNECTION_FD);
    *context = info ? why_watch_open(&http->watch, info->connect_fd) : NULL;
    leave_next_to_others();
  } else {
    why_watch_close(&http->watch, *context);
    *context = NULL;
  }
}

/// Everything on a page comes from here, and nothing on it runs or loads that is not a file of
/// ours.
static const char* const HEADERS[][2] = {
    {"Content-Security-Policy",
     "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self'; connect-src 'self'; "
     "form-action 'self'; base-uri 'none'; frame-ancestors 'none'"},
    {"X-Content-Type-Options", "nosniff"},
    {"X-Frame-Options", "DENY"},
    {"Referrer-Policy", "no-referrer"},
    {"Cross-Origin-Resource-Policy", "same-origin"},
    {"Cross-Origin-Opener-Policy", "same-origin"},
    {"Cache-Control", "no-cache"},
};

static enum MHD_Result send_reply(struct MHD_Connection* connection, why_reply* reply) {
  struct MHD_Response* response =
      MHD_create_response_from_buffer(reply->body.length, reply->body.at, MHD_RESPMEM_MUST_FREE);
  if (!response) {
    why_bytes_free(&reply->body);
    return MHD_NO;
  }
  reply->body = (why_bytes){0}; // the library's from here on
  enum MHD_Result sound = MHD_add_response_header(response, "Content-Type", reply->type);
  for (size_t i = 0; i < sizeof HEADERS / sizeof *HEADERS; i++)
    sound &= MHD_add_response_header(response, HEADERS[i][0], HEADERS[i][1]);
  if (reply->allow)
    sound &= MHD_add_response_header(response, "Allow", reply->allow);
  if (reply->wait) {
    char seconds[16];
    snprintf(seconds, sizeof seconds, "%u", reply->wait);
    sound &= MHD_add_response_header(response, "Retry-After", seconds);
  }
  if (reply->file) {
    char saved[100];
    snprintf(saved, sizeof saved, "attachment; filename=\"%s\"", reply->file);
    sound &= MHD_add_response_header(response, "Content-Disposition", saved);
  }
  if (sound)
    sound = MHD_queue_response(connection, reply->status, response);
  MHD_destroy_response(response);
  return sound;
}

/// A body that says of itself that it is too long is refused before it is read.
static bool is_too_long(struct MHD_Connection* connection) {
  const char* said = MHD_lookup_connection_value(connection, MHD_HEADER_KIND, "Content-Length");
  return said && strtoull(said, NULL, 10) > WHY_LINE_LIMIT;
}

static void take_body(underway* at, const char* piece, size_t length) {
  at->over = at->over || at->body.length + length > WHY_LINE_LIMIT;
  if (!at->over)
    why_bytes_add(&at->body, piece, length);
}

/// By a thread that has time for it; then the connection goes on and `answer` is called once more.
static void work(void* user, void* job, bool refused) {
  const why_http* http = user;
  underway* at = job;
  if (refused)
    why_route_refuse(&at->asked, &at->reply);
  else
    why_route(http->site, &at->asked, &at->reply);
  at->answered = true;
  MHD_resume_connection(at->connection);
}

/// Let the connection rest until the answer is there.
static enum MHD_Result answer_later(why_http* http, underway* at,
                                    struct MHD_Connection* connection) {
  if (!why_later_reserve(http->later)) {
    why_route_refuse(&at->asked, &at->reply);
    return send_reply(connection, &at->reply);
  }
  at->connection = connection;
  why_watch_hold(&http->watch, watched_of(connection));
  MHD_suspend_connection(connection);
  why_later_put(http->later, at);
  return MHD_YES;
}

/// The request is whole.
static enum MHD_Result answer_whole(why_http* http, underway* at, struct MHD_Connection* connection,
                                    const char* method) {
  if (at->answered)
    return send_reply(connection, &at->reply);
  at->asked =
      (why_request){.method = method,
                    .target = at->target,
                    .host = MHD_lookup_connection_value(connection, MHD_HEADER_KIND, "Host"),
                    .body = at->body.at,
                    .length = at->body.length};
  if (at->over)
    why_reply_plain(&at->reply, WHY_REPLY_BODY, "This body is too long.");
  else if (why_route_is_long(&at->asked))
    return answer_later(http, at, connection);
  else
    why_route(http->site, &at->asked, &at->reply);
  return send_reply(connection, &at->reply);
}

static enum MHD_Result answer(void* user, struct MHD_Connection* connection, const char* path,
                              const char* method, const char* version, const char* piece,
                              size_t* length, void** request) {
  (void)path;
  (void)version;
  underway* at = *request;
  if (!at)
    return MHD_NO;
  if (!at->begun) {
    at->begun = true;
    if (!is_too_long(connection))
      return MHD_YES;
    why_reply_plain(&at->reply, WHY_REPLY_BODY, "This body is too long.");
    return send_reply(connection, &at->reply);
  }
  if (*length) {
    take_body(at, piece, *length);
    *length = 0;
    return MHD_YES;
  }
  return answer_whole(user, at, connection, method);
}

static void complain(const char* address, unsigned port, const char* why, const char* hint) {
  fprintf(stderr, "whylift: cannot listen at %s, port %u: %s\n", address, port, why);
  if (hint)
    fprintf(stderr, "  hint: %s\n", hint);
}

/// A socket bound to the first address that the name stands for; -1 after a message.
static int listen_at(const char* address, unsigned port) {
  char digits[16];
  snprintf(digits, sizeof digits, "%u", port);
  struct addrinfo wanted = {.ai_socktype = SOCK_STREAM, .ai_flags = AI_PASSIVE | AI_NUMERICSERV};
  struct addrinfo* found = NULL;
  int failed = getaddrinfo(address, digits, &wanted, &found);
  if (failed) {
    complain(address, port, gai_strerror(failed), NULL);
    return -1;
  }
  int made = socket(found->ai_family, found->ai_socktype, found->ai_protocol);
  int on = 1;
  bool sound = made >= 0 && setsockopt(made, SOL_SOCKET, SO_REUSEADDR, &on, sizeof on) == 0 &&
               bind(made, found->ai_addr, found->ai_addrlen) == 0 && listen(made, SOMAXCONN) == 0;
  int error = errno;
  freeaddrinfo(found);
  if (sound)
    return made;
  if (made >= 0)
    close(made);
  complain(address, port, strerror(error),
           error == EADDRINUSE ? "--port 0 takes any port that is free" : NULL);
  return -1;
}

static unsigned count_threads(void) {
  long processors = sysconf(_SC_NPROCESSORS_ONLN);
  return processors < FEWEST_THREADS ? FEWEST_THREADS
         : processors > MOST_THREADS ? MOST_THREADS
                                     : (unsigned)processors;
}

static void keep_silent(void* user, const char* form, va_list values) {
  (void)user;
  (void)form;
  (void)values;
}

static struct MHD_Daemon* start_daemon(why_http* http, int socket) {
  return MHD_start_daemon(
      MHD_USE_EPOLL_INTERNAL_THREAD | MHD_ALLOW_SUSPEND_RESUME | MHD_USE_ERROR_LOG, 0, NULL, NULL,
      answer, http, MHD_OPTION_EXTERNAL_LOGGER, keep_silent, NULL, MHD_OPTION_LISTEN_SOCKET, socket,
      MHD_OPTION_THREAD_POOL_SIZE, count_threads(), MHD_OPTION_CONNECTION_LIMIT,
      (unsigned)CONNECTIONS, MHD_OPTION_CONNECTION_MEMORY_LIMIT, (size_t)CONNECTION_MEMORY,
      MHD_OPTION_CONNECTION_TIMEOUT, (unsigned)IDLE_SECONDS, MHD_OPTION_URI_LOG_CALLBACK, begin,
      http, MHD_OPTION_NOTIFY_COMPLETED, end, http, MHD_OPTION_NOTIFY_CONNECTION, connect_or_leave,
      http, MHD_OPTION_END);
}

static unsigned port_of(struct MHD_Daemon* daemon) {
  const union MHD_DaemonInfo* info = MHD_get_daemon_info(daemon, MHD_DAEMON_INFO_BIND_PORT);
  return info ? info->port : 0;
}

why_http* why_http_start(const why_site* site, const char* address, unsigned port) {
  const char* at = address ? address : "127.0.0.1";
  why_http* made = calloc(1, sizeof *made);
  int socket = made ? listen_at(at, port) : -1;
  if (socket < 0) {
    free(made);
    return NULL;
  }
  made->site = site;
  why_watch_init(&made->watch);
  made->later = why_later_start(work, made);
  made->daemon = made->later ? start_daemon(made, socket) : NULL;
  if (made->daemon) {
    made->port = port ? port : port_of(made->daemon);
    return made;
  }
  complain(at, port, strerror(errno), NULL);
  why_later_stop(made->later);
  close(socket);
  why_watch_clear(&made->watch);
  free(made);
  return NULL;
}

unsigned why_http_port(const why_http* http) {
  return http->port;
}

bool why_address_is_local(const char* address) {
  return !address || strncmp(address, "127.", 4) == 0 || strcmp(address, "::1") == 0 ||
         strcmp(address, "localhost") == 0;
}

void why_http_sweep(why_http* http) {
  why_watch_sweep(&http->watch, WHOLE_SECONDS);
}

void why_http_stop(why_http* http) {
  int socket = MHD_quiesce_daemon(http->daemon);
  why_later_stop(http->later); // its answers are sent while we wait below
  struct timespec moment = {.tv_nsec = 20 * 1000 * 1000};
  for (int i = 0; i < STOP_SECONDS * 50 && atomic_load(&http->busy) > 0; i++)
    nanosleep(&moment, NULL);
  MHD_stop_daemon(http->daemon);
  if (socket >= 0)
    close(socket);
  why_watch_clear(&http->watch);
  free(http);
}
