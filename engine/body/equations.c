// SPDX-License-Identifier: GPL-3.0-or-later
// Assembles the sharing of one posture from its statics and the paths of its heads.
#include "equations.h"

#include <string.h>

static const double ALIKE = 1e-9; ///< Of the largest demand: both sides count as equal.

static const why_frame* frame_of(const why_equations* e) {
  return e->muscles->model->frame;
}

/// Plane and elevation are stated through the smooth pair.
static bool is_stated(const why_equations* e, int number) {
  const why_shoulder_numbers* n = &frame_of(e)->shoulder;
  return number != n->plane && number != n->elevation;
}

static bool is_of_shoulder(const why_equations* e, int number) {
  const why_shoulder_numbers* n = &frame_of(e)->shoulder;
  return number == n->cosine_part || number == n->sine_part || number == n->rotation;
}

/// Where the paths of the shoulder do not hold they are asked in a neighbouring posture; what is
/// demanded must then be told about the axes of that posture too.
static bool is_bent(const why_equations* e, int side) {
  const why_shoulder_numbers* n = &frame_of(e)->shoulder;
  const double* seen = e->share->posture[side].rad;
  const double* real = e->statics->stance.rad[side];
  return n->plane >= 0 && n->elevation >= 0 && n->rotation >= 0 &&
         (seen[n->plane] != real[n->plane] || seen[n->elevation] != real[n->elevation] ||
          seen[n->rotation] != real[n->rotation]);
}

static void bend(why_equations* e) {
  const why_shoulder_numbers* n = &frame_of(e)->shoulder;
  why_stance stance = e->statics->stance;
  for (int side = 0; side < WHY_SIDES; side++) {
    const double* seen = e->share->posture[side].rad;
    stance.rad[side][n->plane] = seen[n->plane];
    stance.rad[side][n->elevation] = seen[n->elevation];
    stance.rad[side][n->rotation] = seen[n->rotation];
  }
  why_pose_find(e->muscles->model, &stance, e->bent);
}

static void take_freedoms(const why_equations* e, const why_pose* pose, bool shoulders,
                          const why_freedom* into[WHY_SIDES][WHY_COORDINATES_LIMIT]) {
  for (size_t i = 0; i < pose->count; i++) {
    const why_freedom* each = &pose->freedoms[i];
    if (!shoulders || is_of_shoulder(e, each->number))
      into[each->side][each->number] = each;
  }
}

static void find_freedoms(why_equations* e) {
  memset(e->freedoms, 0, sizeof e->freedoms);
  take_freedoms(e, &e->statics->pose, false, e->freedoms);
  if (!is_bent(e, WHY_WORKING) && !is_bent(e, WHY_OTHER))
    return;
  bend(e);
  take_freedoms(e, e->bent, true, e->freedoms);
}

/// What is asked about a coordinate; nothing about the scapula's upward rotation, which no outside
/// load turns.
static bool asked_of(const why_equations* e, int number, int side, double* asked) {
  *asked = 0;
  if (number == frame_of(e)->shoulder.upward_rotation)
    return true;
  const why_freedom* freedom = e->freedoms[side][number];
  if (!freedom)
    return false;
  why_demand demand = e->statics->demands.at[side][number];
  if (is_of_shoulder(e, number))
    demand = why_demand_along(e->muscles->model, e->statics, freedom);
  *asked = demand.body + demand.load;
  return !demand.held;
}

typedef struct {
  bool there[WHY_SIDES][WHY_COORDINATES_LIMIT];
  double of[WHY_SIDES][WHY_COORDINATES_LIMIT];
} demands;

static void find_demands(const why_equations* e, demands* asked) {
  for (int side = 0; side < WHY_SIDES; side++)
    for (size_t i = 0; i < frame_of(e)->count; i++)
      asked->there[side][i] =
          is_stated(e, (int)i) && asked_of(e, (int)i, side, &asked->of[side][i]);
}

static bool is_middle(const why_equations* e, int number) {
  return e->freedoms[WHY_WORKING][number] && !e->freedoms[WHY_OTHER][number];
}

