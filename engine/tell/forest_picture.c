// SPDX-License-Identifier: GPL-3.0-or-later
// The forest plot as a picture: names at the left, intervals on an axis, numbers at the right.
#include "forest.h"
#include "trials_part.h"

#include <math.h>

static const double WIDTH = 760;
static const double LEFT = 316; ///< Of the axis.
static const double RIGHT = 584;
static const double TOP = 44;
static const double LINE = 18;

static const why_type NAME = {.ink = WHY_INK_TEXT, .size = 12};
static const why_type STRONG = {.ink = WHY_INK_TEXT, .size = 12, .bold = true};
static const why_type FIGURE = {.ink = WHY_INK_TEXT, .size = 12, .anchor = WHY_ANCHOR_END};
static const why_type TICK = {.ink = WHY_INK_TEXT, .size = 12, .anchor = WHY_ANCHOR_MIDDLE};

typedef struct {
  const why_teller* teller;
  const why_trial_set* set;
} subject;

typedef struct {
  const subject* of;
  why_axis axis;
  why_picture* picture;
} plotter;

static double x_of(const plotter* p, double log_growth) {
  double share = (why_percent_of_log(log_growth) - p->axis.low) / (p->axis.high - p->axis.low);
  return LEFT + (RIGHT - LEFT) * fmax(0, fmin(1, share));
}

static void draw_numbers(const plotter* p, double y, const why_interval* interval, double weight) {
  why_arena* arena = p->picture->arena;
  why_picture_words(
      p->picture, &FIGURE, (why_spot){WIDTH - 54, y + 4},
      why_arena_print(arena, "%.1f (%.1f to %.1f)", why_percent_of_log(interval->estimate),
                      why_percent_of_log(interval->low), why_percent_of_log(interval->high)));
  why_picture_words(p->picture, &FIGURE, (why_spot){WIDTH - 8, y + 4},
                    why_arena_print(arena, "%.1f", weight));
}

/// An arrow where the interval reaches beyond the axis.
static void draw_interval(const plotter* p, double y, const why_interval* interval, double width,
                          why_dash dash) {
  why_pen pen = {.stroke = WHY_INK_TEXT, .width = width, .dash = dash};
  double low = x_of(p, interval->low);
  double high = x_of(p, interval->high);
  why_picture_line(p->picture, &pen, (why_spot){low, y}, (why_spot){high, y});
  if (why_percent_of_log(interval->high) > p->axis.high)
    why_picture_arrow(p->picture, WHY_INK_TEXT, width, true, (why_spot){RIGHT - 8, y},
                      (why_spot){RIGHT, y});
  if (why_percent_of_log(interval->low) < p->axis.low)
    why_picture_arrow(p->picture, WHY_INK_TEXT, width, true, (why_spot){LEFT + 8, y},
                      (why_spot){LEFT, y});
}

/// A box whose area is the study's weight.
static void draw_trial(const plotter* p, double y, const why_trial* trial) {
  static const why_pen BOX = {.stroke = WHY_INK_TEXT, .fill = WHY_INK_PAD, .width = 1};
  const why_trial_set* set = p->of->set;
  double half = fmin(7, 3.5 * sqrt(trial->weight_pct * (double)set->trials.count / 100));
  double x = x_of(p, trial->growth.estimate);
  why_picture_words(p->picture, &NAME, (why_spot){8, y + 4},
                    why_teller_id(p->of->teller, trial->composite->sample));
  draw_interval(p, y, &trial->growth, 1.2, WHY_DASH_NONE);
  why_picture_box(p->picture, &BOX, (why_box){x - half, y - half, x + half, y + half});
  draw_numbers(p, y, &trial->growth, trial->weight_pct);
}

static void draw_pooled(const plotter* p, double y) {
  static const why_pen AREA = {.stroke = WHY_INK_TEXT, .fill = WHY_INK_TEXT, .width = 1};
  const why_meta* meta = &p->of->set->meta;
  double middle = x_of(p, meta->mean.estimate);
  const why_spot corners[] = {{x_of(p, meta->mean.low), y},
                              {middle, y - 6},
                              {x_of(p, meta->mean.high), y},
                              {middle, y + 6}};
  why_picture_words(p->picture, &STRONG, (why_spot){8, y + 4}, "all together");
  why_picture_path(p->picture, &AREA, corners, 4, true);
  draw_numbers(p, y, &meta->mean, 100);
  if (!isfinite(meta->new_study.low))
    return;
  why_picture_words(p->picture, &NAME, (why_spot){8, y + LINE + 4},
                    "where a new study would be expected");
  draw_interval(p, y + LINE, &meta->new_study, 1.6, WHY_DASH_SHORT);
}

static void draw_axis(const plotter* p, double bottom) {
  static const why_pen HELP = {.stroke = WHY_INK_FAINT, .width = 1};
  static const why_pen ZERO = {.stroke = WHY_INK_SOFT, .width = 1.2};
  double step = p->axis.high - p->axis.low > 80 ? 20 : 10;
  for (double at = p->axis.low; at <= p->axis.high; at += step) {
    double x = LEFT + (RIGHT - LEFT) * (at - p->axis.low) / (p->axis.high - p->axis.low);
    why_picture_line(p->picture, at == 0 ? &ZERO : &HELP, (why_spot){x, TOP - 10},
                     (why_spot){x, bottom});
    why_picture_words(p->picture, &TICK, (why_spot){x, TOP - 14},
                      why_arena_print(p->picture->arena, "%.0f", at));
  }
  why_picture_words(p->picture, &STRONG, (why_spot){8, 18}, p->picture->title);
  why_picture_words(p->picture, &FIGURE, (why_spot){WIDTH - 54, TOP - 14}, "% (95 %)");
  why_picture_words(p->picture, &FIGURE, (why_spot){WIDTH - 8, TOP - 14}, "weight");
}

static void draw(const void* seen, why_picture* picture) {
  const subject* of = seen;
  const why_trial_set* set = of->set;
  plotter p = {.of = of, .axis = why_axis_of(set), .picture = picture};
  double bottom = TOP + LINE * (double)(set->trials.count + 2);
  picture->title = why_arena_print(picture->arena, "Growth of %s in %zu samples, %%",
                                   set->group ? why_teller_name(of->teller, "group", set->group)
                                              : why_teller_subject(of->teller),
                                   set->trials.count);
  picture->description = why_arena_print(
      picture->arena, "Each sample with its 95 %% interval; together %.1f %% (%.1f to %.1f).",
      why_percent_of_log(set->meta.mean.estimate), why_percent_of_log(set->meta.mean.low),
      why_percent_of_log(set->meta.mean.high));
  picture->width = WIDTH;
  picture->height = bottom + 8;
  draw_axis(&p, bottom);
  for (size_t i = 0; i < set->trials.count; i++)
    draw_trial(&p, TOP + LINE * ((double)i + 0.5), &set->trials.at[i]);
  draw_pooled(&p, bottom - 1.5 * LINE);
}

void why_part_forest(const why_teller* teller, why_node* parent, const why_trial_set* set) {
  why_teller* kept = WHY_NEW(teller->arena, why_teller); // the drawing outlives the caller
  subject* of = WHY_NEW(teller->arena, subject);
  *kept = *teller;
  *of = (subject){kept, set};
  why_node_picture(teller->arena, parent, draw, of);
}
