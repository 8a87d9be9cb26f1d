// SPDX-License-Identifier: GPL-3.0-or-later
// Lays out the answers to `check` and `list`.
#include "parts.h"
#include "report.h"

#include <string.h>

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

static void add_names(const why_summary* summary, why_arena* arena, why_node* into,
                      const char* name, const char* lead, const why_symbol_list* symbols) {
  why_node* list = why_node_add(arena, into, WHY_NODE_LIST, name);
  for (size_t i = 0; i < symbols->count; i++) {
    why_node* each = why_node_text(arena, list, NULL,
                                   why_symbols_text(summary->ground->symbols, symbols->at[i]));
    each->role = WHY_ROLE_POINT;
    each->words = why_arena_print(arena, "%s %s", lead, each->text);
  }
}

/// Rules and relations that never matter.
static void add_idle(const why_summary* summary, why_arena* arena, why_node* root) {
  const why_idle* idle = &summary->idle;
  why_node* record = why_node_add(arena, root, WHY_NODE_RECORD, "idle");
  why_node_number(arena, record, "questions", (double)idle->questions);
  why_node_words(arena, record, WHY_ROLE_HEADING,
                 idle->rules.count || idle->relations.count
                     ? why_arena_print(arena, "What never matters (questions asked to see it: %zu)",
                                       idle->questions)
                     : why_arena_print(arena,
                                       "Every rule gives something, and every relation is read "
                                       "(questions asked to see it: %zu)",
                                       idle->questions));
  add_names(summary, arena, record, "rules", "rule gives nothing:", &idle->rules);
  add_names(summary, arena, record, "relations", "relation is read by nothing:", &idle->relations);
}

why_node* why_report_summary(const why_summary* summary, why_arena* arena) {
  why_node* root = why_node_add(arena, NULL, WHY_NODE_RECORD, NULL);
  why_node_words(arena, root, WHY_ROLE_TITLE, "The knowledge base is sound.");
  add_tallies(arena, root, "holds", "It holds", &summary->things);
  add_tallies(arena, root, "bases", "Numbers by what they rest on", &summary->bases);
  add_idle(summary, arena, root);
  add_tallies(arena, root, "left_out", "Kept, but left out of use, and why", &summary->left_out);
  why_part_closing(summary->ground, arena, root);
  return root;
}

/// "at-hand, brings; no ruled-out".
static const char* names_of(const why_listing* listing, why_arena* arena,
                            const why_symbol_list* first, const why_symbol_list* refused) {
  why_buffer text = {.arena = arena};
  for (size_t i = 0; i < first->count; i++)
    why_buffer_print(&text, "%s%s", i ? ", " : "",
                     why_symbols_text(listing->ground->symbols, first->at[i]));
  for (size_t i = 0; refused && i < refused->count; i++)
    why_buffer_print(&text, "%s%s",
                     i             ? ", "
                     : text.length ? "; none of: "
                                   : "none of: ",
                     why_symbols_text(listing->ground->symbols, refused->at[i]));
  return why_buffer_text(&text);
}

static void add_symbols(const why_listing* listing, why_arena* arena, why_node* record,
                        const char* name, const why_symbol_list* symbols) {
  why_node* list = why_node_add(arena, record, WHY_NODE_LIST, name);
  for (size_t i = 0; i < symbols->count; i++)
    why_node_text(arena, list, NULL, why_symbols_text(listing->ground->symbols, symbols->at[i]));
}

/// A detail of a rule: for programs under its name, for people behind its lead.
static void add_detail(why_arena* arena, why_node* record, const char* name, const char* lead,
                       const char* text) {
  why_node* each = why_node_text(arena, record, name, *text ? text : NULL);
  each->role = WHY_ROLE_POINT;
  each->words = *text ? why_arena_print(arena, "%s: %s", lead, text) : NULL;
}

static void add_rule(const why_listing* listing, why_arena* arena, why_node* list,
                     const why_ruled* rule) {
  const why_symbols* symbols = listing->ground->symbols;
  const why_rule_row* row = rule->row;
  const char* id = why_symbols_text(symbols, row->id);
  why_node* record = why_node_add(arena, list, WHY_NODE_RECORD, NULL);
  record->role = WHY_ROLE_ENTRY;
  record->words = row->title;
  record->mark = why_arena_print(arena, "%s, %s", id, why_symbols_text(symbols, row->grounds));
  why_node_text(arena, record, "id", id);
  why_node_text(arena, record, "file", row->place.file);
  why_node_number(arena, record, "line", row->place.line);
  why_node_text(arena, record, "title", row->title);
  why_node_text(arena, record, "grounds", why_symbols_text(symbols, row->grounds));
  add_symbols(listing, arena, record, "reads", &rule->reads);
  add_symbols(listing, arena, record, "refuses", &rule->refuses);
  add_symbols(listing, arena, record, "gives", &rule->gives);
  why_node_words(
      arena, record, WHY_ROLE_POINT,
      why_arena_print(arena, "From: %s", names_of(listing, arena, &rule->reads, &rule->refuses)));
  why_node_words(
      arena, record, WHY_ROLE_POINT,
      why_arena_print(arena, "Follows: %s", names_of(listing, arena, &rule->gives, NULL)));
  add_detail(arena, record, "say", "Says", row->say);
  const char* sources = names_of(listing, arena, &row->from.sources, NULL);
  const char* basis = row->from.basis ? why_symbols_text(symbols, row->from.basis) : "";
  add_detail(arena, record, "source", "Source", *sources ? sources : basis);
}

/// The rules, each file under its name.
static void add_rules(const why_listing* listing, why_arena* arena, why_node* root) {
  why_node* list = why_node_add(arena, root, WHY_NODE_LIST, "rules");
  const char* file = NULL;
  for (size_t i = 0; i < listing->rules.count; i++) {
    const why_ruled* rule = &listing->rules.at[i];
    if (!file || strcmp(file, rule->row->place.file) != 0)
      why_node_words(arena, list, WHY_ROLE_HEADING, rule->row->place.file);
    file = rule->row->place.file;
    add_rule(listing, arena, list, rule);
  }
}

why_node* why_report_listing(const why_listing* listing, why_arena* arena) {
  why_node* root = why_node_add(arena, NULL, WHY_NODE_RECORD, NULL);
  why_node_text(arena, root, "kind", listing->kind);
  if (listing->rules.count)
    add_rules(listing, arena, root);
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
