// SPDX-License-Identifier: GPL-3.0-or-later
// Gathers the contact points of an exercise and asks balance.c for their forces.
#include "balance.h"

#include <string.h>

/// What the parts of this file hand to each other.
typedef struct {
  const why_body_model* model;
  const why_exercise* exercise;
  const why_pose* pose;
  why_reactions* reactions;
} finder;

static bool is(const finder* f, why_symbol symbol, const char* text) {
  return strcmp(why_symbols_text(f->model->tables->symbols, symbol), text) == 0;
}

/// A flat palm carries nearer to the wrist than a grip does.
static double palm_shift(const finder* f, const why_contact* contact) {
  if (contact->pull || !is(f, contact->point, "hand"))
    return 0;
  const why_tables* tables = f->model->tables;
  const why_segment* hand =
      why_segment_find(&tables->measurements, why_symbols_find(tables->symbols, "hand"));
  return hand ? why_body_constant(f->model, "palm-offset", 0) * hand->stature_share : 0;
}

static why_reaction reaction_of(const finder* f, const why_contact* contact, int part, int side,
                                const double shares[3]) {
  double friction = contact->friction;
  double at[3] = {shares[0], shares[1], shares[2] + palm_shift(f, contact)};
  why_vec normal = why_vec_unit(why_vec_of(contact->normal));
  bool mirrored = side == WHY_OTHER && !f->exercise->unilateral;
  return (why_reaction){
      .contact = contact,
      .side = side,
      .part = part,
      .twin = -1,
      .at = why_pose_point(f->pose, part, why_body_point_at(f->model, at, side)),
      .normal = mirrored ? why_vec_mirror(normal) : normal,
      .friction = isnan(friction) ? why_body_constant(f->model, "friction", 0) : friction,
      .weight = contact->weight,
      .pull = contact->pull,
  };
}

/// A contact that pulls acts at the middle of its patch: a grip is no clamp.
static size_t patch_of(const why_body_point* point, bool pull, double patch[WHY_PATCH_POINTS][3]) {
  for (int j = 0; j < 3; j++) {
    double sum = 0;
    for (size_t i = 0; i < point->count; i++) {
      patch[i][j] = point->at[i][j];
      sum += point->at[i][j];
    }
    if (pull)
      patch[0][j] = sum / (double)point->count;
  }
  return pull ? 1 : point->count;
}

/// A patch in the middle of the body is its own mirror image; it carries once for both sides.
static bool is_in_middle(const finder* f, const why_body_point* point, int part) {
  double sum = 0;
  for (size_t i = 0; i < point->count; i++)
    sum += point->at[i][1];
  return !f->model->parts[part].paired && fabs(sum) < 1e-12;
}

static void add_side(const finder* f, const why_contact* contact, int side) {
  const why_body_point* point =
      why_contact_point_find(&f->model->tables->measurements, contact->point);
  int part = point ? why_body_part_find(f->model, point->segment, side) : -1;
  if (part < 0)
    return;
  bool both = is(f, contact->side, "both");
  if (both && side == WHY_OTHER && is_in_middle(f, point, part))
    return;
  double patch[WHY_PATCH_POINTS][3];
  size_t points = patch_of(point, contact->pull, patch);
  for (size_t i = 0; i < points && f->reactions->count < WHY_REACTIONS; i++) {
    size_t here = f->reactions->count++;
    f->reactions->at[here] = reaction_of(f, contact, part, side, patch[i]);
    if (both && side == WHY_OTHER) {
      f->reactions->at[here].twin = (int)(here - points);
      f->reactions->at[here - points].twin = (int)here;
    }
  }
}

static void add_contacts(const finder* f) {
  for (size_t i = 0; i < f->exercise->contacts.count; i++) {
    const why_contact* contact = &f->exercise->contacts.at[i];
    bool both = is(f, contact->side, "both");
    if (both || is(f, contact->side, "working"))
      add_side(f, contact, WHY_WORKING);
    if (both || is(f, contact->side, "other"))
      add_side(f, contact, WHY_OTHER);
  }
}

static why_vec middle_of(const why_reactions* reactions) {
  why_vec sum = {0, 0, 0};
  for (size_t i = 0; i < reactions->count; i++)
    sum = why_vec_add(sum, reactions->at[i].at);
  return reactions->count ? why_vec_scale(sum, 1 / (double)reactions->count) : sum;
}

/// Minus the wrench of the loading about `middle`, in units of `unit` newtons: body and load part.
static void wanted_of(const why_loading* loading, why_vec middle, double unit, why_wrench* body,
                      why_wrench* load) {
  *body = *load = (why_wrench){{0}};
  for (size_t i = 0; i < loading->count; i++) {
    why_vec arm = why_vec_subtract(loading->at[i].at, middle);
    why_wrench b = why_wrench_of(arm, loading->at[i].body);
    why_wrench l = why_wrench_of(arm, loading->at[i].load);
    for (int j = 0; j < WHY_SIX; j++) {
      body->at[j] -= b.at[j] / unit;
      load->at[j] -= l.at[j] / unit;
    }
  }
}

/// The residual: what the loading asks for and the forces do not give.
static void note_residual(const finder* f, why_vec middle, const why_wrench* wanted, double unit) {
  why_reactions* reactions = f->reactions;
  why_vec force = why_vec_scale(why_vec_of(&wanted->at[0]), -unit);
  why_vec moment = why_vec_scale(why_vec_of(&wanted->at[3]), -unit);
  for (size_t i = 0; i < reactions->count; i++) {
    const why_reaction* each = &reactions->at[i];
    why_vec sum = why_vec_add(each->body, each->load);
    force = why_vec_add(force, sum);
    moment = why_vec_add(moment, why_vec_cross(why_vec_subtract(each->at, middle), sum));
  }
  reactions->residual = force;
  reactions->residual_moment = moment;
  reactions->imbalance =
      fmax(why_vec_length(force), why_vec_length(moment) / f->model->stature_m) / unit;
}

