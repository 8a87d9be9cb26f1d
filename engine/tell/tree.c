// SPDX-License-Identifier: GPL-3.0-or-later
// Lays out a tree in columns, one a level, every step as near to its parts as their boxes allow:
// parts first, then the step in their middle, and where it would cover an earlier box of its column
// the whole branch moves down (Wetherell and Shannon, "Tidy drawings of trees", IEEE Transactions
// on Software Engineering 1979, doi 10.1109/TSE.1979.234212, here with boxes of different heights).
#include "tree.h"

#include <math.h>
#include <stdint.h>

enum { MOST_PARTS = 4, MOST_DEPTH = 6 }; ///< Parts of a step that are drawn, and levels.

/// How many conclusions and levels are tried one after the other, until the picture is no taller
/// than can be looked at as one.
static const struct {
  size_t conclusions;
  int depth;
} EXTENTS[] = {{SIZE_MAX, MOST_DEPTH},
               {6, MOST_DEPTH},
               {4, MOST_DEPTH},
               {6, 4},
               {4, 4},
               {3, 4},
               {4, 3},
               {3, 2}};
static const double TALLEST = 2400;

static const double TYPE = 11;
static const double SMALL = 9.5;
static const double LINE = 14;
static const double BOX = 216; ///< Width of a box.
static const double PAD = 8;
static const double ACROSS = 34;  ///< Between columns.
static const double BETWEEN = 10; ///< Between boxes of a column.
static const double MARGIN = 12;

/// A step where it goes.
typedef struct branch {
  why_lines lines;
  why_lines mark;
  int depth;
  double top;
  double height;
  struct branch* first;
  struct branch* last;
  struct branch* next;
} branch;

typedef struct {
  why_arena* arena;
  size_t conclusions; ///< That are drawn,
  int depth;          ///< and levels.
  size_t shown;
  size_t left_out;
  double next[MOST_DEPTH + 2]; ///< Where the next box of each column may begin.
} layout;

bool why_tree_begins(const why_node* node) {
  return node->role != WHY_ROLE_STEP && node->first && node->first->role == WHY_ROLE_STEP;
}

static branch* add_branch(layout* at, branch* parent, const char* words, const char* mark,
                          int depth) {
  branch* made = WHY_NEW(at->arena, branch);
  made->depth = depth;
  made->lines = why_words_wrap(at->arena, words, TYPE, BOX - 2 * PAD);
  if (mark)
    made->mark = why_words_wrap(at->arena, mark, SMALL, BOX - 2 * PAD);
  made->height = LINE * (double)(made->lines.count + made->mark.count) + PAD;
  if (parent->last)
    parent->last->next = made;
  else
    parent->first = made;
  parent->last = made;
  return made;
}

/// Steps below `node`, itself included when it is one.
static size_t count_steps(const why_node* node) {
  size_t count = node->role == WHY_ROLE_STEP;
  for (const why_node* each = node->first; each; each = each->next)
    count += count_steps(each);
  return count;
}

static void note_missing(layout* at, branch* of, size_t missing) {
  if (!missing)
    return;
  at->left_out += missing;
  *WHY_LIST_ADD(at->arena, of->mark) =
      why_arena_print(at->arena, "+ %zu step%s not drawn", missing, missing == 1 ? "" : "s");
  of->height += LINE;
}

static void add_parts(layout* at, branch* parent, const why_node* node, int depth, size_t* parts,
                      size_t* missing);

static void add_step(layout* at, branch* parent, const why_node* step, int depth) {
  branch* made = add_branch(at, parent, step->words, step->mark, depth);
  at->shown++;
  size_t parts = 0;
  size_t missing = 0;
  add_parts(at, made, step, depth + 1, &parts, &missing);
  note_missing(at, made, missing);
}

/// The steps under `node`, found through lists between them.
static void add_parts(layout* at, branch* parent, const why_node* node, int depth, size_t* parts,
                      size_t* missing) {
  size_t most = depth > 1 ? MOST_PARTS : at->conclusions;
  for (const why_node* each = node->first; each; each = each->next) {
    if (each->role != WHY_ROLE_STEP) {
      add_parts(at, parent, each, depth, parts, missing);
    } else if (*parts >= most || depth > at->depth) {
      *missing += count_steps(each);
    } else {
      add_step(at, parent, each, depth);
      ++*parts;
    }
  }
}

