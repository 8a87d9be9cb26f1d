// SPDX-License-Identifier: GPL-3.0-or-later
// Curves: every point inside and where it belongs, words apart, lines told apart without colour.
#include "tell/curve.h"
#include "tell/scale.h"

#include "tell/marks.h"

#include <criterion/criterion.h>
#include <math.h>
#include <string.h>

enum { POINTS = 13 };

typedef struct {
  double x[POINTS];
  double y[POINTS];
} points;

static double draw(uint64_t* state) {
  *state = *state * 6364136223846793005u + 1442695040888963407u;
  return (double)(*state >> 11) / 9007199254740992.0;
}

static why_curve curve_of(why_arena* arena, uint64_t seed, size_t count) {
  static const char* const NAMES[] = {
      "biceps femoris long head",
      "semimembranosus",
      "gluteus maximus, upper part",
      "adductor magnus adductor part, with a name that goes on and on to the end of the line",
      "a",
      "soleus"};
  why_curve_line* lines = WHY_NEW_ARRAY(arena, why_curve_line, count);
  for (size_t i = 0; i < count; i++) {
    points* at = WHY_NEW(arena, points);
    for (int k = 0; k < POINTS; k++) {
      at->x[k] = 0.4 + 1.4 * draw(&seed);
      at->y[k] = 1.6 * draw(&seed);
    }
    lines[i] = (why_curve_line){NAMES[i], POINTS, at->x, at->y};
  }
  return (why_curve){.title = "Stress over fibre length",
                     .about = "Something.",
                     .x_words = "fibre length, optimal lengths",
                     .y_words = "stress",
                     .x_least = 0.5,
                     .x_most = 1.5,
                     .y_least = 0,
                     .y_most = 1,
                     .count = count,
                     .lines = lines};
}

Test(curve, keeps_words_apart_and_everything_inside) {
  for (uint64_t seed = 1; seed <= 40; seed++) {
    why_arena* arena = why_arena_new(0);
    why_curve curve = curve_of(arena, seed, 1 + seed % WHY_CURVE_LINES);
    why_picture picture = {.arena = arena};
    why_curve_draw(&curve, &picture);
    marks_check(&picture, "curve");
    cr_expect_gt(picture.width, 0);
    why_arena_free(arena);
  }
}

/// Marks of two lines differ in shape, or their lines in dash: ink alone never decides.
Test(curve, tells_lines_apart_without_colour) {
  why_arena* arena = why_arena_new(0);
  why_curve curve = curve_of(arena, 1, WHY_CURVE_LINES);
  why_picture picture = {.arena = arena};
  why_curve_draw(&curve, &picture);
  // The key holds one line and one mark a name, the line first.
  const why_mark* marks[WHY_CURVE_LINES];
  const why_mark* dashes[WHY_CURVE_LINES];
  size_t found = 0;
  for (size_t i = 2; i < picture.marks.count && found < WHY_CURVE_LINES; i++) {
    const why_mark* mark = &picture.marks.at[i];
    size_t length = mark->words ? strlen(mark->words) : 0; // names that are too long go on below
    if (!length || strncmp(mark->words, curve.lines[found].name, length) != 0)
      continue;
    marks[found] = &picture.marks.at[i - 1];
    dashes[found++] = &picture.marks.at[i - 2];
  }
  cr_assert_eq(found, WHY_CURVE_LINES);
  for (size_t i = 0; i < found; i++)
    for (size_t k = 0; k < i; k++)
      cr_expect(marks[i]->count != marks[k]->count || dashes[i]->dash != dashes[k]->dash,
                "lines %zu and %zu look alike", k, i);
  why_arena_free(arena);
}

Test(curve, leaves_out_what_is_not_finite) {
  why_arena* arena = why_arena_new(0);
  why_curve curve = curve_of(arena, 1, 1);
  double* y = WHY_NEW_ARRAY(arena, double, POINTS);
  for (int i = 0; i < POINTS; i++)
    y[i] = NAN;
  why_curve_line line = curve.lines[0];
  line.y = y;
  curve.lines = &line;
  why_picture picture = {.arena = arena};
  why_curve_draw(&curve, &picture);
  cr_expect_eq(picture.marks.count, 0);
  cr_expect_eq(picture.width, 0);
  why_arena_free(arena);
}

Test(scale, has_round_figures_that_hold_all) {
  static const double BOUNDS[][2] = {{0, 1},      {0.43, 1.81},  {-9, 153},    {0, 1471},
                                     {1, 1},      {-0.02, 0.01}, {0, 0.00031}, {5, -5},
                                     {99.9, 100}, {-1e6, 1e6}};
  for (size_t i = 0; i < sizeof BOUNDS / sizeof *BOUNDS; i++) {
    double least = BOUNDS[i][0];
    double most = BOUNDS[i][1];
    why_scale scale = why_scale_of(least, most, 10, 110);
    cr_expect_leq(scale.steps, 7);
    cr_expect_geq(scale.steps, 1);
    cr_expect_leq(scale.least, least + 1e-9 * fabs(least));
    if (most > least)
      cr_expect_geq(why_scale_tick(&scale, scale.steps), most - 1e-3 * scale.step);
    double power = scale.step / pow(10, floor(log10(scale.step) + 1e-9));
    cr_expect(fabs(power - 1) < 1e-6 || fabs(power - 2) < 1e-6 || fabs(power - 5) < 1e-6);
    cr_expect_float_eq(why_scale_at(&scale, scale.least), 10, 1e-9);
    cr_expect_float_eq(why_scale_at(&scale, why_scale_tick(&scale, scale.steps)), 110, 1e-6);
  }
}

Test(scale, writes_figures_with_the_decimals_they_need) {
  why_arena* arena = why_arena_new(0);
  why_scale scale = why_scale_of(0.4, 1.8, 0, 1);
  cr_expect_str_eq(why_scale_words(&scale, 0, arena), "0.4");
  scale = why_scale_of(-40, 160, 0, 1);
  cr_expect_str_eq(why_scale_words(&scale, 0, arena), "\xE2\x88\x92"
                                                      "50");
  why_arena_free(arena);
}
