// SPDX-License-Identifier: GPL-3.0-or-later
/// A picture as a list of marks, drawn in order, on a plane with x to the right and y down. One
/// unit is one CSS pixel (1/96 inch). Whoever draws says what a mark is for (its ink), not its
/// colour.
#ifndef WHY_TELL_PICTURE_H
#define WHY_TELL_PICTURE_H

#include "base/base.h"

#include <stdbool.h>

/// What a mark is for. svg.c gives each a colour; none is told from another by colour alone.
typedef enum {
  WHY_INK_NONE,
  WHY_INK_PAPER,   ///< The background.
  WHY_INK_TEXT,    ///< Words, and lines that matter most.
  WHY_INK_SOFT,    ///< What is further away or less important, still readable.
  WHY_INK_FAINT,   ///< Helping lines.
  WHY_INK_PAD,     ///< Bench, pad, floor.
  WHY_INK_WEIGHT,  ///< Weight of the body.
  WHY_INK_LOAD,    ///< Resistances.
  WHY_INK_SUPPORT, ///< What the world pushes back with.
  WHY_INKS
} why_ink;

typedef enum { WHY_DASH_NONE, WHY_DASH_SHORT, WHY_DASH_LONG, WHY_DASH_DOT, WHY_DASHES } why_dash;

typedef struct {
  double x;
  double y;
} why_spot;

typedef struct {
  double left;
  double top;
  double right;
  double bottom;
} why_box;

/// Which part of words stands at their spot.
typedef enum { WHY_ANCHOR_START, WHY_ANCHOR_MIDDLE, WHY_ANCHOR_END } why_anchor;

typedef enum { WHY_SHAPE_LINE, WHY_SHAPE_AREA, WHY_SHAPE_DISC, WHY_SHAPE_WORDS } why_shape;

typedef struct {
  why_shape shape;
  why_ink stroke;
  why_ink fill;
  double width; ///< Of the stroke.
  why_dash dash;
  size_t count;
  const why_spot* spots; ///< Corners; a disc's middle; a spot on the baseline of words.
  double radius;         ///< Of a disc.
  const char* words;
  double size; ///< Of the type.
  bool bold;
  why_anchor anchor;
} why_mark;

typedef struct {
  why_arena* arena;
  const char* title;       ///< What it shows, in a few words.
  const char* description; ///< The same in sentences, for those who cannot see it.
  double width;            ///< 0: there is nothing to show.
  double height;
  WHY_LIST(why_mark) marks;
} why_picture;

/// How lines and areas look.
typedef struct {
  why_ink stroke;
  why_ink fill;
  double width;
  why_dash dash;
} why_pen;

void why_picture_line(why_picture* picture, const why_pen* pen, why_spot from, why_spot to);

/// A line through `count` spots, which are copied; closed and filled when `area`.
void why_picture_path(why_picture* picture, const why_pen* pen, const why_spot* spots, size_t count,
                      bool area);
void why_picture_box(why_picture* picture, const why_pen* pen, why_box box);
void why_picture_disc(why_picture* picture, const why_pen* pen, why_spot middle, double radius);

/// How words look.
typedef struct {
  why_ink ink;
  double size;
  bool bold;
  why_anchor anchor;
} why_type;

/// Words at `at`, a spot on their baseline. `words` is not copied.
void why_picture_words(why_picture* picture, const why_type* type, why_spot at, const char* words);

/// Draw an arrow's line with its head; `open` heads are told from filled ones in black and white.
void why_picture_arrow(why_picture* picture, why_ink ink, double width, bool open, why_spot from,
                       why_spot to);

/// How wide `words` may become in any common sans-serif face: an upper bound, by classes of
/// characters.
double why_words_width(const char* words, double size, bool bold);

typedef WHY_LIST(const char*) why_lines;

/// Break `words` at blanks, and long words where they must be, into lines no wider than `width`, in
/// `arena`.
why_lines why_words_wrap(why_arena* arena, const char* words, double size, double width);

/// The box that a mark of words takes, by that bound.
why_box why_words_box(const why_mark* mark);

/// Widen `box` so that it holds what lies within `by` of `spot`.
void why_box_widen(why_box* box, why_spot spot, double by);

bool why_box_meets(const why_box* a, const why_box* b);

#endif
