// SPDX-License-Identifier: GPL-3.0-or-later
// Joint moments of the engine against inverse dynamics of MuJoCo (version of the distribution), at
// random postures with random masses at the named load points. Both get the same tree; MuJoCo is
// given the shoulder in its own terms (three slides and three hinges), so that swing, twist and
// scapular shift are checked by the chain rule. Prints the largest difference; fails when it is
// above 1e-9 of body weight times stature.
#include "body/body.h"

#include <math.h>
#include <mujoco/mujoco.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { POSTURES = 200, TEXT = 1 << 16 };

static const double RAD_PER_DEG = 0.017453292519943295;
static const double ALLOWED = 1e-9; ///< Of body weight times stature.

static const why_tables* tables;
static const why_frame* frame;
static const why_body_model* model;

static void stop(const char* why) {
  fprintf(stderr, "%s\n", why);
  exit(1);
}

/// A number in 0..1; the same at every run.
static double draw(void) {
  static uint64_t state = 20221;
  state = state * 6364136223846793005u + 1442695040888963407u;
  return (double)(state >> 11) / 9007199254740992.0;
}

static const char* text_of(why_symbol symbol) {
  return why_symbols_text(tables->symbols, symbol);
}

static why_symbol name(const char* text) {
  return why_symbols_find(tables->symbols, text);
}

// The model's text.

typedef struct {
  char* text;
  size_t length;
} writer;

static void put(writer* w, const char* format, ...) __attribute__((format(printf, 2, 3)));

static void put(writer* w, const char* format, ...) {
  va_list arguments;
  va_start(arguments, format);
  int more = vsnprintf(w->text + w->length, TEXT - w->length, format, arguments);
  va_end(arguments);
  w->length += (size_t)more;
  if (w->length >= TEXT)
    stop("the model is too long");
}

static void put_inertia(writer* w, why_vec centre, double mass) {
  put(w, "<inertial pos='%.17g %.17g %.17g' mass='%.17g' diaginertia='.01 .01 .01'/>", centre.x,
      centre.y, centre.z, mass);
}

/// The armature keeps MuJoCo from warning of singular inertia where hinges of the shoulder line up;
/// at rest it adds nothing.
static void put_joint(writer* w, const char* what, int part, const char* type, const char* axis) {
  put(w, "<joint name='%s-%d' type='%s' axis='%s' armature='1'/>", what, part, type, axis);
}

static int is_upper_arm(int part) {
  return part == model->shoulder.upper_arm[0] || part == model->shoulder.upper_arm[1];
}

static int is_clavicle(int part) {
  return part == model->shoulder.clavicle[0] || part == model->shoulder.clavicle[1];
}

static void put_joints(writer* w, int index) {
  const why_body_part* part = &model->parts[index];
  if (part->parent < 0) {
    put_joint(w, "yaw", index, "hinge", "0 0 1");
    put_joint(w, "pitch", index, "hinge", "0 1 0");
    put_joint(w, "roll", index, "hinge", "1 0 0");
  } else if (is_upper_arm(index)) {
    put_joint(w, "slide-x", index, "slide", "1 0 0");
    put_joint(w, "slide-y", index, "slide", "0 1 0");
    put_joint(w, "slide-z", index, "slide", "0 0 1");
    put_joint(w, "first", index, "hinge", "0 0 1");
    put_joint(w, "second", index, "hinge", "1 0 0");
    put_joint(w, "third", index, "hinge", "0 0 1");
  }
  int flip = part->paired && part->side == WHY_WORKING ? -1 : 1;
  for (size_t i = 0; i < part->hinge_count; i++) {
    why_vec axis = part->hinges[i].axis;
    char words[64];
    snprintf(words, sizeof words, "%g %g %g", flip * axis.x, axis.y, flip * axis.z);
    put_joint(w, text_of(frame->ids[part->hinges[i].number]), index, "hinge", words);
  }
}

