// SPDX-License-Identifier: GPL-3.0-or-later
/// A study in pieces: its elements with their cells, between XML and a table.
#ifndef WHY_READ_STUDY_PIECES_H
#define WHY_READ_STUDY_PIECES_H

#include "origin.h"
#include "study_columns.h"
#include "study_sink.h"

typedef struct {
  const why_study_field* field;
  const char* text; ///< Not "".
  why_place place;
} why_study_cell;

typedef struct {
  why_study_part part;
  size_t parent; ///< Index of the piece around it; the study's is its own.
  WHY_LIST(why_study_cell) cells;
} why_study_piece;

/// Piece 0 is the study. Pieces of one part around which the same piece lies are in order.
typedef WHY_LIST(why_study_piece) why_study_pieces;

/// The cell of a field, NULL when there is none.
const why_study_cell* why_study_piece_cell(const why_study_piece* piece,
                                           const why_study_field* field);

/// Write the pieces as the XML of a study; `origins` is filled from its start on.
void why_study_pieces_write(const why_study_pieces* pieces, why_buffer* out,
                            why_cell_origins* origins);

/// What collects a study that is told to it (why_study_tell) as pieces in `arena`.
typedef struct {
  why_arena* arena;
  why_study_pieces pieces;
  size_t at;        ///< Of the open piece.
  const char* leaf; ///< Of the open element inside it, NULL: none.
} why_study_gatherer;

/// The sink of a zeroed `gatherer` with its arena set.
why_study_sink why_study_gatherer_sink(why_study_gatherer* gatherer);

#endif
