// SPDX-License-Identifier: GPL-3.0-or-later
// Chooses the heads that move an exercise and hands their lengths and stresses to the curve.
#include "stress.h"

#include "curve.h"

/// Of its capacity, mean over the repetition: a head that works less is not drawn.
static const double WORTH_A_LINE = 0.05;
enum { BEHIND_POINTS = 41, EXERCISES = 2 };

typedef struct {
  size_t count;
  size_t heads[WHY_CURVE_LINES];
} chosen;

static bool is_worth(const why_exertion* exertion, const chosen* best) {
  return exertion->effort->settled && best->count;
}

/// Put `head` into its place by moving stress, greatest first; the order of the tables decides
/// between equals.
static void choose(chosen* best, const why_feature* features, size_t head) {
  size_t at = best->count;
  while (at && features[best->heads[at - 1]].moving < features[head].moving)
    at--;
  if (at == WHY_CURVE_LINES)
    return;
  if (best->count < WHY_CURVE_LINES)
    best->count++;
  for (size_t i = best->count - 1; i > at; i--)
    best->heads[i] = best->heads[i - 1];
  best->heads[at] = head;
}

static chosen choose_all(const why_exertion* exertion) {
  chosen best = {0};
  for (size_t i = 0; i < exertion->muscles->count; i++)
    if (exertion->features[i].moving >= WORTH_A_LINE)
      choose(&best, exertion->features, i);
  return best;
}

static why_curve_line line_of(const why_exertion* exertion, size_t head, why_arena* arena) {
  const why_ground* ground = exertion->motion->ground;
  const why_effort* effort = exertion->effort;
  int side = exertion->features[head].side;
  double* x = WHY_NEW_ARRAY(arena, double, effort->count);
  double* y = WHY_NEW_ARRAY(arena, double, effort->count);
  for (size_t i = 0; i < effort->count; i++) {
    x[i] = effort->at[i].heads[side][head].state.fibre;
    y[i] = effort->at[i].heads[side][head].stress;
  }
  const char* id = why_symbols_text(ground->symbols, exertion->features[head].head->id);
  return (why_curve_line){why_ground_name(ground, arena, "head", id), effort->count, x, y};
}

/// What a head can give at each length.
static const why_curve_line* capacity_of(const why_exertion* exertion, double least, double most,
                                         why_arena* arena) {
  double* x = WHY_NEW_ARRAY(arena, double, BEHIND_POINTS);
  double* y = WHY_NEW_ARRAY(arena, double, BEHIND_POINTS);
  for (int i = 0; i < BEHIND_POINTS; i++) {
    x[i] = least + (most - least) * i / (BEHIND_POINTS - 1);
    y[i] = why_muscles_capacity(exertion->muscles, x[i]);
  }
  why_curve_line* line = WHY_NEW(arena, why_curve_line);
  *line = (why_curve_line){"greatest force at that length", BEHIND_POINTS, x, y};
  return line;
}

/// A curve without lines yet.
static why_curve curve_of(const why_exertion* exertion, const char* about, why_arena* arena) {
  why_curve curve = {.title = "Stress over fibre length",
                     .about = about,
                     .x_words = "fibre length, in optimal fibre lengths",
                     .y_words = "stress: force as a share of capacity",
                     .x_least = 0.6,
                     .x_most = 1.4,
                     .y_least = 0,
                     .y_most = 1};
  curve.behind = capacity_of(exertion, curve.x_least, curve.x_most, arena);
  return curve;
}

void why_stress_draw(const why_exertion* exertion, why_picture* picture) {
  chosen best = choose_all(exertion);
  if (!is_worth(exertion, &best))
    return;
  why_arena* arena = picture->arena;
  const char* about =
      why_arena_print(arena,
                      "How hard the heads that move %s work, and how long their fibres are, from "
                      "the stretched to the shortened position near the failure of a set.",
                      exertion->motion->exercise->name);
  why_curve curve = curve_of(exertion, about, arena);
  why_curve_line lines[WHY_CURVE_LINES];
  for (size_t i = 0; i < best.count; i++)
    lines[i] = line_of(exertion, best.heads[i], arena);
  curve.count = best.count;
  curve.lines = lines;
  why_curve_draw(&curve, picture);
}

void why_stress_draw_two(const why_exertion* a, const why_exertion* b, why_picture* picture) {
  chosen best = choose_all(a);
  chosen other = choose_all(b);
  if (!is_worth(a, &best) || !is_worth(b, &other))
    return;
  why_arena* arena = picture->arena;
  const why_exertion* both[EXERCISES] = {a, b};
  const char* about =
      why_arena_print(arena,
                      "How hard the heads that move %s work there and in %s, and how long their "
                      "fibres are, from the stretched to the shortened position near the failure "
                      "of a set.",
                      a->motion->exercise->name, b->motion->exercise->name);
  why_curve curve = curve_of(a, about, arena);
  why_curve_line lines[WHY_CURVE_LINES];
  size_t heads =
      best.count < WHY_CURVE_LINES / EXERCISES ? best.count : WHY_CURVE_LINES / EXERCISES;
  for (size_t i = 0; i < EXERCISES * heads; i++) {
    const why_exertion* of = both[i % EXERCISES];
    lines[i] = line_of(of, best.heads[i / EXERCISES], arena);
    lines[i].name = why_arena_print(arena, "%s, %s", lines[i].name, of->motion->exercise->name);
  }
  curve.count = EXERCISES * heads;
  curve.lines = lines;
  why_curve_draw(&curve, picture);
}
