// SPDX-License-Identifier: GPL-3.0-or-later
// Builds the tree of parts from the tables of segments and joints. Which coordinate turns which
// part about which axis is the convention of rules/anatomy/coordinates.xml, in numbers.
#include "segment.h"

#include <string.h>

static const double RAD_PER_DEG = 0.017453292519943295;

/// A segment, the joint that it hangs on, and the way from that joint to its far end.
typedef struct {
  const char* segment;
  const char* joint;
  why_vec along;
} branch;

/// Parents before children.
static const branch TREE[] = {
    {"pelvis", NULL, {0, 0, 1}},           {"thorax", "lumbar-hinge", {0, 0, 1}},
    {"head", "neck", {0, 0, 1}},           {"clavicle", "sternoclavicular", {0, 1, 0}},
    {"upper-arm", "shoulder", {0, 0, -1}}, {"forearm", "elbow", {0, 0, -1}},
    {"hand", "wrist", {0, 0, -1}},         {"thigh", "hip", {0, 0, -1}},
    {"shank", "knee", {0, 0, -1}},         {"foot", "ankle", {1, 0, 0}},
};

/// Axes are those of the left side. The trunk bends and turns to the working, right side. The
/// shoulder is not here: it is no chain of hinges but a swing and a twist.
static const struct {
  const char* segment;
  const char* coordinate;
  why_vec axis;
} HINGES[] = {
    {"thorax", "trunk-flexion", {0, 1, 0}},
    {"thorax", "trunk-lateral-flexion", {1, 0, 0}},
    {"thorax", "trunk-rotation", {0, 0, -1}},
    {"head", "neck-flexion", {0, 1, 0}},
    {"head", "neck-lateral-flexion", {1, 0, 0}},
    {"head", "neck-rotation", {0, 0, -1}},
    {"clavicle", "scapular-protraction", {0, 0, -1}},
    {"clavicle", "scapular-elevation", {1, 0, 0}},
    {"forearm", "elbow-flexion", {0, -1, 0}},
    {"forearm", "forearm-pronation", {0, 0, -1}},
    {"hand", "wrist-flexion", {-1, 0, 0}},
    {"hand", "wrist-ulnar-deviation", {0, 1, 0}},
    {"thigh", "hip-flexion", {0, -1, 0}},
    {"thigh", "hip-abduction", {1, 0, 0}},
    {"thigh", "hip-rotation", {0, 0, -1}},
    {"shank", "knee-flexion", {0, 1, 0}},
    {"foot", "ankle-dorsiflexion", {0, -1, 0}},
};

static const why_segment_joint* find_joint(const why_tables* tables, const char* id) {
  why_symbol symbol = why_symbols_find(tables->symbols, id);
  for (size_t i = 0; i < tables->measurements.joints.count; i++)
    if (tables->measurements.joints.at[i].id == symbol)
      return &tables->measurements.joints.at[i];
  return NULL;
}

int why_body_part_find(const why_body_model* model, why_symbol segment, int side) {
  for (size_t i = 0; i < model->count; i++) {
    const why_body_part* part = &model->parts[i];
    if (part->segment == segment && (part->side == side || !part->paired))
      return (int)i;
  }
  return -1;
}

bool why_body_part_hangs_on(const why_body_model* model, int part, int ancestor) {
  return model->parts[part].chain >> ancestor & 1;
}

why_vec why_body_point_at(const why_body_model* model, const double shares[3], int side) {
  why_vec left = why_vec_scale(why_vec_of(shares), model->stature_m);
  return side == WHY_OTHER ? left : why_vec_mirror(left);
}

double why_body_constant(const why_tables* tables, const char* id, why_symbol of) {
  const why_quantity* found = why_quantity_find(&tables->measurements, tables->symbols, id, of);
  return found ? found->amount.value : NAN;
}

static why_status read_constants(why_body_model* model, double stature_m, double mass_kg) {
  const why_tables* tables = model->tables;
  model->gravity = why_body_constant(tables, "gravity", 0);
  model->friction = why_body_constant(tables, "friction", 0);
  model->palm_offset = why_body_constant(tables, "palm-offset", 0);
  model->machine_lever_m = why_body_constant(tables, "machine-lever", 0);
  model->undetermined_share = why_body_constant(tables, "undetermined-share", 0);
  model->balance_tolerance = why_body_constant(tables, "balance-tolerance", 0);
  model->least_demand_nm = why_body_constant(tables, "least-demand", 0);
  model->stature_m = stature_m > 0 ? stature_m : why_body_constant(tables, "default-stature", 0);
  model->mass_kg = mass_kg > 0 ? mass_kg : why_body_constant(tables, "default-mass", 0);
  double postures = why_body_constant(tables, "postures-in-path", 0);
  double sum = model->gravity + model->friction + model->palm_offset + model->machine_lever_m +
               model->undetermined_share + model->balance_tolerance + model->least_demand_nm +
               model->stature_m + model->mass_kg + postures;
  if (!isfinite(sum) || postures < 2)
    return WHY_KNOWLEDGE;
  model->path_count = (size_t)postures;
  return WHY_OK;
}

