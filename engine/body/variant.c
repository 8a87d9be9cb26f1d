// SPDX-License-Identifier: GPL-3.0-or-later
// Rewrites the three positions and the forces of an exercise for a stretch of its path.
#include "variant.h"

#include <math.h>
#include <string.h>

enum { PLACES = 241 }; ///< Where the path is searched for a range.

static const double ALIKE_DEG = 1e-6;

/// What the parts of this file hand to each other.
typedef struct {
  const why_frame* frame;
  const why_exercise* exercise;
  const why_trained* trained;
  why_arena* arena;
  double from; ///< Places of the path, 0 to 2.
  double to;
  bool held;
} variant;

static double between(double a, double b, double share) {
  return a + share * (b - a);
}

static double angle_at(const variant* v, why_symbol coordinate, int side, double place) {
  int first = place < 1 ? 0 : 1;
  return between(why_position_angle(&v->exercise->positions[first], coordinate, side),
                 why_position_angle(&v->exercise->positions[first + 1], coordinate, side),
                 place - first);
}

static bool is_moved(const variant* v, why_symbol coordinate) {
  double first = angle_at(v, coordinate, false, 0);
  return fabs(angle_at(v, coordinate, false, 1) - first) > ALIKE_DEG ||
         fabs(angle_at(v, coordinate, false, 2) - first) > ALIKE_DEG;
}

/// How far an angle lies outside a range.
static double outside(const why_joint_range* range, double deg) {
  double low = fmin(range->from_deg, range->to_deg);
  double high = fmax(range->from_deg, range->to_deg);
  return fmax(0, fmax(low - deg, deg - high));
}

/// Cut to the places where a range is kept; where it is kept nowhere, to the place nearest to it.
static void cut(variant* v, const why_joint_range* range) {
  double least = INFINITY;
  double from = 0;
  double to = 2;
  for (int i = 0; i < PLACES; i++) {
    double place = 2.0 * i / (PLACES - 1);
    double away = outside(range, angle_at(v, range->coordinate, false, place));
    if (away < least - ALIKE_DEG) {
      least = away;
      from = place;
    }
    if (away < least + ALIKE_DEG)
      to = place;
  }
  v->from = fmax(v->from, from);
  v->to = fmax(v->from, fmin(v->to, to));
  v->held |= range->from_deg == range->to_deg || v->from == v->to;
}

static void cut_by_word(variant* v) {
  static const struct {
    const char* word;
    double from;
    double to;
  } WORDS[] = {{"long", 0, 1}, {"short", 1, 2}, {"mid", 0.5, 1.5}};
  const char* word = why_symbols_text(v->frame->symbols, v->trained->range);
  for (size_t i = 0; i < sizeof WORDS / sizeof *WORDS; i++) {
    if (strcmp(word, WORDS[i].word) == 0) {
      v->from = WORDS[i].from;
      v->to = WORDS[i].to;
    }
  }
}

/// Whether the arm has an angle of its own for a coordinate that the exercise does not move.
static bool is_set(const variant* v, why_symbol coordinate, double* deg) {
  for (size_t i = 0; i < v->trained->joint_ranges.count; i++) {
    const why_joint_range* range = &v->trained->joint_ranges.at[i];
    if (range->coordinate != coordinate || is_moved(v, coordinate))
      continue;
    *deg = (range->from_deg + range->to_deg) / 2;
    return true;
  }
  return false;
}

static why_angles angles_at(const variant* v, int side, double place) {
  why_angles made = {0};
  for (size_t i = 0; i < v->frame->count; i++) {
    double deg = angle_at(v, v->frame->ids[i], side, place);
    is_set(v, v->frame->ids[i], &deg);
    *WHY_LIST_ADD(v->arena, made) = (why_angle){v->frame->ids[i], deg};
  }
  return made;
}

static why_position position_at(const variant* v, double place) {
  int first = place < 1 ? 0 : 1;
  const why_position* a = &v->exercise->positions[first];
  const why_position* b = &v->exercise->positions[first + 1];
  double share = place - first;
  return (why_position){
      .pelvis_pitch_deg = between(a->pelvis_pitch_deg, b->pelvis_pitch_deg, share),
      .pelvis_roll_deg = between(a->pelvis_roll_deg, b->pelvis_roll_deg, share),
      .pelvis_yaw_deg = between(a->pelvis_yaw_deg, b->pelvis_yaw_deg, share),
      .working = angles_at(v, false, place),
      .other_side = angles_at(v, true, place),
      .place = v->exercise->place,
  };
}

/// Force between two positions: the share in proportion, the direction as far on the way.
static why_force force_at(const why_resistance* resistance, double place) {
  int first = place < 1 ? 0 : 1;
  const why_force* a = &resistance->forces[first];
  const why_force* b = &resistance->forces[first + 1];
  double share = place - first;
  why_force made = {.share = between(a->share, b->share, share),
                    .directed = a->directed || b->directed};
  double of_a = hypot(hypot(a->direction[0], a->direction[1]), a->direction[2]);
  double of_b = hypot(hypot(b->direction[0], b->direction[1]), b->direction[2]);
  for (int i = 0; i < 3; i++)
    made.direction[i] = between(of_a > 0 ? a->direction[i] / of_a : 0,
                                of_b > 0 ? b->direction[i] / of_b : 0, share);
  return made;
}

/// The middle of the cut, or the exercise's own middle position where that lies inside.
static double place_of(const variant* v, int position) {
  double middle = v->from < 1 && v->to > 1 ? 1 : (v->from + v->to) / 2;
  return position == 0 ? v->from : position == 1 ? middle : v->to;
}

static const why_exercise* rewrite(const variant* v) {
  why_exercise* made = WHY_NEW(v->arena, why_exercise);
  *made = *v->exercise;
  made->held |= v->held;
  made->resistances.at = WHY_NEW_ARRAY(v->arena, why_resistance, made->resistances.count);
  for (size_t i = 0; i < made->resistances.count; i++)
    made->resistances.at[i] = v->exercise->resistances.at[i];
  for (int p = 0; p < WHY_POSITIONS; p++) {
    made->positions[p] = position_at(v, place_of(v, p));
    for (size_t i = 0; i < made->resistances.count; i++)
      made->resistances.at[i].forces[p] = force_at(&v->exercise->resistances.at[i], place_of(v, p));
  }
  return made;
}

const why_exercise* why_variant_of(const why_frame* frame, const why_exercise* exercise,
                                   const why_trained* trained, why_arena* arena) {
  variant v = {frame, exercise, trained, arena, 0, 2, false};
  bool cut_by_range = false;
  bool sets = false;
  for (size_t i = 0; i < trained->joint_ranges.count; i++) {
    const why_joint_range* range = &trained->joint_ranges.at[i];
    if (is_moved(&v, range->coordinate)) {
      cut(&v, range);
      cut_by_range = true;
    } else {
      sets = true;
    }
  }
  if (!cut_by_range)
    cut_by_word(&v);
  v.held |= trained->mode == why_symbols_find(frame->symbols, "isometric");
  bool same = v.from == 0 && v.to == 2 && !sets && (exercise->held || !v.held);
  return same ? exercise : rewrite(&v);
}
