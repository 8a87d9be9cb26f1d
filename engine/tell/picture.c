// SPDX-License-Identifier: GPL-3.0-or-later
// Adding marks to a picture, and how much room words take.
#include "picture.h"

#include <math.h>
#include <string.h>

/// Of a type's size: how far letters reach above and below their baseline.
static const double ABOVE = 0.80;
static const double BELOW = 0.22;

static why_mark* add(why_picture* picture, why_shape shape, const why_spot* spots, size_t count) {
  why_spot* copy = WHY_NEW_ARRAY(picture->arena, why_spot, count);
  memcpy(copy, spots, count * sizeof *spots);
  why_mark* made = WHY_LIST_ADD(picture->arena, picture->marks);
  *made = (why_mark){.shape = shape, .count = count, .spots = copy};
  return made;
}

static void use(why_mark* mark, const why_pen* pen) {
  mark->stroke = pen->stroke;
  mark->fill = pen->fill;
  mark->width = pen->width;
  mark->dash = pen->dash;
}

void why_picture_path(why_picture* picture, const why_pen* pen, const why_spot* spots, size_t count,
                      bool area) {
  use(add(picture, area ? WHY_SHAPE_AREA : WHY_SHAPE_LINE, spots, count), pen);
}

void why_picture_line(why_picture* picture, const why_pen* pen, why_spot from, why_spot to) {
  why_picture_path(picture, pen, (why_spot[]){from, to}, 2, false);
}

void why_picture_box(why_picture* picture, const why_pen* pen, why_box box) {
  const why_spot corners[] = {
      {box.left, box.top}, {box.right, box.top}, {box.right, box.bottom}, {box.left, box.bottom}};
  why_picture_path(picture, pen, corners, 4, true);
}

void why_picture_disc(why_picture* picture, const why_pen* pen, why_spot middle, double radius) {
  why_mark* mark = add(picture, WHY_SHAPE_DISC, &middle, 1);
  use(mark, pen);
  mark->radius = radius;
}

void why_picture_words(why_picture* picture, const why_type* type, why_spot at, const char* words) {
  why_mark* mark = add(picture, WHY_SHAPE_WORDS, &at, 1);
  mark->fill = type->ink;
  mark->size = type->size;
  mark->bold = type->bold;
  mark->anchor = type->anchor;
  mark->words = words;
}

void why_picture_arrow(why_picture* picture, why_ink ink, double width, bool open, why_spot from,
                       why_spot to) {
  double length = hypot(to.x - from.x, to.y - from.y);
  if (!(length > 0))
    return;
  double head = fmin(4 + 2 * width, length);
  why_spot way = {(to.x - from.x) / length, (to.y - from.y) / length};
  why_spot neck = {to.x - head * way.x, to.y - head * way.y};
  double half = 0.45 * head;
  const why_spot barbs[] = {{neck.x - half * way.y, neck.y + half * way.x},
                            to,
                            {neck.x + half * way.y, neck.y - half * way.x}};
  why_pen pen = {.stroke = ink, .width = width};
  why_picture_line(picture, &pen, from, open ? to : neck);
  if (!open)
    pen.fill = ink;
  pen.width = open ? width : 1;
  why_picture_path(picture, &pen, barbs, 3, !open);
}

/// Widths of characters as shares of the type's size, after wide faces among the common ones.
static double width_of(unsigned char byte) {
  if ((byte & 0xC0) == 0x80)
    return 0; // the rest of a character
  if (byte >= 0xE0)
    return 1.05; // may be an ideograph
  if (strchr("il.,:;|!'I", byte))
    return 0.36;
  if (strchr(" ()[]-/fjrt", byte))
    return 0.46;
  if (strchr("mwMW%@", byte))
    return 1.0;
  return byte >= 'A' && byte <= 'Z' ? 0.76 : byte >= 0x80 ? 0.80 : 0.65;
}

double why_words_width(const char* words, double size, bool bold) {
  double sum = 0;
  for (; *words; words++)
    sum += width_of((unsigned char)*words);
  return sum * size * (bold ? 1.12 : 1);
}

why_box why_words_box(const why_mark* mark) {
  why_spot at = mark->spots[0];
  double width = why_words_width(mark->words, mark->size, mark->bold);
  double left = at.x - width * (int)mark->anchor / 2;
  return (why_box){left, at.y - ABOVE * mark->size, left + width, at.y + BELOW * mark->size};
}

void why_box_widen(why_box* box, why_spot spot, double by) {
  box->left = fmin(box->left, spot.x - by);
  box->right = fmax(box->right, spot.x + by);
  box->top = fmin(box->top, spot.y - by);
  box->bottom = fmax(box->bottom, spot.y + by);
}

bool why_box_meets(const why_box* a, const why_box* b) {
  return a->left < b->right && b->left < a->right && a->top < b->bottom && b->top < a->bottom;
}
