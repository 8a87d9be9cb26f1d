// SPDX-License-Identifier: GPL-3.0-or-later
// Numbering coordinates and completing postures. The shoulder is given as plane and elevation; its
// paths use the smooth pair elevation·cos(plane), elevation·sin(plane), which has no singularity at
// elevation 0, and hold inside a stated region.
#include "posture.h"

#include <math.h>

static const double RAD_PER_DEG = 0.017453292519943295;

static int add_coordinate(why_frame* frame, why_symbol id) {
  int known = why_frame_number(frame, id);
  if (known >= 0 || frame->count == WHY_COORDINATES_LIMIT)
    return known;
  frame->ids[frame->count] = id;
  return (int)frame->count++;
}

int why_frame_number(const why_frame* frame, why_symbol coordinate) {
  for (size_t i = 0; i < frame->count; i++)
    if (frame->ids[i] == coordinate)
      return (int)i;
  return -1;
}

static int number_named(const why_frame* frame, const char* name) {
  why_symbol symbol = why_symbols_find(frame->symbols, name);
  return symbol ? why_frame_number(frame, symbol) : -1;
}

const why_frame* why_frame_new(const why_tables* tables, why_arena* arena) {
  why_frame* made = WHY_NEW(arena, why_frame);
  made->anatomy = &tables->anatomy;
  made->symbols = tables->symbols;
  for (size_t i = 0; i < tables->anatomy.coordinates.count; i++)
    add_coordinate(made, tables->anatomy.coordinates.at[i].id);
  for (size_t i = 0; i < tables->anatomy.heads.count; i++) {
    const why_path* path = &tables->anatomy.heads.at[i].path;
    for (unsigned j = 0; j < path->coordinate_count; j++)
      add_coordinate(made, path->coordinates[j]);
  }
  made->shoulder = (why_shoulder_numbers){
      .plane = number_named(made, "shoulder-plane"),
      .elevation = number_named(made, "shoulder-elevation"),
      .rotation = number_named(made, "shoulder-rotation"),
      .abduction_part = number_named(made, "shoulder-abduction-part"),
      .flexion_part = number_named(made, "shoulder-flexion-part"),
      .upward_rotation = number_named(made, "scapular-upward-rotation"),
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

/// The greatest elevation at which the shoulder paths hold, by plane, degrees: piecewise linear
/// through the corners that the source of the paths states.
static double largest_elevation_deg(double plane_deg) {
  static const double PLANE[] = {-90, -60, -30, 0, 90, 115, 135};
  static const double LARGEST[] = {52, 80, 130, 165, 165, 130, 112};
  enum { LAST = sizeof PLANE / sizeof *PLANE - 1 };
  if (plane_deg <= PLANE[0])
    return LARGEST[0];
  for (int i = 0; i < LAST; i++) {
    if (plane_deg <= PLANE[i + 1]) {
      double share = (plane_deg - PLANE[i]) / (PLANE[i + 1] - PLANE[i]);
      return LARGEST[i] + share * (LARGEST[i + 1] - LARGEST[i]);
    }
  }
  return LARGEST[LAST];
}

typedef struct {
  double plane;
  double elevation;
  double rotation;
} shoulder_deg;

static double least_rotation_deg(double plane_deg) {
  return plane_deg < -45 || plane_deg > 105 ? -60 : -92;
}

static bool is_inside(shoulder_deg at) {
  return at.plane >= -90 && at.plane <= 135 && at.elevation <= largest_elevation_deg(at.plane) &&
         at.rotation >= least_rotation_deg(at.plane) && at.rotation <= 80;
}

/// With the arm nearly straight up the plane loses its meaning: (p, r) is the posture
/// (q, r − 2(p − q)). Take the nearest plane that brings the rotation into the region.
static shoulder_deg rewrite_overhead(shoulder_deg at) {
  for (int away = 0; away <= 225; away += 5) {
    for (int sign = -1; sign <= 1; sign += 2) {
      shoulder_deg other = at;
      other.plane = at.plane + sign * away;
      other.rotation = remainder(at.rotation - 2 * (at.plane - other.plane), 360);
      if (other.plane >= 0 && other.plane <= 90 && other.rotation >= -92 && other.rotation <= 80)
        return other;
    }
  }
  return at;
}

static shoulder_deg bring_inside(shoulder_deg at) {
  at.plane = clamp(at.plane, -90, 135);
  at.elevation = fmin(at.elevation, largest_elevation_deg(at.plane));
  at.rotation = clamp(at.rotation, least_rotation_deg(at.plane), 80);
  return at;
}

/// Scapular rhythm, about one part in three of the elevation, less behind the body.
static double upward_rotation_deg(shoulder_deg at) {
  return at.elevation / 3 * clamp((at.plane + 90) / 60, 0, 1);
}

void why_posture_complete(const why_frame* frame, why_posture* posture) {
  const why_shoulder_numbers* number = &frame->shoulder;
  if (number->plane < 0 || number->elevation < 0 || number->rotation < 0)
    return;
  shoulder_deg at = {.plane = posture->rad[number->plane] / RAD_PER_DEG,
                     .elevation = posture->rad[number->elevation] / RAD_PER_DEG,
                     .rotation = posture->rad[number->rotation] / RAD_PER_DEG};
  if (number->upward_rotation >= 0)
    posture->rad[number->upward_rotation] = upward_rotation_deg(at) * RAD_PER_DEG;
  if (!is_inside(at) && at.elevation > 150)
    at = rewrite_overhead(at);
  posture->outside = !is_inside(at);
  at = bring_inside(at);
  posture->rad[number->plane] = at.plane * RAD_PER_DEG;
  posture->rad[number->elevation] = at.elevation * RAD_PER_DEG;
  posture->rad[number->rotation] = at.rotation * RAD_PER_DEG;
  double plane = at.plane * RAD_PER_DEG;
  double elevation = at.elevation * RAD_PER_DEG;
  if (number->abduction_part >= 0)
    posture->rad[number->abduction_part] = elevation * cos(plane);
  if (number->flexion_part >= 0)
    posture->rad[number->flexion_part] = elevation * sin(plane);
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

why_posture why_posture_between(const why_frame* frame, const why_posture* a, const why_posture* b,
                                double share) {
  why_posture made = {.outside = a->outside || b->outside};
  for (size_t i = 0; i < frame->count; i++)
    made.rad[i] = a->rad[i] + share * (b->rad[i] - a->rad[i]);
  return made;
}
