// SPDX-License-Identifier: GPL-3.0-or-later
// Figures of an estimate, with as many places as they are worth.
#include "estimate_part.h"

#include <math.h>

double why_estimate_shown(const why_estimate* estimate, double percent) {
  return estimate->basis == WHY_BASIS_MECHANICS ? round(percent) : round(10 * percent) / 10;
}

why_node* why_part_estimate(why_arena* arena, why_node* record, const char* name,
                            const why_estimate* estimate, why_estimate_places places) {
  if (!estimate)
    return why_node_text(arena, record, name, NULL);
  why_estimate kind = *estimate;
  if (places == WHY_ESTIMATE_TENTHS)
    kind.basis = WHY_BASIS_OWN_TRIALS;
  why_node* node = why_node_add(arena, record, WHY_NODE_RECORD, name);
  why_node_number(arena, node, "percent_per_10_weeks",
                  why_estimate_shown(&kind, estimate->percent));
  why_node_number(arena, node, "low", why_estimate_shown(&kind, estimate->low));
  why_node_number(arena, node, "high", why_estimate_shown(&kind, estimate->high));
  why_node_text(arena, node, "basis", why_growth_basis_id(estimate->basis));
  return node;
}
