// SPDX-License-Identifier: GPL-3.0-or-later
// Exercises as read from the knowledge base. The numbers of rows are counts of the XML's own
// elements; the postures are the catalogue's own (common practice).
#include "shipped.h"

#include <criterion/criterion.h>
#include <glob.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

static why_tables* tables;

static void open_knowledge(void) {
  tables = shipped_open();
}

TestSuite(exercises, .init = open_knowledge, .fini = shipped_close);

static why_symbol name(const char* text) {
  return why_symbols_find(tables->symbols, text);
}

static const char* text(why_symbol symbol) {
  return why_symbols_text(tables->symbols, symbol);
}

static const why_exercise* exercise(const char* id) {
  const why_exercise* found = why_exercise_find(&tables->exercises, name(id));
  cr_assert_not_null(found, "no exercise %s", id);
  return found;
}

static double angle(const why_exercise* of, int position, const char* coordinate, bool other) {
  return why_position_angle(&of->positions[position], name(coordinate), other);
}

/// How often a piece of text stands in the files of rules/exercises/, read as plain text.
static size_t written(const char* piece) {
  glob_t files;
  size_t count = 0;
  cr_assert_eq(glob(WHY_HOME "/rules/exercises/*.xml", 0, NULL, &files), 0);
  for (size_t i = 0; i < files.gl_pathc; i++) {
    static char line[4096];
    FILE* file = fopen(files.gl_pathv[i], "r");
    cr_assert_not_null(file);
    while (fgets(line, sizeof line, file))
      for (const char* at = line; (at = strstr(at, piece)); at += strlen(piece))
        count++;
    fclose(file);
  }
  globfree(&files);
  return count;
}

Test(exercises, every_row_is_read) {
  size_t needs = 0, contacts = 0, resistances = 0, cautions = 0, held = 0, unilateral = 0;
  for (size_t i = 0; i < tables->exercises.rows.count; i++) {
    const why_exercise* each = &tables->exercises.rows.at[i];
    needs += each->needs.count;
    contacts += each->contacts.count;
    resistances += each->resistances.count;
    cautions += each->cautions.count;
    held += each->held;
    unilateral += each->unilateral;
  }
  cr_expect_eq(tables->exercises.patterns.count, written("<exercises "));
  cr_expect_eq(tables->exercises.rows.count, written("<exercise "));
  cr_expect_eq(needs, written("<needs"));
  cr_expect_eq(contacts, written("<contact "));
  cr_expect_eq(resistances, written("<resistance "));
  cr_expect_eq(cautions, written("<caution>"));
  cr_expect_eq(held, written("isometric=\"yes\""));
  cr_expect_eq(unilateral, written("sides=\"unilateral\""));
  cr_expect_gt(needs, tables->exercises.rows.count);
}

Test(exercises, a_squat_is_read_whole) {
  const why_exercise* squat = exercise("barbell-back-squat");
  cr_expect_str_eq(squat->name, "barbell back squat");
  cr_expect_str_eq(text(squat->pattern), "squat");
  cr_expect_str_eq(text(squat->axial_load), "high");
  cr_expect_str_eq(text(squat->basis), "common-practice");
  cr_assert_eq(squat->needs.count, 2);
  cr_expect_eq(squat->needs.at[0].items.count, 3);
  cr_assert_eq(squat->moves.count, 2);
  cr_expect_str_eq(text(squat->moves.at[0]), "hip-extension");
  cr_assert_eq(squat->resistances.count, 1);
  cr_expect_float_eq(squat->resistances.at[0].body_masses, 1, 0);
  cr_expect_eq(angle(squat, 0, "knee-flexion", false), 125);
  cr_expect_eq(angle(squat, 2, "knee-flexion", false), 6);
  cr_expect_eq(squat->positions[0].pelvis_pitch_deg, 33);
  cr_expect_eq(strncmp(squat->place.file, "rules/exercises/squat.xml", 25), 0);
}

Test(exercises, the_other_side_mirrors_what_it_does_not_list) {
  const why_exercise* squat = exercise("barbell-back-squat");
  cr_expect_eq(angle(squat, 0, "hip-abduction", true), angle(squat, 0, "hip-abduction", false));
  const why_exercise* step = exercise("step-up");
  cr_expect_eq(angle(step, 0, "knee-flexion", false), 92);
  cr_expect_eq(angle(step, 0, "knee-flexion", true), 12);
  cr_expect_eq(angle(step, 0, "hip-abduction", false), -8);
  cr_expect_eq(angle(step, 0, "hip-abduction", true), 0, "a written 0 must not be mirrored away");
  cr_expect_eq(angle(step, 0, "shoulder-elevation", true), 49.5);
}

Test(exercises, forces_by_position_and_for_all_positions) {
  const why_exercise* band = exercise("behind-the-body-band-curl");
  const why_resistance* pull = &band->resistances.at[0];
  cr_expect_float_eq(pull->forces[0].share, 0.6, 1e-12);
  cr_expect_float_eq(pull->forces[2].share, 1, 0);
  cr_expect_float_eq(pull->forces[0].direction[0], -0.874, 1e-12);
  const why_exercise* calf = exercise("standing-calf-raise");
  for (int i = 0; i < WHY_POSITIONS; i++)
    cr_expect_eq(calf->resistances.at[0].forces[i].direction[2], -1);
}

Test(exercises, contacts_keep_what_differs_from_the_default) {
  const why_exercise* lunge = exercise("forward-lunge");
  cr_assert_eq(lunge->contacts.count, 3);
  cr_expect(lunge->contacts.at[0].directed);
  cr_expect_float_eq(lunge->contacts.at[0].friction, 0.04, 1e-12);
  cr_expect_eq(lunge->contacts.at[0].weight, 2);
  cr_expect(!lunge->contacts.at[2].directed);
  cr_expect(isnan(lunge->contacts.at[2].friction));
  cr_expect(exercise("sit-up")->contacts.at[1].pull);
}

Test(exercises, an_alternative_without_items_needs_nothing) {
  const why_exercise* push = exercise("push-up");
  cr_assert_eq(push->needs.count, 1);
  cr_expect_eq(push->needs.at[0].items.count, 0);
}

Test(exercises, one_bar_joins_the_hands_and_two_dumbbells_do_not) {
  cr_expect(exercise("barbell-bench-press")->joined_hands);
  cr_expect(!exercise("dumbbell-bench-press")->joined_hands);
}
