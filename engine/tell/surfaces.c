// SPDX-License-Identifier: GPL-3.0-or-later
// What the body touches: surfaces as hatched lines under their contacts, grips as rings, pads as
// broad bands along the parts that bench or machine hold.
#include "bones.h"
#include "figure.h"

#include <math.h>

/// A surface seen edge-on: a line square to `normal`, from `from` to `to` along it.
typedef struct {
  why_spot normal; ///< Unit vector on the paper, into the body.
  double level;    ///< Along the normal.
  double from;     ///< Along the line, which runs at a right angle to the normal.
  double to;
} surface;

static const double EDGE_ON = 0.5; ///< Of a normal on the paper: else the surface faces the viewer.
static const double SAME_LEVEL = 5;
static const double BEYOND = 12; ///< Pixels that a surface is drawn beyond its contacts.
static const double HATCH = 7;

/// The direction of the line.
static why_spot along(const surface* s) {
  return (why_spot){-s->normal.y, s->normal.x};
}

static why_spot spot_on(const surface* s, double at) {
  why_spot way = along(s);
  return (why_spot){s->normal.x * s->level + way.x * at, s->normal.y * s->level + way.y * at};
}

static bool same(const surface* a, const surface* b) {
  return a->normal.x * b->normal.x + a->normal.y * b->normal.y > 0.99 &&
         fabs(a->level - b->level) < SAME_LEVEL;
}

static bool surface_at(const why_reaction* reaction, const why_view* view, why_spot spot,
                       surface* made) {
  why_spot way = why_view_way(view, reaction->normal);
  double length = hypot(way.x, way.y);
  if (length < EDGE_ON)
    return false;
  made->normal = (why_spot){way.x / length, way.y / length};
  made->level = spot.x * made->normal.x + spot.y * made->normal.y;
  why_spot line = along(made);
  made->from = spot.x * line.x + spot.y * line.y;
  made->to = made->from;
  return true;
}

static void draw_surface(const surface* s, why_picture* picture) {
  static const why_pen LINE = {.stroke = WHY_INK_TEXT, .width = 1.5};
  static const why_pen THIN = {.stroke = WHY_INK_SOFT, .width = 0.9};
  double from = s->from - BEYOND;
  double to = s->to + BEYOND;
  why_picture_line(picture, &LINE, spot_on(s, from), spot_on(s, to));
  why_spot way = along(s);
  for (double at = from + 2; at <= to; at += HATCH) {
    why_spot top = spot_on(s, at);
    why_spot low = {top.x - 5 * (s->normal.x + way.x), top.y - 5 * (s->normal.y + way.y)};
    why_picture_line(picture, &THIN, top, low);
  }
}

static void draw_touch(why_picture* picture, bool grip, why_spot at) {
  static const why_pen RING = {.stroke = WHY_INK_TEXT, .fill = WHY_INK_PAPER, .width = 2};
  static const why_pen PAD = {.stroke = WHY_INK_SOFT, .fill = WHY_INK_PAD, .width = 1};
  if (grip)
    why_picture_disc(picture, &RING, at, 5);
  else
    why_picture_box(picture, &PAD, (why_box){at.x - 6, at.y - 6, at.x + 6, at.y + 6});
}

static void add_surface(surface* all, size_t* count, const surface* one) {
  for (size_t i = 0; i < *count; i++) {
    if (!same(&all[i], one))
      continue;
    all[i].from = fmin(all[i].from, one->from);
    all[i].to = fmax(all[i].to, one->to);
    return;
  }
  all[(*count)++] = *one;
}

void why_surfaces_draw(const why_motion* motion, const why_statics* statics, const why_view* view,
                       why_picture* picture) {
  const why_reactions* reactions = &statics->reactions;
  why_vec anchor = why_view_anchor(motion, statics);
  surface all[WHY_REACTIONS];
  size_t count = 0;
  for (size_t i = 0; i < reactions->count; i++) {
    const why_reaction* each = &reactions->at[i];
    why_spot spot = why_view_spot(view, anchor, each->at);
    surface one;
    if (each->pull || !surface_at(each, view, spot, &one))
      draw_touch(picture, each->pull, spot);
    else
      add_surface(all, &count, &one);
  }
  for (size_t i = 0; i < count; i++)
    draw_surface(&all[i], picture);
}

static bool is_held(const why_motion* motion, const why_bone* bone) {
  why_symbol segment = motion->model->parts[bone->part].segment;
  for (size_t i = 0; i < motion->exercise->fixed.count; i++)
    if (motion->exercise->fixed.at[i] == segment)
      return true;
  return false;
}

void why_pads_draw(const why_motion* motion, const why_statics* statics, const why_view* view,
                   why_picture* picture) {
  static const why_pen RIM = {.stroke = WHY_INK_SOFT, .width = 17};
  static const why_pen PAD = {.stroke = WHY_INK_PAD, .width = 15};
  why_vec anchor = why_view_anchor(motion, statics);
  why_bones bones = why_bones_of(motion, &statics->pose);
  for (int rim = 1; rim >= 0; rim--)
    for (size_t i = 0; i < bones.count; i++)
      if (is_held(motion, &bones.at[i]))
        why_picture_line(picture, rim ? &RIM : &PAD, why_view_spot(view, anchor, bones.at[i].from),
                         why_view_spot(view, anchor, bones.at[i].to));
}
