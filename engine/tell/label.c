// SPDX-License-Identifier: GPL-3.0-or-later
// The search for free room around a spot.
#include "label.h"

#include <math.h>
#include <string.h>

static const double TURN = 6.283185307179586;

/// Distances at which room is looked for, and directions at each.
static const double RINGS[] = {5, 9, 14, 20, 28, 38, 50, 64, 80, 98, 118, 140, 165, 190};
enum { DIRECTIONS = 16 };

/// What counts against a place, in pixels of distance: each line crossed; the opposite of the
/// wished direction. From LEADER on a line leads back to the spot.
static const double CROSSING = 40;
static const double AGAINST = 8;
static const double LEADER = 12;
static const double MARGIN = 2; ///< Between labels.

why_labels why_labels_in(why_picture* picture, why_box room) {
  return (why_labels){.picture = picture, .room = room};
}

void why_labels_take(why_labels* labels, why_box box) {
  *WHY_LIST_ADD(labels->picture->arena, labels->taken) = box;
}

void why_labels_avoid(why_labels* labels, why_spot from, why_spot to) {
  *WHY_LIST_ADD(labels->picture->arena, labels->strokes) = (why_stroke){from, to};
}

/// Whether the line enters the box (the clipping of Liang and Barsky, ACM Transactions on Graphics
/// 1984, "A new concept and method for line clipping", doi 10.1145/357332.357333).
static bool crosses(const why_stroke* stroke, const why_box* box) {
  double dx = stroke->to.x - stroke->from.x;
  double dy = stroke->to.y - stroke->from.y;
  const double steps[] = {-dx, dx, -dy, dy};
  const double rests[] = {stroke->from.x - box->left, box->right - stroke->from.x,
                          stroke->from.y - box->top, box->bottom - stroke->from.y};
  double enters = 0;
  double leaves = 1;
  for (int i = 0; i < 4; i++) {
    if (steps[i] == 0 && rests[i] < 0)
      return false;
    if (steps[i] < 0)
      enters = fmax(enters, rests[i] / steps[i]);
    else if (steps[i] > 0)
      leaves = fmin(leaves, rests[i] / steps[i]);
  }
  return enters < leaves;
}

static bool is_free(const why_labels* labels, const why_box* box) {
  const why_box* room = &labels->room;
  if (box->left < room->left || box->right > room->right || box->top < room->top ||
      box->bottom > room->bottom)
    return false;
  for (size_t i = 0; i < labels->taken.count; i++)
    if (why_box_meets(box, &labels->taken.at[i]))
      return false;
  return true;
}

static double crossings(const why_labels* labels, const why_box* box) {
  double sum = 0;
  for (size_t i = 0; i < labels->strokes.count; i++)
    sum += crosses(&labels->strokes.at[i], box);
  return sum;
}

/// The box of that width and height whose edge is `far` from `at`, in direction `way`.
static why_box box_at(why_spot at, why_spot way, double far, double width, double height) {
  double x = at.x + way.x * (far + width / 2);
  double y = at.y + way.y * (far + height / 2);
  return (why_box){x - width / 2, y - height / 2, x + width / 2, y + height / 2};
}

/// The best free box; false when there is none.
static bool find(const why_labels* labels, why_spot at, why_spot wish, double width, double height,
                 why_box* best, double* distance) {
  double least = INFINITY;
  double first = atan2(wish.y, wish.x);
  for (size_t ring = 0; ring < sizeof RINGS / sizeof *RINGS && RINGS[ring] < least; ring++) {
    for (int i = 0; i < DIRECTIONS; i++) {
      double angle = first + TURN * i / DIRECTIONS;
      why_spot way = {cos(angle), sin(angle)};
      why_box box = box_at(at, way, RINGS[ring], width, height);
      if (!is_free(labels, &box))
        continue;
      double cost =
          RINGS[ring] + CROSSING * crossings(labels, &box) + AGAINST * (1 - cos(angle - first)) / 2;
      if (cost < least) {
        least = cost;
        *best = box;
        *distance = RINGS[ring];
      }
    }
  }
  return isfinite(least);
}

static void lead_back(why_labels* labels, why_spot at, const why_box* box) {
  why_spot edge = {fmin(fmax(at.x, box->left), box->right),
                   fmin(fmax(at.y, box->top), box->bottom)};
  why_pen pen = {.stroke = WHY_INK_SOFT, .width = 0.8};
  why_picture_line(labels->picture, &pen, at, edge);
  why_labels_avoid(labels, at, edge);
}

bool why_labels_place(why_labels* labels, why_spot at, why_spot way, double size,
                      const char* words) {
  why_mark probe = {.words = words, .size = size, .spots = &(why_spot){0, 0}};
  why_box own = why_words_box(&probe);
  double width = own.right - own.left + 2 * MARGIN;
  double height = own.bottom - own.top + 2 * MARGIN;
  why_box box = {0};
  double distance = 0;
  if (!find(labels, at, way, width, height, &box, &distance))
    return false;
  why_labels_take(labels, box);
  if (distance >= LEADER)
    lead_back(labels, at, &box);
  why_picture_words(labels->picture, &(why_type){.ink = WHY_INK_TEXT, .size = size},
                    (why_spot){box.left + MARGIN, box.top + MARGIN - own.top}, words);
  return true;
}
