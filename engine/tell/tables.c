// SPDX-License-Identifier: GPL-3.0-or-later
// Lays out the answers to `check` and `list`.
#include "parts.h"
#include "report.h"

static void add_tallies(why_arena* arena, why_node* root, const char* name, const char* heading,
                        const why_tallies* tallies) {
  if (tallies->count)
    why_node_words(arena, root, WHY_ROLE_HEADING, heading);
  why_node* list = why_node_add(arena, root, WHY_NODE_LIST, name);
  list->role = WHY_ROLE_TABLE;
  list->words = heading;
  for (size_t i = 0; i < tallies->count; i++) {
    why_node* row = why_node_add(arena, list, WHY_NODE_RECORD, NULL);
    row->role = WHY_ROLE_ROW;
    row->words = why_arena_print(arena, "%6zu\t%s", tallies->at[i].count, tallies->at[i].what);
    why_node_text(arena, row, "what", tallies->at[i].what);
    why_node_number(arena, row, "count", (double)tallies->at[i].count);
  }
}

why_node* why_report_summary(const why_summary* summary, why_arena* arena) {
  why_node* root = why_node_add(arena, NULL, WHY_NODE_RECORD, NULL);
  why_node_words(arena, root, WHY_ROLE_TITLE, "The knowledge base is sound.");
  add_tallies(arena, root, "holds", "It holds", &summary->things);
  add_tallies(arena, root, "bases", "Numbers by what they rest on", &summary->bases);
  add_tallies(arena, root, "left_out", "Kept, but left out of use, and why", &summary->left_out);
  why_part_closing(summary->ground, arena, root);
  return root;
}

why_node* why_report_listing(const why_listing* listing, why_arena* arena) {
  why_node* root = why_node_add(arena, NULL, WHY_NODE_RECORD, NULL);
  why_node_text(arena, root, "kind", listing->kind);
  why_node* list = why_node_add(arena, root, WHY_NODE_LIST, "rows");
  for (size_t i = 0; i < listing->rows.count; i++) {
    const why_listed* each = &listing->rows.at[i];
    why_node* row = why_node_add(arena, list, WHY_NODE_RECORD, NULL);
    row->role = WHY_ROLE_ROW;
    row->words = why_arena_print(arena, "%s%s%s%s%s", each->id, *each->name ? "\t" : "", each->name,
                                 *each->more ? "\t" : "", each->more);
    why_node_text(arena, row, "id", each->id);
    why_node_text(arena, row, "name", *each->name ? each->name : NULL);
    why_node_text(arena, row, "more", *each->more ? each->more : NULL);
  }
  return root;
}
