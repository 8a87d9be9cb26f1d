// SPDX-License-Identifier: GPL-3.0-or-later
// Chooses a viewpoint by where the body moves most, and fits all positions into one scale.
#include "view.h"

#include "bones.h"

#include <math.h>
#include <string.h>

/// Another view must show so many times the movement that the usual one, from the side, shows.
static const double BETTER = 1.25;
static const double LARGEST = 180; ///< Pixels a metre: no crouching person looks a giant.

/// Of a trunk's direction: from here on the body is seen from its head or its feet.
static const double ALONG = 0.8;

const char* why_view_words(const why_view* view, const why_motion* motion) {
  static const char* const WORDS[] = {"seen from the side", "seen from the front",
                                      "seen from above"};
  int thorax = motion->model->shoulder.thorax;
  double end_on = why_view_towards(view, motion->positions[0].pose.axes[thorax].z);
  if (view->from == WHY_VIEW_FRONT && fabs(end_on) > ALONG)
    return end_on > 0 ? "seen from the head" : "seen from the feet";
  return WORDS[view->from];
}

/// To the right, and up, on the paper.
static void axes_of(why_viewpoint from, why_vec at, double* right, double* up, double* towards) {
  *right = from == WHY_VIEW_FRONT ? at.y : at.x;
  *up = from == WHY_VIEW_ABOVE ? at.y : at.z;
  *towards = from == WHY_VIEW_FRONT ? at.x : from == WHY_VIEW_ABOVE ? at.z : -at.y;
}

why_spot why_view_way(const why_view* view, why_vec direction) {
  why_spot spot;
  double towards = 0;
  axes_of(view->from, direction, &spot.x, &spot.y, &towards);
  spot.y = -spot.y;
  return spot;
}

double why_view_towards(const why_view* view, why_vec direction) {
  double right = 0;
  double up = 0;
  double towards = 0;
  axes_of(view->from, direction, &right, &up, &towards);
  return towards;
}

why_spot why_view_spot(const why_view* view, why_vec anchor, why_vec point) {
  why_vec from = {point.x - anchor.x, point.y - anchor.y, point.z - anchor.z};
  why_spot way = why_view_way(view, from);
  return (why_spot){view->zero.x + view->scale * way.x, view->zero.y + view->scale * way.y};
}

why_vec why_view_anchor(const why_motion* motion, const why_statics* statics) {
  const why_symbol_list* fixed = &motion->exercise->fixed;
  for (size_t i = 0; i < fixed->count; i++) {
    int part = why_body_part_find(motion->model, fixed->at[i], WHY_WORKING);
    if (part >= 0)
      return statics->pose.origin[part];
  }
  const why_reactions* reactions = &statics->reactions;
  why_vec sum = {0, 0, 0};
  double share = reactions->count ? 1 / (double)reactions->count : 0;
  for (size_t i = 0; i < reactions->count; i++)
    sum = why_vec_add(sum, why_vec_scale(reactions->at[i].at, share));
  return sum;
}

/// How far the ends of the bones travel along each axis of the world, as sums of squares.
static why_vec travel_of(const why_motion* motion) {
  why_vec sum = {0, 0, 0};
  const why_mechanics* path = motion->path;
  const why_statics* first = &path->at[0];
  why_bones start = why_bones_of(motion, &first->pose);
  why_vec origin = why_view_anchor(motion, first);
  for (size_t i = 1; i < path->count; i++) {
    why_bones bones = why_bones_of(motion, &path->at[i].pose);
    why_vec shift = why_vec_subtract(origin, why_view_anchor(motion, &path->at[i]));
    for (size_t k = 0; k < bones.count; k++) {
      why_vec way = why_vec_subtract(why_vec_add(bones.at[k].to, shift), start.at[k].to);
      sum = why_vec_add(sum, (why_vec){way.x * way.x, way.y * way.y, way.z * way.z});
    }
  }
  return sum;
}

static why_viewpoint choose(const why_motion* motion) {
  why_vec travel = travel_of(motion);
  double side = travel.x + travel.z;
  double front = travel.y + travel.z;
  double above = travel.x + travel.y;
  if (fmax(front, above) <= BETTER * side)
    return WHY_VIEW_SIDE;
  return front >= above ? WHY_VIEW_FRONT : WHY_VIEW_ABOVE;
}

/// The body of all positions at the scale of `view`.
static why_box bounds_of(const why_motion* motion, const why_view* view) {
  why_box box = {INFINITY, INFINITY, -INFINITY, -INFINITY};
  for (int i = 0; i < WHY_POSITIONS; i++) {
    const why_statics* statics = &motion->positions[i];
    why_vec anchor = why_view_anchor(motion, statics);
    why_bones bones = why_bones_of(motion, &statics->pose);
    for (size_t k = 0; k < bones.count; k++) {
      why_box_widen(&box, why_view_spot(view, anchor, bones.at[k].from), 0);
      why_box_widen(&box, why_view_spot(view, anchor, bones.at[k].to), 0);
    }
    why_box_widen(&box, why_view_spot(view, anchor, bones.head), bones.head_m * view->scale);
  }
  return box;
}

why_view why_view_of(const why_motion* motion, why_box room) {
  why_view view = {.from = choose(motion), .scale = 1};
  why_box body = bounds_of(motion, &view);
  double width = body.right - body.left;
  double height = body.bottom - body.top;
  view.scale =
      fmin(LARGEST, fmin((room.right - room.left) / width, (room.bottom - room.top) / height));
  view.zero.x = (room.left + room.right) / 2 - view.scale * (body.left + body.right) / 2;
  view.zero.y = room.top - view.scale * body.top;
  view.bounds = bounds_of(motion, &view);
  return view;
}
