// SPDX-License-Identifier: GPL-3.0-or-later
#include "body/quantity.h"

#include <criterion/criterion.h>
#include <math.h>
#include <string.h>

/// How a quantity is made one number: as it is, its most or least, or where the most is.
typedef enum { AS_IS, MOST, LEAST, WHERE } extreme;

typedef struct quantity quantity;

typedef double measure(const quantity_bench* bench, const quantity* of, const why_posture* posture);

struct quantity {
  measure* measure;
  why_symbol of;
  why_symbol along;
  extreme extreme;
  why_symbol over; ///< Coordinate of the sweep, degree by degree.
  double from_deg;
  double to_deg;
  why_angles posture;
};

static const why_tables* tables_of(const quantity_bench* bench) {
  return bench->model->tables;
}

static const why_head* head_of(const quantity_bench* bench, why_symbol id) {
  const why_head* head = why_head_find(&tables_of(bench)->anatomy, id);
  cr_assert_not_null(head, "no head %s", why_symbols_text(tables_of(bench)->symbols, id));
  return head;
}

/// The heads of a group, or one head.
static why_symbol_list heads_of(const quantity_bench* bench, why_symbol id) {
  const why_group* group = why_group_find(&tables_of(bench)->anatomy, id);
  if (group)
    return group->heads;
  why_symbol_list one = {0};
  *WHY_LIST_ADD(bench->arena, one) = id;
  return one;
}

static const why_action* action_of(const quantity_bench* bench, why_symbol id) {
  const why_action* action = why_action_find(&tables_of(bench)->anatomy, id);
  cr_assert_not_null(action, "no action %s", why_symbols_text(tables_of(bench)->symbols, id));
  return action;
}

/// From the model body of a path to the body of the bench.
static double scale_of(const quantity_bench* bench, const why_head* head) {
  return bench->model->stature_m / head->model_stature_m;
}

static double arm_m(const quantity_bench* bench, const why_head* head, const why_posture* posture,
                    const why_action* action) {
  return scale_of(bench, head) * why_length_arm(bench->model->frame, head, posture, action);
}

/// Millimetres; of a group the mean by force.
static double measure_arm(const quantity_bench* bench, const quantity* of,
                          const why_posture* posture) {
  why_symbol_list heads = heads_of(bench, of->of);
  double moment = 0;
  double force = 0;
  for (size_t i = 0; i < heads.count; i++) {
    const why_head* head = head_of(bench, heads.at[i]);
    moment += head->force_n.value * arm_m(bench, head, posture, action_of(bench, of->along));
    force += head->force_n.value;
  }
  return 1000 * moment / force;
}

/// Centimetres, of muscle and tendon.
static double measure_length(const quantity_bench* bench, const quantity* of,
                             const why_posture* posture) {
  const why_head* head = head_of(bench, of->of);
  return 100 * scale_of(bench, head) * why_length_at(bench->model->frame, head, posture, NULL);
}

/// Greatest force at the length in that posture times the lever, newton metres.
static double moment_of(const quantity_bench* bench, const why_muscle* muscle,
                        const why_posture* posture, const why_action* action) {
  why_muscle_state state;
  why_muscle_find(bench->muscles, muscle, posture, &state);
  return state.capacity_n * why_muscle_arm(bench->muscles, muscle, posture, &state, action);
}

/// What a head and its twin of the other side give together about a joint of the middle: in the
/// same sense, or, bending and turning sidewards in an upright posture, one or the other.
static double of_both_sides(const quantity_bench* bench, const why_action* action, double moment) {
  int number = why_frame_number(bench->model->frame, action->along.at[0]);
  return bench->muscles->turned[number] ? fabs(moment) : 2 * fmax(0, moment);
}

/// Newton metres: all heads that help, each at its capacity.
static double measure_strength(const quantity_bench* bench, const quantity* of,
                               const why_posture* posture) {
  const why_action* action = action_of(bench, of->of);
  bool middle = why_effort_is_middle(bench->muscles, action);
  double sum = 0;
  for (size_t i = 0; i < bench->muscles->count; i++) {
    double moment = moment_of(bench, &bench->muscles->at[i], posture, action);
    sum += middle ? of_both_sides(bench, action, moment) : fmax(0, moment);
  }
  return sum;
}

/// Newton metres of one head or a group at capacity.
static double measure_moment(const quantity_bench* bench, const quantity* of,
                             const why_posture* posture) {
  why_symbol_list heads = heads_of(bench, of->of);
  double sum = 0;
  for (size_t i = 0; i < heads.count; i++)
    for (size_t j = 0; j < bench->muscles->count; j++)
      if (bench->muscles->at[j].head == head_of(bench, heads.at[i]))
        sum += moment_of(bench, &bench->muscles->at[j], posture, action_of(bench, of->along));
  return sum;
}

/// Length of fibres in that posture, millimetres.
static double measure_fibre_now(const quantity_bench* bench, const quantity* of,
                                const why_posture* posture) {
  const why_head* head = head_of(bench, of->of);
  double length = why_length_at(bench->model->frame, head, posture, NULL);
  return 10 * head->fibre_length_cm.value *
         why_length_fibre(bench->model->frame, head, length, NULL);
}

