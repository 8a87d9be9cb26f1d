// SPDX-License-Identifier: GPL-3.0-or-later
// Round figures for scales.
#include "scale.h"

#include <math.h>

enum { MOST_STEPS = 7 };

/// Of a step: what goes beyond the last tick by less needs no further one.
static const double HAIR = 1e-3;

double why_scale_round(double most) {
  double power = pow(10, floor(log10(most)));
  double times = most / power;
  return power * (times >= 5 ? 5 : times >= 2 ? 2 : 1);
}

/// The next larger step after 1, 2 or 5 times a power of ten.
static double larger(double step) {
  double power = pow(10, floor(log10(step) + 1e-9));
  double times = round(step / power);
  return power * (times < 2 ? 2 : times < 5 ? 5 : 10);
}

static int steps_of(const why_scale* scale, double most) {
  return (int)ceil((most - scale->least) / scale->step - HAIR);
}

why_scale why_scale_of(double least, double most, double from_px, double to_px) {
  if (!(most > least)) {
    double around = fmax(fabs(least) * 0.1, 0.5);
    most = least + around;
    least -= around;
  }
  why_scale scale = {.from_px = from_px, .to_px = to_px};
  scale.step = why_scale_round((most - least) / MOST_STEPS);
  do {
    scale.step = larger(scale.step);
    scale.least = floor(least / scale.step + 1e-9) * scale.step;
    scale.steps = steps_of(&scale, most);
  } while (scale.steps > MOST_STEPS);
  return scale;
}

double why_scale_at(const why_scale* scale, double value) {
  double share = (value - scale->least) / (scale->step * scale->steps);
  return scale->from_px + share * (scale->to_px - scale->from_px);
}

double why_scale_tick(const why_scale* scale, int i) {
  return scale->least + i * scale->step;
}

const char* why_scale_words(const why_scale* scale, int i, why_arena* arena) {
  int decimals = (int)fmax(0, -floor(log10(scale->step) + 1e-9));
  double value = why_scale_tick(scale, i);
  return why_arena_print(arena, "%s%.*f", value < -1e-12 ? "\xE2\x88\x92" : "", decimals,
                         fabs(value));
}
