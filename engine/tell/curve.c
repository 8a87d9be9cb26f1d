// SPDX-License-Identifier: GPL-3.0-or-later
// Scales, lines and marks of a curve, and the key that names them.
#include "curve.h"

#include "scale.h"

#include <math.h>
#include <string.h>

static const double WIDTH = 360;
static const why_box PLOT = {52, 44, 346, 256};
static const double TYPE = 11;
static const double KEY_TOP = 308;
static const double KEY_LINE = 18;
static const double MARK = 3.4; ///< Half the size of a mark.

/// How the lines look: each can be told from the others in black and white.
static const struct {
  why_ink ink;
  why_dash dash;
  int corners; ///< Of the mark: 0 is a disc.
  double turn; ///< Of its first corner, in quarters of a full turn.
} LOOKS[WHY_CURVE_LINES] = {
    {WHY_INK_TEXT, WHY_DASH_NONE, 0, 0},     {WHY_INK_LOAD, WHY_DASH_LONG, 4, 0.5},
    {WHY_INK_WEIGHT, WHY_DASH_SHORT, 3, -1}, {WHY_INK_SUPPORT, WHY_DASH_NONE, 4, 0},
    {WHY_INK_SOFT, WHY_DASH_LONG, 3, 1},     {WHY_INK_TEXT, WHY_DASH_DOT, 5, -1}};

typedef struct {
  const why_curve* curve;
  why_picture* picture;
  why_scale x;
  why_scale y;
} plot;

static bool is_shown(const why_curve_line* line, size_t i) {
  return isfinite(line->x[i]) && isfinite(line->y[i]);
}

static why_spot spot_of(const plot* p, const why_curve_line* line, size_t i) {
  return (why_spot){why_scale_at(&p->x, line->x[i]), why_scale_at(&p->y, line->y[i])};
}

/// The line's points on the paper, in order; how many.
static size_t spots_of(const plot* p, const why_curve_line* line, why_spot* spots) {
  size_t count = 0;
  for (size_t i = 0; i < line->count; i++)
    if (is_shown(line, i))
      spots[count++] = spot_of(p, line, i);
  return count;
}

static void draw_mark(why_picture* picture, size_t look, bool hollow, why_spot at) {
  why_pen pen = {
      .stroke = LOOKS[look].ink, .fill = hollow ? WHY_INK_PAPER : LOOKS[look].ink, .width = 1.4};
  double size = hollow ? MARK + 1 : MARK;
  int corners = LOOKS[look].corners;
  if (!corners) {
    why_picture_disc(picture, &pen, at, size);
    return;
  }
  why_spot spots[8];
  for (int i = 0; i < corners; i++) {
    double angle = 1.5707963267948966 * (LOOKS[look].turn + 4.0 * i / corners);
    spots[i] = (why_spot){at.x + 1.3 * size * cos(angle), at.y + 1.3 * size * sin(angle)};
  }
  why_picture_path(picture, &pen, spots, (size_t)corners, true);
}

/// An arrow on the longest piece of the way, which has most room for it.
static void draw_direction(why_picture* picture, why_ink ink, const why_spot* spots, size_t count) {
  size_t longest = 0;
  double most = 0;
  for (size_t i = 0; i + 1 < count; i++) {
    double length = hypot(spots[i + 1].x - spots[i].x, spots[i + 1].y - spots[i].y);
    if (length > most) {
      most = length;
      longest = i;
    }
  }
  if (!(most > 0))
    return;
  why_spot from = spots[longest];
  why_spot to = spots[longest + 1];
  why_spot tip = {from.x + 0.62 * (to.x - from.x), from.y + 0.62 * (to.y - from.y)};
  why_picture_arrow(picture, ink, 1.6, true, from, tip);
}

static void draw_line(const plot* p, size_t look) {
  const why_curve_line* line = &p->curve->lines[look];
  why_spot* spots = WHY_NEW_ARRAY(p->picture->arena, why_spot, line->count);
  size_t count = spots_of(p, line, spots);
  why_pen pen = {.stroke = LOOKS[look].ink, .width = 1.6, .dash = LOOKS[look].dash};
  if (count > 1)
    why_picture_path(p->picture, &pen, spots, count, false);
  draw_direction(p->picture, LOOKS[look].ink, spots, count);
  for (size_t i = 0; i < count; i++)
    draw_mark(p->picture, look, i == 0, spots[i]);
}

static void draw_behind(const plot* p) {
  static const why_pen FAINT = {.stroke = WHY_INK_FAINT, .width = 4};
  const why_curve_line* line = p->curve->behind;
  if (!line)
    return;
  why_spot* spots = WHY_NEW_ARRAY(p->picture->arena, why_spot, line->count);
  size_t count = spots_of(p, line, spots);
  if (count > 1)
    why_picture_path(p->picture, &FAINT, spots, count, false);
}

