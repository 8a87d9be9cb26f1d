// SPDX-License-Identifier: GPL-3.0-or-later
// Lays out the strips: a name, a line over the postures, the numbers of the three positions.
#include "strips.h"

#include "figure.h"

#include <math.h>

enum { MOST_ROWS = 8, MOST_POSTURES = 64 };

static const double WIDTH = 360;
static const double LEFT = 16;
static const double RIGHT = 344;
static const double TOP = 56;
static const double TALLEST = 52; ///< Of a strip, for the largest demand.
static const double FLATTEST = 12;
static const double WORTH_A_STRIP = 0.06; ///< Of the largest demand.
static const double TYPE = 12;
static const double UNDER_NAME = 22; ///< From the top of a strip to its highest point.

/// One row: the demand of an action in every posture.
typedef struct {
  const why_action* action;
  const char* name;
  size_t count;
  why_demand at[MOST_POSTURES];
  double least; ///< Of total and body part, and 0.
  double most;
} strip;

static double total(const why_demand* demand) {
  return demand->body + demand->load;
}

/// The position in which a row asks for most.
static const why_moment* peak_of(const why_moment_row* row) {
  const why_moment* most = &row->at[0];
  for (int i = 1; i < WHY_POSITIONS; i++)
    if (row->at[i].body + row->at[i].load > most->body + most->load)
      most = &row->at[i];
  return most;
}

static double largest(const why_moment_row* row) {
  return peak_of(row)->body + peak_of(row)->load;
}

static strip strip_of(const why_moments* moments, const why_moment_row* row, why_arena* arena) {
  const why_mechanics* path = moments->motion->path;
  const why_ground* ground = moments->ground;
  strip made = {.action = peak_of(row)->action};
  made.name =
      why_ground_name(ground, arena, "action", why_symbols_text(ground->symbols, made.action->id));
  for (size_t i = 0; i < path->count && i < MOST_POSTURES; i++) {
    why_demand demand =
        why_demand_of(moments->motion->model, &path->at[i], made.action, WHY_WORKING);
    made.at[made.count++] = demand;
    made.least = fmin(made.least, fmin(total(&demand), demand.body));
    made.most = fmax(made.most, fmax(total(&demand), demand.body));
  }
  return made;
}

static double x_of(const strip* s, size_t i) {
  return LEFT + (RIGHT - LEFT) * (double)i / (double)(s->count - 1);
}

static void draw_area(const strip* s, double zero, double scale, why_picture* picture) {
  static const why_pen AREA = {.fill = WHY_INK_PAD};
  static const why_pen BASE = {.stroke = WHY_INK_SOFT, .width = 0.8};
  static const why_pen LINE = {.stroke = WHY_INK_TEXT, .width = 1.8};
  static const why_pen BODY = {.stroke = WHY_INK_TEXT, .width = 1.4, .dash = WHY_DASH_SHORT};
  why_spot all[MOST_POSTURES + 2];
  why_spot body[MOST_POSTURES];
  for (size_t i = 0; i < s->count; i++) {
    all[i] = (why_spot){x_of(s, i), zero - scale * total(&s->at[i])};
    body[i] = (why_spot){x_of(s, i), zero - scale * s->at[i].body};
  }
  all[s->count] = (why_spot){RIGHT, zero};
  all[s->count + 1] = (why_spot){LEFT, zero};
  why_picture_path(picture, &AREA, all, s->count + 2, true);
  why_picture_line(picture, &BASE, (why_spot){LEFT, zero}, (why_spot){RIGHT, zero});
  why_picture_path(picture, &BODY, body, s->count, false);
  why_picture_path(picture, &LINE, all, s->count, false);
  for (size_t i = 0; i < s->count; i++) {
    why_pen dot = {.stroke = WHY_INK_TEXT,
                   .fill = s->at[i].determined ? WHY_INK_TEXT : WHY_INK_PAPER,
                   .width = 1};
    why_picture_disc(picture, &dot, all[i], 2.2);
  }
}

static const char* figure_of(const why_demand* demand, why_arena* arena) {
  double rounded = round(total(demand));
  return why_arena_print(arena, "%s%s%.0f", demand->determined ? "" : "~",
                         rounded < 0 ? "\xE2\x88\x92" : "", fabs(rounded));
}

