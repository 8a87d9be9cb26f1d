// SPDX-License-Identifier: GPL-3.0-or-later
/// The shipped knowledge base as tables, for suites that look at its rows.
#ifndef WHY_TESTS_SHIPPED_H
#define WHY_TESTS_SHIPPED_H

#include "read/read.h"

/// Read it; one at a time, given back by shipped_close.
why_tables* shipped_open(void);
void shipped_close(void);

/// What reading it reported.
const why_problems* shipped_problems(void);

#endif