static void draw_scales(const plot* p) {
  static const why_pen GRID = {.stroke = WHY_INK_FAINT, .width = 0.7};
  static const why_pen FRAME = {.stroke = WHY_INK_TEXT, .width = 1};
  static const why_type BELOW = {WHY_INK_TEXT, 11, false, WHY_ANCHOR_MIDDLE};
  static const why_type BESIDE = {WHY_INK_TEXT, 11, false, WHY_ANCHOR_END};
  why_picture* picture = p->picture;
  for (int i = 0; i <= p->x.steps; i++) {
    double x = why_scale_at(&p->x, why_scale_tick(&p->x, i));
    why_picture_line(picture, &GRID, (why_spot){x, PLOT.top}, (why_spot){x, PLOT.bottom});
    why_picture_words(picture, &BELOW, (why_spot){x, PLOT.bottom + 18},
                      why_scale_words(&p->x, i, picture->arena));
  }
  for (int i = 0; i <= p->y.steps; i++) {
    double y = why_scale_at(&p->y, why_scale_tick(&p->y, i));
    why_picture_line(picture, &GRID, (why_spot){PLOT.left, y}, (why_spot){PLOT.right, y});
    why_picture_words(picture, &BESIDE, (why_spot){PLOT.left - 6, y + 4},
                      why_scale_words(&p->y, i, picture->arena));
  }
  const why_spot axes[] = {
      {PLOT.left, PLOT.top}, {PLOT.left, PLOT.bottom}, {PLOT.right, PLOT.bottom}};
  why_picture_path(picture, &FRAME, axes, 3, false);
}

static void draw_words(const plot* p) {
  static const why_type LARGE = {WHY_INK_TEXT, 14, true, WHY_ANCHOR_MIDDLE};
  static const why_type PLAIN = {WHY_INK_TEXT, 11, false, WHY_ANCHOR_MIDDLE};
  static const why_type LEFT = {WHY_INK_TEXT, 11, false, WHY_ANCHOR_START};
  why_picture_words(p->picture, &LARGE, (why_spot){WIDTH / 2, 16}, p->curve->title);
  why_picture_words(p->picture, &LEFT, (why_spot){12, 33}, p->curve->y_words);
  why_picture_words(p->picture, &PLAIN, (why_spot){(PLOT.left + PLOT.right) / 2, PLOT.bottom + 34},
                    p->curve->x_words);
}

/// A row of the key; where the next one stands.
static double draw_key(const plot* p, size_t look, double y) {
  why_picture* picture = p->picture;
  why_pen pen = {.stroke = LOOKS[look].ink, .width = 1.6, .dash = LOOKS[look].dash};
  why_picture_line(picture, &pen, (why_spot){16, y}, (why_spot){56, y});
  draw_mark(picture, look, false, (why_spot){36, y});
  why_type type = {.ink = WHY_INK_TEXT, .size = TYPE};
  why_lines lines = why_words_wrap(picture->arena, p->curve->lines[look].name, TYPE, WIDTH - 76);
  for (size_t i = 0; i < lines.count; i++)
    why_picture_words(picture, &type, (why_spot){66, y + 4 + 14 * (double)i}, lines.at[i]);
  return y + KEY_LINE + 14 * (double)(lines.count > 1 ? lines.count - 1 : 0);
}

static double draw_keys(const plot* p) {
  static const why_pen FAINT = {.stroke = WHY_INK_FAINT, .width = 4};
  static const why_type TEXT = {WHY_INK_TEXT, 11, false, WHY_ANCHOR_START};
  double y = KEY_TOP;
  for (size_t i = 0; i < p->curve->count; i++)
    y = draw_key(p, i, y);
  if (p->curve->behind) {
    why_picture_line(p->picture, &FAINT, (why_spot){16, y}, (why_spot){56, y});
    why_picture_words(p->picture, &TEXT, (why_spot){66, y + 4}, p->curve->behind->name);
    y += KEY_LINE;
  }
  why_picture_words(p->picture, &TEXT, (why_spot){16, y + 4},
                    "Each line begins at its hollow mark.");
  return y + KEY_LINE;
}

static void widen(const why_curve_line* line, why_box* box) {
  for (size_t i = 0; i < line->count; i++)
    if (is_shown(line, i))
      why_box_widen(box, (why_spot){line->x[i], line->y[i]}, 0);
}

static void describe(const why_curve* curve, why_picture* picture) {
  why_buffer text = {.arena = picture->arena};
  why_buffer_add(&text, curve->about);
  for (size_t i = 0; i < curve->count; i++) {
    const why_curve_line* line = &curve->lines[i];
    if (line->count && is_shown(line, 0) && is_shown(line, line->count - 1))
      why_buffer_print(&text, " %s: from %.2f, %.2f to %.2f, %.2f.", line->name, line->x[0],
                       line->y[0], line->x[line->count - 1], line->y[line->count - 1]);
  }
  picture->title = curve->title;
  picture->description = why_buffer_text(&text);
}

void why_curve_draw(const why_curve* curve, why_picture* picture) {
  why_box box = {INFINITY, INFINITY, -INFINITY, -INFINITY};
  for (size_t i = 0; i < curve->count; i++)
    widen(&curve->lines[i], &box);
  if (!isfinite(box.left))
    return;
  why_box_widen(&box, (why_spot){curve->x_least, curve->y_least}, 0);
  why_box_widen(&box, (why_spot){curve->x_most, curve->y_most}, 0);
  plot p = {.curve = curve,
            .picture = picture,
            .x = why_scale_of(box.left, box.right, PLOT.left, PLOT.right),
            .y = why_scale_of(box.top, box.bottom, PLOT.bottom, PLOT.top)};
  describe(curve, picture);
  picture->width = WIDTH;
  draw_words(&p);
  draw_scales(&p);
  draw_behind(&p);
  for (size_t i = 0; i < curve->count; i++)
    draw_line(&p, i);
  picture->height = draw_keys(&p) + 4;
}
