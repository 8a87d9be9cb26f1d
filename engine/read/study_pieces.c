// SPDX-License-Identifier: GPL-3.0-or-later
// Pieces are written part by part, each with what lies in it; they are gathered as they are told.
#include "study_pieces.h"

#include "study_write.h"
#include "xml_layout.h"

#include <string.h>

const why_study_cell* why_study_piece_cell(const why_study_piece* piece,
                                           const why_study_field* field) {
  for (size_t i = 0; i < piece->cells.count; i++)
    if (piece->cells.at[i].field == field)
      return &piece->cells.at[i];
  return NULL;
}

typedef struct {
  const why_study_pieces* pieces;
  why_study_sink sink;
  why_buffer* out;
  why_cell_origins* origins;
} writing;

/// What is written from here on comes from the cell.
static void mark(const writing* w, const why_study_cell* cell) {
  *WHY_LIST_ADD(w->out->arena, *w->origins) =
      (why_cell_origin){.offset = w->out->length, .place = cell->place};
}

static bool same(const char* a, const char* b) {
  return a && b ? strcmp(a, b) == 0 : a == b;
}

/// The cells of a piece: those of the element itself, then its leaves one after the other.
static void write_cells(const writing* w, const why_study_piece* piece) {
  const char* leaf = NULL;
  for (size_t i = 0; why_study_fields_at(i); i++) {
    const why_study_field* field = why_study_fields_at(i);
    const why_study_cell* cell =
        field->part == piece->part ? why_study_piece_cell(piece, field) : NULL;
    if (!cell)
      continue;
    if (!same(leaf, field->leaf)) {
      if (leaf)
        w->sink.close(w->sink.user);
      mark(w, cell);
      w->sink.open(w->sink.user, field->leaf);
      leaf = field->leaf;
    }
    mark(w, cell);
    if (field->attribute)
      w->sink.attribute(w->sink.user, field->attribute, cell->text);
    else
      w->sink.content(w->sink.user, cell->text);
  }
  if (leaf)
    w->sink.close(w->sink.user);
}

static void write_piece(const writing* w, size_t index) {
  const why_study_piece* piece = &w->pieces->at[index];
  if (piece->cells.count)
    mark(w, &piece->cells.at[0]);
  w->sink.open(w->sink.user, why_study_part_kind_of(piece->part)->element);
  write_cells(w, piece);
  for (why_study_part part = WHY_PART_POPULATION; part < WHY_PARTS; part++)
    if (why_study_part_kind_of(part)->parent == piece->part)
      for (size_t i = index + 1; i < w->pieces->count; i++)
        if (w->pieces->at[i].part == part && w->pieces->at[i].parent == index)
          write_piece(w, i);
  w->sink.close(w->sink.user);
}

void why_study_pieces_write(const why_study_pieces* pieces, why_buffer* out,
                            why_cell_origins* origins) {
  why_xml_layout layout = {.out = out};
  const writing w = {pieces, why_xml_layout_sink(&layout), out, origins};
  if (pieces->at[0].cells.count)
    mark(&w, &pieces->at[0].cells.at[0]);
  why_xml_layout_start(&layout);
  w.sink.comment(w.sink.user, WHY_STUDY_REMARK);
  write_piece(&w, 0);
}

/// Whether `element` is a part that lies in the open piece.
static bool is_part(const why_study_gatherer* g, const char* element, why_study_part* part) {
  bool first = !g->pieces.count;
  for (*part = WHY_PART_STUDY; *part < WHY_PARTS; ++*part) {
    const why_study_part_kind* kind = why_study_part_kind_of(*part);
    if (strcmp(kind->element, element) == 0 && first == (*part == WHY_PART_STUDY) &&
        (first || kind->parent == g->pieces.at[g->at].part))
      return true;
  }
  return false;
}

static void open(void* user, const char* element) {
  why_study_gatherer* g = user;
  why_study_part part;
  if (!is_part(g, element, &part)) {
    g->leaf = element;
    return;
  }
  size_t parent = g->at;
  *WHY_LIST_ADD(g->arena, g->pieces) = (why_study_piece){.part = part, .parent = parent};
  g->at = g->pieces.count - 1;
}

static void add(why_study_gatherer* g, const char* attribute, const char* text) {
  why_study_piece* piece = &g->pieces.at[g->at];
  for (size_t i = 0; why_study_fields_at(i); i++) {
    const why_study_field* field = why_study_fields_at(i);
    if (field->part == piece->part && same(field->leaf, g->leaf) &&
        same(field->attribute, attribute))
      *WHY_LIST_ADD(g->arena, piece->cells) = (why_study_cell){.field = field, .text = text};
  }
}

static void attribute(void* user, const char* name, const char* value) {
  add(user, name, value);
}

static void content(void* user, const char* text) {
  if (text[strspn(text, " ")])
    add(user, NULL, text);
}

static void close(void* user) {
  why_study_gatherer* g = user;
  if (g->leaf)
    g->leaf = NULL;
  else
    g->at = g->pieces.at[g->at].parent;
}

static void comment(void* user, const char* text) {
  (void)user;
  (void)text;
}

why_study_sink why_study_gatherer_sink(why_study_gatherer* gatherer) {
  return (why_study_sink){open, attribute, content, close, comment, gatherer};
}
