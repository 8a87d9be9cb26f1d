// SPDX-License-Identifier: GPL-3.0-or-later
// Lays out two exercises beside each other: the verdict, both head by head, what each is like, the
// reasons, and what would decide it.
#include "estimate_part.h"
#include "parts.h"
#include "report.h"

#include <math.h>
#include <string.h>

typedef struct {
  const why_versus* versus;
  const why_ground* ground;
  why_arena* arena;
} teller;

static const char* const SIDES[] = {"a", "b"};

static const char* id_of(const teller* t, why_symbol symbol) {
  return why_symbols_text(t->ground->symbols, symbol);
}

static const char* head_name(const teller* t, why_symbol head) {
  return why_ground_name(t->ground, t->arena, "head", id_of(t, head));
}

/// "4.1 % (1.0 to 7.3)"; `unit` is put behind the figure.
static const char* interval_words(const teller* t, const why_estimate* estimate, const char* unit) {
  if (!estimate)
    return "not trained";
  if (estimate->basis == WHY_BASIS_MECHANICS)
    return why_arena_print(t->arena, "%.0f to %.0f%s, not measured",
                           why_estimate_shown(estimate, estimate->low),
                           why_estimate_shown(estimate, estimate->high), unit);
  return why_arena_print(t->arena, "%.1f%s (%.1f to %.1f)", estimate->percent, unit, estimate->low,
                         estimate->high);
}

/// Of a difference, whatever it rests on.
static const char* tenths_words(const teller* t, const why_estimate* difference) {
  return why_arena_print(t->arena, "%.1f (%.1f to %.1f)", difference->percent, difference->low,
                         difference->high);
}

static void add_difference(const teller* t, why_node* root) {
  const why_versus* versus = t->versus;
  const why_estimate* difference = versus->possible ? &versus->difference : NULL;
  why_part_estimate(t->arena, root, "difference", difference, WHY_ESTIMATE_TENTHS);
  why_node_text(t->arena, root, "verdict", versus->verdict);
  why_node_text(t->arena, root, "leans", versus->leans);
  why_node_text(t->arena, root, "certainty", versus->certainty);
  if (versus->reasons.count)
    why_node_words(t->arena, root, WHY_ROLE_PARAGRAPH,
                   why_arena_print(t->arena, "%s Certainty: %s.", versus->reasons.at[0].say,
                                   versus->certainty ? versus->certainty : "not graded"));
}

// ---- head by head ----

static void add_part(const teller* t, why_node* row, int side, const why_versus_part* part) {
  why_node* record = why_node_add(t->arena, row, WHY_NODE_RECORD, SIDES[side]);
  why_node_number(t->arena, record, "part", part->part);
  why_part_estimate(t->arena, record, "estimate", part->estimate, WHY_ESTIMATE_SHOWN);
  why_node_text(t->arena, record, "length", part->length);
  if (isnan(part->stress))
    why_node_text(t->arena, record, "effort", NULL);
  else
    why_node_number(t->arena, record, "effort", part->stress);
}

static void add_head(const teller* t, why_node* list, const why_versus_head* head) {
  const why_versus_part* sides = head->sides;
  bool trained = sides[0].part > 0 || sides[1].part > 0;
  const why_estimate* difference = trained ? &head->difference : NULL;
  why_node* row = why_node_add(t->arena, list, WHY_NODE_RECORD, NULL);
  row->role = WHY_ROLE_ROW;
  row->words = why_arena_print(
      t->arena, "%s\t%s\t%s\t%s\t%s", head_name(t, head->head),
      interval_words(t, sides[0].estimate, ""), interval_words(t, sides[1].estimate, ""),
      trained ? tenths_words(t, difference) : "-", head->certainty ? head->certainty : "-");
  why_node_text(t->arena, row, "head", id_of(t, head->head));
  why_node_number(t->arena, row, "weight", head->weight);
  for (int side = 0; side < 2; side++)
    add_part(t, row, side, &sides[side]);
  why_part_estimate(t->arena, row, "difference", difference, WHY_ESTIMATE_TENTHS);
  why_node_text(t->arena, row, "certainty", head->certainty);
}

static void add_heads(const teller* t, why_node* root) {
  const why_versus* versus = t->versus;
  why_node_words(t->arena, root, WHY_ROLE_HEADING, "Head by head");
  why_node_words(
      t->arena, root, WHY_ROLE_PARAGRAPH,
      why_arena_print(t->arena,
                      "a: %s; b: %s. Expected growth in per cent in 10 weeks with 10 weekly "
                      "sets, against no training, for people %s; in brackets the 95 %% interval of "
                      "the mean.",
                      versus->sides[0].name, versus->sides[1].name,
                      versus->answer->trained ? "who trained before" : "new to training"));
  why_node* list = why_node_add(t->arena, root, WHY_NODE_LIST, "heads");
  list->role = WHY_ROLE_TABLE;
  list->words = "Head by head";
  why_node_words(t->arena, list, WHY_ROLE_COLUMNS, "head\ta\tb\ta less b\tcertainty");
  for (size_t i = 0; i < versus->heads.count; i++)
    add_head(t, list, &versus->heads.at[i]);
}

// ---- side by side ----

/// How hard, and how long, each head works; NULL where none does.
static const char* work_words(const teller* t, int number) {
  why_buffer text = {.arena = t->arena};
  for (size_t i = 0; i < t->versus->heads.count; i++) {
    const why_versus_head* head = &t->versus->heads.at[i];
    const why_versus_part* part = &head->sides[number];
    if (part->part > 0 && part->length && isfinite(part->stress))
      why_buffer_print(&text, "%s%s %.0f %% (%s)",
                       text.length ? ", " : "Mean effort of capacity, and length under load: ",
                       head_name(t, head->head), 100 * part->stress, part->length);
  }
  return text.length ? why_buffer_text(&text) : NULL;
}

