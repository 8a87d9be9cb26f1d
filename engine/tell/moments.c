// SPDX-License-Identifier: GPL-3.0-or-later
// Lays out joint moments: a table for people, numbers with their parts for programs.
#include "parts.h"
#include "report.h"
#include "stress.h"
#include "strips.h"
#include "working.h"

#include <math.h>

static const char* const POSITIONS[] = {"stretched", "middle", "shortened"};

static const char* name_of(const why_moments* moments, why_arena* arena, const char* kind,
                           why_symbol id) {
  return why_ground_name(moments->ground, arena, kind,
                         why_symbols_text(moments->ground->symbols, id));
}

/// "hip extension 182 (94 + 88)", with a mark where it is not determined.
static const char* cell_text(const why_moments* moments, why_arena* arena,
                             const why_moment* moment) {
  if (!moment->action)
    return "-";
  return why_arena_print(arena, "%s%s %.0f (%.0f %c %.0f)", moment->determined ? "" : "~",
                         name_of(moments, arena, "action", moment->action->id),
                         moment->body + moment->load, moment->body, moment->load < 0 ? '-' : '+',
                         fabs(moment->load));
}

static void add_cell(const why_moments* moments, why_arena* arena, why_node* list, int position,
                     const why_moment* moment) {
  if (!moment->action)
    return;
  why_node* cell = why_node_add(arena, list, WHY_NODE_RECORD, NULL);
  why_node_text(arena, cell, "position", POSITIONS[position]);
  why_node_text(arena, cell, "action",
                why_symbols_text(moments->ground->symbols, moment->action->id));
  why_node_number(arena, cell, "body_nm", moment->body);
  why_node_number(arena, cell, "load_nm", moment->load);
  why_node_text(arena, cell, "determined", moment->determined ? "yes" : "no");
}

static void add_row(const why_moments* moments, why_arena* arena, why_node* list,
                    const why_moment_row* row) {
  why_node* record = why_node_add(arena, list, WHY_NODE_RECORD, NULL);
  record->role = WHY_ROLE_ROW;
  record->words = why_arena_print(arena, "%s\t%s\t%s", cell_text(moments, arena, &row->at[0]),
                                  cell_text(moments, arena, &row->at[1]),
                                  cell_text(moments, arena, &row->at[2]));
  why_node_text(arena, record, "coordinate",
                why_symbols_text(moments->ground->symbols, row->coordinate));
  why_node* cells = why_node_add(arena, record, WHY_NODE_LIST, "positions");
  for (int i = 0; i < WHY_POSITIONS; i++)
    add_cell(moments, arena, cells, i, &row->at[i]);
}

static void add_balance(const why_moments* moments, why_arena* arena, why_node* root) {
  why_node* list = why_node_add(arena, root, WHY_NODE_LIST, "imbalance");
  for (int i = 0; i < WHY_POSITIONS; i++) {
    why_node_number(arena, list, NULL, moments->imbalance[i]);
    if (moments->imbalance[i] > moments->balance_tolerance)
      why_node_words(arena, root, WHY_ROLE_PARAGRAPH,
                     why_arena_print(arena,
                                     "The %s position is out of balance by %.0f %% of the weight: "
                                     "its moments are doubtful.",
                                     POSITIONS[i], moments->imbalance[i] * 100));
  }
}

static void draw_strips(const void* subject, why_picture* picture) {
  why_strips_draw(subject, picture);
}

static void draw_stress(const void* subject, why_picture* picture) {
  why_stress_draw(subject, picture);
}

why_node* why_report_moments(const why_moments* moments, why_arena* arena) {
  why_node* root = why_node_add(arena, NULL, WHY_NODE_RECORD, NULL);
  why_node* title = why_node_words(
      arena, root, WHY_ROLE_TITLE,
      why_arena_print(arena, "Moments in %s under its usual load", moments->exercise->name));
  title->mark = why_arena_print(arena,
                                "what the muscles of the working side must give, N m, for %.2f m "
                                "and %.0f kg, at rest",
                                moments->stature_m, moments->mass_kg);
  why_node_text(arena, root, "exercise",
                why_symbols_text(moments->ground->symbols, moments->exercise->id));
  why_part_figures(moments->ground, arena, root, moments->exercise->id, moments->motion);
  why_node* list = why_node_add(arena, root, WHY_NODE_LIST, "moments");
  list->role = WHY_ROLE_TABLE;
  list->words = "Moments";
  why_node_words(arena, list, WHY_ROLE_COLUMNS,
                 why_arena_print(arena, "%s\t%s\t%s", POSITIONS[0], POSITIONS[1], POSITIONS[2]));
  for (size_t i = 0; i < moments->rows.count; i++)
    add_row(moments, arena, list, &moments->rows.at[i]);
  add_balance(moments, arena, root);
  why_node_words(arena, root, WHY_ROLE_PARAGRAPH,
                 "In brackets: because of the body + because of the load. A mark ~ stands where "
                 "the moment hangs on how hands, feet or seat share the weight.");
  why_node_picture(arena, root, draw_strips, moments);
  why_part_working(moments->exertion, arena, root);
  why_node_picture(arena, root, draw_stress, moments->exertion);
  why_part_closing(moments->ground, arena, root);
  return root;
}
