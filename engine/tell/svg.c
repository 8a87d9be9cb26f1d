// SPDX-License-Identifier: GPL-3.0-or-later
// Writes marks as SVG elements, inks as colours. The colours of forces are those of a palette made
// to be told apart by colour-blind people (Okabe and Ito, "Color universal design", 2008), darkened
// where lines would be faint on paper; shapes and words say the same as every colour.
#include "svg.h"

#include "markup.h"

static const char* const COLOURS[WHY_INKS] = {
    [WHY_INK_NONE] = "none",      [WHY_INK_PAPER] = "#fff",   [WHY_INK_TEXT] = "#111",
    [WHY_INK_SOFT] = "#666",      [WHY_INK_FAINT] = "#bbb",   [WHY_INK_PAD] = "#d9d9d9",
    [WHY_INK_WEIGHT] = "#0072b2", [WHY_INK_LOAD] = "#c04a00", [WHY_INK_SUPPORT] = "#00795a",
};

static const char* const DASHES[WHY_DASHES] = {
    [WHY_DASH_SHORT] = "4 3", [WHY_DASH_LONG] = "9 4", [WHY_DASH_DOT] = "1 4"};

static const char* const ANCHORS[] = {"start", "middle", "end"};

/// An attribute whose value is one of ours and needs no escaping; there are thousands on a page.
static void add_word(why_buffer* out, const char* name, const char* word) {
  why_buffer_add(out, name);
  why_buffer_add(out, word);
  why_buffer_add(out, "\"");
}

static void add_stroke(const why_mark* mark, why_buffer* out) {
  add_word(out, " fill=\"", COLOURS[mark->fill]);
  if (!mark->stroke)
    return;
  add_word(out, " stroke=\"", COLOURS[mark->stroke]);
  why_markup_measure(out, "stroke-width", mark->width);
  if (mark->dash)
    add_word(out, " stroke-dasharray=\"", DASHES[mark->dash]);
}

static void add_path(const why_mark* mark, why_buffer* out) {
  why_buffer_add(out, mark->shape == WHY_SHAPE_AREA ? "<polygon points=\"" : "<polyline points=\"");
  for (size_t i = 0; i < mark->count; i++) {
    if (i)
      why_buffer_add(out, " ");
    why_markup_number(out, mark->spots[i].x);
    why_buffer_add(out, ",");
    why_markup_number(out, mark->spots[i].y);
  }
  why_buffer_add(out, "\"");
  add_stroke(mark, out);
  why_buffer_add(out, "/>\n");
}

static void add_disc(const why_mark* mark, why_buffer* out) {
  why_buffer_add(out, "<circle");
  why_markup_measure(out, "cx", mark->spots[0].x);
  why_markup_measure(out, "cy", mark->spots[0].y);
  why_markup_measure(out, "r", mark->radius);
  add_stroke(mark, out);
  why_buffer_add(out, "/>\n");
}

/// Words stand on a rim of paper, so that lines behind them do not spoil them.
static void add_words(const why_mark* mark, why_buffer* out) {
  why_buffer_add(out, "<text");
  why_markup_measure(out, "x", mark->spots[0].x);
  why_markup_measure(out, "y", mark->spots[0].y);
  why_markup_measure(out, "font-size", mark->size);
  if (mark->anchor)
    add_word(out, " text-anchor=\"", ANCHORS[mark->anchor]);
  if (mark->bold)
    why_buffer_add(out, " font-weight=\"bold\"");
  add_word(out, " fill=\"", COLOURS[mark->fill]);
  add_word(out, " stroke=\"", COLOURS[WHY_INK_PAPER]);
  why_buffer_add(out, " stroke-width=\"3\" paint-order=\"stroke\">");
  why_markup_text(out, mark->words);
  why_buffer_add(out, "</text>\n");
}

static void add_marks(const why_picture* picture, why_buffer* out) {
  for (size_t i = 0; i < picture->marks.count; i++) {
    const why_mark* mark = &picture->marks.at[i];
    if (mark->shape == WHY_SHAPE_WORDS)
      add_words(mark, out);
    else if (mark->shape == WHY_SHAPE_DISC)
      add_disc(mark, out);
    else
      add_path(mark, out);
  }
}

/// What every group of marks shares, and its words for those who cannot see it.
static void open_group(const why_picture* picture, unsigned number, why_buffer* out) {
  why_buffer_print(out, " role=\"img\" aria-labelledby=\"title%u about%u\"", number, number);
  why_buffer_add(out, " font-family=\"sans-serif\" stroke-linecap=\"round\" "
                      "stroke-linejoin=\"round\">\n");
  why_buffer_print(out, "<title id=\"title%u\">", number);
  why_markup_text(out, picture->title);
  why_buffer_print(out, "</title>\n<desc id=\"about%u\">", number);
  why_markup_text(out, picture->description);
  why_buffer_add(out, "</desc>\n");
}

void why_svg_add(const why_picture* picture, unsigned number, why_buffer* out) {
  why_buffer_add(out, "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 ");
  why_markup_number(out, picture->width);
  why_buffer_add(out, " ");
  why_markup_number(out, picture->height);
  why_buffer_add(out, "\"");
  why_markup_measure(out, "width", picture->width);
  why_markup_measure(out, "height", picture->height);
  open_group(picture, number, out);
  add_marks(picture, out);
  why_buffer_add(out, "</svg>\n");
}

void why_svg_add_group(const why_picture* picture, unsigned number, double x, double y,
                       why_buffer* out) {
  why_buffer_add(out, "<g transform=\"translate(");
  why_markup_number(out, x);
  why_buffer_add(out, " ");
  why_markup_number(out, y);
  why_buffer_add(out, ")\"");
  open_group(picture, number, out);
  add_marks(picture, out);
  why_buffer_add(out, "</g>\n");
}
