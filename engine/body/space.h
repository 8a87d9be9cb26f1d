// SPDX-License-Identifier: GPL-3.0-or-later
/// Points, directions and orientations in three dimensions: x forward, y left, z up. Private to
/// body.
#ifndef WHY_BODY_SPACE_H
#define WHY_BODY_SPACE_H

#include <math.h>

typedef struct {
  double x;
  double y;
  double z;
} why_vec;

/// An orientation: where the unit vectors of a frame point, in the world.
typedef struct {
  why_vec x;
  why_vec y;
  why_vec z;
} why_axes;

static inline why_vec why_vec_of(const double at[3]) {
  return (why_vec){at[0], at[1], at[2]};
}

static inline why_vec why_vec_add(why_vec a, why_vec b) {
  return (why_vec){a.x + b.x, a.y + b.y, a.z + b.z};
}

static inline why_vec why_vec_subtract(why_vec a, why_vec b) {
  return (why_vec){a.x - b.x, a.y - b.y, a.z - b.z};
}

static inline why_vec why_vec_scale(why_vec a, double by) {
  return (why_vec){a.x * by, a.y * by, a.z * by};
}

static inline double why_vec_dot(why_vec a, why_vec b) {
  return a.x * b.x + a.y * b.y + a.z * b.z;
}

static inline why_vec why_vec_cross(why_vec a, why_vec b) {
  return (why_vec){a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}

static inline double why_vec_length(why_vec a) {
  return sqrt(why_vec_dot(a, a));
}

/// `a` with length 1; a zero vector stays zero.
static inline why_vec why_vec_unit(why_vec a) {
  double length = why_vec_length(a);
  return length > 0 ? why_vec_scale(a, 1 / length) : a;
}

/// The image in the plane that halves the body.
static inline why_vec why_vec_mirror(why_vec a) {
  return (why_vec){a.x, -a.y, a.z};
}

/// `a`, told in the frame `axes`, told in the world.
static inline why_vec why_axes_apply(const why_axes* axes, why_vec a) {
  return why_vec_add(why_vec_add(why_vec_scale(axes->x, a.x), why_vec_scale(axes->y, a.y)),
                     why_vec_scale(axes->z, a.z));
}

/// First `inner`, then `outer`.
static inline why_axes why_axes_after(const why_axes* outer, const why_axes* inner) {
  return (why_axes){why_axes_apply(outer, inner->x), why_axes_apply(outer, inner->y),
                    why_axes_apply(outer, inner->z)};
}

/// A turn by `rad` about a unit vector.
static inline why_vec why_vec_turn(why_vec a, why_vec about, double rad) {
  double c = cos(rad);
  why_vec along = why_vec_scale(about, (1 - c) * why_vec_dot(about, a));
  why_vec across = why_vec_scale(why_vec_cross(about, a), sin(rad));
  return why_vec_add(why_vec_add(why_vec_scale(a, c), across), along);
}

static inline why_axes why_axes_turn(why_vec about, double rad) {
  return (why_axes){why_vec_turn((why_vec){1, 0, 0}, about, rad),
                    why_vec_turn((why_vec){0, 1, 0}, about, rad),
                    why_vec_turn((why_vec){0, 0, 1}, about, rad)};
}

#endif
