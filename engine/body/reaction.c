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
  return hand ? f->model->palm_offset * hand->stature_share : 0;
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
      .friction = isnan(friction) ? f->model->friction : friction,
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

why_vec why_reactions_middle(const why_reactions* reactions) {
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
  why_vec middle = why_reactions_middle(reactions);
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
