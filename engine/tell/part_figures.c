// SPDX-License-Identifier: GPL-3.0-or-later
// The stick figures of an exercise, and the stresses of two, as pictures of the tree; their
// mechanics are solved when somebody looks. What figures show follows from the knowledge base
// alone, so they are kept with it: a server draws each once.
#include "figure.h"
#include "parts.h"
#include "stress.h"

#include <setjmp.h>

enum { FIGURES_MEMORY = 64 * 1024 * 1024 }; ///< Bytes, while they are drawn.

typedef struct {
  const why_ground* ground;
  why_symbol exercise;
  const why_motion* motion; ///< NULL until it is needed.
} figures;

typedef struct {
  figures* of;
  int position;
} view_of_subject;

/// The figures of one exercise as they are kept.
typedef struct {
  why_arena* arena; ///< Holds this and all below.
  why_picture at[WHY_POSITIONS];
} kept_figures;

static void forget(void* kept) {
  why_arena_free(((kept_figures*)kept)->arena);
}

/// Draw all positions in `arena`; what is only needed meanwhile goes to a branch of it.
static kept_figures* draw_all(const figures* of, why_arena* arena) {
  kept_figures* made = WHY_NEW(arena, kept_figures);
  made->arena = arena;
  why_arena* aside = why_arena_branch(arena);
  const why_motion* motion = of->motion;
  bool known = motion || why_motion_new(of->ground, of->exercise, aside, &motion) == WHY_OK;
  for (int i = 0; known && i < WHY_POSITIONS; i++) {
    made->at[i] = (why_picture){.arena = arena, .title = "", .description = ""};
    why_figure_draw(motion, i, &made->at[i]);
  }
  why_arena_free(aside);
  return made;
}

/// The same in memory of its own; NULL when the machine has none.
static kept_figures* keep(const figures* of) {
  jmp_buf door;
  why_arena* arena = why_arena_new(FIGURES_MEMORY);
  if (!arena || setjmp(door)) {
    why_arena_free(arena);
    return NULL;
  }
  why_arena_guard(arena, &door);
  kept_figures* made = draw_all(of, arena);
  why_arena_guard(arena, NULL);
  return made;
}

static void draw(const void* seen, why_picture* picture) {
  const view_of_subject* view = seen;
  const why_ground* ground = view->of->ground;
  const why_exercise_table* table = &ground->tables->exercises;
  const why_exercise* exercise = why_exercise_find(table, view->of->exercise);
  why_holder* place = exercise ? ground->pictures[exercise - table->rows.at] : NULL;
  kept_figures* kept = place ? why_holder_object(place) : NULL;
  if (place && !kept) {
    kept = keep(view->of);
    kept = kept ? why_holder_fill(place, kept, forget) : NULL;
  }
  if (!kept)
    why_arena_exhaust(picture->arena);
  why_arena* arena = picture->arena;
  *picture = kept->at[view->position];
  picture->arena = arena;
}

void why_part_figures(const why_ground* ground, why_arena* arena, why_node* parent,
                      why_symbol exercise, const why_motion* motion) {
  figures* of = WHY_NEW(arena, figures);
  *of = (figures){ground, exercise, motion};
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