/// Where the centre of mass lies, left side. A foot is measured along the sole from the heel, and
/// its centre lies half-way between sole and ankle.
static why_vec centre_of(const why_body_model* model, const why_segment* segment,
                         const branch* from) {
  if (!(segment->centre_share > 0))
    return (why_vec){0, 0, 0};
  double far = segment->centre_share * segment->stature_share * model->stature_m;
  why_vec centre = why_vec_scale(from->along, far);
  const why_tables* tables = model->tables;
  const why_body_point* heel =
      why_contact_point_find(&tables->measurements, why_symbols_find(tables->symbols, "heel"));
  if (strcmp(from->segment, "foot") == 0 && heel) {
    centre.x += heel->at[0][0] * model->stature_m;
    centre.z = heel->at[0][2] * model->stature_m / 2;
  }
  return centre;
}

static void add_hinges(const why_body_model* model, const branch* from, why_body_part* part) {
  for (size_t i = 0; i < sizeof HINGES / sizeof *HINGES; i++) {
    if (strcmp(HINGES[i].segment, from->segment) != 0)
      continue;
    why_symbol id = why_symbols_find(model->tables->symbols, HINGES[i].coordinate);
    int number = id ? why_frame_number(model->frame, id) : -1;
    if (number >= 0)
      part->hinges[part->hinge_count++] = (why_hinge){number, HINGES[i].axis};
  }
}

static why_status add_part(why_body_model* model, const branch* from, int side) {
  const why_tables* tables = model->tables;
  const why_segment* segment =
      why_segment_find(&tables->measurements, why_symbols_find(tables->symbols, from->segment));
  const why_segment_joint* joint = from->joint ? find_joint(tables, from->joint) : NULL;
  if (!segment || (from->joint && !joint))
    return WHY_KNOWLEDGE;
  why_body_part part = {.segment = segment->id,
                        .side = side,
                        .paired = segment->paired,
                        .parent = -1,
                        .mass_kg = segment->body_share * model->mass_kg,
                        .centre = centre_of(model, segment, from)};
  if (joint) {
    part.parent = why_body_part_find(model, joint->proximal, side);
    part.joint = why_body_point_at(model, joint->at, segment->paired ? side : WHY_OTHER);
    if (part.parent < 0)
      return WHY_KNOWLEDGE;
  }
  part.chain = (part.parent < 0 ? 0 : model->parts[part.parent].chain) | 1u << model->count;
  add_hinges(model, from, &part);
  model->parts[model->count++] = part;
  return WHY_OK;
}

static why_status add_parts(why_body_model* model) {
  for (size_t i = 0; i < sizeof TREE / sizeof *TREE; i++) {
    const why_segment* segment = why_segment_find(
        &model->tables->measurements, why_symbols_find(model->tables->symbols, TREE[i].segment));
    for (int side = 0; side < (segment && segment->paired ? WHY_SIDES : 1); side++) {
      why_status status = add_part(model, &TREE[i], side);
      if (status != WHY_OK)
        return status;
    }
  }
  return WHY_OK;
}

static void note_shoulder(why_body_model* model) {
  const why_symbols* symbols = model->tables->symbols;
  for (int side = 0; side < WHY_SIDES; side++) {
    model->shoulder.upper_arm[side] =
        why_body_part_find(model, why_symbols_find(symbols, "upper-arm"), side);
    model->shoulder.clavicle[side] =
        why_body_part_find(model, why_symbols_find(symbols, "clavicle"), side);
  }
  model->head = why_body_part_find(model, why_symbols_find(symbols, "head"), WHY_WORKING);
  model->shoulder.thorax =
      why_body_part_find(model, why_symbols_find(symbols, "thorax"), WHY_WORKING);
}

why_status why_body_model_new(const why_frame* frame, const why_tables* tables, double stature_m,
                              double mass_kg, why_arena* arena, const why_body_model** made) {
  why_body_model* model = WHY_NEW(arena, why_body_model);
  model->frame = frame;
  model->tables = tables;
  why_status status = read_constants(model, stature_m, mass_kg);
  if (status == WHY_OK)
    status = add_parts(model);
  note_shoulder(model);
  *made = model;
  return status;
}

static double between(double a, double b, double share) {
  return a + share * (b - a);
}

why_stance why_stance_of(const why_frame* frame, const why_exercise* exercise, double at) {
  int first = at < 1 ? 0 : 1;
  double share = at - first;
  const why_position* a = &exercise->positions[first];
  const why_position* b = &exercise->positions[first + 1];
  why_stance made = {
      .pitch = between(a->pelvis_pitch_deg, b->pelvis_pitch_deg, share) * RAD_PER_DEG,
      .roll = between(a->pelvis_roll_deg, b->pelvis_roll_deg, share) * RAD_PER_DEG,
      .yaw = between(a->pelvis_yaw_deg, b->pelvis_yaw_deg, share) * RAD_PER_DEG,
  };
  for (int side = 0; side < WHY_SIDES; side++)
    for (size_t i = 0; i < frame->count; i++)
      made.rad[side][i] = RAD_PER_DEG * between(why_position_angle(a, frame->ids[i], side),
                                                why_position_angle(b, frame->ids[i], side), share);
  return made;
}
