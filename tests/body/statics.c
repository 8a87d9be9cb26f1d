// SPDX-License-Identifier: GPL-3.0-or-later
// Statics of the whole body against computations by hand and published shares of support
// (tests/reference/statics), and against what must hold whatever the numbers are.
#include "body/statics_case.h"

#include <criterion/criterion.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static why_arena* arena;
static why_problems* problems;
static why_tables* tables;
static const why_frame* frame;
static const why_body_model* model;

static void open_knowledge(void) {
  arena = why_arena_new(0);
  problems = why_problems_new();
  why_tables_open(WHY_HOME, NULL, arena, problems, &tables);
  frame = why_frame_new(tables, arena);
  cr_assert_eq(why_body_model_new(frame, tables, 0, 0, arena, &model), WHY_OK);
}

static void close_knowledge(void) {
  why_problems_free(problems);
  why_arena_free(arena);
}

TestSuite(statics, .init = open_knowledge, .fini = close_knowledge);

static why_symbol name(const char* text) {
  return why_symbols_find(tables->symbols, text);
}

static const why_exercise* exercise(const char* id) {
  const why_exercise* found = why_exercise_find(&tables->exercises, name(id));
  cr_assert_not_null(found, "no exercise %s", id);
  return found;
}

/// Demand of an action or, where no action has that name, of a coordinate.
static why_demand demand(const why_statics* statics, const char* of, int side) {
  const why_action* action = why_action_find(&tables->anatomy, name(of));
  if (action)
    return why_demand_of(model, statics, action, side);
  int number = why_frame_number(frame, name(of));
  cr_assert_geq(number, 0, "nothing is called %s", of);
  return statics->demands.at[side][number];
}

static double upward(const why_statics* statics, why_symbol point) {
  double sum = 0;
  for (size_t i = 0; i < statics->reactions.count; i++) {
    const why_reaction* each = &statics->reactions.at[i];
    if (each->contact->point == point)
      sum += each->body.z + each->load.z;
  }
  return sum;
}

/// Size of the forces at a contact point, both sides in one, newtons.
static double pull(const why_statics* statics, why_symbol point) {
  double sum = 0;
  for (size_t i = 0; i < statics->reactions.count; i++) {
    const why_reaction* each = &statics->reactions.at[i];
    if (each->contact->point == point)
      sum += why_vec_length(why_vec_add(each->body, each->load));
  }
  return sum;
}

static double weight(void) {
  return model->mass_kg * model->gravity;
}

/// The pitch, degrees, at which feet that stay flat carry the centre of mass of body and load.
static double balanced_pitch(const statics_case* each) {
  why_stance stance = statics_case_stance(each, model);
  int hip = why_frame_number(frame, name("hip-flexion"));
  double low = stance.pitch - 0.5;
  double high = stance.pitch + 0.5;
  for (int i = 0; i < 50; i++) {
    why_statics statics;
    double middle = (low + high) / 2;
    for (int side = 0; side < WHY_SIDES; side++)
      stance.rad[side][hip] += middle - stance.pitch;
    stance.pitch = middle;
    why_statics_find_in(model, &each->exercise, &stance, 0, 1, &statics);
    // What is not carried turns the body forward when the centre is too far in front.
    if (statics.reactions.residual_moment.y > 0)
      high = middle;
    else
      low = middle;
  }
  return high * 180 / acos(-1);
}

static double sum_of(const why_demand* one, const why_demand* two, bool body) {
  return one->body + two->body + (body ? 0 : one->load + two->load);
}

static double found_for(const statics_case* each, const why_statics* statics,
                        const case_expect* expect) {
  if (strcmp(expect->what, "balance") == 0)
    return balanced_pitch(each);
  if (strcmp(expect->what, "force") == 0)
    return upward(statics, name(expect->of));
  if (strcmp(expect->what, "share") == 0)
    return 100 * upward(statics, name(expect->of)) / weight();
  if (strcmp(expect->what, "pull") == 0)
    return 100 * pull(statics, name(expect->of)) / weight();
  why_demand one = demand(statics, expect->of, WHY_WORKING);
  why_demand none = {0};
  if (strcmp(expect->what, "body") == 0)
    return one.body;
  if (strcmp(expect->what, "load") == 0)
    return one.load;
  if (strcmp(expect->what, "demand") == 0)
    return sum_of(&one, &none, false);
  why_demand two = demand(statics, expect->of, WHY_OTHER);
  return sum_of(&one, &two, strcmp(expect->what, "both-body") == 0);
}

