// SPDX-License-Identifier: GPL-3.0-or-later
// What must hold of the statics of every position of every exercise, whatever the numbers are: load
// parts grow with the load, the image in a mirror asks for the image, moments balance, and demands
// are slopes of potential energy. With WHY_SHOW in the environment the largest deviation is
// printed.
#include "body/mirror.h"

#include <criterion/criterion.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

/// Of the weight of body and loads, or of that times stature.
static const double ALLOWED = 1e-7;

static why_arena* arena;
static why_problems* problems;
static why_tables* tables;
static const why_body_model* model;

static double largest;
static const char* where = "";
static size_t tried;

static void open_knowledge(void) {
  arena = why_arena_new(0);
  problems = why_problems_new();
  why_tables_open(WHY_HOME, NULL, arena, problems, &tables);
  cr_assert_eq(why_body_model_new(why_frame_new(tables, arena), tables, 0, 0, arena, &model),
               WHY_OK);
}

static void close_knowledge(void) {
  if (getenv("WHY_SHOW"))
    fprintf(stderr, "%zu compared, largest deviation %.2g (%s)\n", tried, largest, where);
  why_problems_free(problems);
  why_arena_free(arena);
}

TestSuite(catalogue, .init = open_knowledge, .fini = close_knowledge);

/// Compare two numbers that must be equal but for rounding, as shares of `size`.
static void expect_same(const why_exercise* row, const char* what, double a, double b,
                        double size) {
  double off = fabs(a - b) / size;
  tried++;
  if (off > largest) {
    largest = off;
    where = row->name;
  }
  cr_expect_lt(off, ALLOWED, "%s: %s is %.9g, not %.9g", row->name, what, a, b);
}

static const char* coordinate(int number) {
  return why_symbols_text(tables->symbols, model->frame->ids[number]);
}

static double moment_size(const why_statics* statics) {
  return why_loading_size(&statics->loading) * model->stature_m;
}

/// Whether a contact carries, and whether it slides: what decides of which linear map reactions are
/// the answer.
static bool same_state(const why_reaction* a, const why_reaction* b) {
  why_vec f = why_vec_add(a->body, a->load);
  why_vec g = why_vec_add(b->body, b->load);
  double size = 1e-6 * (why_vec_length(f) + why_vec_length(g) + 1);
  double fn = why_vec_dot(f, a->normal);
  double gn = why_vec_dot(g, b->normal);
  double ft = why_vec_length(why_vec_subtract(f, why_vec_scale(a->normal, fn)));
  double gt = why_vec_length(why_vec_subtract(g, why_vec_scale(b->normal, gn)));
  bool f_slides = ft > a->friction * fn - size;
  bool g_slides = gt > b->friction * gn - size;
  return a->pull || ((fn > size) == (gn > size) && f_slides == g_slides);
}

static bool same_states(const why_reactions* a, const why_reactions* b) {
  for (size_t i = 0; i < a->count; i++)
    if (!same_state(&a->at[i], &b->at[i]))
      return false;
  return true;
}

/// Nothing slides: a sliding force turns with its contact's neighbours, which bends the line.
static bool any_slides(const why_reactions* reactions) {
  for (size_t i = 0; i < reactions->count; i++) {
    const why_reaction* each = &reactions->at[i];
    why_vec force = why_vec_add(each->body, each->load);
    double normal = why_vec_dot(force, each->normal);
    double along = why_vec_length(why_vec_subtract(force, why_vec_scale(each->normal, normal)));
    if (!each->pull && along > 1e-6 && along > each->friction * normal * (1 - 1e-6))
      return true;
  }
  return false;
}

static void expect_linear(const why_exercise* row, const why_statics* once, const why_statics* more,
                          double factor) {
  for (int side = 0; side < WHY_SIDES; side++)
    for (int n = 0; n < (int)model->frame->count; n++) {
      const why_demand* a = &once->demands.at[side][n];
      const why_demand* b = &more->demands.at[side][n];
      expect_same(row, coordinate(n), b->load, factor * a->load, moment_size(once));
      expect_same(row, coordinate(n), b->body, a->body, moment_size(once));
    }
}

