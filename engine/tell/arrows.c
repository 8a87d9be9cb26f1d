// SPDX-License-Identifier: GPL-3.0-or-later
// Forces as arrows to scale, moments of machines as arcs, each with its label.
#include "figure.h"
#include "forces.h"

#include <math.h>

static const double TYPE = 11;
static const double SHORTEST = 15; ///< Pixels: shorter arrows are drawn so long, to be seen.
static const double ARC = 20;      ///< Radius of the arc of a moment.
enum { ARC_STEPS = 20 };

typedef struct {
  why_ink ink;
  double width;
  bool open; ///< The head.
} look;

static look look_of(why_force_kind kind) {
  static const look LOOKS[] = {{WHY_INK_WEIGHT, 1.8, false},
                               {WHY_INK_LOAD, 2.8, false},
                               {WHY_INK_SUPPORT, 2.2, true},
                               {WHY_INK_LOAD, 2.2, false}};
  return LOOKS[kind];
}

static void label(const why_shown_force* force, why_spot at, why_spot way, why_labels* labels) {
  why_labels_place(labels, at, way, TYPE, why_forces_words(force, labels->picture->arena));
}

static void take_around(why_labels* labels, why_spot at, double radius) {
  why_labels_take(labels, (why_box){at.x - radius, at.y - radius, at.x + radius, at.y + radius});
}

/// The usual signs of physics for what points at the viewer (a dot) or away (a cross).
static void draw_end_on(const why_shown_force* force, bool towards, why_labels* labels) {
  look as = look_of(force->kind);
  why_picture* picture = labels->picture;
  why_pen pen = {.stroke = as.ink, .fill = WHY_INK_PAPER, .width = as.width};
  why_spot at = force->spot;
  why_picture_disc(picture, &pen, at, 6);
  if (towards) {
    why_picture_disc(picture, &(why_pen){.stroke = as.ink, .fill = as.ink, .width = 1}, at, 2);
  } else {
    why_picture_line(picture, &pen, (why_spot){at.x - 4, at.y - 4}, (why_spot){at.x + 4, at.y + 4});
    why_picture_line(picture, &pen, (why_spot){at.x - 4, at.y + 4}, (why_spot){at.x + 4, at.y - 4});
  }
  take_around(labels, at, 7);
}

/// Where the arrow of a force begins and ends: supports press towards their point, all others pull
/// away from it.
static why_stroke ends_of(const why_shown_force* force, const why_view* view, double newton_px) {
  why_spot way = why_view_way(view, force->newton);
  double long_px = hypot(way.x, way.y) * newton_px;
  double by = newton_px * fmax(1, SHORTEST / long_px);
  why_spot at = force->spot;
  if (force->kind == WHY_FORCE_SUPPORT && force->pushes)
    return (why_stroke){{at.x - by * way.x, at.y - by * way.y}, at};
  return (why_stroke){at, {at.x + by * way.x, at.y + by * way.y}};
}

static void draw_force(const why_shown_force* force, const why_view* view, double newton_px,
                       why_labels* labels) {
  if (why_force_is_end_on(force, view)) {
    draw_end_on(force, why_view_towards(view, force->newton) > 0, labels);
    return;
  }
  look as = look_of(force->kind);
  why_stroke stroke = ends_of(force, view, newton_px);
  why_picture* picture = labels->picture;
  why_picture_arrow(picture, as.ink, as.width, as.open, stroke.from, stroke.to);
  why_labels_avoid(labels, stroke.from, stroke.to);
  if (force->kind == WHY_FORCE_SUPPORT)
    return;
  why_pen mark = {.stroke = as.ink,
                  .fill = force->kind == WHY_FORCE_WEIGHT ? as.ink : WHY_INK_PAPER,
                  .width = 2};
  why_picture_disc(picture, &mark, force->spot, 3.5);
}

/// An arc about the joint; anticlockwise when the moment points at the viewer.
static void draw_lever(const why_shown_force* force, const why_view* view, why_labels* labels) {
  double sense = why_view_towards(view, force->newton) >= 0 ? -1 : 1;
  why_spot at[ARC_STEPS + 1];
  for (int i = 0; i <= ARC_STEPS; i++) {
    double angle = sense * (0.6 + 4.2 * i / ARC_STEPS);
    at[i] = (why_spot){force->spot.x + ARC * cos(angle), force->spot.y + ARC * sin(angle)};
  }
  look as = look_of(force->kind);
  why_pen pen = {.stroke = as.ink, .width = as.width};
  why_picture_path(labels->picture, &pen, at, ARC_STEPS, false);
  why_picture_arrow(labels->picture, as.ink, as.width, false, at[ARC_STEPS - 2], at[ARC_STEPS]);
  for (int i = 0; i < ARC_STEPS; i += 4)
    why_labels_avoid(labels, at[i], at[i + 4]);
}

static void label_force(const why_shown_force* force, const why_view* view, double newton_px,
                        why_labels* labels) {
  if (force->kind == WHY_FORCE_LEVER || why_force_is_end_on(force, view)) {
    label(force, (why_spot){force->spot.x + ARC, force->spot.y - 4}, (why_spot){1, -0.5}, labels);
    return;
  }
  why_stroke stroke = ends_of(force, view, newton_px);
  bool presses = force->kind == WHY_FORCE_SUPPORT && force->pushes;
  why_spot way = {stroke.to.x - stroke.from.x, stroke.to.y - stroke.from.y};
  if (presses)
    label(force, stroke.from, (why_spot){-way.x, -way.y}, labels);
  else
    label(force, stroke.to, way, labels);
}

void why_arrows_bound(const why_motion* motion, const why_statics* statics, const why_view* view,
                      double newton_px, why_box* box) {
  why_shown_forces forces = why_forces_of(motion, statics, view);
  for (size_t i = 0; i < forces.count; i++) {
    const why_shown_force* force = &forces.at[i];
    bool round = force->kind == WHY_FORCE_LEVER || why_force_is_end_on(force, view);
    why_stroke stroke =
        round ? (why_stroke){force->spot, force->spot} : ends_of(force, view, newton_px);
    why_box_widen(box, stroke.from, round ? ARC : 4);
    why_box_widen(box, stroke.to, 4);
  }
}

void why_arrows_draw(const why_motion* motion, const why_statics* statics, const why_view* view,
                     double newton_px, why_labels* labels) {
  why_shown_forces forces = why_forces_of(motion, statics, view);
  for (size_t i = 0; i < forces.count; i++) {
    if (forces.at[i].kind == WHY_FORCE_LEVER)
      draw_lever(&forces.at[i], view, labels);
    else
      draw_force(&forces.at[i], view, newton_px, labels);
  }
  for (size_t i = 0; i < forces.count; i++)
    label_force(&forces.at[i], view, newton_px, labels);
}