static double largest_of(const why_equations* e, const demands* asked) {
  double most = 1;
  for (int side = 0; side < WHY_SIDES; side++)
    for (size_t i = 0; i < frame_of(e)->count; i++)
      if (asked->there[side][i])
        most = fmax(most, fabs(asked->of[side][i]));
  return most;
}

/// Points that have no twin are alike on both sides only if they lie in the middle.
static bool is_carried_alike(const why_equations* e) {
  for (size_t i = 0; i < e->statics->reactions.count; i++) {
    const why_reaction* point = &e->statics->reactions.at[i];
    if (point->twin < 0 && e->muscles->model->parts[point->part].paired)
      return false;
  }
  return true;
}

static bool is_alike(const why_equations* e, const demands* asked) {
  const why_stance* stance = &e->statics->stance;
  double most = ALIKE * largest_of(e, asked);
  if (e->exercise->unilateral || stance->roll != 0 || stance->yaw != 0 || !is_carried_alike(e))
    return false;
  for (size_t i = 0; i < frame_of(e)->count; i++) {
    double other = is_middle(e, (int)i) ? 0 : asked->of[WHY_OTHER][i];
    if (is_middle(e, (int)i) && !e->muscles->turned[i])
      continue;
    if (asked->there[WHY_WORKING][i] && fabs(asked->of[WHY_WORKING][i] - other) > most)
      return false;
    if (e->muscles->turned[i] && stance->rad[WHY_WORKING][i] != 0)
      return false;
  }
  return true;
}

static int new_row(why_equations* e, double asked) {
  e->dual->asked[e->dual->equation_count] = asked;
  return (int)e->dual->equation_count++;
}

static why_strand* new_strand(why_equations* e, double capacity, double weight) {
  why_strand* made = &e->dual->strands[e->dual->strand_count++];
  *made = (why_strand){.capacity = capacity, .weight = weight};
  return made;
}

static void give(why_strand* strand, int row, double amount) {
  if (row < 0 || amount == 0)
    return;
  size_t at = strand->count++;
  for (; at > 0 && strand->rows[at - 1] > row; at--) {
    strand->rows[at] = strand->rows[at - 1];
    strand->gives[at] = strand->gives[at - 1];
  }
  strand->rows[at] = row;
  strand->gives[at] = amount;
}

static bool is_along(const why_equations* e, const why_action* action, int number, int sense) {
  for (size_t i = 0; action && i < action->along.count; i++)
    if (why_frame_number(frame_of(e), action->along.at[i]) == number && action->sign == sense)
      return true;
  return false;
}

/// Whether the exercise moves a coordinate in a sense; `alone`: by an action that has no other.
static bool is_moved(const why_equations* e, int number, int sense, bool alone) {
  for (size_t i = 0; i < e->exercise->moves.count; i++) {
    const why_action* action = why_action_find(frame_of(e)->anatomy, e->exercise->moves.at[i]);
    if (is_along(e, action, number, sense) && !(alone && action->along.count > 1))
      return true;
  }
  return false;
}

/// What is moved under load no ligament, pad or seat holds: it has the reserve of any joint.
static double reserve_of(const why_equations* e, int number) {
  bool moved = is_moved(e, number, 1, true) || is_moved(e, number, -1, true);
  return moved ? e->constants->least_reserve_nm : e->constants->reserves_nm[number];
}

static void add_reserve(why_equations* e, int number, int row, double weight) {
  why_strand* made = new_strand(e, reserve_of(e, number), weight);
  made->either = true;
  give(made, row, 1);
}

static void state_rows(why_equations* e, const demands* asked) {
  for (int side = 0; side < WHY_SIDES; side++) {
    for (size_t i = 0; i < frame_of(e)->count; i++) {
      bool middle = is_middle(e, (int)i);
      bool twice = e->folded && !middle;
      e->rows[side][i] = -1;
      if (side == WHY_OTHER && (middle || e->folded)) {
        e->rows[side][i] = e->rows[WHY_WORKING][i];
      } else if (asked->there[side][i] && !(e->folded && e->muscles->turned[i])) {
        e->rows[side][i] = new_row(e, (twice ? 2 : 1) * asked->of[side][i]);
        add_reserve(e, (int)i, e->rows[side][i], twice ? 2 : 1);
      }
    }
  }
}