/// Check one expectation; returns the deviation as a share of its tolerance. Where the engine is
/// known to differ, what it gives must stay what the file says, and outside the tolerance.
static double check_expect(const statics_case* each, const why_statics* statics,
                           const case_expect* expect) {
  double found = found_for(each, statics, expect);
  double percent = strcmp(expect->unit, "%") == 0 ? fabs(expect->value) / 100 : 1;
  double off = fabs(found - expect->value) / percent;
  if (getenv("WHY_SHOW"))
    fprintf(stderr, "%-40s %-10s %-22s %10.4f %10.4f off %.4g %s%s\n", each->id, expect->what,
            expect->of, expect->value, found, off, expect->unit,
            isnan(expect->known) ? "" : " (known)");
  if (isnan(expect->known)) {
    cr_expect(off <= expect->within, "%s: %s %s is %g, expected %g within %g %s", each->id,
              expect->what, expect->of, found, expect->value, expect->within, expect->unit);
    return off / expect->within;
  }
  cr_expect(off > expect->within, "%s: %s %s agrees now; say so in the file", each->id,
            expect->what, expect->of);
  cr_expect_float_eq(found, expect->known, 0.5, "%s: %s %s is %g, not %g as the file says",
                     each->id, expect->what, expect->of, found, expect->known);
  return 0;
}

/// Check every case of a file; with WHY_SHOW in the environment, print the deviations.
static void check_file(const char* file) {
  const char* path = why_arena_print(arena, "%s/tests/reference/statics/%s", WHY_HOME, file);
  statics_cases cases = statics_cases_read(path, model, arena);
  double largest = 0;
  cr_assert_gt(cases.count, 0);
  for (size_t i = 0; i < cases.count; i++) {
    const statics_case* each = &cases.at[i];
    why_stance stance = statics_case_stance(each, model);
    why_statics statics;
    why_statics_find_in(model, &each->exercise, &stance, 0, 1, &statics);
    cr_expect(statics.reactions.settled, "%s: not settled", each->id);
    cr_assert_gt(each->expect_count, 0, "%s expects nothing", each->id);
    for (size_t j = 0; j < each->expect_count; j++)
      largest = fmax(largest, check_expect(each, &statics, &each->expects[j]));
  }
  if (getenv("WHY_SHOW"))
    fprintf(stderr, "%s: %zu cases, largest deviation %.3g of its tolerance\n", file, cases.count,
            largest);
}

/// The hand computations let a flat palm carry where a grip would.
static void carry_at_the_grip(void) {
  why_body_model* own = WHY_NEW(arena, why_body_model);
  *own = *model;
  own->palm_offset = 0;
  model = own;
}

Test(statics, arms_by_hand) {
  check_file("arms.txt");
}

Test(statics, trunk_by_hand) {
  check_file("trunk.txt");
}

Test(statics, squat_by_hand) {
  check_file("squat.txt");
}

Test(statics, legs_by_hand) {
  check_file("legs.txt");
}

Test(statics, supports_by_hand) {
  carry_at_the_grip();
  check_file("supports.txt");
}

Test(statics, shares_as_published) {
  check_file("shares.txt");
}

static double share_in(const char* id, int position) {
  why_statics statics;
  why_statics_find(model, exercise(id), position, 1, &statics);
  return upward(&statics, name("hand")) / weight();
}

// Source: Kinetic Analysis of Several Variations of Push-Ups, Journal of Strength and Conditioning
// Research, 2011, 10.1519/JSC.0b013e31820c8587 (abstract): the order of peaks. Taken at the top,
// where the catalogue's postures differ by the height of hands and feet only.
Test(statics, order_of_push_ups) {
  enum { BOTTOM, TOP = 2 };
  cr_expect_gt(share_in("feet-raised-push-up", TOP), share_in("push-up", TOP));
  cr_expect_gt(share_in("push-up", TOP), share_in("hands-raised-push-up", TOP));
  cr_expect_gt(share_in("push-up", TOP), share_in("knee-push-up", TOP));
  cr_expect_gt(share_in("push-up", BOTTOM), share_in("push-up", TOP));
  cr_expect_gt(share_in("knee-push-up", BOTTOM), share_in("knee-push-up", TOP));
}

