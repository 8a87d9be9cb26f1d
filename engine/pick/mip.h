// SPDX-License-Identifier: GPL-3.0-or-later
/// Linear problems in which some variables are whole numbers, solved by GLPK (branch and cut). The
/// one place that knows GLPK. Deterministic: a search ends by proof or after a number of nodes,
/// never by the clock. Private to pick.
#ifndef WHY_PICK_MIP_H
#define WHY_PICK_MIP_H

#include "base/base.h"

#include <stdbool.h>

typedef struct {
  double cost; ///< In the sum that is maximised.
  double low;
  double high;
  bool whole;
  double value; ///< Of the best solution, once solved.
} why_mip_column;

typedef struct {
  double low; ///< -INFINITY and INFINITY where there is no bound.
  double high;
} why_mip_row;

typedef struct {
  int row; ///< From 0.
  int column;
  double factor;
} why_mip_term;

typedef struct {
  why_arena* arena;
  WHY_LIST(why_mip_column) columns;
  WHY_LIST(why_mip_row) rows;
  WHY_LIST(why_mip_term) terms;
} why_mip;

typedef enum {
  WHY_MIP_OPTIMAL,    ///< Proven.
  WHY_MIP_FEASIBLE,   ///< The search ended before the proof; `gap` says how far off it can be.
  WHY_MIP_INFEASIBLE, ///< Proven.
  WHY_MIP_UNDECIDED   ///< The search ended without a solution, or GLPK failed.
} why_mip_status;

typedef struct {
  why_mip_status status;
  double value; ///< Of the solution.
  double bound; ///< No solution is better.
  double gap;   ///< GLPK's own: |value - bound| / (|value| + machine epsilon); 0 when proven.
  int nodes;    ///< Looked at.
} why_mip_result;

enum { WHY_MIP_NODES = 4000 }; ///< Most nodes of a search.

/// Add a column or a row; returns its number. Bounds of columns are finite.
int why_mip_add_column(why_mip* mip, double cost, double low, double high, bool whole);
int why_mip_add_row(why_mip* mip, double low, double high);
void why_mip_add_term(why_mip* mip, int row, int column, double factor);

/// Maximise the sum of cost times value. Values stand in the columns when there is a solution.
why_mip_result why_mip_solve(why_mip* mip);

#endif