static void solve(const finder* f, const why_loading* loading) {
  why_reactions* reactions = f->reactions;
  why_vec arms[WHY_REACTIONS];
  why_vec forces[WHY_REACTIONS];
  why_vec of_load[WHY_REACTIONS];
  why_wrench body;
  why_wrench load;
  why_wrench multipliers;
  why_vec middle = middle_of(reactions);
  double unit = why_loading_size(loading);
  wanted_of(loading, middle, unit, &body, &load);
  why_balance balance = {.count = reactions->count, .points = reactions->at, .arms = arms};
  for (int j = 0; j < WHY_SIX; j++)
    balance.wanted.at[j] = body.at[j] + load.at[j];
  for (size_t i = 0; i < reactions->count; i++)
    arms[i] = why_vec_subtract(reactions->at[i].at, middle);
  reactions->settled = why_balance_solve(&balance, &multipliers, forces);
  why_balance_answer(&balance, &multipliers, &load, of_load);
  for (size_t i = 0; i < reactions->count; i++) {
    reactions->at[i].load = why_vec_scale(of_load[i], unit);
    reactions->at[i].body = why_vec_scale(why_vec_subtract(forces[i], of_load[i]), unit);
  }
  note_residual(f, middle, &balance.wanted, unit);
}

void why_reactions_find(const why_body_model* model, const why_exercise* exercise,
                        const why_pose* pose, const why_loading* loading,
                        why_reactions* reactions) {
  *reactions = (why_reactions){.held = exercise->fixed.count > 0, .settled = true};
  finder f = {model, exercise, pose, reactions};
  add_contacts(&f);
  if (!reactions->held)
    solve(&f, loading);
}

/// The directions in which a loaded point may choose another force. Along a surface a force reaches
/// no further than friction lets it, so such a direction counts by the coefficient.
static size_t open_directions(const why_reaction* point, double norm, why_vec directions[3]) {
  static const why_vec UNIT[3] = {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
  why_vec force = why_vec_add(point->body, point->load);
  if (why_vec_length(force) <= 1e-9 * norm)
    return 0;
  double along = point->pull ? 1 : fmin(point->friction, 1);
  for (int i = 0; i < 3; i++) {
    double n = why_vec_dot(point->normal, UNIT[i]);
    directions[i] =
        why_vec_add(why_vec_scale(UNIT[i], along), why_vec_scale(point->normal, n * (1 - along)));
  }
  return 3;
}

/// Half the slope of a point and half the mirrored slope of its twin: what a change that is alike
/// on both sides feels.
static why_vec slope_for_choice(const why_exercise* exercise, const why_reactions* reactions,
                                const why_vec* slopes, size_t i) {
  int twin = reactions->at[i].twin;
  if (exercise->unilateral || twin < 0)
    return slopes[i];
  return why_vec_scale(why_vec_add(slopes[i], why_vec_mirror(slopes[twin])), 0.5);
}

/// One free force component of the choice: its wrench and slope, both scaled by √weight.
typedef struct {
  why_wrench wrench;
  double slope;
} component;

static double length_outside(const component* components, size_t count) {
  double matrix[WHY_SIX * WHY_SIX] = {0};
  why_wrench right = {{0}};
  why_wrench answer;
  for (size_t k = 0; k < count; k++) {
    for (int i = 0; i < WHY_SIX; i++) {
      right.at[i] += components[k].wrench.at[i] * components[k].slope;
      for (int j = 0; j < WHY_SIX; j++)
        matrix[i * WHY_SIX + j] += components[k].wrench.at[i] * components[k].wrench.at[j];
    }
  }
  why_six_solve(matrix, right.at, answer.at);
  double sum = 0;
  for (size_t k = 0; k < count; k++) {
    double left = components[k].slope;
    for (int i = 0; i < WHY_SIX; i++)
      left -= components[k].wrench.at[i] * answer.at[i];
    sum += left * left;
  }
  return sqrt(sum);
}

double why_reactions_choice(const why_exercise* exercise, const why_reactions* reactions,
                            const why_vec* slopes, double share) {
  component components[3 * WHY_REACTIONS];
  size_t count = 0;
  double squares = 0;
  if (reactions->held)
    return 0;
  for (size_t i = 0; i < reactions->count; i++) {
    why_vec force = why_vec_add(reactions->at[i].body, reactions->at[i].load);
    squares += why_vec_dot(force, force) / reactions->at[i].weight;
  }
  double norm = sqrt(squares);
  why_vec middle = middle_of(reactions);
  for (size_t i = 0; i < reactions->count; i++) {
    const why_reaction* point = &reactions->at[i];
    why_vec directions[3];
    why_vec slope = slope_for_choice(exercise, reactions, slopes, i);
    why_vec arm = why_vec_subtract(point->at, middle);
    size_t open = open_directions(point, norm, directions);
    for (size_t d = 0; d < open; d++) {
      why_vec scaled = why_vec_scale(directions[d], sqrt(point->weight));
      components[count++] = (component){why_wrench_of(arm, scaled), why_vec_dot(slope, scaled)};
    }
  }
  return share * norm * length_outside(components, count);
}