/// Where the same contacts carry and none slides, reactions are linear in the load; with held
/// segments always.
Test(catalogue, load_parts_grow_with_the_load) {
  static why_statics once;
  static why_statics more;
  const double FACTOR = 1.02;
  size_t linear = 0;
  size_t all = 0;
  for (size_t i = 0; i < tables->exercises.rows.count; i++) {
    const why_exercise* row = &tables->exercises.rows.at[i];
    for (int at = 0; at < WHY_POSITIONS; at++, all++) {
      why_statics_find(model, row, at, 1, &once);
      why_statics_find(model, row, at, FACTOR, &more);
      if (!same_states(&once.reactions, &more.reactions) || any_slides(&once.reactions) ||
          any_slides(&more.reactions) || once.reactions.imbalance > 1e-9 ||
          more.reactions.imbalance > 1e-9)
        continue;
      linear++;
      expect_linear(row, &once, &more, FACTOR);
    }
  }
  cr_expect_gt((double)linear, 0.7 * (double)all, "%zu of %zu positions are linear", linear, all);
  if (getenv("WHY_SHOW"))
    fprintf(stderr, "%zu of %zu positions keep their contacts\n", linear, all);
}

static void expect_image(const why_exercise* row, const why_statics* true_one,
                         const why_statics* image) {
  for (int side = 0; side < WHY_SIDES; side++)
    for (int n = 0; n < (int)model->frame->count; n++) {
      const why_demand* a = &true_one->demands.at[side][n];
      bool paired = true_one->demands.at[WHY_OTHER][n].there;
      const why_demand* b = &image->demands.at[paired ? 1 - side : side][n];
      double sign = paired ? 1 : mirror_sign(model->frame, n);
      cr_expect_eq(a->there, b->there, "%s: %s", row->name, coordinate(n));
      expect_same(row, coordinate(n), sign * b->body, a->body, moment_size(true_one));
      expect_same(row, coordinate(n), sign * b->load, a->load, moment_size(true_one));
    }
}

Test(catalogue, image_in_a_mirror_asks_for_the_image) {
  static why_statics true_one;
  static why_statics image;
  size_t mirrored = 0;
  for (size_t i = 0; i < tables->exercises.rows.count; i++) {
    const why_exercise* row = &tables->exercises.rows.at[i];
    if (!mirror_exists(model, row))
      continue;
    why_exercise other = mirror_of(model, row, arena);
    mirrored += row->unilateral;
    for (int at = 0; at < WHY_POSITIONS; at++) {
      why_statics_find(model, row, at, 1, &true_one);
      why_statics_find(model, &other, at, 1, &image);
      expect_image(row, &true_one, &image);
    }
  }
  cr_expect_gt(mirrored, 50, "%zu exercises of one side", mirrored);
}

/// The moments of all forces about any point are those that nothing carries: about the feet and
/// about a point far away.
Test(catalogue, moments_balance) {
  static why_statics statics;
  const why_vec FAR_AWAY = {3, -2, 5};
  for (size_t i = 0; i < tables->exercises.rows.count; i++) {
    const why_exercise* row = &tables->exercises.rows.at[i];
    for (int at = 0; at < WHY_POSITIONS; at++) {
      why_statics_find(model, row, at, 1, &statics);
      const why_reactions* reactions = &statics.reactions;
      if (reactions->held)
        continue;
      why_vec middle = {0, 0, 0};
      why_vec sum = {0, 0, 0};
      for (size_t k = 0; k < reactions->count; k++) {
        const why_reaction* each = &reactions->at[k];
        middle = why_vec_add(middle, why_vec_scale(each->at, 1 / (double)reactions->count));
        sum = why_vec_add(sum, why_vec_cross(why_vec_subtract(each->at, FAR_AWAY),
                                             why_vec_add(each->body, each->load)));
      }
      for (size_t k = 0; k < statics.loading.count; k++) {
        const why_applied* each = &statics.loading.at[k];
        sum = why_vec_add(sum, why_vec_cross(why_vec_subtract(each->at, FAR_AWAY),
                                             why_vec_add(each->body, each->load)));
      }
      why_vec left =
          why_vec_add(reactions->residual_moment,
                      why_vec_cross(why_vec_subtract(middle, FAR_AWAY), reactions->residual));
      expect_same(row, "moment about x", sum.x, left.x, moment_size(&statics));
      expect_same(row, "moment about y", sum.y, left.y, moment_size(&statics));
      expect_same(row, "moment about z", sum.z, left.z, moment_size(&statics));
    }
  }
}

