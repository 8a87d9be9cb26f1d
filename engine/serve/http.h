// SPDX-License-Identifier: GPL-3.0-or-later
/// The glue to the library that speaks HTTP: bytes from sockets become requests for route.h, and
/// its replies go back. Limits of size and time are kept here.
#ifndef WHY_SERVE_HTTP_H
#define WHY_SERVE_HTTP_H

#include "site.h"

typedef struct why_http why_http;

/// Begin to listen at `address` (a name or a number; NULL: 127.0.0.1) and `port` (0: any that is
/// free). NULL after a message on standard error. `site` must outlive it.
why_http* why_http_start(const why_site* site, const char* address, unsigned port);

/// The port that it listens at, and whether only this machine can reach it.
unsigned why_http_port(const why_http* http);
bool why_address_is_local(const char* address);

/// Close every connection on which nothing has been finished for too long; call it each second.
void why_http_sweep(why_http* http);

/// Take no more, let what is being answered end (for a few seconds at most), and close.
void why_http_stop(why_http* http);

#endif
