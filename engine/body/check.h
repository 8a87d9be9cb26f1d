// SPDX-License-Identifier: GPL-3.0-or-later
/// Checks of the catalogue that need mechanics: whether supports carry the body, whether an
/// exercise asks for what it is said to move, whether the paths of its movers hold there. They come
/// after those of read, over tables without errors.
#ifndef WHY_BODY_CHECK_H
#define WHY_BODY_CHECK_H

#include "read/read.h"

/// Run them over every position of every exercise. Problems are added; WHY_KNOWLEDGE when there is
/// an error among all of them.
why_status why_body_check(const why_tables* tables, why_problems* problems);

/// Check number `index`, NULL behind the last; its `run` is NULL.
const why_check* why_body_checks_at(size_t index);

#endif
