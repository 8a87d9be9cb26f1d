// SPDX-License-Identifier: GPL-3.0-or-later
// The stick figures of an exercise, and the stresses of two, as pictures of the tree; their
// mechanics are solved when somebody looks.
#include "figure.h"
#include "parts.h"
#include "stress.h"

typedef struct {
  const why_ground* ground;
  why_arena* arena;
  why_symbol exercise;
  const why_motion* motion; ///< NULL until the first is drawn.
} figures;

typedef struct {
  figures* of;
  int position;
} view_of_subject;

static void draw(const void* seen, why_picture* picture) {
  const view_of_subject* view = seen;
  figures* of = view->of;
  if (!of->motion && why_motion_new(of->ground, of->exercise, of->arena, &of->motion) != WHY_OK)
    return;
  why_figure_draw(of->motion, view->position, picture);
}

void why_part_figures(const why_ground* ground, why_arena* arena, why_node* parent,
                      why_symbol exercise, const why_motion* motion) {
  figures* of = WHY_NEW(arena, figures);
  *of = (figures){ground, arena, exercise, motion};
  for (int i = 0; i < WHY_POSITIONS; i++) {
    view_of_subject* view = WHY_NEW(arena, view_of_subject);
    *view = (view_of_subject){of, i};
    why_node_picture(arena, parent, draw, view);
  }
}

typedef struct {
  const why_ground* ground;
  why_symbol exercises[2];
} pair;

static void draw_two(const void* subject, why_picture* picture) {
  const pair* two = subject;
  const why_exertion* exertions[2];
  for (int i = 0; i < 2; i++) {
    const why_motion* motion = NULL;
    if (why_motion_new(two->ground, two->exercises[i], picture->arena, &motion) != WHY_OK ||
        why_exertion_new(motion, picture->arena, &exertions[i]) != WHY_OK)
      return;
  }
  why_stress_draw_two(exertions[0], exertions[1], picture);
}

void why_part_two(const why_ground* ground, why_arena* arena, why_node* parent, why_symbol a,
                  why_symbol b) {
  pair* two = WHY_NEW(arena, pair);
  *two = (pair){ground, {a, b}};
  why_node_picture(arena, parent, draw_two, two);
}
