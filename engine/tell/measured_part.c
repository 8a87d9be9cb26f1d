// SPDX-License-Identifier: GPL-3.0-or-later
#include "measured_part.h"

#include <string.h>

/// Title, journal and DOI, from the sources of measurements or from the reviews.
typedef struct {
  const char* title;
  const char* journal;
  const char* doi;
} origin;

static origin find_origin(const why_ground* ground, why_symbol id) {
  const why_source* source = why_source_find(&ground->tables->measurements, id);
  if (source)
    return (origin){source->title, source->journal, source->doi};
  const why_review* review = why_review_find(&ground->tables->reviews, id);
  if (review)
    return (origin){review->title, review->journal, review->doi};
  return (origin){why_symbols_text(ground->symbols, id), "", ""};
}

void why_part_measurement(const why_ground* ground, why_arena* arena, why_node* list,
                          const char* id) {
  const why_measurement* row =
      why_measurement_find(&ground->tables->measurements, why_symbols_find(ground->symbols, id));
  if (!row)
    return;
  origin from = find_origin(ground, row->source);
  const char* basis = why_symbols_text(ground->symbols, row->basis);
  const char* source = why_symbols_text(ground->symbols, row->source);
  bool practice = strcmp(source, "common-practice") == 0;
  why_node* record = why_node_add(arena, list, WHY_NODE_RECORD, NULL);
  record->role = WHY_ROLE_POINT;
  record->anchor = id;
  record->words = practice
                      ? why_arena_print(arena, "%s: %s Common practice.", id, row->says)
                      : why_arena_print(arena, "%s: %s %s. %s%s(read as: %s)", id, row->says,
                                        from.title, from.journal, *from.journal ? " " : "", basis);
  if (*from.doi) {
    record->mark = why_arena_print(arena, "doi %s", from.doi);
    record->link = why_arena_print(arena, "https://doi.org/%s", from.doi);
  }
  why_node_text(arena, record, "id", id);
  why_node_text(arena, record, "says", row->says);
  why_node_text(arena, record, "source", source);
  why_node_text(arena, record, "title", practice ? NULL : from.title);
  why_node_text(arena, record, "journal", *from.journal ? from.journal : NULL);
  why_node_text(arena, record, "doi", *from.doi ? from.doi : NULL);
  why_node_text(arena, record, "basis", basis);
}
