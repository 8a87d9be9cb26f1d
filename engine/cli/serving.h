// SPDX-License-Identifier: GPL-3.0-or-later
/// The commands `serve`, a page and JSON on a local address, and `carry`, a page for a phone.
#ifndef WHY_CLI_SERVING_H
#define WHY_CLI_SERVING_H

#include "option.h"

why_status why_serving_run(const why_knowledge* knowledge, const why_options* options);
why_status why_carrying_run(const why_knowledge* knowledge, const why_options* options);

#endif