static double measure_pennation(const quantity_bench* bench, const quantity* of,
                                const why_posture* posture) {
  (void)posture;
  return head_of(bench, of->of)->pennation_deg.value;
}

static double sum_of_heads(const quantity_bench* bench, why_symbol of,
                           double (*figure)(const why_head* head)) {
  why_symbol_list heads = heads_of(bench, of);
  double sum = 0;
  for (size_t i = 0; i < heads.count; i++)
    sum += figure(head_of(bench, heads.at[i]));
  return sum;
}

static double volume(const why_head* head) {
  return head->volume_cm3.value;
}

static double force(const why_head* head) {
  return head->force_n.value;
}

static double cross_section(const why_head* head) {
  return head->cross_section_cm2.value;
}

static double fibre_volume(const why_head* head) {
  return head->fibre_length_cm.value * head->force_n.value;
}

static double measure_volume(const quantity_bench* bench, const quantity* of,
                             const why_posture* posture) {
  (void)posture;
  return sum_of_heads(bench, of->of, volume);
}

static double measure_force(const quantity_bench* bench, const quantity* of,
                            const why_posture* posture) {
  (void)posture;
  return sum_of_heads(bench, of->of, force);
}

static double measure_cross_section(const quantity_bench* bench, const quantity* of,
                                    const why_posture* posture) {
  (void)posture;
  return sum_of_heads(bench, of->of, cross_section);
}

/// Optimal fibre length, millimetres; of a group the mean by force.
static double measure_fibre(const quantity_bench* bench, const quantity* of,
                            const why_posture* posture) {
  (void)posture;
  return 10 * sum_of_heads(bench, of->of, fibre_volume) / sum_of_heads(bench, of->of, force);
}

static const struct {
  const char* kind;
  measure* measure;
  bool along; ///< Names an action after the head.
} MEASURES[] = {
    {"arm", measure_arm, true},
    {"length", measure_length, false},
    {"strength", measure_strength, false},
    {"moment", measure_moment, true},
    {"fibre-now", measure_fibre_now, false},
    {"pennation", measure_pennation, false},
    {"volume", measure_volume, false},
    {"force", measure_force, false},
    {"cross-section", measure_cross_section, false},
    {"fibre", measure_fibre, false},
};

void quantity_read_angles(quantity_bench* bench, why_angles* angles) {
  for (char* text = line_word(&bench->at); text; text = line_word(&bench->at)) {
    why_symbol coordinate = line_name(&bench->at, text);
    cr_assert_geq(why_frame_number(bench->model->frame, coordinate), 0, "no coordinate %s", text);
    *WHY_LIST_ADD(bench->arena, *angles) = (why_angle){coordinate, line_number(&bench->at)};
  }
}

static int position_called(const char* name) {
  static const char* const AT[WHY_POSITIONS] = {"stretched", "middle", "shortened"};
  for (int i = 0; name && i < WHY_POSITIONS; i++)
    if (strcmp(AT[i], name) == 0)
      return i;
  cr_assert(false, "no position is called %s", name ? name : "nothing");
  return 0;
}

static const why_exercise* next_exercise(quantity_bench* bench) {
  why_symbol id = line_next_name(&bench->at);
  const why_exercise* row = why_exercise_find(&tables_of(bench)->exercises, id);
  cr_assert_not_null(row, "no exercise %s", why_symbols_text(tables_of(bench)->symbols, id));
  return row;
}

static why_posture posture_of(const quantity_bench* bench, const why_angles* angles) {
  const why_frame* frame = bench->model->frame;
  why_posture made = {0};
  for (size_t i = 0; i < angles->count; i++)
    why_posture_set_deg(frame, &made, angles->at[i].coordinate, angles->at[i].deg);
  why_posture_complete(frame, &made);
  int blade = frame->shoulder.upward_rotation;
  for (size_t i = 0; i < angles->count; i++)
    if (blade >= 0 && angles->at[i].coordinate == frame->ids[blade]) // Fixed against the rhythm.
      why_posture_set_deg(frame, &made, angles->at[i].coordinate, angles->at[i].deg);
  return made;
}

/// What modifies a quantity: a sweep, further angles, or the posture of an exercise.
static void read_where(quantity_bench* bench, quantity* made) {
  for (char* text = line_word(&bench->at); text; text = line_word(&bench->at)) {
    if (strcmp(text, "over") == 0) {
      made->over = line_next_name(&bench->at);
      made->from_deg = line_number(&bench->at);
      made->to_deg = line_number(&bench->at);
    } else if (strcmp(text, "in") == 0) {
      const why_exercise* row = next_exercise(bench);
      made->posture = row->positions[position_called(line_word(&bench->at))].working;
    } else {
      cr_assert_str_eq(text, "at");
      quantity_read_angles(bench, &made->posture);
    }
  }
}

