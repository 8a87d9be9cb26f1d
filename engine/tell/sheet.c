// SPDX-License-Identifier: GPL-3.0-or-later
// The format "svg": all pictures of an answer on one sheet, in rows from left to right.
#include "format.h"
#include "markup.h"
#include "svg.h"

#include <math.h>

static const double WIDTH = 800;
static const double GAP = 12;

typedef struct {
  const why_picture* picture;
  double x;
  double y;
} placed;

typedef struct {
  why_arena* arena;
  WHY_LIST(placed) pictures;
  double x; ///< Where the next one goes.
  double y;
  double row; ///< Height of the row so far.
  double width;
  const char* title;
} sheet;

static void place(sheet* at, const why_picture* picture) {
  if (at->x > GAP && at->x + picture->width + GAP > WIDTH) {
    at->x = GAP;
    at->y += at->row + GAP;
    at->row = 0;
  }
  *WHY_LIST_ADD(at->arena, at->pictures) = (placed){picture, at->x, at->y};
  at->x += picture->width + GAP;
  at->row = fmax(at->row, picture->height);
  at->width = fmax(at->width, at->x);
}

static void enter(void* state, const why_node* node, int depth) {
  (void)depth;
  sheet* at = state;
  if (node->role == WHY_ROLE_TITLE && !at->title)
    at->title = node->words;
  if (node->role != WHY_ROLE_PICTURE)
    return;
  const why_picture* picture = why_node_draw(node, at->arena);
  if (picture->width > 0)
    place(at, picture);
}

static void leave(void* state, const why_node* node, int depth) {
  (void)state;
  (void)node;
  (void)depth;
}

static void write(const sheet* at, why_buffer* out) {
  double height = at->y + at->row + GAP;
  why_buffer_add(out, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
                      "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 ");
  why_markup_number(out, at->width);
  why_buffer_add(out, " ");
  why_markup_number(out, height);
  why_buffer_add(out, "\"");
  why_markup_measure(out, "width", at->width);
  why_markup_measure(out, "height", height);
  why_buffer_add(out, ">\n");
  why_markup_element(out, "title", at->title ? at->title : "");
  why_buffer_add(out, "\n<rect width=\"100%\" height=\"100%\" fill=\"#fff\"/>\n");
  for (size_t i = 0; i < at->pictures.count; i++)
    why_svg_add_group(at->pictures.at[i].picture, (unsigned)i + 1, at->pictures.at[i].x,
                      at->pictures.at[i].y, out);
  why_buffer_add(out, "</svg>\n");
}

bool why_sheet_write(const why_node* root, why_buffer* out) {
  static const why_walk WALK = {enter, leave};
  sheet at = {.arena = out->arena, .x = GAP, .y = GAP};
  why_node_walk(root, &WALK, &at, 0);
  if (!at.pictures.count)
    return false;
  write(&at, out);
  return true;
}
