// SPDX-License-Identifier: GPL-3.0-or-later
// Projection onto a second-order cone |t| ≤ μ n in closed form: inside it, in its polar cone, or
// onto the mantle.
#include "cone.h"

typedef enum { INSIDE, APART, ON_MANTLE } place;

typedef struct {
  place where;
  double normal; ///< Along the normal.
  double along;  ///< Length of the rest.
  why_vec rest;  ///< Unit vector of the rest.
} split;

static split split_wish(const why_reaction* contact, why_vec wish) {
  split made = {.where = INSIDE};
  if (contact->pull)
    return made;
  made.normal = why_vec_dot(contact->normal, wish);
  why_vec rest = why_vec_subtract(wish, why_vec_scale(contact->normal, made.normal));
  made.along = why_vec_length(rest);
  made.rest = why_vec_unit(rest);
  if (contact->friction * made.along <= -made.normal)
    made.where = APART;
  else if (contact->friction == 0 || made.along > contact->friction * made.normal)
    made.where = ON_MANTLE;
  return made;
}

/// The direction on the mantle nearest to the wish.
static why_vec generator(const why_reaction* contact, const split* s) {
  why_vec sum = why_vec_add(contact->normal, why_vec_scale(s->rest, contact->friction));
  return why_vec_unit(sum);
}

why_vec why_cone_nearest(const why_reaction* contact, why_vec wish) {
  split s = split_wish(contact, wish);
  if (s.where == INSIDE)
    return wish;
  if (s.where == APART)
    return (why_vec){0, 0, 0};
  why_vec along = generator(contact, &s);
  return why_vec_scale(along, why_vec_dot(along, wish));
}

void why_cone_slope(const why_reaction* contact, why_vec wish, why_vec rows[3]) {
  static const why_vec UNIT[3] = {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
  split s = split_wish(contact, wish);
  for (int i = 0; i < 3; i++)
    rows[i] = s.where == INSIDE ? UNIT[i] : (why_vec){0, 0, 0};
  if (s.where != ON_MANTLE)
    return;
  // On the mantle: along the generator fully, around the cone by the ratio of radii.
  why_vec g = generator(contact, &s);
  double mu = contact->friction;
  double height = (s.normal + mu * s.along) / (1 + mu * mu);
  double around = s.along > 0 ? mu * height / s.along : 0;
  for (int i = 0; i < 3; i++) {
    double n = why_vec_dot(contact->normal, UNIT[i]);
    double t = why_vec_dot(s.rest, UNIT[i]);
    why_vec level = why_vec_subtract(
        UNIT[i], why_vec_add(why_vec_scale(contact->normal, n), why_vec_scale(s.rest, t)));
    rows[i] = why_vec_add(why_vec_scale(g, why_vec_dot(g, UNIT[i])), why_vec_scale(level, around));
  }
}
