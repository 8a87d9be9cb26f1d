// SPDX-License-Identifier: GPL-3.0-or-later
/// An estimate of growth as a record of the tree.
#ifndef WHY_TELL_ESTIMATE_PART_H
#define WHY_TELL_ESTIMATE_PART_H

#include "node.h"

#include "pick/pick.h"

/// To how many places: what no trial measured is a band of whole per cent; or all to one decimal.
typedef enum { WHY_ESTIMATE_SHOWN, WHY_ESTIMATE_TENTHS } why_estimate_places;

/// A figure of the estimate as it is shown to people and programs alike.
double why_estimate_shown(const why_estimate* estimate, double percent);

/// percent_per_10_weeks, low, high and basis under `name`; absent without an estimate.
why_node* why_part_estimate(why_arena* arena, why_node* record, const char* name,
                            const why_estimate* estimate, why_estimate_places places);

#endif
