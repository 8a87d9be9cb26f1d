// SPDX-License-Identifier: GPL-3.0-or-later
#include "body/statics_case.h"

#include "body/line.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <string.h>

typedef struct {
  const why_body_model* model;
  why_arena* arena;
  statics_cases cases;
  line at;
} reader;

static void read_joints(reader* r, statics_case* each) {
  for (char* text = line_word(&r->at); text; text = line_word(&r->at)) {
    why_symbol coordinate = line_name(&r->at, text);
    double deg = line_number(&r->at);
    for (int i = 0; i < WHY_POSITIONS; i++)
      *WHY_LIST_ADD(r->arena, each->exercise.positions[i].working) = (why_angle){coordinate, deg};
  }
}

static void read_contact(reader* r, statics_case* each) {
  why_contact contact = {.normal = {0, 0, 1}, .friction = NAN, .weight = 1};
  contact.point = line_next_name(&r->at);
  contact.side = line_next_name(&r->at);
  for (char* text = line_word(&r->at); text; text = line_word(&r->at)) {
    if (strcmp(text, "pull") == 0) {
      contact.pull = true;
    } else if (strcmp(text, "along") == 0) {
      for (int i = 0; i < 3; i++)
        contact.normal[i] = line_number(&r->at);
    } else {
      cr_assert_str_eq(text, "friction");
      contact.friction = line_number(&r->at);
    }
  }
  *WHY_LIST_ADD(r->arena, each->exercise.contacts) = contact;
}

static void read_load(reader* r, statics_case* each) {
  why_resistance resistance = {.kind = line_next_name(&r->at)};
  resistance.at = line_next_name(&r->at);
  resistance.body_masses = line_number(&r->at) / r->model->mass_kg;
  for (int i = 0; i < WHY_POSITIONS; i++)
    resistance.forces[i] = (why_force){.share = 1};
  *WHY_LIST_ADD(r->arena, each->exercise.resistances) = resistance;
}

/// Take posture, contacts and the rest from the catalogue.
static void read_exercise(reader* r, statics_case* each) {
  static const char* const AT[] = {"stretched", "middle", "shortened"};
  const why_exercise* row = why_exercise_find(&r->model->tables->exercises, line_next_name(&r->at));
  cr_assert_not_null(row, "%s: no such exercise", each->id);
  const char* at = line_word(&r->at);
  int position = 0;
  while (position < WHY_POSITIONS && strcmp(AT[position], at) != 0)
    position++;
  cr_assert_lt(position, WHY_POSITIONS, "no position is called %s", at);
  each->exercise = *row;
  for (int i = 0; i < WHY_POSITIONS; i++)
    each->exercise.positions[i] = row->positions[position];
  each->from_catalogue = true;
}

static void read_expect(reader* r, statics_case* each) {
  cr_assert_lt(each->expect_count, CASE_EXPECTS);
  case_expect* expect = &each->expects[each->expect_count++];
  snprintf(expect->what, sizeof expect->what, "%s", line_word(&r->at));
  snprintf(expect->of, sizeof expect->of, "%s", line_word(&r->at));
  expect->value = line_number(&r->at);
  cr_assert_str_eq(line_word(&r->at), "within");
  expect->within = line_number(&r->at);
  snprintf(expect->unit, sizeof expect->unit, "%s", line_word(&r->at));
  const char* but = line_word(&r->at);
  expect->known = NAN;
  if (but && strcmp(but, "but") == 0)
    expect->known = line_number(&r->at);
}

static void read_line(void* user, const char* first) {
  reader* r = user;
  if (strcmp(first, "case") == 0) {
    statics_case* made = WHY_LIST_ADD(r->arena, r->cases);
    snprintf(made->id, sizeof made->id, "%s", line_word(&r->at));
    return;
  }
  cr_assert_gt(r->cases.count, 0);
  statics_case* each = &r->cases.at[r->cases.count - 1];
  if (strcmp(first, "pelvis") == 0) {
    for (int i = 0; i < 3; i++)
      each->pelvis_deg[i] = line_number(&r->at);
  } else if (strcmp(first, "joints") == 0) {
    read_joints(r, each);
  } else if (strcmp(first, "contact") == 0) {
    read_contact(r, each);
  } else if (strcmp(first, "exercise") == 0) {
    read_exercise(r, each);
  } else if (strcmp(first, "load") == 0) {
    read_load(r, each);
  } else if (strcmp(first, "hold") == 0) {
    for (char* text = line_word(&r->at); text; text = line_word(&r->at))
      *WHY_LIST_ADD(r->arena, each->exercise.fixed) = line_name(&r->at, text);
  } else if (strcmp(first, "one-sided") == 0) {
    each->exercise.unilateral = true;
  } else if (strcmp(first, "lean") == 0) {
    snprintf(each->lean, sizeof each->lean, "%s", line_word(&r->at));
  } else if (strcmp(first, "expect") == 0) {
    read_expect(r, each);
  } else {
    cr_assert(strcmp(first, "says") == 0 || strcmp(first, "how") == 0 ||
                  strcmp(first, "source") == 0 || strcmp(first, "why") == 0,
              "unknown word: %s", first);
  }
}

statics_cases statics_cases_read(const char* file, const why_body_model* model, why_arena* arena) {
  reader r = {.model = model, .arena = arena, .at = {.symbols = model->tables->symbols}};
  line_each(&r.at, file, read_line, &r);
  for (size_t i = 0; i < r.cases.count; i++) {
    for (int j = 0; j < WHY_POSITIONS && !r.cases.at[i].from_catalogue; j++) {
      why_position* position = &r.cases.at[i].exercise.positions[j];
      position->pelvis_pitch_deg = r.cases.at[i].pelvis_deg[0];
      position->pelvis_roll_deg = r.cases.at[i].pelvis_deg[1];
      position->pelvis_yaw_deg = r.cases.at[i].pelvis_deg[2];
    }
  }
  return r.cases;
}

/// How far the centre of mass is in front of (x) or beside (y) the middle of the contacts.
static why_vec centre_off(const statics_case* each, const why_body_model* model,
                          const why_stance* stance) {
  why_statics statics;
  why_statics_find_in(model, &each->exercise, stance, 0, 1, &statics);
  why_vec middle = {0, 0, 0};
  for (size_t i = 0; i < statics.reactions.count; i++)
    middle = why_vec_add(
        middle, why_vec_scale(statics.reactions.at[i].at, 1 / (double)statics.reactions.count));
  return why_vec_subtract(why_pose_centre(model, &statics.pose), middle);
}

why_stance statics_case_stance(const statics_case* each, const why_body_model* model) {
  why_stance stance = why_stance_of(model->frame, &each->exercise, 0);
  if (!each->lean[0])
    return stance;
  int ankle = why_frame_number(model->frame,
                               why_symbols_find(model->tables->symbols, "ankle-dorsiflexion"));
  // The body's length is nearly its lever, so that a few steps of correction settle.
  for (int i = 0; i < 200; i++) {
    why_vec off = centre_off(each, model, &stance);
    stance.pitch -= off.x / model->stature_m;
    stance.roll += each->exercise.unilateral ? off.y / model->stature_m : 0;
    for (int side = 0; side < WHY_SIDES; side++)
      stance.rad[side][ankle] = stance.pitch;
  }
  return stance;
}
