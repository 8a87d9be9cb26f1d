// SPDX-License-Identifier: GPL-3.0-or-later
// Length, moment arm and fibre length: against published facts (tests/reference/anatomy/facts.xml),
// and against themselves (arm and length belong together).
#include "body/body.h"

#include "fact.h"

#include <criterion/criterion.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

enum { FILE_ROOM = 1 << 18 };

typedef struct {
  why_arena* arena;
  why_problems* problems;
  why_tables* tables;
  const why_frame* frame;
} bench;

static bench open_bench(void) {
  bench made = {.arena = why_arena_new(0), .problems = why_problems_new()};
  why_read_settings settings = {0};
  cr_assert_eq(why_tables_open(WHY_HOME, &settings, made.arena, made.problems, &made.tables),
               WHY_OK);
  made.frame = why_frame_new(made.tables, made.arena);
  return made;
}

static void close_bench(bench* made) {
  why_problems_free(made->problems);
  why_arena_free(made->arena);
}

static xmlDoc* open_facts(why_reader* reader) {
  FILE* file = fopen(WHY_HOME "/tests/reference/anatomy/facts.xml", "r");
  cr_assert_not_null(file);
  char* text = why_arena_alloc(reader->arena, FILE_ROOM);
  size_t length = fread(text, 1, FILE_ROOM - 1, file);
  fclose(file);
  reader->text = text;
  reader->file = "tests/reference/anatomy/facts.xml";
  return why_xml_parse(reader, length);
}

/// A fact marked as failing must fail, so that the mark goes when its cause does.
static void try_fact(fact_bench* at, const xmlNode* fact) {
  const char* id = why_xml_string(at->reader, fact, "id");
  bool holds = fact_holds(at, fact);
  if (why_xml_has(fact, "fails"))
    cr_expect(!holds, "%s is marked as failing but holds:%s", id, why_buffer_text(&at->told));
  else
    cr_expect(holds, "%s: found%s", id, why_buffer_text(&at->told));
}

Test(length, published_facts_hold) {
  bench made = open_bench();
  why_reader reader = {
      .arena = made.arena, .symbols = made.tables->symbols, .problems = made.problems};
  xmlDoc* doc = open_facts(&reader);
  cr_assert_not_null(doc);
  fact_bench at = {.tables = made.tables, .frame = made.frame, .reader = &reader};
  const xmlNode* root = xmlDocGetRootElement(doc);
  size_t tried = 0;
  for (const xmlNode* n = why_xml_first(root, "fact"); n; n = why_xml_next(n, "fact"), tried++)
    try_fact(&at, n);
  cr_expect_eq(tried, 50);
  xmlFreeDoc(doc);
  close_bench(&made);
}

Test(length, every_kind_of_check_has_a_fact) {
  why_arena* arena = why_arena_new(0);
  why_problems* problems = why_problems_new();
  why_reader reader = {
      .arena = arena, .symbols = why_symbols_new(arena, NULL, 0), .problems = problems};
  xmlDoc* doc = open_facts(&reader);
  for (size_t i = 0; fact_check_at(i); i++) {
    bool used = false;
    const xmlNode* root = xmlDocGetRootElement(doc);
    for (const xmlNode* n = why_xml_first(root, "fact"); n; n = why_xml_next(n, "fact"))
      used = used || strcmp(why_xml_string(&reader, n, "check"), fact_check_at(i)) == 0;
    cr_expect(used, "%s", fact_check_at(i));
  }
  xmlFreeDoc(doc);
  why_problems_free(problems);
  why_arena_free(arena);
}

/// A posture inside the ranges of every path, some way up from zero.
static why_posture middling_posture(const bench* made) {
  why_posture posture = {0};
  const why_anatomy* anatomy = &made->tables->anatomy;
  for (size_t i = 0; i < anatomy->coordinates.count; i++) {
    const why_coordinate* row = &anatomy->coordinates.at[i];
    double deg = fmin(0.3 * row->most_deg + 0.1 * row->least_deg, 40);
    why_posture_set_deg(made->frame, &posture, row->id, deg);
  }
  why_posture_complete(made->frame, &posture);
  return posture;
}

/// Central difference of the length about coordinate number `number`, the rest held.
static double slope_by_difference(const bench* made, const why_head* head, why_posture posture,
                                  int number) {
  const double STEP = 1e-5;
  posture.rad[number] += STEP;
  double more = why_length_at(made->frame, head, &posture, NULL);
  posture.rad[number] -= 2 * STEP;
  double less = why_length_at(made->frame, head, &posture, NULL);
  return (more - less) / (2 * STEP);
}

Test(length, slope_is_the_derivative_of_length) {
  bench made = open_bench();
  why_posture posture = middling_posture(&made);
  size_t tried = 0;
  for (size_t i = 0; i < made.tables->anatomy.heads.count; i++) {
    const why_head* head = &made.tables->anatomy.heads.at[i];
    for (unsigned j = 0; j < head->path.coordinate_count; j++, tried++) {
      why_symbol coordinate = head->path.coordinates[j];
      double analytic = why_length_slope(made.frame, head, &posture, coordinate);
      double numeric =
          slope_by_difference(&made, head, posture, why_frame_number(made.frame, coordinate));
      cr_expect_float_eq(analytic, numeric, 1e-7, "%s about %s: %g, not %g", head->name,
                         why_symbols_text(made.tables->symbols, coordinate), analytic, numeric);
    }
  }
  cr_expect(tried > 200, "%zu", tried);
  close_bench(&made);
}