static double sweep(const quantity_bench* bench, const quantity* of) {
  double best = NAN;
  double where = NAN;
  for (double deg = of->from_deg; deg <= of->to_deg; deg++) {
    why_angles angles = {0};
    for (size_t i = 0; i < of->posture.count; i++)
      *WHY_LIST_ADD(bench->arena, angles) = of->posture.at[i];
    *WHY_LIST_ADD(bench->arena, angles) = (why_angle){of->over, deg};
    why_posture posture = posture_of(bench, &angles);
    double value = of->measure(bench, of, &posture);
    if (isnan(best) || (of->extreme == LEAST ? value < best : value > best)) {
      best = value;
      where = deg;
    }
  }
  return of->extreme == WHERE ? where : best;
}

static double measured(quantity_bench* bench, const char* kind, extreme wanted) {
  size_t row = 0;
  while (row < sizeof MEASURES / sizeof *MEASURES && strcmp(MEASURES[row].kind, kind) != 0)
    row++;
  cr_assert_lt(row, sizeof MEASURES / sizeof *MEASURES, "no quantity is called %s", kind);
  quantity made = {.measure = MEASURES[row].measure, .extreme = wanted};
  for (size_t i = 0; i < bench->posture.count; i++)
    *WHY_LIST_ADD(bench->arena, made.posture) = bench->posture.at[i];
  made.of = line_next_name(&bench->at);
  if (MEASURES[row].along)
    made.along = line_next_name(&bench->at);
  read_where(bench, &made);
  cr_assert_eq(made.over != 0, wanted != AS_IS, "a most, least or where needs an \"over\"");
  if (made.over)
    return sweep(bench, &made);
  why_posture posture = posture_of(bench, &made.posture);
  return made.measure(bench, &made, &posture);
}

/// How many times its usual load an exercise is done with; the bar is its first resistance.
static double factor_of(const quantity_bench* bench, const why_exercise* exercise, double kg) {
  cr_assert_gt(exercise->resistances.count, 0, "which load?");
  return kg / (exercise->resistances.at[0].body_masses * bench->model->mass_kg);
}

/// N m: `demand EXERCISE ACTION POSITION|most|least|where [load KG]`, `load-part` the same of the
/// load alone, `angle EXERCISE COORDINATE POSITION`, degrees.
static double demanded(quantity_bench* bench, bool load_only) {
  const why_exercise* exercise = next_exercise(bench);
  const why_action* action = action_of(bench, line_next_name(&bench->at));
  const char* place = line_word(&bench->at);
  const char* load = line_word(&bench->at);
  double factor = load ? factor_of(bench, exercise, line_number(&bench->at)) : 1;
  bool most = strcmp(place, "most") == 0;
  bool least = strcmp(place, "least") == 0;
  bool where = strcmp(place, "where") == 0;
  size_t count = most || least || where ? bench->model->path_count : 1;
  why_statics* statics = WHY_NEW(bench->arena, why_statics);
  double best = NAN;
  double best_at = NAN;
  for (size_t i = 0; i < count; i++) {
    double at = count == 1 ? position_called(place) : 2.0 * (double)i / (double)(count - 1);
    why_statics_find(bench->model, exercise, at, factor, statics);
    why_demand demand = why_demand_of(bench->model, statics, action, WHY_WORKING);
    double value = load_only ? demand.load : demand.body + demand.load;
    if (isnan(best) || (least ? value < best : value > best)) {
      best = value;
      best_at = at;
    }
  }
  return where ? best_at : best;
}

/// The greatest load that the heads can hold in the hardest posture, kg.
static double limit_of(quantity_bench* bench) {
  const why_exercise* exercise = next_exercise(bench);
  const why_effort* effort = why_effort_find(bench->sharer, exercise);
  cr_assert(effort->settled && effort->end == WHY_LOAD_REACHED, "no load limits");
  return effort->factor * exercise->resistances.at[0].body_masses * bench->model->mass_kg;
}

static double angle_of(quantity_bench* bench) {
  const why_exercise* exercise = next_exercise(bench);
  why_symbol coordinate = line_next_name(&bench->at);
  int position = position_called(line_word(&bench->at));
  return why_position_angle(&exercise->positions[position], coordinate, false);
}

double quantity_of(quantity_bench* bench, const char* kind) {
  static const char* const EXTREMES[] = {[MOST] = "most", [LEAST] = "least", [WHERE] = "where"};
  extreme wanted = AS_IS;
  for (extreme each = MOST; each <= WHERE; each++)
    if (strcmp(kind, EXTREMES[each]) == 0)
      wanted = each;
  if (wanted != AS_IS)
    kind = line_word(&bench->at);
  if (strcmp(kind, "demand") == 0 || strcmp(kind, "load-part") == 0)
    return demanded(bench, strcmp(kind, "load-part") == 0);
  if (strcmp(kind, "limit") == 0)
    return limit_of(bench);
  if (strcmp(kind, "angle") == 0)
    return angle_of(bench);
  return measured(bench, kind, wanted);
}
