// SPDX-License-Identifier: GPL-3.0-or-later
// Composes a stick figure: pads, far side, surfaces, near side, head, arrows, labels.
#include "figure.h"

#include "bones.h"
#include "forces.h"
#include "scale.h"

#include <math.h>
#include <string.h>

static const double WIDTH = 250;
static const double HEADER =
    40; ///< Room for the words at the top, and for the scale at the bottom.
static const double FOOTER = 22;
static const double BESIDE = 18; ///< Room for labels around body and arrows.
static const double TALLEST = 250;
static const double LONGEST_ARROW = 52;
static const double TYPE = 11;

/// What the three pictures of an exercise share.
typedef struct {
  why_view view;
  double newton_px;
  double height;
} scene;

/// Body and arrows of all positions.
static why_box content_of(const why_motion* motion, const scene* at) {
  why_box box = at->view.bounds;
  for (int i = 0; i < WHY_POSITIONS; i++)
    why_arrows_bound(motion, &motion->positions[i], &at->view, at->newton_px, &box);
  return box;
}

/// Fit the body alone, see how far arrows reach beyond it, and fit again with that much room less.
static scene scene_of(const why_motion* motion) {
  why_box room = {BESIDE, HEADER + BESIDE, WIDTH - BESIDE, HEADER + BESIDE + TALLEST};
  scene at = {.view = why_view_of(motion, room)};
  at.newton_px = LONGEST_ARROW / why_forces_largest(motion, &at.view);
  why_box all = content_of(motion, &at);
  const why_box* body = &at.view.bounds;
  why_box rest = {room.left + body->left - all.left, room.top + body->top - all.top,
                  room.right + body->right - all.right, room.bottom + body->bottom - all.bottom};
  at.view = why_view_of(motion, rest);
  at.height = content_of(motion, &at).bottom + BESIDE + FOOTER;
  return at;
}

const char* why_position_words(int position) {
  static const char* const WORDS[] = {"stretched", "middle", "shortened"};
  return WORDS[position];
}

/// Whether a bone is drawn as the far one: the other side, where it is behind or idle.
static bool is_far(const why_motion* motion, const why_view* view, const why_bone* bone) {
  return bone->paired && bone->side == WHY_OTHER &&
         (view->from == WHY_VIEW_SIDE || motion->exercise->unilateral);
}

static void draw_side(const why_motion* motion, const why_bones* bones, const why_view* view,
                      why_vec anchor, bool far, why_labels* labels) {
  static const why_pen NEAR = {.stroke = WHY_INK_TEXT, .width = 4.5};
  static const why_pen FAR = {.stroke = WHY_INK_SOFT, .width = 2.5, .dash = WHY_DASH_SHORT};
  for (size_t i = 0; i < bones->count; i++) {
    const why_bone* bone = &bones->at[i];
    if (is_far(motion, view, bone) != far)
      continue;
    why_spot from = why_view_spot(view, anchor, bone->from);
    why_spot to = why_view_spot(view, anchor, bone->to);
    why_picture_line(labels->picture, far ? &FAR : &NEAR, from, to);
    why_labels_avoid(labels, from, to);
  }
}

static void draw_head(const why_bones* bones, const why_view* view, why_vec anchor,
                      why_labels* labels) {
  static const why_pen HEAD = {.stroke = WHY_INK_TEXT, .fill = WHY_INK_PAPER, .width = 3};
  why_spot middle = why_view_spot(view, anchor, bones->head);
  double radius = bones->head_m * view->scale;
  why_picture_disc(labels->picture, &HEAD, middle, radius);
  why_labels_avoid(labels, (why_spot){middle.x - radius, middle.y},
                   (why_spot){middle.x + radius, middle.y});
  why_labels_avoid(labels, (why_spot){middle.x, middle.y - radius},
                   (why_spot){middle.x, middle.y + radius});
}

static void draw_scale(why_picture* picture, double newton_px) {
  static const why_pen BAR = {.stroke = WHY_INK_TEXT, .width = 1.5};
  double newton = why_scale_round(LONGEST_ARROW / newton_px);
  double end = 8 + newton * newton_px;
  double y = picture->height - 10;
  why_picture_line(picture, &BAR, (why_spot){8, y}, (why_spot){end, y});
  why_picture_line(picture, &BAR, (why_spot){8, y - 3}, (why_spot){8, y + 3});
  why_picture_line(picture, &BAR, (why_spot){end, y - 3}, (why_spot){end, y + 3});
  why_picture_words(picture, &(why_type){.ink = WHY_INK_TEXT, .size = TYPE},
                    (why_spot){end + 6, y + 4},
                    why_arena_print(picture->arena, "arrows: %g N", newton));
}

static void describe(const why_motion* motion, const why_statics* statics, const why_view* view,
                     int position, why_picture* picture) {
  why_arena* arena = picture->arena;
  picture->title = why_arena_print(arena, "%s, %s position, %s", motion->exercise->name,
                                   why_position_words(position), why_view_words(view, motion));
  why_buffer text = {.arena = arena};
  why_buffer_print(&text, "Stick figure of a person of %.2f m and %.0f kg under the usual load.",
                   motion->model->stature_m, motion->model->mass_kg);
  why_shown_forces forces = why_forces_of(motion, statics, view);
  why_buffer_add(&text, " Forces:");
  for (size_t i = 0; i < forces.count; i++)
    why_buffer_print(&text, "%s %s", i ? "," : "", why_forces_words(&forces.at[i], arena));
  why_buffer_add(&text, ".");
  const why_symbol_list* fixed = &motion->exercise->fixed;
  for (size_t i = 0; i < fixed->count; i++)
    why_buffer_print(&text, "%s %s", i ? "," : " Held by bench or machine:",
                     why_symbols_text(motion->ground->symbols, fixed->at[i]));
  if (fixed->count)
    why_buffer_add(&text, ".");
  picture->description = why_buffer_text(&text);
}

static void draw_words(const why_motion* motion, int position, const why_view* view,
                       why_picture* picture) {
  static const why_type LARGE = {WHY_INK_TEXT, 14, true, WHY_ANCHOR_MIDDLE};
  static const why_type PLAIN = {WHY_INK_TEXT, 11, false, WHY_ANCHOR_MIDDLE};
  why_picture_words(picture, &LARGE, (why_spot){WIDTH / 2, 16}, why_position_words(position));
  why_picture_words(picture, &PLAIN, (why_spot){WIDTH / 2, 32}, why_view_words(view, motion));
}

void why_figure_draw(const why_motion* motion, int position, why_picture* picture) {
  const why_statics* statics = &motion->positions[position];
  scene at = scene_of(motion);
  why_vec anchor = why_view_anchor(motion, statics);
  why_bones bones = why_bones_of(motion, &statics->pose);
  picture->width = WIDTH;
  picture->height = at.height;
  describe(motion, statics, &at.view, position, picture);
  draw_words(motion, position, &at.view, picture);
  draw_scale(picture, at.newton_px);
  why_labels labels =
      why_labels_in(picture, (why_box){3, HEADER, WIDTH - 3, picture->height - FOOTER});
  why_pads_draw(motion, statics, &at.view, picture);
  draw_side(motion, &bones, &at.view, anchor, true, &labels);
  why_surfaces_draw(motion, statics, &at.view, picture);
  draw_side(motion, &bones, &at.view, anchor, false, &labels);
  draw_head(&bones, &at.view, anchor, &labels);
  why_arrows_draw(motion, statics, &at.view, at.newton_px, &labels);
}
