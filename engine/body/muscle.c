// SPDX-License-Identifier: GPL-3.0-or-later
// Heads of a body in a posture: the path gives length and arms, the fibre its capacity.
#include "muscle.h"

/// Turns about any axis but the one across the body change their sense in the mirror.
static void note_turned(const why_body_model* model, why_muscles* muscles) {
  for (size_t i = 0; i < model->count; i++)
    for (size_t j = 0; !model->parts[i].paired && j < model->parts[i].hinge_count; j++)
      if (model->parts[i].hinges[j].axis.y == 0)
        muscles->turned[model->parts[i].hinges[j].number] = true;
}

static why_muscle muscle_of(const why_body_model* model, const why_head* head) {
  why_muscle made = {.head = head,
                     .scale = model->stature_m / head->model_stature_m,
                     .count = head->path.coordinate_count};
  for (size_t i = 0; i < made.count; i++)
    made.numbers[i] = why_frame_number(model->frame, head->path.coordinates[i]);
  return made;
}

why_status why_muscles_new(const why_body_model* model, why_arena* arena, why_muscles** made) {
  const why_anatomy* anatomy = &model->tables->anatomy;
  why_muscles* muscles = WHY_NEW(arena, why_muscles);
  why_muscle* at = WHY_NEW_ARRAY(arena, why_muscle, anatomy->heads.count);
  muscles->model = model;
  muscles->capacity_width = why_body_constant(model->tables, "capacity-width", 0);
  muscles->capacity_floor = why_body_constant(model->tables, "capacity-floor", 0);
  muscles->count = anatomy->heads.count;
  muscles->at = at;
  for (size_t i = 0; i < muscles->count; i++)
    at[i] = muscle_of(model, &anatomy->heads.at[i]);
  note_turned(model, muscles);
  *made = muscles;
  bool known = muscles->capacity_width > 0 && muscles->capacity_floor > 0;
  return known ? WHY_OK : WHY_KNOWLEDGE;
}

why_posture why_muscles_posture(const why_muscles* muscles, const why_stance* stance, int side) {
  const why_frame* frame = muscles->model->frame;
  why_posture made = {0};
  for (size_t i = 0; i < frame->count; i++) {
    bool turned = side == WHY_OTHER && muscles->turned[i];
    int from = muscles->turned[i] ? WHY_WORKING : side;
    made.rad[i] = turned ? -stance->rad[from][i] : stance->rad[from][i];
  }
  why_posture_complete(frame, &made);
  return made;
}

static double contraction(double away, double width) {
  return exp(-(away / width) * (away / width));
}

double why_muscles_capacity(const why_muscles* muscles, double fibre) {
  if (fibre >= 1)
    return 1;
  return fmax(contraction(fibre - 1, muscles->capacity_width), muscles->capacity_floor);
}

void why_muscle_find(const why_muscles* muscles, const why_muscle* muscle,
                     const why_posture* posture, why_muscle_state* state) {
  const why_frame* frame = muscles->model->frame;
  why_path_value path = why_length_value(frame, muscle->head, posture);
  bool fibre_left = false;
  state->fibre = why_length_fibre(frame, muscle->head, path.length_m, &fibre_left);
  state->outside = path.outside || fibre_left;
  state->active = contraction(state->fibre - 1, muscles->capacity_width);
  state->capacity_n = muscle->head->force_n.value * why_muscles_capacity(muscles, state->fibre);
  for (size_t i = 0; i < muscle->count; i++)
    state->arms[i] = -muscle->scale * path.slopes[i];
}

static double arm_numbered(const why_muscle* muscle, const why_muscle_state* state, int number) {
  for (size_t i = 0; i < muscle->count; i++)
    if (muscle->numbers[i] == number)
      return state->arms[i];
  return 0;
}

/// With a = elevation · cos(plane) and b = elevation · sin(plane): the arm about plane or elevation
/// is that about a and b, each times its slope.
static double arm_along(const why_muscles* muscles, const why_muscle* muscle,
                        const why_posture* posture, const why_muscle_state* state, int number) {
  const why_shoulder_numbers* n = &muscles->model->frame->shoulder;
  if (number != n->plane && number != n->elevation)
    return arm_numbered(muscle, state, number);
  double c = cos(posture->rad[n->plane]);
  double s = sin(posture->rad[n->plane]);
  double of_cosine = arm_numbered(muscle, state, n->cosine_part);
  double of_sine = arm_numbered(muscle, state, n->sine_part);
  if (number == n->elevation)
    return c * of_cosine + s * of_sine;
  return posture->rad[n->elevation] * (c * of_sine - s * of_cosine);
}

double why_muscle_arm(const why_muscles* muscles, const why_muscle* muscle,
                      const why_posture* posture, const why_muscle_state* state,
                      const why_action* action) {
  double sum = 0;
  for (size_t i = 0; i < action->along.count; i++) {
    int number = why_frame_number(muscles->model->frame, action->along.at[i]);
    if (number >= 0)
      sum += arm_along(muscles, muscle, posture, state, number);
  }
  return action->sign * sum;
}