static void put_load_points(writer* w, int index) {
  for (size_t i = 0; i < tables->measurements.loads.count; i++) {
    const why_body_point* point = &tables->measurements.loads.at[i];
    const why_body_part* part = &model->parts[index];
    if (point->segment != part->segment)
      continue;
    why_vec at = why_body_point_at(model, point->at[0], part->side);
    put(w, "<body name='load-%zu-%d' pos='%.17g %.17g %.17g'>", i, part->side, at.x, at.y, at.z);
    put(w, "<inertial pos='0 0 0' mass='1' diaginertia='.001 .001 .001'/></body>");
  }
}

static void put_part(writer* w, int index) {
  const why_body_part* part = &model->parts[index];
  why_vec at = part->joint;
  put(w, "<body name='part-%d' pos='%.17g %.17g %.17g'>", index, is_upper_arm(index) ? 0 : at.x,
      is_upper_arm(index) ? 0 : at.y, is_upper_arm(index) ? 0 : at.z);
  put_inertia(w, part->centre, part->mass_kg);
  put_joints(w, index);
  put_load_points(w, index);
  for (int i = 0; i < (int)model->count; i++) {
    int parent = model->parts[i].parent;
    // The clavicle has no mass: the arm slides on the thorax instead.
    if (is_upper_arm(i))
      parent = model->shoulder.thorax;
    if (parent == index && !is_clavicle(i))
      put_part(w, i);
  }
  put(w, "</body>");
}

static mjModel* load_model(void) {
  static char text[TEXT];
  char error[400] = "";
  writer w = {text, 0};
  put(&w, "<mujoco><compiler angle='radian'/><option gravity='0 0 %.17g'/><worldbody>",
      -model->gravity);
  put_part(&w, 0);
  put(&w, "</worldbody></mujoco>");
  const char* file = "whylift-body.xml";
  static mjVFS files;
  mj_defaultVFS(&files);
  if (mj_makeEmptyFileVFS(&files, file, (int)w.length) != 0)
    stop("no room for the model");
  memcpy(files.filedata[0], text, w.length);
  mjModel* made = mj_loadXML(file, &files, error, sizeof error);
  mj_deleteVFS(&files);
  if (!made)
    stop(error);
  return made;
}

// One posture.

static int joint_of(const mjModel* m, const char* what, int part) {
  char id[80];
  snprintf(id, sizeof id, "%s-%d", what, part);
  int joint = mj_name2id(m, mjOBJ_JOINT, id);
  if (joint < 0)
    stop(id);
  return joint;
}

static void set_joint(const mjModel* m, mjData* d, const char* what, int part, double value) {
  d->qpos[m->jnt_qposadr[joint_of(m, what, part)]] = value;
}

static double moment_of(const mjModel* m, const mjData* d, const char* what, int part) {
  return d->qfrc_inverse[m->jnt_dofadr[joint_of(m, what, part)]];
}

static double angle(const why_stance* stance, const char* id, int side) {
  return stance->rad[side][why_frame_number(frame, name(id))];
}

static void draw_stance(why_stance* stance) {
  *stance = (why_stance){.pitch = 6 * draw() - 3, .roll = 3 * draw() - 1.5, .yaw = 6 * draw() - 3};
  for (size_t i = 0; i < tables->anatomy.coordinates.count; i++) {
    const why_coordinate* each = &tables->anatomy.coordinates.at[i];
    int number = why_frame_number(frame, each->id);
    for (int side = 0; side < WHY_SIDES; side++) {
      double deg = each->least_deg + draw() * (each->most_deg - each->least_deg);
      stance->rad[side][number] = deg * RAD_PER_DEG;
    }
  }
}