/// Words at the left, in the middle and at the right.
static void draw_three(why_picture* picture, double y, const char* const words[WHY_POSITIONS]) {
  for (int i = 0; i < WHY_POSITIONS; i++) {
    why_type type = {.ink = WHY_INK_TEXT, .size = TYPE, .anchor = (why_anchor)i};
    why_picture_words(picture, &type, (why_spot){LEFT + (RIGHT - LEFT) * i / 2, y}, words[i]);
  }
}

/// Draw a strip below `top`; where the next one begins.
static double draw_strip(const strip* s, double top, double scale, why_picture* picture) {
  static const why_type NAME = {.ink = WHY_INK_TEXT, .size = 12, .bold = true};
  why_picture_words(picture, &NAME, (why_spot){LEFT, top + TYPE}, s->name);
  double height = fmax(FLATTEST, scale * (s->most - s->least));
  double zero = top + UNDER_NAME + height + scale * fmin(0, s->least);
  draw_area(s, zero, scale, picture);
  const char* figures[WHY_POSITIONS];
  for (size_t i = 0; i < WHY_POSITIONS; i++)
    figures[i] = figure_of(&s->at[i * (s->count - 1) / (WHY_POSITIONS - 1)], picture->arena);
  double below = top + UNDER_NAME + height + 4 + TYPE;
  draw_three(picture, below, figures);
  return below + 12;
}

static double draw_notes(double y, why_picture* picture) {
  static const char* const NOTES[] = {"Full line: all of it. Dashed: the body alone.",
                                      "Below the base line: the opposite action.",
                                      "Hollow dots, ~: hangs on how supports share weight."};
  for (size_t i = 0; i < sizeof NOTES / sizeof *NOTES; i++, y += 14)
    why_picture_words(picture, &(why_type){.ink = WHY_INK_TEXT, .size = 10.5},
                      (why_spot){LEFT, y + 8}, NOTES[i]);
  return y;
}

static void describe(const why_moments* moments, const strip* strips, size_t count,
                     why_picture* picture) {
  why_arena* arena = picture->arena;
  picture->title =
      why_arena_print(arena, "Demands of %s along the repetition", moments->exercise->name);
  why_buffer text = {.arena = arena};
  why_buffer_add(&text, "Moments that the muscles of the working side must give, newton metres, "
                        "stretched, middle and shortened:");
  for (size_t i = 0; i < count; i++) {
    const strip* s = &strips[i];
    why_buffer_print(&text, "%s %s %s, %s, %s", i ? ";" : "", s->name, figure_of(&s->at[0], arena),
                     figure_of(&s->at[(s->count - 1) / 2], arena),
                     figure_of(&s->at[s->count - 1], arena));
  }
  why_buffer_add(&text, ".");
  picture->description = why_buffer_text(&text);
}

/// How many of the rows, largest first, are worth a strip.
static size_t count_strips(const why_moments* moments) {
  size_t count = 0;
  while (count < moments->rows.count && count < MOST_ROWS &&
         largest(&moments->rows.at[count]) >= WORTH_A_STRIP * largest(&moments->rows.at[0]))
    count++;
  return count;
}

void why_strips_draw(const why_moments* moments, why_picture* picture) {
  size_t count = count_strips(moments);
  if (!count)
    return;
  strip* strips = WHY_NEW_ARRAY(picture->arena, strip, count);
  double tallest = 0;
  for (size_t i = 0; i < count; i++) {
    strips[i] = strip_of(moments, &moments->rows.at[i], picture->arena);
    tallest = fmax(tallest, strips[i].most - strips[i].least);
  }
  describe(moments, strips, count, picture);
  static const why_type LARGE = {WHY_INK_TEXT, 14, true, WHY_ANCHOR_MIDDLE};
  why_picture_words(picture, &LARGE, (why_spot){WIDTH / 2, 18}, "What the muscles must give, N m");
  const char* positions[WHY_POSITIONS];
  for (int i = 0; i < WHY_POSITIONS; i++)
    positions[i] = why_position_words(i);
  draw_three(picture, 40, positions);
  double y = TOP;
  for (size_t i = 0; i < count; i++)
    y = draw_strip(&strips[i], y, TALLEST / tallest, picture);
  picture->width = WIDTH;
  picture->height = draw_notes(y, picture) + 6;
}
