// SPDX-License-Identifier: GPL-3.0-or-later
/// The command `batch`: lines of JSON from standard input, answered on standard output.
#ifndef WHY_CLI_BATCH_H
#define WHY_CLI_BATCH_H

#include "option.h"

why_status why_batch_run(const why_knowledge* knowledge, const why_options* options);

#endif
