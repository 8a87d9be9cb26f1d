// SPDX-License-Identifier: GPL-3.0-or-later
/// The growth model from inside. Private to pool.
#ifndef WHY_POOL_GROWTH_MODEL_H
#define WHY_POOL_GROWTH_MODEL_H

#include "growth_design.h"

#include <stdint.h>

struct why_growth {
  const why_tables* tables;
  const why_findings* findings;
  why_workbook* book;
  why_growth_setup setup;
  why_mixed_data data;
  size_t* kept; ///< Row of the setup for each row of the data.
  why_mixed_fit fit;
  why_mixed_joint joint; ///< Of coefficients, heads and cells.
  size_t rounds;
  bool settled;
};

/// Fit from the setup; `start`: components near those that will be found, with constants and slopes
/// in the setup that go with them (NULL: none).
why_status why_growth_model_fit(why_growth* growth, const double* start, why_arena* arena);

/// Log density of all findings, each study predicted from the others with components and constants
/// kept: how well these predictors do on studies that they have not seen.
double why_growth_density(const why_growth* growth, why_arena* arena);

/// The same of one study: `within` a fit that has it, or of one that a fit was made without.
double why_growth_density_of(const why_growth* growth, size_t study, bool within, why_arena* arena);

#endif
