// SPDX-License-Identifier: GPL-3.0-or-later
// Turns resistances into forces at points and moments of levers.
#include "load.h"

#include <string.h>

/// What the parts of this file hand to each other.
typedef struct {
  const why_body_model* model;
  const why_exercise* exercise;
  const why_pose* pose;
  double at;
  double factor;
  why_loading* loading;
} loader;

static bool is(const loader* l, why_symbol symbol, const char* text) {
  return strcmp(why_symbols_text(l->model->tables->symbols, symbol), text) == 0;
}

static void add_force(why_loading* loading, int part, why_vec at, why_vec body, why_vec load) {
  if (part >= 0 && loading->count < WHY_APPLIED)
    loading->at[loading->count++] = (why_applied){part, at, body, load};
}

static void add_weight(const loader* l) {
  for (size_t i = 0; i < l->model->count; i++) {
    const why_body_part* part = &l->model->parts[i];
    if (part->mass_kg > 0)
      add_force(l->loading, (int)i, why_pose_point(l->pose, (int)i, part->centre),
                (why_vec){0, 0, -part->mass_kg * l->model->gravity}, (why_vec){0, 0, 0});
  }
}

/// Share and direction between two positions; a weight always pulls down.
static why_vec pull_of(const loader* l, const why_resistance* resistance) {
  int first = l->at < 1 ? 0 : 1;
  double part = l->at - first;
  const why_force* a = &resistance->forces[first];
  const why_force* b = &resistance->forces[first + 1];
  double share = a->share + part * (b->share - a->share);
  if (is(l, resistance->kind, "mass"))
    return (why_vec){0, 0, -share};
  why_vec from = why_vec_unit(why_vec_of(a->direction));
  why_vec to = why_vec_unit(why_vec_of(b->direction));
  why_vec way = why_vec_add(why_vec_scale(from, 1 - part), why_vec_scale(to, part));
  return why_vec_scale(why_vec_unit(way), share);
}

/// The trunk's, legs' and neck's exercises hold a load in both hands even when one side works.
static bool is_of_arm(const loader* l) {
  static const char* const ARM[] = {"shoulder", "scapula", "elbow", "forearm", "wrist"};
  for (size_t i = 0; i < sizeof ARM / sizeof *ARM; i++)
    if (is(l, l->exercise->region, ARM[i]))
      return true;
  return false;
}

static bool acts_on(const loader* l, const why_resistance* resistance, int side) {
  if (resistance->side)
    return is(l, resistance->side, "both") ||
           is(l, resistance->side, side == WHY_WORKING ? "working" : "other");
  if (!l->exercise->unilateral || side == WHY_WORKING)
    return true;
  return is(l, resistance->at, "hands") && !is_of_arm(l);
}

static double newtons_of(const loader* l, const why_resistance* resistance) {
  if (!isfinite(resistance->body_masses))
    return 0;
  return resistance->body_masses * l->model->mass_kg * l->model->gravity * l->factor;
}

static void add_resistance(const loader* l, const why_resistance* resistance) {
  const why_body_point* point =
      why_load_point_find(&l->model->tables->measurements, resistance->at);
  if (!point)
    return;
  why_vec pull = why_vec_scale(pull_of(l, resistance), newtons_of(l, resistance));
  int sides = 0;
  for (int side = 0; side < WHY_SIDES; side++)
    sides += acts_on(l, resistance, side);
  for (int side = 0; side < (point->paired ? WHY_SIDES : 1); side++) {
    if (point->paired && !acts_on(l, resistance, side))
      continue;
    int part = why_body_part_find(l->model, point->segment, side);
    if (part < 0)
      continue;
    why_vec at = why_pose_point(l->pose, part, why_body_point_at(l->model, point->at[0], side));
    bool mirrored = point->paired && side == WHY_OTHER && !l->exercise->unilateral;
    why_vec force =
        why_vec_scale(mirrored ? why_vec_mirror(pull) : pull, point->paired ? 1.0 / sides : 1);
    add_force(l->loading, part, at, (why_vec){0, 0, 0}, force);
  }
}

/// The turn that an action is, and the part that it turns; several coordinates that change by the
/// same amount add up.
static why_vec turn_of(const loader* l, const why_action* action, int side, int* part) {
  why_vec turn = {0, 0, 0};
  *part = -1;
  for (size_t i = 0; i < action->along.count; i++) {
    int number = why_frame_number(l->model->frame, action->along.at[i]);
    const why_freedom* freedom = why_pose_freedom(l->pose, number, side);
    if (!freedom)
      continue;
    turn = why_vec_add(turn, freedom->turn);
    *part = freedom->part;
  }
  return turn;
}

static void add_lever(const loader* l, const why_resistance* resistance) {
  const why_action* action = why_action_find(l->model->frame->anatomy, resistance->drives);
  if (!action)
    return;
  int first = l->at < 1 ? 0 : 1;
  double a = resistance->forces[first].share;
  double share = a + (l->at - first) * (resistance->forces[first + 1].share - a);
  for (int side = 0; side < (l->exercise->unilateral ? 1 : WHY_SIDES); side++) {
    int part = -1;
    why_vec turn = turn_of(l, action, side, &part);
    if (part < 0 || l->loading->lever_count == WHY_LEVERS)
      continue;
    double halves = !l->exercise->unilateral && l->model->parts[part].paired ? 2 : 1;
    double size = newtons_of(l, resistance) * l->model->machine_lever_m * share / halves;
    double per_turn = -action->sign * size / why_vec_dot(turn, turn);
    l->loading->levers[l->loading->lever_count++] =
        (why_lever){part, why_vec_scale(turn, per_turn)};
  }
}

void why_loading_find(const why_body_model* model, const why_exercise* exercise,
                      const why_pose* pose, double at, double factor, why_loading* loading) {
  *loading = (why_loading){.count = 0};
  loader l = {model, exercise, pose, at, factor, loading};
  add_weight(&l);
  for (size_t i = 0; i < exercise->resistances.count; i++) {
    const why_resistance* resistance = &exercise->resistances.at[i];
    if (is(&l, resistance->kind, "lever"))
      add_lever(&l, resistance);
    else if (!is(&l, resistance->kind, "body"))
      add_resistance(&l, resistance);
  }
}

double why_loading_size(const why_loading* loading) {
  double sum = 0;
  for (size_t i = 0; i < loading->count; i++)
    sum += why_vec_length(loading->at[i].body) + why_vec_length(loading->at[i].load);
  return sum;
}
