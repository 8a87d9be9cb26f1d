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

/// All powers of the arguments that terms may ask for.
typedef struct {
  double at[WHY_PATH_COORDINATES][WHY_PATH_EXPONENT + 1];
} powers;

static void raise_to(const arguments* x, unsigned count, powers* made) {
  for (unsigned i = 0; i < count; i++) {
    made->at[i][0] = 1;
    for (int e = 1; e <= WHY_PATH_EXPONENT; e++)
      made->at[i][e] = made->at[i][e - 1] * x->at[i];
  }
}

/// Add a term and its slopes: the product over all coordinates, and over all but each.
static void add_term(const why_path_term* term, unsigned count, const powers* of,
                     why_path_value* value) {
  double before[WHY_PATH_COORDINATES];
  double product = term->coefficient;
  for (unsigned i = 0; i < count; i++) {
    before[i] = product;
    product *= of->at[i][term->exponents[i]];
  }
  value->length_m += product;
  double behind = 1;
  for (unsigned i = count; i-- > 0;) {
    unsigned exponent = term->exponents[i];
    if (exponent)
      value->slopes[i] += before[i] * behind * exponent * of->at[i][exponent - 1];
    behind *= of->at[i][exponent];
  }
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

why_path_value why_length_value(const why_frame* frame, const why_head* head,
                                const why_posture* posture) {
  const why_path* path = &head->path;
  arguments x = arguments_of(frame, head, posture);
  why_path_value made = {.outside = x.outside || (posture->outside && uses_pair(frame, head))};
  powers of;
  raise_to(&x, path->coordinate_count, &of);
  for (size_t i = 0; i < path->terms.count; i++)
    add_term(&path->terms.at[i], path->coordinate_count, &of, &made);
  return made;
}

double why_length_at(const why_frame* frame, const why_head* head, const why_posture* posture,
                     bool* outside) {
  why_path_value value = why_length_value(frame, head, posture);
  if (outside)
    *outside = value.outside;
  return value.length_m;
}

double why_length_slope(const why_frame* frame, const why_head* head, const why_posture* posture,
                        why_symbol coordinate) {
  for (unsigned i = 0; i < head->path.coordinate_count; i++)
    if (head->path.coordinates[i] == coordinate)
      return why_length_value(frame, head, posture).slopes[i];
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
