// SPDX-License-Identifier: GPL-3.0-or-later
/// A count over all files: which numbers rest on which basis, and what was kept but left out of
/// use. It goes by the conventions of all schemas (basis=, unmapped=, <left-out>), so that no
/// reader needs to count.
#ifndef WHY_READ_CENSUS_H
#define WHY_READ_CENSUS_H

#include "base/base.h"

/// How many numbers rest on one basis.
typedef struct {
  why_symbol basis; ///< 0: no basis is stated for them.
  size_t numbers;
} why_census_basis;

/// Something that is kept in a file and not used.
typedef struct {
  why_symbol kind; ///< Name of the element that is left out.
  const char* why; ///< Reason in the file's own words.
  why_place place;
} why_census_left_out;

typedef struct {
  WHY_LIST(why_census_basis) bases;
  WHY_LIST(why_census_left_out) left_out;
} why_census;

#endif
