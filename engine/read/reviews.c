// SPDX-License-Identifier: GPL-3.0-or-later
// Reads published reviews.
#include "reviews.h"

#include "evidence_reader.h"

#include <math.h>

const why_review* why_review_find(const why_review_table* table, why_symbol id) {
  for (size_t i = 0; i < table->rows.count; i++)
    if (table->rows.at[i].id == id)
      return &table->rows.at[i];
  return NULL;
}

/// `name` is the attribute that says what is pooled.
static why_pooled read_pooled(why_reader* reader, const xmlNode* e, const char* name) {
  return (why_pooled){.name = why_xml_string(reader, e, name),
                      .place = why_xml_place(reader, e),
                      .unit = why_xml_string(reader, e, "unit"),
                      .estimate = why_xml_number(reader, e, "estimate", NAN),
                      .se = why_xml_number(reader, e, "se", NAN),
                      .ci95 = why_low_high_read(reader, e, "ci95"),
                      .range = why_low_high_read(reader, e, "range"),
                      .p = why_p_read(reader, e),
                      .basis = why_xml_symbols(reader, e, "basis"),
                      .studies = why_xml_number(reader, e, "studies", NAN),
                      .people = why_xml_number(reader, e, "people", NAN),
                      .i2_pct = why_xml_number(reader, e, "i2-pct", NAN),
                      .tau2 = why_xml_number(reader, e, "tau2", NAN),
                      .model = why_xml_string(reader, e, "model"),
                      .where = why_xml_child_text(reader, e, "where")};
}

static why_included read_included(why_reader* reader, const xmlNode* e) {
  return (why_included){.study = why_xml_symbol(reader, e, "study"),
                        .place = why_xml_place(reader, e),
                        .arm = why_xml_symbol(reader, e, "arm"),
                        .muscle = why_xml_symbol(reader, e, "muscle"),
                        .site = why_xml_symbol(reader, e, "site"),
                        .outcome = why_xml_string(reader, e, "outcome"),
                        .partial_at = why_xml_symbol(reader, e, "partial-at"),
                        .week = why_xml_number(reader, e, "week", NAN),
                        .unit = why_xml_string(reader, e, "unit"),
                        .effect = why_xml_number(reader, e, "effect", NAN),
                        .se = why_xml_number(reader, e, "se", NAN),
                        .basis = why_xml_symbols(reader, e, "basis")};
}

void why_reviews_read(why_reader* reader, const xmlNode* root, why_tables* tables) {
  const xmlNode* title = why_xml_first(root, "title");
  why_review review = {.id = why_xml_symbol(reader, root, "id"),
                       .place = why_xml_place(reader, root),
                       .year = why_xml_whole(reader, root, "year"),
                       .doi = why_xml_string(reader, root, "doi"),
                       .title = why_xml_text(reader, title),
                       .title_as = why_xml_symbol(reader, title, "as"),
                       .journal = why_xml_child_text(reader, root, "journal"),
                       .question = why_xml_child_text(reader, root, "question"),
                       .note = why_xml_child_text(reader, root, "note"),
                       .pooled = read_pooled(reader, why_xml_first(root, "pooled"), "measure")};
  for (const xmlNode* n = why_xml_first(root, "estimate"); n; n = why_xml_next(n, "estimate"))
    *WHY_LIST_ADD(reader->arena, review.more) = read_pooled(reader, n, "name");
  for (const xmlNode* n = why_xml_first(root, "includes"); n; n = why_xml_next(n, "includes"))
    *WHY_LIST_ADD(reader->arena, review.included) = read_included(reader, n);
  *WHY_LIST_ADD(reader->arena, tables->reviews.rows) = review;
}
