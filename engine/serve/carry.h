// SPDX-License-Identifier: GPL-3.0-or-later
/// One page with the answers to every goal and every swap at one place, to be carried where there
/// is no network: each is two taps away.
#ifndef WHY_SERVE_CARRY_H
#define WHY_SERVE_CARRY_H

#include "request.h"
#include "serve.h"
#include "site.h"

/// Write the page. `problems` is always set to a new list, as why_asking_problems gives it, or to
/// NULL without memory.
why_status why_carry_write(const why_site* site, const why_carry_request* request, why_bytes* out,
                           json_t** problems);

#endif