static void move_down(layout* at, branch* of, double by) {
  of->top += by;
  at->next[of->depth] = fmax(at->next[of->depth], of->top + of->height + BETWEEN);
  for (branch* each = of->first; each; each = each->next)
    move_down(at, each, by);
}

static double middle_of(const branch* of) {
  return of->top + of->height / 2;
}

static void place(layout* at, branch* of) {
  for (branch* each = of->first; each; each = each->next)
    place(at, each);
  double least = at->next[of->depth];
  of->top = of->first ? (middle_of(of->first) + middle_of(of->last)) / 2 - of->height / 2 : least;
  double by = fmax(0, least - of->top);
  for (branch* each = of->first; each && by > 0; each = each->next)
    move_down(at, each, by);
  of->top += by;
  at->next[of->depth] = of->top + of->height + BETWEEN;
}

static double left_of(const branch* of) {
  return MARGIN + of->depth * (BOX + ACROSS);
}

static void join(const branch* from, const branch* to, why_picture* picture) {
  static const why_pen LINE_PEN = {.stroke = WHY_INK_SOFT, .width = 1.2};
  double x = left_of(from) + BOX;
  double turn = x + ACROSS / 2;
  const why_spot spots[] = {{x, middle_of(from)},
                            {turn, middle_of(from)},
                            {turn, middle_of(to)},
                            {left_of(to), middle_of(to)}};
  why_picture_path(picture, &LINE_PEN, spots, 4, false);
}

static double draw_lines(const why_lines* lines, why_ink ink, double size, double x, double y,
                         why_picture* picture) {
  for (size_t i = 0; i < lines->count; i++, y += LINE)
    why_picture_words(picture, &(why_type){.ink = ink, .size = size}, (why_spot){x, y},
                      lines->at[i]);
  return y;
}

static void draw(const branch* of, why_picture* picture) {
  static const why_pen FRAME = {.stroke = WHY_INK_TEXT, .fill = WHY_INK_PAPER, .width = 1};
  for (const branch* each = of->first; each; each = each->next)
    join(of, each, picture);
  double x = left_of(of);
  why_picture_box(picture, &FRAME, (why_box){x, of->top, x + BOX, of->top + of->height});
  double y = draw_lines(&of->lines, WHY_INK_TEXT, TYPE, x + PAD, of->top + PAD / 2 + 11, picture);
  draw_lines(&of->mark, WHY_INK_SOFT, SMALL, x + PAD, y, picture);
  picture->width = fmax(picture->width, x + BOX + MARGIN);
  picture->height = fmax(picture->height, of->top + of->height + MARGIN);
  for (const branch* each = of->first; each; each = each->next)
    draw(each, picture);
}

/// Lay out so many conclusions and levels; the root.
static const branch* lay_out(layout* at, const why_node* node, const char* title) {
  branch above = {0};
  branch* root = add_branch(at, &above, title, NULL, 0);
  size_t parts = 0;
  size_t missing = 0;
  add_parts(at, root, node, 1, &parts, &missing);
  note_missing(at, root, missing);
  for (int i = 0; i < MOST_DEPTH + 2; i++)
    at->next[i] = MARGIN;
  place(at, root);
  return root;
}

static double height_of(const layout* at) {
  double height = 0;
  for (int i = 0; i < MOST_DEPTH + 2; i++)
    height = fmax(height, at->next[i]);
  return height;
}

void why_tree_draw(const why_node* node, const char* title, why_picture* picture) {
  layout at;
  const branch* root = NULL;
  for (size_t i = 0; i < sizeof EXTENTS / sizeof *EXTENTS; i++) {
    at = (layout){
        .arena = picture->arena, .conclusions = EXTENTS[i].conclusions, .depth = EXTENTS[i].depth};
    root = lay_out(&at, node, title);
    if (height_of(&at) <= TALLEST)
      break;
  }
  draw(root, picture);
  picture->title = "The chain of reasons as a tree";
  picture->description = why_arena_print(
      picture->arena,
      "%s From left to right: what is concluded, then what it rests on. %zu steps are drawn, %zu "
      "further ones are left out and counted where they belong; the text form has them all.",
      title, at.shown, at.left_out);
}
