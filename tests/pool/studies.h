// SPDX-License-Identifier: GPL-3.0-or-later
/// Effects and ways of pooling as the cases of tests/reference/pool state them.
#ifndef WHY_TESTS_POOL_STUDIES_H
#define WHY_TESTS_POOL_STUDIES_H

#include "pool/numbers.h"
#include "pool/pool.h"

/// The first `count` studies of a case (0: all), with the moderators that its `columns` number.
const why_effects* studies_of(const number_case* each, size_t count, why_arena* arena);

/// What `method` and `test` of a case say, with a search to 1e-13.
why_pooling pooling_of(const number_case* each);

/// Pool, and fail the test when that cannot be done.
why_meta pooled(const why_effects* effects, const why_pooling* how, why_arena* arena);

#endif
