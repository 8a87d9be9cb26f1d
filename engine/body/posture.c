// SPDX-License-Identifier: GPL-3.0-or-later
// Numbering coordinates and completing postures. The shoulder is given as plane and elevation; its
// paths use the smooth pair elevation·cos(plane), elevation·sin(plane), which has no singularity at
// elevation 0, and hold inside a stated region.
#include "posture.h"

#include <math.h>
#include <string.h>

static const double RAD_PER_DEG = 0.017453292519943295;

static void add_coordinate(why_frame* frame, signed char* numbers, why_symbol id) {
  if (numbers[id] >= 0 || frame->count == WHY_COORDINATES_LIMIT)
    return;
  numbers[id] = (signed char)frame->count;
  frame->ids[frame->count++] = id;
}

int why_frame_number(const why_frame* frame, why_symbol coordinate) {
  return coordinate < frame->known ? frame->numbers[coordinate] : -1;
}

static void number_coordinates(why_frame* frame, why_arena* arena) {
  const why_anatomy* anatomy = frame->anatomy;
  frame->known = why_symbols_count(frame->symbols);
  signed char* numbers = WHY_NEW_ARRAY(arena, signed char, frame->known);
  memset(numbers, -1, frame->known);
  frame->numbers = numbers;
  for (size_t i = 0; i < anatomy->coordinates.count; i++)
    add_coordinate(frame, numbers, anatomy->coordinates.at[i].id);
  for (size_t i = 0; i < anatomy->heads.count; i++) {
    const why_path* path = &anatomy->heads.at[i].path;
    for (unsigned j = 0; j < path->coordinate_count; j++)
      add_coordinate(frame, numbers, path->coordinates[j]);
  }
}

static void take_fibre_range(why_frame* frame, const why_tables* tables) {
  const why_quantity* range =
      why_quantity_find(&tables->measurements, tables->symbols, "fibre-range", 0);
  frame->least_fibre = range ? range->amount.low : -INFINITY;
  frame->most_fibre = range ? range->amount.high : INFINITY;
}

const why_frame* why_frame_new(const why_tables* tables, why_arena* arena) {
  why_frame* made = WHY_NEW(arena, why_frame);
  made->anatomy = &tables->anatomy;
  made->symbols = tables->symbols;
  take_fibre_range(made, tables);
  number_coordinates(made, arena);
  const why_shoulder* shoulder = &tables->anatomy.shoulder;
  made->shoulder = (why_shoulder_numbers){
      .plane = why_frame_number(made, shoulder->plane),
      .elevation = why_frame_number(made, shoulder->elevation),
      .rotation = why_frame_number(made, shoulder->rotation),
      .cosine_part = why_frame_number(made, shoulder->cosine_part),
      .sine_part = why_frame_number(made, shoulder->sine_part),
      .upward_rotation = why_frame_number(made, shoulder->rhythm_coordinate),
  };
  return made;
}

void why_posture_set_deg(const why_frame* frame, why_posture* posture, why_symbol coordinate,
                         double deg) {
  int number = why_frame_number(frame, coordinate);
  if (number >= 0)
    posture->rad[number] = deg * RAD_PER_DEG;
}

static double clamp(double value, double least, double most) {
  return fmin(fmax(value, least), most);
}

typedef struct {
  double plane;
  double elevation;
  double rotation;
} shoulder_deg;

/// The greatest elevation at which the shoulder paths hold in a plane: straight between corners.
static double largest_elevation(const why_shoulder* shoulder, double plane) {
  const why_corner* corners = shoulder->corners.at;
  size_t count = shoulder->corners.count;
  if (!count)
    return INFINITY;
  if (plane <= corners[0].plane_deg)
    return corners[0].most_elevation_deg;
  for (size_t i = 0; i + 1 < count; i++) {
    if (plane <= corners[i + 1].plane_deg) {
      double share =
          (plane - corners[i].plane_deg) / (corners[i + 1].plane_deg - corners[i].plane_deg);
      return corners[i].most_elevation_deg +
             share * (corners[i + 1].most_elevation_deg - corners[i].most_elevation_deg);
    }
  }
  return corners[count - 1].most_elevation_deg;
}

/// The rotations that hold in a plane. Where spans meet, the wider one is meant.
static void find_rotations(const why_shoulder* shoulder, double plane, double* least,
                           double* most) {
  *least = shoulder->rotations.count ? INFINITY : -INFINITY;
  *most = shoulder->rotations.count ? -INFINITY : INFINITY;
  for (size_t i = 0; i < shoulder->rotations.count; i++) {
    const why_rotation_span* span = &shoulder->rotations.at[i];
    if (plane < span->from_plane_deg || plane > span->to_plane_deg)
      continue;
    *least = fmin(*least, span->least_deg);
    *most = fmax(*most, span->most_deg);
  }
}

