// SPDX-License-Identifier: GPL-3.0-or-later
// What the mechanics of the body make of each exercise near the failure of a set.
#include "reason.h"

#include "body/body.h"

/// Below these a number is noise, not a fact worth reasoning with.
static const double LEAST_STRESS = 0.02;
static const double LEAST_HOLDING = 0.1;
static const double LEAST_PART = 0.005;

/// What the parts of this file hand to each other.
typedef struct {
  why_giver* giver;
  const why_frame* frame;
  const why_effort* effort;
  const why_exercise* exercise;
} source;

static void give_effort(const source* s) {
  static const char* const ENDS[] = {[WHY_LOAD_REACHED] = "reached",
                                     [WHY_LOAD_NONE] = "no-load",
                                     [WHY_LOAD_OVER] = "body-too-heavy",
                                     [WHY_LOAD_IDLE] = "load-idle"};
  const why_anatomy* anatomy = &s->giver->tables->anatomy;
  if (s->effort->head < 0)
    return;
  WHY_GIVE(s->giver, "near-failure", s->exercise->place, WHY_SYM(s->exercise->id),
           WHY_TEXT(ENDS[s->effort->end]), WHY_NUM(s->effort->factor), WHY_NUM(s->effort->peak),
           WHY_SYM(anatomy->heads.at[s->effort->head].id));
}

/// Where in the range an exercise is hardest; of one that is held there is but one posture.
static void give_curve(const source* s, why_sharer* sharer) {
  static const char* const POSITIONS[] = {"stretched", "middle", "shortened"};
  why_hardness hardness;
  if (s->exercise->held || !why_hardness_find(sharer, s->effort, &hardness))
    return;
  for (int i = 0; i < WHY_HARDNESS_PARTS; i++)
    WHY_GIVE(s->giver, "resists", s->exercise->place, WHY_SYM(s->exercise->id),
             WHY_TEXT(POSITIONS[i]), WHY_NUM(hardness.part[i]));
}

/// The action along one coordinate in a sense; 0 when none has a name.
static why_symbol action_along(const source* s, int number, int sense) {
  const why_anatomy* anatomy = &s->giver->tables->anatomy;
  for (size_t i = 0; i < anatomy->actions.count; i++) {
    const why_action* action = &anatomy->actions.at[i];
    if (action->along.count == 1 && action->along.at[0] == s->frame->ids[number] &&
        action->sign == sense)
      return action->id;
  }
  return 0;
}

static void give_refusal(const source* s, const why_feature* feature) {
  if (feature->refused < LEAST_HOLDING || feature->refused_by < 0 || feature->refused_for < 0)
    return;
  why_symbol against = action_along(s, feature->refused_by, feature->refused_sense);
  if (against)
    WHY_GIVE(s->giver, "refused", s->exercise->place, WHY_SYM(s->exercise->id),
             WHY_SYM(feature->head->id), WHY_SYM(s->exercise->moves.at[feature->refused_for]),
             WHY_SYM(against), WHY_NUM(feature->refused));
}

static void give_parts(const source* s, const why_feature* feature) {
  for (size_t i = 0; i < s->exercise->moves.count && i < WHY_MOVES_LIMIT; i++)
    if (feature->parts[i] >= LEAST_PART)
      WHY_GIVE(s->giver, "gives", s->exercise->place, WHY_SYM(s->exercise->id),
               WHY_SYM(feature->head->id), WHY_SYM(s->exercise->moves.at[i]),
               WHY_NUM(feature->parts[i]));
}

static void give_head(const source* s, const why_feature* feature) {
  why_place place = s->exercise->place;
  why_given exercise = WHY_SYM(s->exercise->id);
  why_given head = WHY_SYM(feature->head->id);
  if (feature->moving >= LEAST_STRESS) {
    WHY_GIVE(s->giver, "moving", place, exercise, head, WHY_NUM(feature->moving),
             WHY_NUM(feature->moving_length / feature->moving));
    WHY_GIVE(s->giver, "peak", place, exercise, head, WHY_NUM(feature->peak),
             WHY_NUM(feature->peak_length), WHY_NUM(feature->peak_force_n));
  }
  if (feature->holding >= LEAST_HOLDING)
    WHY_GIVE(s->giver, "holding", place, exercise, head, WHY_NUM(feature->holding));
  WHY_GIVE(s->giver, "fibres", place, exercise, head, WHY_NUM(feature->longest),
           WHY_NUM(feature->shortest), WHY_NUM(feature->shortening));
  give_parts(s, feature);
  give_refusal(s, feature);
}

/// Forces that do not give what a posture demands are no forces.
static void refuse(const source* s) {
  why_problems_add(s->giver->problems, WHY_ERROR, "sharing-unsolved", s->exercise->place,
                   "the forces of the heads in \"%s\" could not be found",
                   why_symbols_text(s->giver->symbols, s->exercise->id));
  why_problems_hint(s->giver->problems, "look at its postures and contacts: whylift moments %s",
                    why_symbols_text(s->giver->symbols, s->exercise->id));
}

void why_given_mechanics(why_giver* giver) {
  const why_exercise_table* table = &giver->tables->exercises;
  const why_body_model* model = NULL;
  why_muscles* muscles = NULL;
  why_sharer* sharer = NULL;
  if (!table->rows.count)
    return;
  const why_frame* frame = why_frame_new(giver->tables, giver->arena);
  if (why_body_model_new(frame, giver->tables, 0, 0, giver->arena, &model) != WHY_OK ||
      why_muscles_new(model, giver->arena, &muscles) != WHY_OK ||
      why_sharer_new(muscles, giver->arena, &sharer) != WHY_OK) {
    why_problems_add(giver->problems, WHY_ERROR, "body-model", table->rows.at[0].place,
                     "evidence/measurements lacks a segment or a constant of the body model");
    why_problems_hint(giver->problems, "restore segments.xml and model-constants.xml");
    return;
  }
  why_feature* features = WHY_NEW_ARRAY(giver->arena, why_feature, muscles->count);
  if (why_program_find(giver->program, "estimate") != WHY_NO_RELATION)
    giver->features = WHY_NEW_ARRAY(giver->arena, const why_feature*, table->rows.count);
  for (size_t i = 0; i < table->rows.count; i++) {
    const why_exercise* exercise = &table->rows.at[i];
    const why_effort* effort = why_effort_find(sharer, exercise);
    source s = {giver, frame, effort, exercise};
    if (giver->features)
      giver->features[i] = features = WHY_NEW_ARRAY(giver->arena, why_feature, muscles->count);
    why_features_find(sharer, effort, features);
    if (!effort->settled) {
      refuse(&s);
      continue;
    }
    give_effort(&s);
    for (size_t j = 0; j < muscles->count; j++)
      give_head(&s, &features[j]);
    give_curve(&s, sharer);
  }
}