/// One coordinate of one side, changed a little.
typedef struct {
  const why_exercise* row;
  const why_statics* statics;
  const why_freedom* freedom;
  bool far; ///< The side beyond the joint moves; else the side before it.
} change;

/// The stance with the coordinate changed by `step`; the smooth pair through plane and elevation.
static why_stance changed(const change* c, double step) {
  const why_shoulder_numbers* n = &model->frame->shoulder;
  why_stance made = c->statics->stance;
  double* rad = made.rad[c->freedom->side];
  int number = c->freedom->number;
  if (number != n->cosine_part && number != n->sine_part) {
    rad[number] += step;
    return made;
  }
  double cosine = rad[n->elevation] * cos(rad[n->plane]);
  double sine = rad[n->elevation] * sin(rad[n->plane]);
  cosine += number == n->cosine_part ? step : 0;
  sine += number == n->sine_part ? step : 0;
  rad[n->elevation] = hypot(cosine, sine);
  rad[n->plane] = atan2(sine, cosine);
  return made;
}

/// `point`, which is fixed to `part` in the pose `from`, in the frame of that part.
static why_vec inside(const why_pose* from, int part, why_vec point) {
  why_vec off = why_vec_subtract(point, from->origin[part]);
  const why_axes* axes = &from->axes[part];
  return (why_vec){why_vec_dot(off, axes->x), why_vec_dot(off, axes->y), why_vec_dot(off, axes->z)};
}

/// Where a point of the moving side goes; what is not moving stays.
static why_vec moved(const change* c, const why_pose* to, int part, why_vec point) {
  why_vec there = why_pose_point(to, part, inside(&c->statics->pose, part, point));
  if (c->far)
    return there;
  // The far side stays where it was: bring it back, and all else with it.
  int joint = c->freedom->part;
  return why_pose_point(&c->statics->pose, joint, inside(to, joint, there));
}

/// Minus the work of the forces on the moving side up to there: body and load part.
static void energy(const change* c, double step, double* body, double* load) {
  static why_pose to;
  why_stance stance = changed(c, step);
  why_pose_find(model, &stance, &to);
  *body = *load = 0;
  const why_loading* loading = &c->statics->loading;
  for (size_t i = 0; i < loading->count; i++) {
    const why_applied* each = &loading->at[i];
    if (why_body_part_hangs_on(model, each->part, c->freedom->part) != c->far)
      continue;
    why_vec at = moved(c, &to, each->part, each->at);
    *body -= why_vec_dot(each->body, at);
    *load -= why_vec_dot(each->load, at);
  }
  const why_reactions* reactions = &c->statics->reactions;
  for (size_t i = 0; i < reactions->count; i++) {
    const why_reaction* each = &reactions->at[i];
    if (why_body_part_hangs_on(model, each->part, c->freedom->part) != c->far)
      continue;
    why_vec at = moved(c, &to, each->part, each->at);
    *body -= why_vec_dot(each->body, at);
    *load -= why_vec_dot(each->load, at);
  }
}

static bool is_held_beyond(const why_exercise* row, int part) {
  for (size_t i = 0; i < row->fixed.count; i++)
    for (int j = 0; j < (int)model->count; j++)
      if (model->parts[j].segment == row->fixed.at[i] && why_body_part_hangs_on(model, j, part))
        return true;
  return false;
}

static double of_levers(const change* c) {
  double sum = 0;
  for (size_t i = 0; i < c->statics->loading.lever_count; i++)
    if (c->statics->loading.levers[i].part == c->freedom->part)
      sum -= why_vec_dot(c->statics->loading.levers[i].moment, c->freedom->turn);
  return sum;
}

