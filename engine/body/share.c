// SPDX-License-Identifier: GPL-3.0-or-later
// Constants of the sharing, and its solution for one posture.
#include "share.h"

#include "sharer.h"

#include <string.h>

/// The corner of the cost at nothing is rounded over this share of a capacity.
static const double SMOOTH = 1e-3;
static const double SOFT = 5e-2; ///< The same for open forces.
static const double RAD_PER_DEG = 0.017453292519943295;
static const double RESIDUAL_ENOUGH = 1e-7;

static int hand_point(const why_tables* tables) {
  why_symbol hands = why_symbols_find(tables->symbols, "hands");
  for (size_t i = 0; i < tables->measurements.loads.count; i++)
    if (tables->measurements.loads.at[i].id == hands)
      return (int)i;
  return -1;
}

static int number_of(const why_body_model* model, const char* coordinate) {
  return why_frame_number(model->frame, why_symbols_find(model->tables->symbols, coordinate));
}

static why_stop stop_of(const why_tables* tables, why_symbol coordinate) {
  double moment = why_body_constant(tables, "stop-torque", coordinate);
  double deg = why_body_constant(tables, "stop-angle", coordinate);
  return isnan(moment + deg) ? (why_stop){0, 0} : (why_stop){moment, deg * RAD_PER_DEG};
}

static why_status read_constants(const why_body_model* model, why_sharing_constants* into) {
  const why_tables* tables = model->tables;
  into->exponent = why_body_constant(tables, "share-exponent", 0);
  into->open_force_n = why_body_constant(tables, "open-force-reserve", 0);
  into->upper_arm_rest_nm = why_body_constant(tables, "upper-arm-rest", 0);
  into->resting_elevation_rad = why_body_constant(tables, "resting-elevation", 0) * RAD_PER_DEG;
  into->hand_point = hand_point(tables);
  into->elbow = number_of(model, "elbow-flexion");
  into->girdle[0] = number_of(model, "scapular-elevation");
  into->girdle[1] = number_of(model, "scapular-protraction");
  into->least_reserve_nm = why_body_constant(tables, "reserve-torque", 0);
  double sum = into->open_force_n + into->upper_arm_rest_nm + into->resting_elevation_rad;
  bool known = into->exponent > 2 && isfinite(sum) && into->least_reserve_nm > 0;
  for (size_t i = 0; i < model->frame->count; i++) {
    into->reserves_nm[i] = why_body_constant(tables, "reserve-torque", model->frame->ids[i]);
    into->stops[i] = stop_of(tables, model->frame->ids[i]);
    known = known && into->reserves_nm[i] > 0;
  }
  return known ? WHY_OK : WHY_KNOWLEDGE;
}

/// On each side a head, of a coordinate a reserve and a stop, and two rests of the upper arm.
static size_t most_strands(const why_muscles* muscles) {
  return 2 * (muscles->count + 2 * muscles->model->frame->count + 2);
}

why_status why_sharer_new(const why_muscles* muscles, why_arena* arena, why_sharer** made) {
  *made = WHY_NEW(arena, why_sharer);
  (*made)->muscles = muscles;
  (*made)->dual.smooth = SMOOTH;
  (*made)->dual.soft = SOFT;
  (*made)->mover_share = why_body_constant(muscles->model->tables, "mover-share", 0);
  (*made)->moving_shortening = why_body_constant(muscles->model->tables, "moving-shortening", 0);
  (*made)->features = WHY_NEW_ARRAY(arena, why_feature, muscles->count);
  (*made)->effort.count = muscles->model->path_count;
  (*made)->effort.at = why_share_new(muscles, muscles->model->path_count, arena);
  if (!((*made)->mover_share > 0) || !((*made)->moving_shortening >= 0) ||
      most_strands(muscles) > WHY_STRANDS)
    return WHY_KNOWLEDGE;
  return read_constants(muscles->model, &(*made)->constants);
}

why_share* why_share_new(const why_muscles* muscles, size_t count, why_arena* arena) {
  why_share* made = WHY_NEW_ARRAY(arena, why_share, count);
  for (size_t i = 0; i < count; i++)
    for (int side = 0; side < WHY_SIDES; side++)
      made[i].heads[side] = WHY_NEW_ARRAY(arena, why_head_share, muscles->count);
  return made;
}

void why_share_find(why_sharer* sharer, const why_exercise* exercise, double at, double factor,
                    why_share* share) {
  why_statics_find(sharer->muscles->model, exercise, at, factor, &sharer->statics);
  why_equations equations = {
      .muscles = sharer->muscles,
      .constants = &sharer->constants,
      .exercise = exercise,
      .statics = &sharer->statics,
      .bent = &sharer->bent,
      .share = share,
      .dual = &sharer->dual,
  };
  why_prices prices;
  why_equations_state(&equations);
  why_equations_begin(&equations, &prices);
  share->factor = factor;
  share->posed = true;
  share->imbalance = sharer->statics.reactions.imbalance;
  share->settled = why_dual_solve(&sharer->dual, RESIDUAL_ENOUGH, &prices);
  if (!share->settled && sharer->dual.support_count) {
    // Where contacts can carry in one way only, prices have no bound: nothing is open then.
    sharer->dual.support_count = 0;
    share->settled = why_dual_solve(&sharer->dual, RESIDUAL_ENOUGH, &prices);
  }
  share->residual = prices.residual;
  share->steps = prices.steps;
  why_equations_end(&equations, &prices);
}

static double between(double a, double b, double way) {
  return a + way * (b - a);
}

void why_share_begin(why_share* share, const why_share* from, const why_share* to, double way) {
  if (!from)
    from = to;
  if (!to)
    to = from;
  share->posed = false;
  share->near = from;
  for (int side = 0; side < WHY_SIDES; side++)
    for (int i = 0; i < WHY_COORDINATES_LIMIT; i++)
      share->prices[side][i] = from ? between(from->prices[side][i], to->prices[side][i], way) : 0;
  for (int i = 0; i < 6; i++)
    share->balance_prices[i] =
        from ? between(from->balance_prices[i], to->balance_prices[i], way) : 0;
}

void why_share_scale(const why_sharer* sharer, why_share* share, double by) {
  double prices = pow(by, sharer->constants.exponent - 1);
  for (int side = 0; side < WHY_SIDES; side++)
    for (size_t i = 0; i < sharer->muscles->model->frame->count; i++)
      share->prices[side][i] *= prices;
  for (int i = 0; i < 6; i++)
    share->balance_prices[i] *= prices;
}

double why_share_stress(const why_sharer* sharer, const why_head_share* head, double pay) {
  why_strand strand = {.capacity = head->state.capacity_n};
  return why_dual_share(&sharer->dual, &strand, pay);
}

double why_share_moment(const why_muscles* muscles, const why_share* share, size_t head, int side,
                        const why_action* action) {
  const why_head_share* at = &share->heads[side][head];
  double arm =
      why_muscle_arm(muscles, &muscles->at[head], &share->posture[side], &at->state, action);
  return arm * at->stress * at->state.capacity_n;
}