/// Whether a head is alike in two postures: its path sees nothing else of them.
static bool is_like(const why_muscle* muscle, const why_posture* a, const why_posture* b) {
  for (size_t i = 0; i < muscle->count; i++)
    if (a->rad[muscle->numbers[i]] != b->rad[muscle->numbers[i]])
      return false;
  return a->outside == b->outside;
}

/// Ask the path of a head only where neither the other side nor the place that the search came from
/// knows it.
static void find_head(const why_equations* e, size_t index, int side) {
  const why_muscle* muscle = &e->muscles->at[index];
  const why_posture* posture = &e->share->posture[side];
  const why_share* near = e->share->near;
  why_muscle_state* state = &e->share->heads[side][index].state;
  if (side == WHY_OTHER && is_like(muscle, posture, &e->share->posture[WHY_WORKING]))
    *state = e->share->heads[WHY_WORKING][index].state;
  else if (near && is_like(muscle, posture, &near->posture[side]))
    *state = near->heads[side][index].state;
  else
    why_muscle_find(e->muscles, muscle, posture, state);
}

static void state_heads(why_equations* e) {
  for (int side = 0; side < WHY_SIDES; side++) {
    for (size_t i = 0; i < e->muscles->count; i++) {
      const why_muscle* muscle = &e->muscles->at[i];
      why_head_share* head = &e->share->heads[side][i];
      if (side == WHY_OTHER && e->folded) {
        *head = e->share->heads[WHY_WORKING][i];
        continue;
      }
      if (!e->share->posed)
        find_head(e, i, side);
      why_strand* strand = new_strand(e, head->state.capacity_n, e->folded ? 2 : 1);
      for (size_t j = 0; j < muscle->count; j++) {
        int number = muscle->numbers[j];
        double sign = side == WHY_OTHER && e->muscles->turned[number] ? -1 : 1;
        give(strand, e->rows[side][number], sign * head->state.arms[j]);
      }
    }
  }
}

/// A joint that is straight rests on its ligaments against being straightened further.
static void state_stops(why_equations* e) {
  for (int side = 0; side < (e->folded ? 1 : WHY_SIDES); side++) {
    for (size_t i = 0; i < frame_of(e)->count; i++) {
      const why_stop* stop = &e->constants->stops[i];
      if (stop->moment_nm > 0 && e->statics->stance.rad[side][i] <= stop->at_rad &&
          !is_moved(e, (int)i, 1, false))
        give(new_strand(e, stop->moment_nm, e->folded ? 2 : 1), e->rows[side][i], 1);
    }
  }
}

/// Whether shoulder blade or upper arm slide along the trunk instead of lying at it.
static bool moves_shoulder(const why_equations* e) {
  const why_shoulder_numbers* n = &frame_of(e)->shoulder;
  const int* girdle = e->constants->girdle;
  const int numbers[] = {n->plane,     n->elevation, n->cosine_part,
                         n->sine_part, girdle[0],    girdle[1]};
  for (size_t i = 0; i < sizeof numbers / sizeof *numbers; i++)
    if (is_moved(e, numbers[i], 1, false) || is_moved(e, numbers[i], -1, false))
      return true;
  return false;
}

/// Two hands that hold one thing at arm's length in front of the thighs.
static bool lies_on_thighs(const why_equations* e, const double* rad) {
  int elbow = e->constants->elbow;
  return e->exercise->joined_hands && rad[frame_of(e)->shoulder.sine_part] > 0 && elbow >= 0 &&
         rad[elbow] <= e->constants->resting_elevation_rad;
}