/// Where the shoulder centre is in the frame of the thorax, and how it moves with protraction and
/// elevation of the scapula; worked out by hand from azimuth and height.
static void shoulder_centre(const why_stance* stance, int side, double at[3], double protract[3],
                            double elevate[3]) {
  const why_body_part* clavicle = &model->parts[model->shoulder.clavicle[side]];
  double length = fabs(model->parts[model->shoulder.upper_arm[side]].joint.y);
  double p = angle(stance, "scapular-protraction", side);
  double e = angle(stance, "scapular-elevation", side);
  double out = side == WHY_OTHER ? 1 : -1;
  at[0] = clavicle->joint.x + length * sin(p) * cos(e);
  at[1] = clavicle->joint.y + out * length * cos(p) * cos(e);
  at[2] = clavicle->joint.z + length * sin(e);
  protract[0] = length * cos(p) * cos(e);
  protract[1] = -out * length * sin(p) * cos(e);
  protract[2] = 0;
  elevate[0] = -length * sin(p) * sin(e);
  elevate[1] = -out * length * cos(p) * sin(e);
  elevate[2] = length * cos(e);
}

static void set_shoulder(const mjModel* m, mjData* d, const why_stance* stance, int side) {
  double at[3];
  double protract[3];
  double elevate[3];
  int arm = model->shoulder.upper_arm[side];
  double sense = side == WHY_OTHER ? 1 : -1;
  double plane = angle(stance, "shoulder-plane", side);
  shoulder_centre(stance, side, at, protract, elevate);
  set_joint(m, d, "slide-x", arm, at[0]);
  set_joint(m, d, "slide-y", arm, at[1]);
  set_joint(m, d, "slide-z", arm, at[2]);
  set_joint(m, d, "first", arm, -sense * plane);
  set_joint(m, d, "second", arm, sense * angle(stance, "shoulder-elevation", side));
  set_joint(m, d, "third", arm, sense * (plane - angle(stance, "shoulder-rotation", side)));
}

static void set_posture(const mjModel* m, mjData* d, const why_stance* stance) {
  set_joint(m, d, "yaw", 0, stance->yaw);
  set_joint(m, d, "pitch", 0, stance->pitch);
  set_joint(m, d, "roll", 0, stance->roll);
  for (int i = 1; i < (int)model->count; i++) {
    const why_body_part* part = &model->parts[i];
    for (size_t j = 0; !is_clavicle(i) && j < part->hinge_count; j++) {
      int number = part->hinges[j].number;
      set_joint(m, d, text_of(frame->ids[number]), i, stance->rad[part->side][number]);
    }
  }
  for (int side = 0; side < WHY_SIDES; side++)
    set_shoulder(m, d, stance, side);
}

/// Draw a mass for every load point and side: for MuJoCo, and as resistances of an exercise.
static void draw_masses(mjModel* m, why_exercise* exercise) {
  static const char* const SIDES[] = {"working", "other"};
  size_t count = 0;
  for (size_t i = 0; i < tables->measurements.loads.count; i++) {
    const why_body_point* point = &tables->measurements.loads.at[i];
    for (int side = 0; side < (point->paired ? WHY_SIDES : 1); side++) {
      char id[40];
      snprintf(id, sizeof id, "load-%zu-%d", i, side);
      int body = mj_name2id(m, mjOBJ_BODY, id);
      if (body < 0)
        stop(id);
      double mass = 0.1 + 50 * draw();
      m->body_mass[body] = mass;
      why_resistance* each = &exercise->resistances.at[count++];
      *each = (why_resistance){.kind = name("mass"),
                               .at = point->id,
                               .side = name(SIDES[side]),
                               .body_masses = mass / model->mass_kg};
      for (int j = 0; j < WHY_POSITIONS; j++)
        each->forces[j].share = 1;
    }
  }
  exercise->resistances.count = count;
}

// The comparison.

typedef struct {
  double largest;
  char where[80];
  size_t compared;
} result;

static void compare(result* r, const why_statics* statics, int number, int side, double expected) {
  const why_demand* demand = &statics->demands.at[side][number];
  double off = fabs(demand->body + demand->load - expected);
  if (!demand->there)
    stop("a coordinate has no demand");
  r->compared++;
  // Written so that what is not a number fails too.
  if (!(off <= r->largest)) {
    r->largest = off;
    snprintf(r->where, sizeof r->where, "%s, side %d", text_of(frame->ids[number]), side);
  }
}

static int number_of(const char* id) {
  return why_frame_number(frame, name(id));
}

