// SPDX-License-Identifier: GPL-3.0-or-later
// The stick figures of an exercise as pictures of the tree; its mechanics are solved when somebody
// looks, once for all positions.
#include "figure.h"
#include "parts.h"

typedef struct {
  const why_ground* ground;
  why_arena* arena;
  why_symbol exercise;
  const why_motion* motion; ///< NULL until the first is drawn.
} subject;

typedef struct {
  subject* of;
  int position;
} view_of_subject;

static void draw(const void* seen, why_picture* picture) {
  const view_of_subject* view = seen;
  subject* of = view->of;
  if (!of->motion && why_motion_new(of->ground, of->exercise, of->arena, &of->motion) != WHY_OK)
    return;
  why_figure_draw(of->motion, view->position, picture);
}

void why_part_figures(const why_ground* ground, why_arena* arena, why_node* parent,
                      why_symbol exercise, const why_motion* motion) {
  subject* of = WHY_NEW(arena, subject);
  *of = (subject){ground, arena, exercise, motion};
  for (int i = 0; i < WHY_POSITIONS; i++) {
    view_of_subject* view = WHY_NEW(arena, view_of_subject);
    *view = (view_of_subject){of, i};
    why_node_picture(arena, parent, draw, view);
  }
}