static void add_side(const teller* t, why_node* list, int number) {
  const why_versus_side* side = &t->versus->sides[number];
  const why_picked* answer = t->versus->answer;
  why_node* record = why_node_add(t->arena, list, WHY_NODE_RECORD, NULL);
  record->role = WHY_ROLE_ENTRY;
  record->words = side->name;
  record->anchor = id_of(t, side->exercise);
  record->mark = side->number ? why_arena_print(t->arena, "number %zu of %zu picks here",
                                                side->number, answer->all_count)
                              : "no pick here";
  why_node_text(t->arena, record, "exercise", record->anchor);
  why_node_text(t->arena, record, "name", side->name);
  why_node_number(t->arena, record, "number", (double)side->number);
  why_node* verdict = why_node_text(t->arena, record, "verdict", side->verdict);
  verdict->role = side->number ? WHY_ROLE_NONE : WHY_ROLE_POINT;
  verdict->words = side->verdict;
  why_node* estimate =
      why_part_estimate(t->arena, record, "estimate", side->estimate, WHY_ESTIMATE_SHOWN);
  estimate->role = side->estimate ? WHY_ROLE_POINT : WHY_ROLE_NONE;
  estimate->words = why_arena_print(t->arena, "Expected growth of the whole goal: %s",
                                    interval_words(t, side->estimate, " %"));
  const char* working = work_words(t, number);
  if (working)
    why_node_words(t->arena, record, WHY_ROLE_POINT, working);
  why_part_reasons(answer, record, &side->reasons);
  why_node* cautions = why_node_add(t->arena, record, WHY_NODE_LIST, "cautions");
  for (size_t i = 0; i < side->cautions.count; i++) {
    why_node* each = why_node_text(t->arena, cautions, NULL, side->cautions.at[i]);
    each->role = WHY_ROLE_CAUTION;
    each->words = why_arena_print(t->arena, "Caution: %s", side->cautions.at[i]);
  }
}

static void add_sides(const teller* t, why_node* root) {
  why_node_words(t->arena, root, WHY_ROLE_HEADING, "Side by side");
  why_node* list = why_node_add(t->arena, root, WHY_NODE_LIST, "sides");
  for (int side = 0; side < 2; side++)
    add_side(t, list, side);
  if (t->versus->possible)
    why_part_two(t->ground, t->arena, root, t->versus->sides[0].exercise,
                 t->versus->sides[1].exercise);
}

// ---- what decides ----

static void add_decides(const teller* t, why_node* root) {
  const why_versus* versus = t->versus;
  why_node* record = why_node_add(t->arena, root, WHY_NODE_RECORD, "decides");
  why_node_words(t->arena, record, WHY_ROLE_HEADING, "What would decide it");
  why_part_reasons(versus->answer, record, &versus->decides);
  why_node* trial = why_node_add(t->arena, record, WHY_NODE_RECORD, "trial");
  why_node_number(t->arena, trial, "points", versus->plan.difference);
  why_node_number(t->arena, trial, "spread", versus->plan.spread);
  why_node_number(t->arena, trial, "alpha", versus->plan.alpha);
  why_node_number(t->arena, trial, "power", versus->plan.power);
  why_node_number(t->arena, trial, "people_in_each_group", versus->people_group);
  why_node_number(t->arena, trial, "people_with_two_limbs", versus->people_within);
}

static void add_referrals(const teller* t, why_node* root) {
  const why_picked* answer = t->versus->answer;
  why_node* list = why_node_add(t->arena, root, WHY_NODE_LIST, "referrals");
  for (size_t i = 0; i < answer->referrals.count; i++) {
    why_node* each = why_node_text(t->arena, list, NULL, answer->referrals.at[i]);
    each->role = WHY_ROLE_PARAGRAPH;
    each->words = answer->referrals.at[i];
  }
  if (answer->referrals.count)
    why_node_words(t->arena, root, WHY_ROLE_PARAGRAPH, t->ground->tables->restrictions.referral);
}

/// The verdict stands above; here is what it rests on.
static void add_reasons(const teller* t, why_node* root) {
  if (t->versus->reasons.count)
    why_node_words(t->arena, root, WHY_ROLE_HEADING, "Why");
  why_part_reasons(t->versus->answer, root, &t->versus->reasons);
  if (root->last->first)
    root->last->first->role = WHY_ROLE_NONE;
}

why_node* why_report_versus(const why_versus* versus, why_arena* arena) {
  const teller told = {versus, versus->answer->question->ground, arena};
  const teller* t = &told;
  why_node* root = why_node_add(arena, NULL, WHY_NODE_RECORD, NULL);
  why_part_understood(versus->answer, root);
  for (int side = 0; side < 2; side++)
    why_node_text(arena, root, SIDES[side], id_of(t, versus->sides[side].exercise));
  add_referrals(t, root);
  add_difference(t, root);
  if (!versus->possible && !versus->answer->referrals.count)
    why_node_words(arena, root, WHY_ROLE_PARAGRAPH,
                   "There is nothing to compare: neither of them trains a part of this goal.");
  if (versus->possible)
    add_heads(t, root);
  if (!versus->answer->referrals.count)
    add_sides(t, root);
  add_reasons(t, root);
  if (versus->possible)
    add_decides(t, root);
  const why_reasons* all[] = {&versus->reasons, &versus->sides[0].reasons,
                              &versus->sides[1].reasons};
  why_part_sources_of(versus->answer, root, all, sizeof all / sizeof *all);
  why_part_closing(t->ground, arena, root);
  return root;
}
