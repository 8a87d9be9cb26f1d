// SPDX-License-Identifier: GPL-3.0-or-later
/// A linear scale with round figures at its ticks.
#ifndef WHY_TELL_SCALE_H
#define WHY_TELL_SCALE_H

#include "base/base.h"

typedef struct {
  double least; ///< Of the scale: a multiple of `step`.
  double step;
  int steps;
  double from_px; ///< Where `least` stands, and the last tick.
  double to_px;
} why_scale;

/// The scale from at most `least` to at least `most` (a thousandth of a step may be missing), in
/// steps of 1, 2 or 5 times a power of ten, at most 7 of them. Equal or unordered bounds are
/// widened.
why_scale why_scale_of(double least, double most, double from_px, double to_px);

double why_scale_at(const why_scale* scale, double value);

/// The value of tick number `i`, 0 to `steps`, and its figure.
double why_scale_tick(const why_scale* scale, int i);
const char* why_scale_words(const why_scale* scale, int i, why_arena* arena);

/// The largest of 1, 2, 5 times a power of ten that is no more than `most`, which is above 0.
double why_scale_round(double most);

#endif