static void expect_slope(const change* c) {
  const double STEP = 1e-5;
  double body[2];
  double load[2];
  const why_demand* demand = &c->statics->demands.at[c->freedom->side][c->freedom->number];
  energy(c, STEP, &body[0], &load[0]);
  energy(c, -STEP, &body[1], &load[1]);
  double size = moment_size(c->statics);
  expect_same(c->row, coordinate(c->freedom->number), (body[0] - body[1]) / (2 * STEP),
              demand->body, size);
  expect_same(c->row, coordinate(c->freedom->number), (load[0] - load[1]) / (2 * STEP),
              demand->load - of_levers(c), size);
}

/// Demand is the slope of the potential energy of weights and loads on one side of the joint, and
/// of what supports do there, by differences of positions.
Test(catalogue, demands_are_slopes_of_energy) {
  static why_statics statics;
  for (size_t i = 0; i < tables->exercises.rows.count; i++) {
    const why_exercise* row = &tables->exercises.rows.at[i];
    for (int at = 0; at < WHY_POSITIONS; at++) {
      why_statics_find(model, row, at, 1, &statics);
      for (size_t k = 0; k < statics.pose.count; k++) {
        const why_freedom* freedom = &statics.pose.freedoms[k];
        change c = {row, &statics, freedom, !is_held_beyond(row, freedom->part)};
        if (!statics.demands.at[freedom->side][freedom->number].held)
          expect_slope(&c);
      }
    }
  }
}

/// A number in [0, 1) from a fixed sequence (64-bit linear congruential).
static double random_share(uint64_t* state) {
  *state = *state * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
  return (double)(*state >> 11) / 9007199254740992.0;
}

/// Angles inside the ranges of one path, by the path's own coordinates.
static why_posture random_posture(const why_head* head, uint64_t* state) {
  const double RAD_PER_DEG = 0.017453292519943295;
  why_posture posture = {0};
  for (unsigned j = 0; j < head->path.coordinate_count; j++) {
    double least = -1.5; // Parts of the shoulder pair, which state no range of their own.
    double most = 2.5;
    for (size_t k = 0; k < head->path.ranges.count; k++) {
      if (head->path.ranges.at[k].coordinate != head->path.coordinates[j])
        continue;
      least = head->path.ranges.at[k].least_deg * RAD_PER_DEG;
      most = head->path.ranges.at[k].most_deg * RAD_PER_DEG;
    }
    int number = why_frame_number(model->frame, head->path.coordinates[j]);
    double margin = 0.001 * (most - least);
    posture.rad[number] = least + margin + (most - least - 2 * margin) * random_share(state);
  }
  return posture;
}

static void expect_path_slope(const why_head* head, why_posture posture, unsigned j) {
  const double STEP = 1e-5;
  int number = why_frame_number(model->frame, head->path.coordinates[j]);
  double slope = why_length_slope(model->frame, head, &posture, head->path.coordinates[j]);
  posture.rad[number] += STEP;
  double more = why_length_at(model->frame, head, &posture, NULL);
  posture.rad[number] -= 2 * STEP;
  double less = why_length_at(model->frame, head, &posture, NULL);
  double off = fabs((more - less) / (2 * STEP) - slope);
  tried++;
  if (off > largest) {
    largest = off;
    where = head->name;
  }
  cr_expect_lt(off, 1e-8, "%s: slope of the path is off by %g m", head->name, off);
}

/// The slope of a path is the derivative of its length, for every head in random postures within
/// the ranges in which its path holds.
Test(catalogue, slopes_of_paths_are_derivatives) {
  enum { POSTURES = 100 };
  uint64_t state = 20;
  for (size_t i = 0; i < tables->anatomy.heads.count; i++) {
    const why_head* head = &tables->anatomy.heads.at[i];
    for (int k = 0; k < POSTURES; k++) {
      why_posture posture = random_posture(head, &state);
      for (unsigned j = 0; j < head->path.coordinate_count; j++)
        expect_path_slope(head, posture, j);
    }
  }
}
