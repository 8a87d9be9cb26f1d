// SPDX-License-Identifier: GPL-3.0-or-later
// Places the parts of the body one after the other, parents first, and keeps the axis of each
// coordinate as it passes.
#include "pose.h"

why_vec why_pose_point(const why_pose* pose, int part, why_vec local) {
  return why_vec_add(pose->origin[part], why_axes_apply(&pose->axes[part], local));
}

why_vec why_pose_centre(const why_body_model* model, const why_pose* pose) {
  why_vec sum = {0, 0, 0};
  double mass = 0;
  for (size_t i = 0; i < model->count; i++) {
    const why_body_part* part = &model->parts[i];
    sum =
        why_vec_add(sum, why_vec_scale(why_pose_point(pose, (int)i, part->centre), part->mass_kg));
    mass += part->mass_kg;
  }
  return why_vec_scale(sum, 1 / mass);
}

why_vec why_freedom_move(const why_freedom* freedom, why_vec point) {
  return why_vec_add(why_vec_cross(freedom->turn, why_vec_subtract(point, freedom->pivot)),
                     freedom->shift);
}

const why_freedom* why_pose_freedom(const why_pose* pose, int number, int side) {
  for (size_t i = 0; i < pose->count; i++)
    if (pose->freedoms[i].number == number && pose->freedoms[i].side == side)
      return &pose->freedoms[i];
  return NULL;
}

static void add_freedom(why_pose* pose, int number, int side, int part, why_vec turn) {
  if (number >= 0 && pose->count < WHY_FREEDOMS)
    pose->freedoms[pose->count++] = (why_freedom){
        .number = number, .side = side, .part = part, .turn = turn, .pivot = pose->origin[part]};
}

/// A turn to the right for what is a turn to the left on the left side: axes in the middle plane
/// change their sense in the mirror, the one across it does not.
static why_vec mirrored_axis(const why_body_part* part, why_vec axis) {
  return part->paired && part->side == WHY_WORKING ? (why_vec){-axis.x, axis.y, -axis.z} : axis;
}

static void place_by_hinges(const why_body_model* model, const why_stance* stance, int index,
                            why_pose* pose) {
  const why_body_part* part = &model->parts[index];
  why_axes axes = pose->axes[part->parent];
  for (size_t i = 0; i < part->hinge_count; i++) {
    const why_hinge* hinge = &part->hinges[i];
    why_vec axis = mirrored_axis(part, hinge->axis);
    add_freedom(pose, hinge->number, part->side, index, why_axes_apply(&axes, axis));
    why_axes turn = why_axes_turn(axis, stance->rad[part->side][hinge->number]);
    axes = why_axes_after(&axes, &turn);
  }
  pose->axes[index] = axes;
}

typedef struct {
  double plane;
  double elevation;
  double rotation;
} shoulder_angles;

static shoulder_angles angles_of(const why_body_model* model, const why_stance* stance, int side) {
  const why_shoulder_numbers* number = &model->frame->shoulder;
  const double* rad = stance->rad[side];
  return (shoulder_angles){.plane = number->plane < 0 ? 0 : rad[number->plane],
                           .elevation = number->elevation < 0 ? 0 : rad[number->elevation],
                           .rotation = number->rotation < 0 ? 0 : rad[number->rotation]};
}

/// sin(x)/x and (1 − cos x)/x, which the smooth pair needs at elevation 0 too.
static double sine_ratio(double x) {
  return fabs(x) < 1e-4 ? 1 - x * x / 6 : sin(x) / x;
}

static double versine_ratio(double x) {
  return fabs(x) < 1e-4 ? x / 2 : (1 - cos(x)) / x;
}

/// Axes of the five shoulder coordinates of a left arm, in the frame of the thorax.
typedef struct {
  why_axes arm;
  why_vec plane;
  why_vec elevation;
  why_vec rotation;
  why_vec cosine_part;
  why_vec sine_part;
} left_shoulder;