/// Where the upper arm hangs at the side and is not what moves, trunk and thigh carry it against
/// being pressed to them; a bar in front of the thighs rests on these.
static void state_rests(why_equations* e) {
  const why_shoulder_numbers* n = &frame_of(e)->shoulder;
  if (n->elevation < 0 || moves_shoulder(e))
    return;
  for (int side = 0; side < (e->folded ? 1 : WHY_SIDES); side++) {
    const double* rad = e->share->posture[side].rad;
    double weight = e->folded ? 2 : 1;
    if (rad[n->elevation] > e->constants->resting_elevation_rad)
      continue;
    give(new_strand(e, e->constants->upper_arm_rest_nm, weight), e->rows[side][n->cosine_part], 1);
    if (lies_on_thighs(e, rad))
      give(new_strand(e, e->constants->upper_arm_rest_nm, weight), e->rows[side][n->sine_part], 1);
  }
}

/// What a force on a part gives to every equation: a row and a slope each.
static size_t find_slopes(const why_equations* e, int part, why_vec at, int* rows, why_vec* gives) {
  size_t count = 0;
  for (int side = 0; side < WHY_SIDES; side++) {
    for (size_t i = 0; i < frame_of(e)->count && count < WHY_SUPPORT_ROWS; i++) {
      const why_freedom* freedom = e->freedoms[side][i];
      if (!freedom || e->rows[side][i] < 0 || (side == WHY_OTHER && is_middle(e, (int)i)))
        continue;
      why_vec slope = why_demand_slope(e->muscles->model, e->statics, freedom, part, at);
      if (slope.x == 0 && slope.y == 0 && slope.z == 0)
        continue;
      rows[count] = e->rows[side][i];
      gives[count++] = why_vec_scale(slope, -1);
    }
  }
  return count;
}

/// The six rows by which changes of contact forces keep the balance; the mirror leaves three.
static void state_balance(why_equations* e) {
  static const bool ALIKE_IN_MIRROR[6] = {true, false, true, false, true, false};
  for (int i = 0; i < 6; i++)
    e->balance[i] = e->folded && !ALIKE_IN_MIRROR[i] ? -1 : new_row(e, 0);
}

static void give_balance(const why_equations* e, why_vec arm, why_support* support) {
  const why_vec rows[6] = {{1, 0, 0},          {0, 1, 0},          {0, 0, 1},
                           {0, -arm.z, arm.y}, {arm.z, 0, -arm.x}, {-arm.y, arm.x, 0}};
  for (int i = 0; i < 6; i++) {
    if (e->balance[i] < 0)
      continue;
    support->rows[support->count] = e->balance[i];
    support->gives[support->count++] = rows[i];
  }
}

static void state_supports(why_equations* e) {
  const why_reactions* reactions = &e->statics->reactions;
  if (reactions->held || !reactions->count)
    return;
  why_vec middle = why_reactions_middle(reactions);
  state_balance(e);
  for (size_t i = 0; i < reactions->count; i++) {
    const why_reaction* point = &reactions->at[i];
    if (e->folded && point->twin >= 0 && point->side == WHY_OTHER)
      continue;
    why_support* made = &e->dual->supports[e->dual->support_count++];
    *made = (why_support){.contact = point,
                          .usual = why_vec_add(point->body, point->load),
                          .capacity = e->constants->open_force_n,
                          .weight = e->folded && point->twin >= 0 ? 2 : 1};
    made->count = find_slopes(e, point->part, point->at, made->rows, made->gives);
    give_balance(e, why_vec_subtract(point->at, middle), made);
  }
}

/// The place where a hand grips.
static why_vec grip_of(const why_equations* e, int side, int* part) {
  const why_body_model* model = e->muscles->model;
  const why_body_point* point = &model->tables->measurements.loads.at[e->constants->hand_point];
  *part = why_body_part_find(model, point->segment, side);
  return why_pose_point(&e->statics->pose, *part, why_body_point_at(model, point->at[0], side));
}

