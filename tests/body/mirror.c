// SPDX-License-Identifier: GPL-3.0-or-later
#include "body/mirror.h"

#include <string.h>

static bool is(const why_body_model* model, why_symbol symbol, const char* text) {
  return strcmp(why_symbols_text(model->tables->symbols, symbol), text) == 0;
}

static why_symbol named(const why_body_model* model, const char* text) {
  return why_symbols_find(model->tables->symbols, text);
}

bool mirror_exists(const why_body_model* model, const why_exercise* exercise) {
  for (size_t i = 0; i < exercise->resistances.count; i++)
    if (exercise->unilateral && is(model, exercise->resistances.at[i].kind, "lever"))
      return false;
  return true;
}

double mirror_sign(const why_frame* frame, int number) {
  static const char* const TURNED[] = {"trunk-lateral-flexion", "trunk-rotation",
                                       "neck-lateral-flexion", "neck-rotation"};
  const char* id = why_symbols_text(frame->symbols, frame->ids[number]);
  for (size_t i = 0; i < sizeof TURNED / sizeof *TURNED; i++)
    if (strcmp(TURNED[i], id) == 0)
      return -1;
  return 1;
}

/// Trunk and neck coordinates stand with the working side.
static bool is_of_middle(const why_body_model* model, int number) {
  for (size_t i = 0; i < model->count; i++)
    for (size_t j = 0; j < model->parts[i].hinge_count; j++)
      if (model->parts[i].hinges[j].number == number)
        return !model->parts[i].paired;
  return false;
}

static why_position mirror_position(const why_body_model* model, const why_position* from,
                                    why_arena* arena) {
  const why_frame* frame = model->frame;
  why_position made = *from;
  made.pelvis_roll_deg = -from->pelvis_roll_deg;
  made.pelvis_yaw_deg = -from->pelvis_yaw_deg;
  made.working = made.other_side = (why_angles){0};
  for (int n = 0; n < (int)frame->count; n++) {
    why_symbol id = frame->ids[n];
    double working = why_position_angle(from, id, false);
    double other = why_position_angle(from, id, true);
    if (is_of_middle(model, n))
      other = working *= mirror_sign(frame, n);
    *WHY_LIST_ADD(arena, made.working) = (why_angle){id, other};
    *WHY_LIST_ADD(arena, made.other_side) = (why_angle){id, working};
  }
  return made;
}

static why_symbol mirror_side(const why_body_model* model, why_symbol side) {
  if (is(model, side, "working"))
    return named(model, "other");
  return is(model, side, "other") ? named(model, "working") : side;
}

/// The side on which a resistance acts when it does not say: as load.h states it.
static why_symbol side_of(const why_body_model* model, const why_exercise* exercise,
                          const why_resistance* resistance) {
  static const char* const ARM[] = {"shoulder", "scapula", "elbow", "forearm", "wrist"};
  bool of_arm = false;
  for (size_t i = 0; i < sizeof ARM / sizeof *ARM; i++)
    of_arm = of_arm || is(model, exercise->region, ARM[i]);
  if (resistance->side)
    return resistance->side;
  bool in_both_hands = is(model, resistance->at, "hands") && !of_arm;
  return named(model, exercise->unilateral && !in_both_hands ? "working" : "both");
}

/// Directions are those of the right side and mirrored for the left in bilateral exercises, except
/// at points of the middle.
static why_resistance mirror_resistance(const why_body_model* model, const why_exercise* exercise,
                                        const why_resistance* from) {
  why_resistance made = *from;
  const why_body_point* point = why_load_point_find(&model->tables->measurements, from->at);
  made.side = mirror_side(model, side_of(model, exercise, from));
  bool turned = exercise->unilateral || (point && !point->paired);
  for (int i = 0; turned && i < WHY_POSITIONS; i++)
    made.forces[i].direction[1] = -from->forces[i].direction[1];
  return made;
}

why_exercise mirror_of(const why_body_model* model, const why_exercise* exercise,
                       why_arena* arena) {
  why_exercise made = *exercise;
  memset(&made.contacts, 0, sizeof made.contacts);
  memset(&made.resistances, 0, sizeof made.resistances);
  for (int i = 0; i < WHY_POSITIONS; i++)
    made.positions[i] = mirror_position(model, &exercise->positions[i], arena);
  for (size_t i = 0; i < exercise->contacts.count; i++) {
    why_contact* contact = WHY_LIST_ADD(arena, made.contacts);
    *contact = exercise->contacts.at[i];
    contact->side = mirror_side(model, contact->side);
    if (exercise->unilateral)
      contact->normal[1] = -contact->normal[1];
  }
  for (size_t i = 0; i < exercise->resistances.count; i++)
    *WHY_LIST_ADD(arena, made.resistances) =
        mirror_resistance(model, exercise, &exercise->resistances.at[i]);
  return made;
}
