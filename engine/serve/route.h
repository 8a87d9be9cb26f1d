// SPDX-License-Identifier: GPL-3.0-or-later
/// From a request to a reply. Every path is one of a table; none is the name of a file.
#ifndef WHY_SERVE_ROUTE_H
#define WHY_SERVE_ROUTE_H

#include "reply.h"
#include "request.h"
#include "site.h"

/// Answer `request` into `reply`, which is zeroed; its body belongs to the caller afterwards. Safe
/// to call from several threads at once.
void why_route(const why_site* site, const why_request* request, why_reply* reply);

/// Whether that may take so long that others should be answered meanwhile.
bool why_route_is_long(const why_request* request);

/// Say that there is no time for `request` now.
void why_route_refuse(const why_request* request, why_reply* reply);

#endif