static why_symbol named(const bench* made, const char* name) {
  why_symbol found = why_symbols_find(made->tables->symbols, name);
  cr_assert(found, "%s", name);
  return found;
}

static why_posture shoulder_at(const bench* made, double plane, double elevation, double rotation) {
  why_posture posture = {0};
  why_posture_set_deg(made->frame, &posture, named(made, "shoulder-plane"), plane);
  why_posture_set_deg(made->frame, &posture, named(made, "shoulder-elevation"), elevation);
  why_posture_set_deg(made->frame, &posture, named(made, "shoulder-rotation"), rotation);
  why_posture_complete(made->frame, &posture);
  return posture;
}

// A turn about the vertical changes plane and rotation by the same amount: the arm of horizontal
// adduction is what the length does on the way, with the blade held.
Test(length, horizontal_adduction_is_plane_and_rotation_together) {
  bench made = open_bench();
  const why_action* action =
      why_action_find(&made.tables->anatomy, named(&made, "shoulder-horizontal-adduction"));
  why_symbol blade = named(&made, "scapular-upward-rotation");
  const double STEP_DEG = 0.01;
  const double BLADE_DEG = 25;
  for (size_t i = 0; i < made.tables->anatomy.heads.count; i++) {
    const why_head* head = &made.tables->anatomy.heads.at[i];
    why_posture at = shoulder_at(&made, 30, 80, -10);
    why_posture more = shoulder_at(&made, 30 + STEP_DEG, 80, -10 + STEP_DEG);
    why_posture less = shoulder_at(&made, 30 - STEP_DEG, 80, -10 - STEP_DEG);
    why_posture_set_deg(made.frame, &at, blade, BLADE_DEG);
    why_posture_set_deg(made.frame, &more, blade, BLADE_DEG);
    why_posture_set_deg(made.frame, &less, blade, BLADE_DEG);
    double numeric = -(why_length_at(made.frame, head, &more, NULL) -
                       why_length_at(made.frame, head, &less, NULL)) /
                     (2 * STEP_DEG * 0.017453292519943295);
    double arm = why_length_arm(made.frame, head, &at, action);
    cr_expect_float_eq(arm, numeric, 1e-6, "%s: %g, not %g", head->name, arm, numeric);
  }
  close_bench(&made);
}

Test(length, opposite_actions_have_opposite_arms) {
  bench made = open_bench();
  why_posture posture = middling_posture(&made);
  const why_anatomy* anatomy = &made.tables->anatomy;
  for (size_t i = 0; i < anatomy->heads.count; i++) {
    for (size_t j = 0; j < anatomy->actions.count; j++) {
      const why_action* action = &anatomy->actions.at[j];
      const why_action* opposite = why_action_find(anatomy, action->opposite);
      cr_assert_not_null(opposite, "%s", action->name);
      cr_expect_float_eq(why_length_arm(made.frame, &anatomy->heads.at[i], &posture, action),
                         -why_length_arm(made.frame, &anatomy->heads.at[i], &posture, opposite),
                         1e-12);
    }
  }
  close_bench(&made);
}

Test(length, overhead_posture_is_told_by_another_plane) {
  // plane 135, elevation 172, rotation -100 is plane 45, rotation 80, turned by a full circle; any
  // plane that brings the rotation inside serves, so only the sum r - 2p counts (modulo 360).
  bench made = open_bench();
  why_posture posture = shoulder_at(&made, 135, 172, -100);
  double plane = posture.rad[made.frame->shoulder.plane] / 0.017453292519943295;
  double rotation = posture.rad[made.frame->shoulder.rotation] / 0.017453292519943295;
  cr_expect(plane >= 0 && plane <= 90, "%g", plane);
  cr_expect(rotation >= -92 && rotation <= 80, "%g", rotation);
  cr_expect_float_eq(remainder(rotation - 2 * plane - (-100 - 2 * 135), 360), 0, 1e-9);
  cr_expect(posture.outside, "elevation 172 lies beyond the region");
  close_bench(&made);
}

Test(length, an_arm_beyond_its_region_says_nothing_of_a_leg) {
  bench made = open_bench();
  why_posture posture = shoulder_at(&made, -90, 120, 0);
  bool outside = false;
  why_length_at(made.frame, why_head_find(&made.tables->anatomy, named(&made, "latissimus-dorsi")),
                &posture, &outside);
  cr_expect(outside);
  why_length_at(made.frame, why_head_find(&made.tables->anatomy, named(&made, "rectus-femoris")),
                &posture, &outside);
  cr_expect(!outside);
  close_bench(&made);
}

Test(length, fibre_length_is_one_at_slack_plus_optimal_fibre) {
  bench made = open_bench();
  for (size_t i = 0; i < made.tables->anatomy.heads.count; i++) {
    const why_head* head = &made.tables->anatomy.heads.at[i];
    double fibre =
        head->fibre_length_cm.value / 100 * cos(head->pennation_deg.value * 0.017453292519943295);
    double slack = head->slack_length_cm.value / 100;
    bool outside = true;
    cr_expect_float_eq(why_length_fibre(made.frame, head, slack + fibre, &outside), 1, 1e-12);
    cr_expect(!outside);
    cr_expect_float_eq(why_length_fibre(made.frame, head, slack + 0.2 * fibre, &outside), 0.4,
                       1e-12);
    cr_expect(outside);
    cr_expect_float_eq(why_length_fibre(made.frame, head, slack + 2.5 * fibre, &outside), 1.8,
                       1e-12);
    cr_expect(outside);
  }
  close_bench(&made);
}