/// The whole repetition of every exercise.
typedef void (*visit)(const why_exercise* exercise, const why_statics* statics);

static void for_all(visit each) {
  static why_statics statics;
  for (size_t i = 0; i < tables->exercises.rows.count; i++) {
    const why_exercise* row = &tables->exercises.rows.at[i];
    for (int at = 0; at < WHY_POSITIONS; at++) {
      why_statics_find(model, row, at, 1, &statics);
      each(row, &statics);
    }
  }
}

static void expect_sum(const why_exercise* row, const why_statics* statics) {
  why_vec sum = {0, 0, 0};
  double size = why_loading_size(&statics->loading);
  for (size_t i = 0; i < statics->loading.count; i++)
    sum = why_vec_add(sum, why_vec_add(statics->loading.at[i].body, statics->loading.at[i].load));
  for (size_t i = 0; i < statics->reactions.count; i++)
    sum =
        why_vec_add(sum, why_vec_add(statics->reactions.at[i].body, statics->reactions.at[i].load));
  cr_expect(statics->reactions.settled, "%s, %g: not settled, imbalance %g", row->name, statics->at,
            statics->reactions.imbalance);
  if (statics->reactions.held)
    return;
  why_vec left = why_vec_subtract(sum, statics->reactions.residual);
  cr_expect_lt(why_vec_length(left), 1e-9 * size, "%s: sum of forces is not the residual",
               row->name);
  if (statics->reactions.imbalance < 1e-9)
    cr_expect_lt(why_vec_length(sum), 1e-8 * size, "%s: reactions are not the weight", row->name);
}

Test(statics, reactions_sum_to_the_weight) {
  for_all(expect_sum);
}

static void expect_cone(const why_exercise* row, const why_statics* statics) {
  double size = why_loading_size(&statics->loading);
  for (size_t i = 0; i < statics->reactions.count; i++) {
    const why_reaction* each = &statics->reactions.at[i];
    if (each->pull)
      continue;
    why_vec force = why_vec_add(each->body, each->load);
    double normal = why_vec_dot(force, each->normal);
    why_vec rest = why_vec_subtract(force, why_vec_scale(each->normal, normal));
    cr_expect_gt(normal, -1e-9 * size, "%s: a contact pulls", row->name);
    cr_expect_lt(why_vec_length(rest), each->friction * normal + 1e-9 * size,
                 "%s: a contact slides", row->name);
  }
}

Test(statics, contacts_neither_pull_nor_slide) {
  for_all(expect_cone);
}

static void expect_mirror(const why_exercise* row, const why_statics* statics) {
  double size = why_loading_size(&statics->loading) * model->stature_m;
  const why_position* position = &row->positions[(int)statics->at];
  bool even = !row->unilateral && position->pelvis_roll_deg == 0 && position->pelvis_yaw_deg == 0 &&
              position->other_side.count == 0;
  for (size_t n = 0; even && n < frame->count; n++) {
    const why_demand* right = &statics->demands.at[WHY_WORKING][n];
    const why_demand* left = &statics->demands.at[WHY_OTHER][n];
    if (!left->there)
      continue;
    cr_expect_float_eq(right->body, left->body, 1e-8 * size, "%s: %s, body", row->name,
                       why_symbols_text(tables->symbols, frame->ids[n]));
    cr_expect_float_eq(right->load, left->load, 1e-8 * size, "%s: %s, load", row->name,
                       why_symbols_text(tables->symbols, frame->ids[n]));
  }
}

Test(statics, both_sides_are_alike_when_bilateral) {
  for_all(expect_mirror);
}

