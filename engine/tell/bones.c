// SPDX-License-Identifier: GPL-3.0-or-later
// Joins the origins of parts by lines, and adds the ends that no joint marks.
#include "bones.h"

#include <string.h>

/// Of a head's own length, which ends at the base of the neck: where the middle of the skull lies,
/// and half its breadth. Drawing only; no computation rests on it.
static const double SKULL = 0.62;
static const double HALF_BREADTH = 0.36;

static bool is(const why_body_model* model, const why_body_part* part, const char* segment) {
  return strcmp(why_symbols_text(model->tables->symbols, part->segment), segment) == 0;
}

static double length_of(const why_body_model* model, const why_body_part* part) {
  const why_segment* segment = why_segment_find(&model->tables->measurements, part->segment);
  return segment ? segment->stature_share * model->stature_m : 0;
}

static void add(why_bones* bones, const why_body_model* model, int part, why_vec from, why_vec to) {
  const why_body_part* of = &model->parts[part];
  if (bones->count < WHY_BONES)
    bones->at[bones->count++] = (why_bone){part, of->side, of->paired, from, to};
}

static const why_body_point* contact_called(const why_motion* motion, const char* id) {
  const why_tables* tables = motion->model->tables;
  return why_contact_point_find(&tables->measurements, why_symbols_find(tables->symbols, id));
}

static bool touches(const why_motion* motion, const why_body_point* point) {
  for (size_t i = 0; i < motion->exercise->contacts.count; i++)
    if (motion->exercise->contacts.at[i].point == point->id)
      return true;
  return false;
}

/// Ankle, heel, tip of the toes: the sole lies where the contact "heel" is.
static void add_foot(why_bones* bones, const why_motion* motion, const why_pose* pose, int part) {
  const why_body_model* model = motion->model;
  const why_body_point* back = contact_called(motion, "heel");
  const why_body_point* ball = contact_called(motion, "ball");
  if (!back || !ball)
    return;
  double x = back->at[0][0] * model->stature_m;
  double z = back->at[0][2] * model->stature_m;
  double tip = x + length_of(model, &model->parts[part]);
  if (touches(motion, ball) && !touches(motion, back))
    tip = ball->at[0][0] * model->stature_m;
  why_vec ankle = pose->origin[part];
  why_vec heel = why_pose_point(pose, part, (why_vec){x, 0, z});
  why_vec toe = why_pose_point(pose, part, (why_vec){tip, 0, z});
  add(bones, model, part, ankle, heel);
  add(bones, model, part, heel, toe);
  add(bones, model, part, toe, ankle);
}

static void add_end(why_bones* bones, const why_motion* motion, const why_pose* pose, int part) {
  const why_body_model* model = motion->model;
  const why_body_part* of = &model->parts[part];
  double length = length_of(model, of);
  if (is(model, of, "head")) {
    bones->head = why_pose_point(pose, part, (why_vec){0, 0, SKULL * length});
    bones->head_m = HALF_BREADTH * length;
    add(bones, model, part, pose->origin[part],
        why_pose_point(pose, part, (why_vec){0, 0, (SKULL - HALF_BREADTH) * length}));
  } else if (is(model, of, "hand")) {
    add(bones, model, part, pose->origin[part],
        why_pose_point(pose, part, (why_vec){0, 0, -length}));
  } else if (is(model, of, "foot")) {
    add_foot(bones, motion, pose, part);
  }
}

why_bones why_bones_of(const why_motion* motion, const why_pose* pose) {
  const why_body_model* model = motion->model;
  why_bones bones = {.count = 0};
  for (int i = 0; i < (int)model->count; i++) {
    const why_body_part* part = &model->parts[i];
    // A collar bone begins on the breastbone, beside the line of the trunk: only its far end shows.
    if (part->parent >= 0 && !is(model, part, "clavicle"))
      add(&bones, model, part->parent, pose->origin[part->parent], pose->origin[i]);
    add_end(&bones, motion, pose, i);
  }
  return bones;
}
