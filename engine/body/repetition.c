// SPDX-License-Identifier: GPL-3.0-or-later
// Features of (exercise, head) from path geometry.
#include "repetition.h"

#include <math.h>

why_repetition why_repetition_of(const why_frame* frame, const why_exercise* exercise) {
  why_repetition made = {.frame = frame, .exercise = exercise};
  for (int i = 0; i < WHY_POSITIONS; i++)
    made.at[i] = why_posture_of(frame, &exercise->positions[i], false);
  return made;
}

double why_feature_pull(const why_repetition* repetition, const why_head* head,
                        const why_action* action) {
  double sum = 0;
  for (int i = 0; i < WHY_POSITIONS; i++)
    sum += fmax(0, why_length_arm(repetition->frame, head, &repetition->at[i], action));
  return head->force_n.value * sum / WHY_POSITIONS;
}

double why_feature_travel_cm(const why_repetition* repetition, const why_head* head,
                             const why_action* action) {
  double metres = 0;
  for (int i = 0; i + 1 < WHY_POSITIONS; i++)
    metres += why_length_travel(repetition->frame, head, &repetition->at[i], &repetition->at[i + 1],
                                action);
  return metres * 100;
}

double why_feature_net_cm(const why_repetition* repetition, const why_head* head) {
  double first = why_length_at(repetition->frame, head, &repetition->at[0], NULL);
  double last = why_length_at(repetition->frame, head, &repetition->at[WHY_POSITIONS - 1], NULL);
  return (first - last) * 100;
}

double why_feature_stretch(const why_repetition* repetition, const why_head* head, bool* outside) {
  bool path_left = false;
  bool fibre_left = false;
  double length = why_length_at(repetition->frame, head, &repetition->at[0], &path_left);
  double fibre = why_length_fibre(repetition->frame, head, length, &fibre_left);
  if (outside)
    *outside = path_left || fibre_left;
  return fibre;
}
