// SPDX-License-Identifier: GPL-3.0-or-later
// Bars from the left, one a head: dark for sets as a prime mover, light behind them for the halves
// in which it assists, a stroke across where the aim is.
#include "week_picture.h"

#include <math.h>

static const double WIDTH = 760;
static const double LEFT = 330; ///< Of the axis.
static const double RIGHT = 672;
static const double TOP = 64;
static const double LINE = 18;
static const double KEY = 36; ///< The line of the key.

static const why_type NAME = {.ink = WHY_INK_TEXT, .size = 12, .anchor = WHY_ANCHOR_END};
static const why_type WORDS = {.ink = WHY_INK_TEXT, .size = 12};
static const why_type TITLE = {.ink = WHY_INK_TEXT, .size = 12, .bold = true};
static const why_type TICK = {.ink = WHY_INK_TEXT, .size = 12, .anchor = WHY_ANCHOR_MIDDLE};
static const why_type FIGURE = {.ink = WHY_INK_TEXT, .size = 12, .anchor = WHY_ANCHOR_END};

static const why_pen DARK = {.stroke = WHY_INK_TEXT, .fill = WHY_INK_TEXT, .width = 1};
static const why_pen LIGHT = {.stroke = WHY_INK_TEXT, .fill = WHY_INK_PAD, .width = 1};
static const why_pen AIM = {.stroke = WHY_INK_TEXT, .width = 2.4};

static double most_of(const why_week_bars* bars) {
  double most = 10;
  for (size_t i = 0; i < bars->count; i++) {
    most = fmax(most, bars->at[i].all);
    most = isnan(bars->at[i].aim) ? most : fmax(most, bars->at[i].aim);
  }
  return 5 * ceil(most / 5);
}

static double x_of(double sets, double most) {
  return LEFT + (RIGHT - LEFT) * sets / most;
}

static void draw_axis(why_picture* picture, double most, double bottom) {
  static const why_pen HELP = {.stroke = WHY_INK_FAINT, .width = 1};
  for (double at = 0; at <= most; at += 5) {
    double x = x_of(at, most);
    why_picture_line(picture, &HELP, (why_spot){x, TOP}, (why_spot){x, bottom});
    why_picture_words(picture, &TICK, (why_spot){x, TOP - 5},
                      why_arena_print(picture->arena, "%.0f", at));
  }
}

static void draw_bar(why_picture* picture, const why_week_bar* bar, double most, double y) {
  why_picture_words(picture, &NAME, (why_spot){LEFT - 8, y + 4}, bar->name);
  if (bar->all > 0)
    why_picture_box(picture, &LIGHT, (why_box){LEFT, y - 5, x_of(bar->all, most), y + 5});
  if (bar->direct > 0)
    why_picture_box(picture, &DARK, (why_box){LEFT, y - 5, x_of(bar->direct, most), y + 5});
  if (!isnan(bar->aim)) {
    double x = x_of(bar->aim, most);
    why_picture_line(picture, &AIM, (why_spot){x, y - 8}, (why_spot){x, y + 8});
  }
  why_picture_words(picture, &FIGURE, (why_spot){WIDTH - 8, y + 4},
                    why_arena_print(picture->arena, "%.3g; %.3g", bar->direct, bar->all));
}

/// What dark, light and the stroke mean.
static void draw_key(why_picture* picture, bool aims) {
  double x = 8;
  const char* const words[] = {"as a prime mover", "with assisting sets as halves", "aim"};
  for (int i = 0; i < 2 + aims; i++) {
    if (i < 2)
      why_picture_box(picture, i ? &LIGHT : &DARK, (why_box){x, KEY - 9, x + 18, KEY + 1});
    else
      why_picture_line(picture, &AIM, (why_spot){x + 9, KEY - 12}, (why_spot){x + 9, KEY + 4});
    why_picture_words(picture, &WORDS, (why_spot){x + 24, KEY}, words[i]);
    x += 24 + why_words_width(words[i], 12, false) + 24;
  }
  why_picture_words(picture, &FIGURE, (why_spot){WIDTH - 8, TOP - 5}, "sets");
}

static void draw(const void* subject, why_picture* picture) {
  const why_week_bars* bars = subject;
  double most = most_of(bars);
  double bottom = TOP + LINE * (double)bars->count;
  bool aims = false;
  size_t without = 0;
  for (size_t i = 0; i < bars->count; i++) {
    aims |= !isnan(bars->at[i].aim);
    without += bars->at[i].direct <= 0;
  }
  picture->title = "Weekly sets of each head";
  picture->description = why_arena_print(
      picture->arena, "A bar for each of %zu heads, up to %.0f sets; %zu have none as prime mover.",
      bars->count, most, without);
  picture->width = WIDTH;
  picture->height = bottom + 8;
  why_picture_words(picture, &TITLE, (why_spot){8, 18}, picture->title);
  draw_key(picture, aims);
  draw_axis(picture, most, bottom);
  for (size_t i = 0; i < bars->count; i++)
    draw_bar(picture, &bars->at[i], most, TOP + LINE * ((double)i + 0.5));
}

void why_part_week(why_arena* arena, why_node* parent, const why_week_bars* bars) {
  if (bars->count)
    why_node_picture(arena, parent, draw, bars);
}
