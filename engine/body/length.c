// SPDX-License-Identifier: GPL-3.0-or-later
// Evaluates path polynomials and their slopes.
#include "length.h"

#include <math.h>

static const double RAD_PER_DEG = 0.017453292519943295;

/// The path's own coordinates at hand, brought into the ranges of the fit.
typedef struct {
  double at[WHY_PATH_COORDINATES];
  bool outside;
} arguments;

static double clamp_to(const why_path* path, why_symbol coordinate, double rad, bool* outside) {
  for (size_t i = 0; i < path->ranges.count; i++) {
    const why_span* span = &path->ranges.at[i];
    if (span->coordinate != coordinate)
      continue;
    double least = span->least_deg * RAD_PER_DEG;
    double most = span->most_deg * RAD_PER_DEG;
    double kept = fmin(fmax(rad, least), most);
    *outside = *outside || fabs(kept - rad) > 1e-9;
    return kept;
  }
  return rad;
}

static arguments arguments_of(const why_frame* frame, const why_head* head,
                              const why_posture* posture) {
  arguments made = {.outside = false};
  for (unsigned i = 0; i < head->path.coordinate_count; i++) {
    int number = why_frame_number(frame, head->path.coordinates[i]);
    double rad = number < 0 ? 0 : posture->rad[number];
    made.at[i] = clamp_to(&head->path, head->path.coordinates[i], rad, &made.outside);
  }
  return made;
}

static double power(double base, unsigned exponent) {
  double product = 1;
  for (unsigned i = 0; i < exponent; i++)
    product *= base;
  return product;
}

/// One term, or its slope about coordinate number `about` (−1: the term itself).
static double term_at(const why_path* path, const why_path_term* term, const arguments* x,
                      int about) {
  double product = term->coefficient;
  for (unsigned i = 0; i < path->coordinate_count; i++) {
    unsigned exponent = term->exponents[i];
    if ((int)i == about) {
      if (exponent == 0)
        return 0;
      product *= (double)exponent * power(x->at[i], exponent - 1);
    } else {
      product *= power(x->at[i], exponent);
    }
  }
  return product;
}

static double sum_terms(const why_path* path, const arguments* x, int about) {
  double sum = 0;
  for (size_t i = 0; i < path->terms.count; i++)
    sum += term_at(path, &path->terms.at[i], x, about);
  return sum;
}

/// Whether the path is in terms of the shoulder pair, so that the region of the shoulder matters.
static bool uses_pair(const why_frame* frame, const why_head* head) {
  const why_shoulder* shoulder = &frame->anatomy->shoulder;
  for (unsigned i = 0; i < head->path.coordinate_count; i++)
    if (head->path.coordinates[i] == shoulder->cosine_part ||
        head->path.coordinates[i] == shoulder->sine_part)
      return true;
  return false;
}

double why_length_at(const why_frame* frame, const why_head* head, const why_posture* posture,
                     bool* outside) {
  arguments x = arguments_of(frame, head, posture);
  if (outside)
    *outside = x.outside || (posture->outside && uses_pair(frame, head));
  return sum_terms(&head->path, &x, -1);
}

double why_length_slope(const why_frame* frame, const why_head* head, const why_posture* posture,
                        why_symbol coordinate) {
  for (unsigned i = 0; i < head->path.coordinate_count; i++) {
    if (head->path.coordinates[i] == coordinate) {
      arguments x = arguments_of(frame, head, posture);
      return sum_terms(&head->path, &x, (int)i);
    }
  }
  return 0;
}

static double slope_numbered(const why_frame* frame, const why_head* head,
                             const why_posture* posture, int number) {
  return number < 0 ? 0 : why_length_slope(frame, head, posture, frame->ids[number]);
}

/// ∂L/∂q about any coordinate: those of the path directly, the plane of the shoulder by the chain
/// rule through the pair.
static double slope_along(const why_frame* frame, const why_head* head, const why_posture* posture,
                          why_symbol coordinate) {
  const why_shoulder_numbers* n = &frame->shoulder;
  if (coordinate != frame->anatomy->shoulder.plane || n->plane < 0)
    return why_length_slope(frame, head, posture, coordinate);
  double plane = posture->rad[n->plane];
  double elevation = posture->rad[n->elevation];
  return elevation * (cos(plane) * slope_numbered(frame, head, posture, n->sine_part) -
                      sin(plane) * slope_numbered(frame, head, posture, n->cosine_part));
}

double why_length_arm(const why_frame* frame, const why_head* head, const why_posture* posture,
                      const why_action* action) {
  double slope = 0;
  for (size_t i = 0; i < action->along.count; i++)
    slope += slope_along(frame, head, posture, action->along.at[i]);
  return -action->sign * slope;
}

static double step_along(const why_frame* frame, const why_head* head, const why_posture* at,
                         const why_posture* a, const why_posture* b, int number) {
  if (number < 0)
    return 0;
  return slope_numbered(frame, head, at, number) * (b->rad[number] - a->rad[number]);
}

/// Lengthening a unit of the way, at the posture `at` between `a` and `b`. A change of the
/// shoulder's plane is followed through both parts of the pair.
static double rate_along(const why_frame* frame, const why_head* head, const why_posture* at,
                         const why_posture* a, const why_posture* b, const why_action* action) {
  double rate = 0;
  for (size_t i = 0; i < action->along.count; i++) {
    why_symbol coordinate = action->along.at[i];
    if (coordinate == frame->anatomy->shoulder.plane)
      rate += step_along(frame, head, at, a, b, frame->shoulder.cosine_part) +
              step_along(frame, head, at, a, b, frame->shoulder.sine_part);
    else
      rate += step_along(frame, head, at, a, b, why_frame_number(frame, coordinate));
  }
  return rate;
}

double why_length_travel(const why_frame* frame, const why_head* head, const why_posture* a,
                         const why_posture* b, const why_action* action) {
  // Gauss–Legendre, three points: exact for the polynomials of degree five and less that paths are
  // along a straight way.
  static const double AT[] = {0.1127016653792583, 0.5, 0.8872983346207417};
  static const double WEIGHT[] = {5.0 / 18, 8.0 / 18, 5.0 / 18};
  double lengthened = 0;
  for (int i = 0; i < 3; i++) {
    why_posture at = why_posture_between(frame, a, b, AT[i]);
    lengthened += WEIGHT[i] * rate_along(frame, head, &at, a, b, action);
  }
  return -lengthened;
}

double why_length_fibre(const why_frame* frame, const why_head* head, double length_m,
                        bool* outside) {
  double optimal = head->fibre_length_cm.value / 100;
  double slack = head->slack_length_cm.value / 100;
  double pennation = isfinite(head->pennation_deg.value) ? head->pennation_deg.value : 0;
  double fibre = (length_m - slack) / (optimal * cos(pennation * RAD_PER_DEG));
  double kept = fmin(fmax(fibre, frame->least_fibre), frame->most_fibre);
  if (outside)
    *outside = fabs(kept - fibre) > 1e-9;
  return kept;
}