Test(statics, load_part_grows_with_the_load) {
  static const char* const IDS[] = {"barbell-back-squat", "barbell-romanian-deadlift",
                                    "barbell-curl",       "barbell-overhead-press",
                                    "lat-pulldown",       "machine-chest-fly"};
  static why_statics once;
  static why_statics more;
  for (size_t i = 0; i < sizeof IDS / sizeof *IDS; i++) {
    for (int at = 0; at < WHY_POSITIONS; at++) {
      why_statics_find(model, exercise(IDS[i]), at, 1, &once);
      why_statics_find(model, exercise(IDS[i]), at, 1.25, &more);
      // Only while the same contacts carry are reactions linear in the load.
      for (size_t n = 0; n < frame->count; n++) {
        const why_demand* a = &once.demands.at[WHY_WORKING][n];
        const why_demand* b = &more.demands.at[WHY_WORKING][n];
        cr_expect_float_eq(b->load, 1.25 * a->load, 1e-6, "%s", IDS[i]);
        cr_expect_float_eq(b->body, a->body, 1e-6, "%s", IDS[i]);
      }
    }
  }
}

/// Joints between a carried part and a free end feel the same whether the part is carried by
/// contacts or held, and whichever side of the joint is summed.
Test(statics, held_and_carried_bodies_agree) {
  static const why_contact CARRIED = {
      .normal = {0, 0, 1}, .friction = NAN, .weight = 1, .pull = true};
  static why_statics carried;
  static why_statics held;
  why_contact contacts[] = {CARRIED, CARRIED};
  contacts[0].point = name("chest");
  contacts[1].point = name("upper-back");
  contacts[0].side = contacts[1].side = name("both");
  why_symbol thorax[] = {name("thorax")};
  why_exercise free_body = *exercise("barbell-back-squat");
  free_body.contacts.at = contacts;
  free_body.contacts.count = 2;
  why_exercise held_body = free_body;
  held_body.fixed.at = thorax;
  held_body.fixed.count = 1;
  for (int at = 0; at < WHY_POSITIONS; at++) {
    why_statics_find(model, &free_body, at, 1, &carried);
    why_statics_find(model, &held_body, at, 1, &held);
    cr_expect_lt(carried.reactions.imbalance, 1e-9);
    for (size_t i = 0; i < carried.pose.count; i++) {
      const why_freedom* freedom = &carried.pose.freedoms[i];
      const why_demand* a = &carried.demands.at[freedom->side][freedom->number];
      const why_demand* b = &held.demands.at[freedom->side][freedom->number];
      cr_expect_eq(b->held, freedom->part == model->head, "a head rests where the thorax is held");
      if (b->held)
        continue;
      cr_expect_float_eq(a->body, b->body, 1e-6, "%s",
                         why_symbols_text(tables->symbols, frame->ids[freedom->number]));
      cr_expect_float_eq(a->load, b->load, 1e-6, "%s",
                         why_symbols_text(tables->symbols, frame->ids[freedom->number]));
    }
  }
}

/// A lever machine is felt by the coordinate that it drives, in full, and by no other joint: 0.30 m
/// times the load, half a side.
Test(statics, lever_loads_its_own_joint) {
  static why_statics statics;
  const why_exercise* row = exercise("machine-lateral-raise");
  const why_resistance* lever = &row->resistances.at[0];
  double usual = lever->body_masses * weight() * 0.30 / 2;
  for (int at = 0; at < WHY_POSITIONS; at++) {
    why_statics_find(model, row, at, 1, &statics);
    for (int side = 0; side < WHY_SIDES; side++) {
      why_demand raised = demand(&statics, "shoulder-abduction", side);
      cr_expect_float_eq(raised.load, usual * lever->forces[at].share, 1e-9);
      cr_expect_float_eq(demand(&statics, "elbow-flexion", side).load, 0, 1e-12);
      cr_expect_float_eq(demand(&statics, "scapular-elevation", side).load, 0, 1e-12);
    }
  }
}

/// Squeezing the floor is open to someone who stands on two feet, bending the knees against it is
/// not: what is not determined is marked so.
Test(statics, choice_of_reactions_is_marked) {
  static why_statics statics;
  why_statics_find(model, exercise("barbell-back-squat"), 0, 1, &statics);
  why_statics_judge(model, exercise("barbell-back-squat"), &statics);
  cr_expect_not(demand(&statics, "hip-abduction", WHY_WORKING).determined);
  cr_expect(demand(&statics, "hip-extension", WHY_WORKING).determined);
  cr_expect(demand(&statics, "knee-extension", WHY_WORKING).determined);
  cr_expect_float_eq(demand(&statics, "elbow-flexion", WHY_WORKING).choice, 0, 1e-9);
}
