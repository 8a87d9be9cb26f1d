// SPDX-License-Identifier: GPL-3.0-or-later
/// A forest plot: every study's growth with its interval on one axis, the pooled growth below, and
/// where a new study may lie. In per cent, drawn with characters or as a picture.
#ifndef WHY_TELL_FOREST_H
#define WHY_TELL_FOREST_H

#include "node.h"

#include "pick/pick.h"

/// Per cent growth that goes with a log growth.
double why_percent_of_log(double log_growth);

/// The axis of a set of trials: from `low` to `high` per cent, both whole tens. It holds every
/// study's growth, no growth, and where a new study may lie; single intervals may reach beyond.
typedef struct {
  double low;
  double high;
} why_axis;

why_axis why_axis_of(const why_trial_set* set);

/// Whether a trial carries half as much again as an equal share of the weight.
bool why_forest_is_heavy(const why_trial_set* set, const why_trial* trial);

/// One line of characters: an interval with its mark; `line` and `mark` are the characters. Ends
/// beyond the axis show as < and >.
const char* why_forest_line(why_axis axis, const why_interval* interval, char line, char mark,
                            why_arena* arena);

/// The numbers of the axis above such lines.
const char* why_forest_scale(why_axis axis, why_arena* arena);

#endif
