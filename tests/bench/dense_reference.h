// SPDX-License-Identifier: GPL-3.0-or-later
/// The restricted likelihood of a mixed model the plain way, from its textbook formula: the whole
/// covariance of y, one Cholesky factor by GSL. A reference for speed and for the number.
#ifndef WHY_TESTS_BENCH_DENSE_REFERENCE_H
#define WHY_TESTS_BENCH_DENSE_REFERENCE_H

#include "pool/pool.h"

/// With + ½ log|X'X|, as why_mixed_fit says.
double dense_likelihood(const why_mixed_data* data, const double* components, why_arena* arena);

#endif