static void compare_shoulder(result* r, const mjModel* m, const mjData* d,
                             const why_statics* statics, int side) {
  double at[3];
  double protract[3];
  double elevate[3];
  int arm = model->shoulder.upper_arm[side];
  double sense = side == WHY_OTHER ? 1 : -1;
  shoulder_centre(&statics->stance, side, at, protract, elevate);
  double slide[3] = {moment_of(m, d, "slide-x", arm), moment_of(m, d, "slide-y", arm),
                     moment_of(m, d, "slide-z", arm)};
  double first = sense * moment_of(m, d, "first", arm);
  double second = sense * moment_of(m, d, "second", arm);
  double third = sense * moment_of(m, d, "third", arm);
  compare(r, statics, number_of("scapular-protraction"), side,
          slide[0] * protract[0] + slide[1] * protract[1] + slide[2] * protract[2]);
  compare(r, statics, number_of("scapular-elevation"), side,
          slide[0] * elevate[0] + slide[1] * elevate[1] + slide[2] * elevate[2]);
  compare(r, statics, number_of("shoulder-plane"), side, third - first);
  compare(r, statics, number_of("shoulder-elevation"), side, second);
  compare(r, statics, number_of("shoulder-rotation"), side, -third);
  double plane = angle(&statics->stance, "shoulder-plane", side);
  double elevation = angle(&statics->stance, "shoulder-elevation", side);
  double around = (third - first) / elevation;
  compare(r, statics, number_of("shoulder-abduction-part"), side,
          second * cos(plane) - around * sin(plane));
  compare(r, statics, number_of("shoulder-flexion-part"), side,
          second * sin(plane) + around * cos(plane));
}

static void compare_all(result* r, const mjModel* m, const mjData* d, const why_statics* statics) {
  for (int i = 1; i < (int)model->count; i++) {
    const why_body_part* part = &model->parts[i];
    for (size_t j = 0; !is_clavicle(i) && j < part->hinge_count; j++) {
      int number = part->hinges[j].number;
      compare(r, statics, number, part->side, moment_of(m, d, text_of(frame->ids[number]), i));
    }
  }
  for (int side = 0; side < WHY_SIDES; side++)
    compare_shoulder(r, m, d, statics, side);
}

static result run(mjModel* m, mjData* d) {
  static why_statics statics;
  static why_resistance resistances[64];
  why_symbol held[] = {name("pelvis")};
  why_exercise exercise = {.unilateral = true, .region = name("shoulder")};
  exercise.fixed.at = held;
  exercise.fixed.count = 1;
  exercise.resistances.at = resistances;
  result r = {0};
  for (int i = 0; i < POSTURES; i++) {
    why_stance stance;
    draw_stance(&stance);
    draw_masses(m, &exercise);
    mj_setConst(m, d);
    mj_resetData(m, d);
    set_posture(m, d, &stance);
    mj_inverse(m, d);
    why_statics_find_in(model, &exercise, &stance, 0, 1, &statics);
    compare_all(&r, m, d, &statics);
  }
  return r;
}

int main(void) {
  why_arena* arena = why_arena_new(0);
  why_problems* problems = why_problems_new();
  why_tables* opened = NULL;
  why_tables_open(WHY_HOME, NULL, arena, problems, &opened);
  tables = opened;
  frame = why_frame_new(tables, arena);
  if (why_body_model_new(frame, tables, 0, 0, arena, &model) != WHY_OK)
    stop("no body");
  mjModel* m = load_model();
  mjData* d = mj_makeData(m);
  result r = run(m, d);
  double share = r.largest / (model->mass_kg * model->gravity * model->stature_m);
  printf("MuJoCo %s: %d postures, %zu moments, largest difference %.3g N m (%s), %.3g of body "
         "weight times stature\n",
         mj_versionString(), POSTURES, r.compared, r.largest, r.where, share);
  mj_deleteData(d);
  mj_deleteModel(m);
  why_problems_free(problems);
  why_arena_free(arena);
  return share <= ALLOWED ? 0 : 1;
}
