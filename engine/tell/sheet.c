// SPDX-License-Identifier: GPL-3.0-or-later
// The format "svg": all pictures of an answer on one sheet, in rows from left to right.
#include "format.h"
#include "markup.h"
#include "svg.h"
#include "tree.h"

#include <math.h>

static const double WIDTH = 800;
static const double GAP = 12;
static const double NAME_TYPE = 16;

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
  int steps; ///< How deep we are in a chain that is drawn already.
  const char* title;
  const char* entry; ///< Whose name is not written yet.
} sheet;

static void end_row(sheet* at) {
  if (at->row > 0)
    at->y += at->row + GAP;
  at->x = GAP;
  at->row = 0;
}

static void place(sheet* at, const why_picture* picture) {
  if (at->x > GAP && at->x + picture->width + GAP > WIDTH)
    end_row(at);
  *WHY_LIST_ADD(at->arena, at->pictures) = (placed){picture, at->x, at->y};
  at->x += picture->width + GAP;
  at->row = fmax(at->row, picture->height);
  at->width = fmax(at->width, at->x);
}

/// Whose pictures follow.
static void place_name(sheet* at, const char* name) {
  why_picture* picture = WHY_NEW(at->arena, why_picture);
  *picture = (why_picture){.arena = at->arena,
                           .title = name,
                           .description = "",
                           .width = why_words_width(name, NAME_TYPE, true),
                           .height = 1.3 * NAME_TYPE};
  why_type type = {.ink = WHY_INK_TEXT, .size = NAME_TYPE, .bold = true};
  why_picture_words(picture, &type, (why_spot){0, NAME_TYPE}, name);
  end_row(at);
  place(at, picture);
  end_row(at);
}

static void place_drawn(sheet* at, const why_node* node) {
  const why_picture* picture = why_node_draw(node, at->arena);
  if (!(picture->width > 0))
    return;
  if (at->entry)
    place_name(at, at->entry);
  at->entry = NULL;
  place(at, picture);
}

static void place_tree(sheet* at, const why_node* node) {
  why_picture* picture = WHY_NEW(at->arena, why_picture);
  picture->arena = at->arena;
  why_tree_draw(node, at->title ? at->title : "", picture);
  end_row(at);
  place(at, picture);
  end_row(at);
}

static void enter(void* state, const why_node* node, int depth) {
  (void)depth;
  sheet* at = state;
  if (node->role == WHY_ROLE_TITLE && !at->title)
    at->title = node->words;
  else if (node->role == WHY_ROLE_ENTRY)
    at->entry = node->words;
  else if (node->role == WHY_ROLE_PICTURE)
    place_drawn(at, node);
  else if (node->role == WHY_ROLE_STEP)
    at->steps++;
  else if (!at->steps && why_tree_begins(node))
    place_tree(at, node);
}

static void leave(void* state, const why_node* node, int depth) {
  (void)depth;
  sheet* at = state;
  if (node->role == WHY_ROLE_STEP)
    at->steps--;
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