static double least_plane(const why_shoulder* shoulder) {
  return shoulder->corners.count ? shoulder->corners.at[0].plane_deg : -INFINITY;
}

static double most_plane(const why_shoulder* shoulder) {
  size_t count = shoulder->corners.count;
  return count ? shoulder->corners.at[count - 1].plane_deg : INFINITY;
}

static shoulder_deg bring_inside(const why_shoulder* shoulder, shoulder_deg at) {
  double least = 0;
  double most = 0;
  at.plane = clamp(at.plane, least_plane(shoulder), most_plane(shoulder));
  at.elevation = fmin(at.elevation, largest_elevation(shoulder, at.plane));
  find_rotations(shoulder, at.plane, &least, &most);
  at.rotation = clamp(at.rotation, least, most);
  return at;
}

static bool is_inside(const why_shoulder* shoulder, shoulder_deg at) {
  shoulder_deg inside = bring_inside(shoulder, at);
  return inside.plane == at.plane && inside.elevation == at.elevation &&
         inside.rotation == at.rotation;
}

/// With the arm nearly straight up the plane loses its meaning: (p, r) is the posture
/// (q, r − 2(p − q)). Take the plane nearest to p that brings the rotation into the region.
static shoulder_deg rewrite_overhead(const why_shoulder* shoulder, shoulder_deg at) {
  shoulder_deg best = at;
  double nearest = INFINITY;
  for (double plane = shoulder->overhead_least_plane_deg;
       plane <= shoulder->overhead_most_plane_deg; plane += 5) {
    shoulder_deg other = {.plane = plane,
                          .elevation = fmin(at.elevation, largest_elevation(shoulder, plane)),
                          .rotation = remainder(at.rotation - 2 * (at.plane - plane), 360)};
    if (is_inside(shoulder, other) && fabs(plane - at.plane) < nearest) {
      nearest = fabs(plane - at.plane);
      best = other;
      best.elevation = at.elevation;
    }
  }
  return best;
}

static double upward_rotation(const why_shoulder* shoulder, shoulder_deg at) {
  double share = (at.plane - shoulder->rhythm_none_below_plane_deg) /
                 (shoulder->rhythm_full_from_plane_deg - shoulder->rhythm_none_below_plane_deg);
  return at.elevation / shoulder->rhythm_per_degree * clamp(share, 0, 1);
}

void why_posture_complete(const why_frame* frame, why_posture* posture) {
  const why_shoulder* shoulder = &frame->anatomy->shoulder;
  const why_shoulder_numbers* number = &frame->shoulder;
  if (number->plane < 0 || number->elevation < 0 || number->rotation < 0)
    return;
  shoulder_deg at = {.plane = posture->rad[number->plane] / RAD_PER_DEG,
                     .elevation = posture->rad[number->elevation] / RAD_PER_DEG,
                     .rotation = posture->rad[number->rotation] / RAD_PER_DEG};
  if (number->upward_rotation >= 0)
    posture->rad[number->upward_rotation] = upward_rotation(shoulder, at) * RAD_PER_DEG;
  if (!is_inside(shoulder, at) && at.elevation > shoulder->overhead_deg)
    at = rewrite_overhead(shoulder, at);
  posture->outside = !is_inside(shoulder, at);
  at = bring_inside(shoulder, at);
  posture->rad[number->plane] = at.plane * RAD_PER_DEG;
  posture->rad[number->elevation] = at.elevation * RAD_PER_DEG;
  posture->rad[number->rotation] = at.rotation * RAD_PER_DEG;
  double plane = at.plane * RAD_PER_DEG;
  double elevation = at.elevation * RAD_PER_DEG;
  if (number->cosine_part >= 0)
    posture->rad[number->cosine_part] = elevation * cos(plane);
  if (number->sine_part >= 0)
    posture->rad[number->sine_part] = elevation * sin(plane);
}

static void set_angles(const why_frame* frame, why_posture* posture, const why_angles* angles) {
  for (size_t i = 0; i < angles->count; i++)
    why_posture_set_deg(frame, posture, angles->at[i].coordinate, angles->at[i].deg);
}

why_posture why_posture_of(const why_frame* frame, const why_position* position, bool other_side) {
  why_posture made = {0};
  set_angles(frame, &made, &position->working);
  if (other_side)
    set_angles(frame, &made, &position->other_side);
  why_posture_complete(frame, &made);
  return made;
}
