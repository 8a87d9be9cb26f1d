// SPDX-License-Identifier: GPL-3.0-or-later
// The pictures of every exercise of the catalogue: nothing covers words, every force is named, and
// what is drawn is what statics say.
#include "tell/figure.h"
#include "tell/exercise.h"
#include "tell/forces.h"
#include "tell/marks.h"
#include "tell/strips.h"
#include "tell/svg.h"

#include <criterion/criterion.h>
#include <math.h>
#include <string.h>

TestSuite(figure, .init = exercise_open, .fini = exercise_close);

static const why_picture* draw(const why_motion* motion, int position, why_arena* arena) {
  why_picture* picture = WHY_NEW(arena, why_picture);
  *picture = (why_picture){.arena = arena, .title = "", .description = ""};
  why_figure_draw(motion, position, picture);
  return picture;
}

/// Every force that the description names stands in the picture too.
static void check_labels(const why_picture* picture, why_arena* arena) {
  const char* start = strstr(picture->description, "Forces: ");
  cr_assert_not_null(start);
  start += strlen("Forces: ");
  char* list = why_arena_copy(arena, start, strcspn(start, "."));
  size_t count = 0;
  for (char* each = strtok(list, ","); each; each = strtok(NULL, ","), count++)
    cr_expect(marks_say(picture, each + (*each == ' ')), "%s: no room for \"%s\"", picture->title,
              each);
  cr_expect_gt(count, 0);
}

static void check_exercise(const why_exercise* exercise) {
  why_arena* arena = why_arena_new(0);
  const char* id = why_symbols_text(exercise_ground()->symbols, exercise->id);
  const why_motion* motion = exercise_motion(id, arena);
  for (int i = 0; i < WHY_POSITIONS; i++) {
    const why_picture* picture = draw(motion, i, arena);
    marks_check(picture, id);
    check_labels(picture, arena);
    why_buffer out = {.arena = arena};
    why_svg_add(picture, 1, &out);
    marks_check_xml(why_buffer_text(&out), out.length, id);
  }
  why_arena_free(arena);
}

Test(figure, of_every_exercise_keeps_words_apart, .timeout = 120) {
  const why_exercise_table* table = &exercise_ground()->tables->exercises;
  cr_assert_gt(table->rows.count, 300);
  for (size_t i = 0; i < table->rows.count; i++)
    check_exercise(&table->rows.at[i]);
}

Test(figure, leaves_no_force_unnamed) {
  why_arena* arena = why_arena_new(0);
  const why_motion* motion = exercise_motion("barbell-back-squat", arena);
  const why_picture* picture = draw(motion, 0, arena);
  // By hand: 75 kg of body and as much of bar, at 9.80665 m/s².
  cr_expect(marks_say(picture, "body 735 N"));
  cr_expect(marks_say(picture, "load 735 N"));
  cr_expect(marks_say(picture, "support 1471 N"));
  why_arena_free(arena);
}

/// Arrows are to scale: twice the force, twice the length.
Test(figure, draws_arrows_to_scale) {
  why_arena* arena = why_arena_new(0);
  const why_motion* motion = exercise_motion("barbell-back-squat", arena);
  why_view view = why_view_of(motion, (why_box){0, 0, 200, 200});
  why_box once = view.bounds;
  why_box twice = view.bounds;
  why_arrows_bound(motion, &motion->positions[0], &view, 0.1, &once);
  why_arrows_bound(motion, &motion->positions[0], &view, 0.2, &twice);
  double foot = view.bounds.bottom;
  cr_expect_float_eq(twice.bottom - foot, 2 * (once.bottom - foot), 8.1);
  cr_expect_float_eq(once.bottom - foot, 0.1 * 1471, 8.1);
  why_arena_free(arena);
}

/// Where people would stand to see it (common practice).
Test(figure, looks_from_where_the_movement_shows) {
  static const struct {
    const char* exercise;
    why_viewpoint from;
  } CASES[] = {
      {"barbell-back-squat", WHY_VIEW_SIDE},      {"barbell-romanian-deadlift", WHY_VIEW_SIDE},
      {"seated-leg-curl", WHY_VIEW_SIDE},         {"barbell-bench-press", WHY_VIEW_SIDE},
      {"dumbbell-lateral-raise", WHY_VIEW_FRONT}, {"seated-hip-abduction", WHY_VIEW_ABOVE}};
  why_arena* arena = why_arena_new(0);
  for (size_t i = 0; i < sizeof CASES / sizeof *CASES; i++) {
    const why_motion* motion = exercise_motion(CASES[i].exercise, arena);
    why_view view = why_view_of(motion, (why_box){0, 0, 200, 200});
    cr_expect_eq(view.from, CASES[i].from, "%s", CASES[i].exercise);
  }
  why_arena_free(arena);
}

/// On the paper a segment is as long as it is in the body, seen square on.
Test(figure, keeps_lengths) {
  why_arena* arena = why_arena_new(0);
  const why_motion* motion = exercise_motion("barbell-back-squat", arena);
  why_view view = why_view_of(motion, (why_box){0, 0, 200, 200});
  const why_pose* pose = &motion->positions[2].pose;
  why_vec head = pose->origin[motion->model->shoulder.thorax];
  why_vec hip = pose->origin[0];
  why_spot a = why_view_spot(&view, hip, head);
  why_spot b = why_view_spot(&view, hip, hip);
  double paper = hypot(a.x - b.x, a.y - b.y) / view.scale;
  double body = hypot(head.x - hip.x, head.z - hip.z);
  cr_expect_float_eq(paper, body, 1e-9);
  cr_expect_lt(a.y, b.y, "up is up");
  why_arena_free(arena);
}

Test(figure, strips_keep_words_apart, .timeout = 120) {
  const why_exercise_table* table = &exercise_ground()->tables->exercises;
  for (size_t i = 0; i < table->rows.count; i++) {
    why_arena* arena = why_arena_new(0);
    why_question question;
    why_question_init(&question, exercise_ground(), arena, exercise_problems());
    question.exercise = table->rows.at[i].id;
    why_moments* moments = NULL;
    cr_assert_eq(why_moments_run(&question, &moments), WHY_OK);
    why_picture picture = {.arena = arena, .title = "", .description = ""};
    why_strips_draw(moments, &picture);
    marks_check(&picture, table->rows.at[i].name);
    why_arena_free(arena);
  }
}