/// Two hands that hold one thing may pull or push against each other along the line between them.
static void state_joined_hands(why_equations* e) {
  static const why_reaction ANY_FORCE = {.pull = true};
  if (!e->exercise->joined_hands || e->constants->hand_point < 0)
    return;
  why_support* made = &e->dual->supports[e->dual->support_count++];
  *made = (why_support){.contact = &ANY_FORCE, .capacity = e->constants->open_force_n, .weight = 1};
  int part[WHY_SIDES];
  why_vec at[WHY_SIDES];
  for (int side = 0; side < WHY_SIDES; side++)
    at[side] = grip_of(e, side, &part[side]);
  why_vec line = why_vec_unit(why_vec_subtract(at[WHY_OTHER], at[WHY_WORKING]));
  double gives[WHY_EQUATIONS] = {0};
  for (int side = 0; side < WHY_SIDES; side++) {
    int rows[WHY_SUPPORT_ROWS];
    why_vec slopes[WHY_SUPPORT_ROWS];
    size_t count = find_slopes(e, part[side], at[side], rows, slopes);
    for (size_t i = 0; i < count; i++)
      gives[rows[i]] += (side == WHY_WORKING ? 1 : -1) * why_vec_dot(slopes[i], line);
  }
  for (size_t i = 0; i < e->dual->equation_count && made->count < WHY_SUPPORT_ROWS; i++) {
    if (gives[i] == 0)
      continue;
    made->rows[made->count] = (int)i;
    made->gives[made->count++] = why_vec_scale(line, gives[i]);
  }
}

void why_equations_state(why_equations* e) {
  demands asked = {0};
  e->dual->exponent = e->constants->exponent;
  e->dual->equation_count = e->dual->strand_count = e->dual->support_count = 0;
  memset(e->balance, -1, sizeof e->balance);
  for (int side = 0; !e->share->posed && side < WHY_SIDES; side++)
    e->share->posture[side] = why_muscles_posture(e->muscles, &e->statics->stance, side);
  find_freedoms(e);
  find_demands(e, &asked);
  e->folded = is_alike(e, &asked);
  state_rows(e, &asked);
  state_heads(e);
  state_rests(e);
  state_stops(e);
  state_joined_hands(e);
  state_supports(e);
}

void why_equations_begin(const why_equations* e, why_prices* prices) {
  memset(prices, 0, sizeof *prices);
  for (int side = WHY_SIDES; side-- > 0;)
    for (size_t i = 0; i < frame_of(e)->count; i++)
      if (e->rows[side][i] >= 0)
        prices->prices[e->rows[side][i]] = e->share->prices[side][i];
  for (int i = 0; i < 6; i++)
    if (e->balance[i] >= 0)
      prices->prices[e->balance[i]] = e->share->balance_prices[i];
}

static double stress_of(const why_equations* e, const why_prices* prices, const why_strand* head) {
  return why_dual_strand(e->dual, head, prices->prices) / head->capacity;
}

void why_equations_end(const why_equations* e, const why_prices* prices) {
  size_t strand = 0;
  for (int i = 0; i < 6; i++)
    e->share->balance_prices[i] = e->balance[i] < 0 ? 0 : prices->prices[e->balance[i]];
  for (int side = 0; side < WHY_SIDES; side++) {
    for (size_t i = 0; i < frame_of(e)->count; i++) {
      int row = e->rows[side][i];
      e->share->prices[side][i] = row < 0 ? 0 : prices->prices[row];
      if (row < 0 || (side == WHY_OTHER && (e->folded || is_middle(e, (int)i))))
        continue;
      e->share->helps[side][i] =
          why_dual_strand(e->dual, &e->dual->strands[strand++], prices->prices);
    }
  }
  for (int side = 0; side < WHY_SIDES; side++)
    for (size_t i = 0; i < e->muscles->count; i++)
      if (side == WHY_OTHER && e->folded)
        e->share->heads[side][i] = e->share->heads[WHY_WORKING][i];
      else
        e->share->heads[side][i].stress = stress_of(e, prices, &e->dual->strands[strand++]);
}
