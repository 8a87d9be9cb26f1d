// SPDX-License-Identifier: GPL-3.0-or-later
// Draws the many forces of a posture into the few that a reader can take in.
#include "forces.h"

#include <math.h>

/// Forces nearer than this, pixels, that point the same way within about 25 degrees, are shown as
/// one; what is smaller than LEAST of the largest, or LEAST_N, is not shown.
static const double TOGETHER = 9;
static const double SAME_WAY = 0.9;
static const double LEAST = 0.02;
static const double LEAST_N = 2;
static const double END_ON = 0.5; ///< Of the size of a force on the paper.

double why_force_size(const why_shown_force* force) {
  return why_vec_length(force->newton);
}

static void add(why_shown_forces* forces, const why_shown_force* force) {
  if (forces->count < WHY_SHOWN_FORCES)
    forces->at[forces->count++] = *force;
}

/// Forces of one kind on one part, joined where they press hardest.
static void add_to_part(why_shown_forces* forces, const why_shown_force* force) {
  double size = why_force_size(force);
  if (!(size > 0))
    return;
  for (size_t i = 0; i < forces->count; i++) {
    why_shown_force* each = &forces->at[i];
    if (each->kind != force->kind || each->part != force->part || each->pushes != force->pushes)
      continue;
    double own = why_force_size(each);
    double share = size / (own + size);
    each->at = why_vec_add(why_vec_scale(each->at, 1 - share), why_vec_scale(force->at, share));
    each->newton = why_vec_add(each->newton, force->newton);
    return;
  }
  add(forces, force);
}

static void add_weight(const why_motion* motion, const why_statics* statics,
                       why_shown_forces* forces) {
  const why_body_model* model = motion->model;
  add(forces, &(why_shown_force){.kind = WHY_FORCE_WEIGHT,
                                 .part = -1,
                                 .sides = 1,
                                 .at = why_pose_centre(model, &statics->pose),
                                 .newton = {0, 0, -model->mass_kg * model->gravity}});
}

static void add_loads(const why_statics* statics, why_shown_forces* forces) {
  for (size_t i = 0; i < statics->loading.count; i++) {
    const why_applied* each = &statics->loading.at[i];
    if (why_vec_length(each->load) > 0)
      add(forces, &(why_shown_force){.kind = WHY_FORCE_LOAD,
                                     .part = each->part,
                                     .sides = 1,
                                     .at = each->at,
                                     .newton = each->load});
  }
  for (size_t i = 0; i < statics->loading.lever_count; i++) {
    const why_lever* each = &statics->loading.levers[i];
    add(forces, &(why_shown_force){.kind = WHY_FORCE_LEVER,
                                   .part = each->part,
                                   .sides = 1,
                                   .at = statics->pose.origin[each->part],
                                   .newton = each->moment});
  }
}

static void add_supports(const why_statics* statics, why_shown_forces* forces) {
  for (size_t i = 0; i < statics->reactions.count; i++) {
    const why_reaction* each = &statics->reactions.at[i];
    add_to_part(forces, &(why_shown_force){.kind = WHY_FORCE_SUPPORT,
                                           .part = each->part,
                                           .sides = 1,
                                           .pushes = !each->pull,
                                           .at = each->at,
                                           .newton = why_vec_add(each->body, each->load)});
  }
}

bool why_force_is_end_on(const why_shown_force* force, const why_view* view) {
  why_spot way = why_view_way(view, force->newton);
  return hypot(way.x, way.y) < END_ON * why_force_size(force);
}

static bool fall_together(const why_shown_force* a, const why_shown_force* b) {
  return a->kind == b->kind && a->pushes == b->pushes &&
         hypot(a->spot.x - b->spot.x, a->spot.y - b->spot.y) < TOGETHER;
}

/// Whether `each` went into `into`.
static bool join_two(why_shown_force* into, const why_shown_force* each, const why_view* view) {
  if (!fall_together(into, each))
    return false;
  double sizes = why_force_size(into) * why_force_size(each);
  if (why_vec_dot(into->newton, each->newton) >= SAME_WAY * sizes)
    into->newton = why_vec_add(into->newton, each->newton);
  else if (why_force_is_end_on(into, view) && why_force_is_end_on(each, view))
    into->apart = true;
  else
    return false;
  into->sides += each->sides;
  return true;
}

static void join(why_shown_forces* forces, const why_view* view) {
  size_t kept = 0;
  for (size_t i = 0; i < forces->count; i++) {
    size_t k = 0;
    while (k < kept && !join_two(&forces->at[k], &forces->at[i], view))
      k++;
    if (k == kept)
      forces->at[kept++] = forces->at[i];
  }
  forces->count = kept;
}

static double largest_of(const why_shown_forces* forces) {
  double most = 0;
  for (size_t i = 0; i < forces->count; i++)
    if (forces->at[i].kind != WHY_FORCE_LEVER)
      most = fmax(most, why_force_size(&forces->at[i]));
  return most;
}

static void drop_small(why_shown_forces* forces) {
  double least = fmax(LEAST_N, LEAST * largest_of(forces));
  size_t kept = 0;
  for (size_t i = 0; i < forces->count; i++)
    if (forces->at[i].kind == WHY_FORCE_LEVER || why_force_size(&forces->at[i]) >= least)
      forces->at[kept++] = forces->at[i];
  forces->count = kept;
}

why_shown_forces why_forces_of(const why_motion* motion, const why_statics* statics,
                               const why_view* view) {
  why_shown_forces forces = {.count = 0};
  add_weight(motion, statics, &forces);
  add_loads(statics, &forces);
  add_supports(statics, &forces);
  why_vec anchor = why_view_anchor(motion, statics);
  for (size_t i = 0; i < forces.count; i++)
    forces.at[i].spot = why_view_spot(view, anchor, forces.at[i].at);
  join(&forces, view);
  drop_small(&forces);
  return forces;
}

double why_forces_largest(const why_motion* motion, const why_view* view) {
  double most = 0;
  for (int i = 0; i < WHY_POSITIONS; i++) {
    why_shown_forces forces = why_forces_of(motion, &motion->positions[i], view);
    most = fmax(most, largest_of(&forces));
  }
  return most;
}

const char* why_forces_words(const why_shown_force* force, why_arena* arena) {
  static const char* const NAMES[] = {"body", "load", "support", "machine"};
  return why_arena_print(arena, "%s %s%.0f N%s", NAMES[force->kind], force->apart ? "2 × " : "",
                         why_force_size(force), force->kind == WHY_FORCE_LEVER ? " m" : "");
}
