// SPDX-License-Identifier: GPL-3.0-or-later
// Summarises the postures of an effort head by head.
#include "feature.h"

#include "sharer.h"

static const double ENOUGH_OF_STRESS = 0.5;

/// What an exercise moves: actions, and the coordinates that the equations state them by.
typedef struct {
  const why_sharer* sharer;
  const why_effort* effort;
  size_t count;
  const why_action* actions[WHY_MOVES_LIMIT];
  bool middle[WHY_MOVES_LIMIT];
  bool along[WHY_COORDINATES_LIMIT];
  double totals[WHY_MOVES_LIMIT]; ///< Of the moment that all heads give in one posture.
} survey;

/// Plane and elevation are stated through the smooth pair.
static void note_coordinate(survey* s, int number) {
  const why_shoulder_numbers* n = &s->sharer->muscles->model->frame->shoulder;
  if (number < 0)
    return;
  if (number == n->plane || number == n->elevation)
    s->along[n->cosine_part] = s->along[n->sine_part] = true;
  else
    s->along[number] = true;
}

static survey survey_of(const why_sharer* sharer, const why_effort* effort) {
  survey s = {.sharer = sharer, .effort = effort};
  const why_body_model* model = sharer->muscles->model;
  const why_symbol_list* moves = &effort->exercise->moves;
  for (size_t i = 0; i < moves->count && s.count < WHY_MOVES_LIMIT; i++) {
    const why_action* action = why_action_find(&model->tables->anatomy, moves->at[i]);
    s.middle[s.count] = action && why_effort_is_middle(sharer->muscles, action);
    s.actions[s.count++] = action;
    for (size_t j = 0; action && j < action->along.count; j++)
      note_coordinate(&s, why_frame_number(model->frame, action->along.at[j]));
  }
  return s;
}

static double moment_of(const survey* s, const why_share* share, size_t head, int side,
                        size_t move) {
  if (!s->actions[move] || (side == WHY_OTHER && !s->middle[move]))
    return 0;
  return why_effort_moment(s->sharer->muscles, share, head, side, s->actions[move]);
}

static void find_totals(survey* s, const why_share* share) {
  for (size_t a = 0; a < s->count; a++) {
    s->totals[a] = 0;
    for (int side = 0; side < WHY_SIDES; side++)
      for (size_t i = 0; i < s->sharer->muscles->count; i++)
        if (share->heads[side][i].stress > 0)
          s->totals[a] += fmax(0, moment_of(s, share, i, side, a));
  }
}

/// What the prices of coordinates pay for a newton of a head, in a posture.
typedef struct {
  double moves; ///< Those of the moves, where they want it.
  double least; ///< The most that any refuses.
  int refuser;
  int sense;
} pay;

static pay pay_of(const survey* s, const why_share* share, size_t head, int side) {
  const why_muscles* muscles = s->sharer->muscles;
  const why_muscle* muscle = &muscles->at[head];
  pay made = {.refuser = -1};
  for (size_t i = 0; i < muscle->count; i++) {
    int number = muscle->numbers[i];
    double sign = side == WHY_OTHER && muscles->turned[number] ? -1 : 1;
    double price = sign * share->prices[side][number];
    double part = share->heads[side][head].state.arms[i] * price;
    if (part > 0) {
      made.moves += s->along[number] ? part : 0;
    } else if (part < made.least) {
      made.least = part;
      made.refuser = number;
      made.sense = price > 0 ? 1 : -1;
    }
  }
  return made;
}

/// The move that a head has the longest arm for.
static int best_move(const survey* s, const why_share* share, size_t head, int side) {
  const why_muscles* muscles = s->sharer->muscles;
  double most = 0;
  int best = -1;
  for (size_t a = 0; a < s->count; a++) {
    if (!s->actions[a])
      continue;
    double arm = why_muscle_arm(muscles, &muscles->at[head], &share->posture[side],
                                &share->heads[side][head].state, s->actions[a]);
    if (arm > most) {
      most = arm;
      best = (int)a;
    }
  }
  return best;
}

/// One head in one posture.
static void add_posture(const survey* s, const why_share* share, size_t head, int side,
                        why_feature* into) {
  const why_head_share* at = &share->heads[side][head];
  double count = (double)s->effort->count;
  pay paid = pay_of(s, share, head, side);
  bool gives = false;
  bool leads = false;
  for (size_t a = 0; a < s->count; a++) {
    double moment = moment_of(s, share, head, side, a);
    gives |= moment > 0;
    leads |= moment > 0 && moment >= s->sharer->mover_share * s->totals[a];
    if (moment > 0 && s->totals[a] > 0)
      into->parts[a] += moment / s->totals[a] / count;
  }
  double asked = paid.moves > 0 ? why_share_stress(s->sharer, at, paid.moves) : 0;
  if (leads || (gives && asked >= ENOUGH_OF_STRESS * at->stress)) {
    into->moving += at->stress / count;
    into->moving_length += at->stress * at->state.fibre / count;
  }
  if (asked - at->stress > into->refused) {
    into->refused = asked - at->stress;
    into->refused_for = best_move(s, share, head, side);
    into->refused_by = paid.refuser;
    into->refused_sense = paid.sense;
  }
  into->stress += at->stress / count;
  if (at->stress > into->peak) {
    into->peak = at->stress;
    into->peak_force_n = at->stress * at->state.capacity_n;
    into->peak_length = at->state.fibre;
  }
  into->longest = fmax(into->longest, at->state.fibre);
  into->shortest = fmin(into->shortest, at->state.fibre);
  into->outside |= at->state.outside;
}

static bool is_moving(const survey* s, const why_feature* feature) {
  if (feature->moving <= 0)
    return false;
  return s->effort->exercise->held || feature->shortening >= s->sharer->moving_shortening;
}

static void close_head(const survey* s, const why_share* first, const why_share* last, size_t head,
                       int side, why_feature* feature) {
  feature->shortening = first->heads[side][head].state.fibre - last->heads[side][head].state.fibre;
  feature->moves = is_moving(s, feature);
  feature->holding = feature->moves ? 0 : feature->peak;
  if (!feature->moves)
    feature->moving = feature->moving_length = 0;
}

static bool moves_more(const why_feature* a, const why_feature* b) {
  return a->moving > b->moving;
}

void why_features_find(const why_sharer* sharer, const why_effort* effort, why_feature* features) {
  survey s = survey_of(sharer, effort);
  size_t heads = sharer->muscles->count;
  why_feature* sides[WHY_SIDES] = {features, sharer->features};
  for (int side = 0; side < WHY_SIDES; side++)
    for (size_t i = 0; i < heads; i++)
      sides[side][i] = (why_feature){.head = sharer->muscles->at[i].head,
                                     .side = side,
                                     .shortest = INFINITY,
                                     .refused_for = -1,
                                     .refused_by = -1};
  for (size_t p = 0; p < effort->count; p++) {
    find_totals(&s, &effort->at[p]);
    for (int side = 0; side < WHY_SIDES; side++)
      for (size_t i = 0; i < heads; i++)
        add_posture(&s, &effort->at[p], i, side, &sides[side][i]);
  }
  for (size_t i = 0; i < heads; i++) {
    why_feature* mine = &features[i];
    why_feature* other = &sharer->features[i];
    close_head(&s, &effort->at[0], &effort->at[effort->count - 1], i, WHY_WORKING, mine);
    close_head(&s, &effort->at[0], &effort->at[effort->count - 1], i, WHY_OTHER, other);
    double holding = fmax(mine->holding, other->holding);
    if (moves_more(other, mine))
      *mine = *other;
    mine->holding = holding;
  }
}