/// The swing turns by the elevation about `across`, square to the plane of elevation; the twist is
/// about the arm. With S the swing, ∂S/∂plane turns about S z − z, which is elevation times
/// `sweep`; the pair follows by the chain rule.
static left_shoulder swing_and_twist(shoulder_angles at) {
  double c = cos(at.plane);
  double s = sin(at.plane);
  why_vec down = {0, 0, -1};
  why_vec across = {c, -s, 0};
  why_axes swing = why_axes_turn(across, at.elevation);
  why_axes twist = why_axes_turn(down, at.rotation);
  why_vec sweep = why_vec_add(why_vec_scale((why_vec){s, c, 0}, -sine_ratio(at.elevation)),
                              why_vec_scale(down, versine_ratio(at.elevation)));
  return (left_shoulder){
      .arm = why_axes_after(&swing, &twist),
      .plane = why_vec_scale(sweep, at.elevation),
      .elevation = across,
      .rotation = why_vec_scale(swing.z, -1),
      .cosine_part = why_vec_subtract(why_vec_scale(across, c), why_vec_scale(sweep, s)),
      .sine_part = why_vec_add(why_vec_scale(across, s), why_vec_scale(sweep, c)),
  };
}

static why_vec turn_on_side(const why_axes* thorax, why_vec left, int side) {
  return why_axes_apply(thorax, side == WHY_OTHER ? left : (why_vec){-left.x, left.y, -left.z});
}

/// The mirror of an orientation: mirrored before and after, so that it stays one of a right-handed
/// frame.
static why_axes mirrored_axes(const why_axes* left) {
  return (why_axes){why_vec_mirror(left->x), why_vec_scale(why_vec_mirror(left->y), -1),
                    why_vec_mirror(left->z)};
}

static void place_upper_arm(const why_body_model* model, const why_stance* stance, int side,
                            why_pose* pose) {
  int index = model->shoulder.upper_arm[side];
  const why_axes* thorax = &pose->axes[model->shoulder.thorax];
  left_shoulder left = swing_and_twist(angles_of(model, stance, side));
  why_axes arm = side == WHY_OTHER ? left.arm : mirrored_axes(&left.arm);
  pose->axes[index] = why_axes_after(thorax, &arm);
  const why_shoulder_numbers* n = &model->frame->shoulder;
  add_freedom(pose, n->plane, side, index, turn_on_side(thorax, left.plane, side));
  add_freedom(pose, n->elevation, side, index, turn_on_side(thorax, left.elevation, side));
  add_freedom(pose, n->rotation, side, index, turn_on_side(thorax, left.rotation, side));
  add_freedom(pose, n->cosine_part, side, index, turn_on_side(thorax, left.cosine_part, side));
  add_freedom(pose, n->sine_part, side, index, turn_on_side(thorax, left.sine_part, side));
}

/// Scapular coordinates turn the clavicle; the arm beyond is shifted with its end.
static void let_clavicle_shift(const why_body_model* model, int side, why_pose* pose) {
  int clavicle = model->shoulder.clavicle[side];
  int arm = model->shoulder.upper_arm[side];
  for (size_t i = 0; i < pose->count; i++) {
    why_freedom* freedom = &pose->freedoms[i];
    if (freedom->part != clavicle)
      continue;
    freedom->shift = why_freedom_move(freedom, pose->origin[arm]);
    freedom->turn = (why_vec){0, 0, 0};
    freedom->part = arm;
  }
}

static why_axes pelvis_axes(const why_stance* stance) {
  why_axes yaw = why_axes_turn((why_vec){0, 0, 1}, stance->yaw);
  why_axes pitch = why_axes_turn((why_vec){0, 1, 0}, stance->pitch);
  why_axes roll = why_axes_turn((why_vec){1, 0, 0}, stance->roll);
  why_axes turned = why_axes_after(&pitch, &roll);
  return why_axes_after(&yaw, &turned);
}

void why_pose_find(const why_body_model* model, const why_stance* stance, why_pose* pose) {
  *pose = (why_pose){.count = 0};
  pose->axes[0] = pelvis_axes(stance);
  for (int i = 1; i < (int)model->count; i++) {
    const why_body_part* part = &model->parts[i];
    pose->origin[i] = why_pose_point(pose, part->parent, part->joint);
    if (i == model->shoulder.upper_arm[part->side]) {
      place_upper_arm(model, stance, part->side, pose);
      let_clavicle_shift(model, part->side, pose);
    } else {
      place_by_hinges(model, stance, i, pose);
    }
  }
}
