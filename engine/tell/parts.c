// SPDX-License-Identifier: GPL-3.0-or-later
// Picks with their reasons, sources, and the closing words.
#include "parts.h"

#include "estimate_part.h"

#include "whylift/knowledge.h"

#include <stdlib.h>

static const char* id_of(const why_picked* answer, why_symbol symbol) {
  return symbol ? why_symbols_text(answer->question->ground->symbols, symbol) : NULL;
}

/// A source that stands among the sources of the answer.
static void add_mention(const why_picked* answer, why_node* list, why_symbol study) {
  why_node* mention = why_node_text(answer->arena, list, NULL, id_of(answer, study));
  mention->role = WHY_ROLE_MENTION;
  mention->words = mention->text;
  mention->link = why_arena_print(answer->arena, "#%s", mention->text);
}

void why_part_reasons(const why_picked* answer, why_node* record, const why_reasons* reasons) {
  why_arena* arena = answer->arena;
  why_node* list = why_node_add(arena, record, WHY_NODE_LIST, "reasons");
  list->role = WHY_ROLE_GROUP;
  list->words = "Why";
  for (size_t i = 0; i < reasons->count; i++) {
    const why_reason* reason = &reasons->at[i];
    why_node* each = why_node_add(arena, list, WHY_NODE_RECORD, NULL);
    each->role = WHY_ROLE_POINT;
    each->words = reason->say;
    why_node_text(arena, each, "say", reason->say);
    why_node_text(arena, each, "rule", reason->rule);
    why_node_text(arena, each, "grounds", reason->grounds);
    why_node_text(arena, each, "certainty", reason->certainty);
    why_node* sources = why_node_add(arena, each, WHY_NODE_LIST, "sources");
    for (size_t j = 0; j < reason->studies.count; j++)
      add_mention(answer, sources, reason->studies.at[j]);
  }
}

/// The estimate of a whole goal, for people too.
static void add_expectation(why_arena* arena, why_node* record, const why_estimate* estimate) {
  static const char* const FROM[] = {
      [WHY_BASIS_MECHANICS] = "no trial measured this; by mechanics alone",
      [WHY_BASIS_SAME_HEAD] = "by mechanics and trials of other exercises",
      [WHY_BASIS_OWN_TRIALS] = "by its own trials, mechanics and other trials"};
  why_node* node = why_part_estimate(arena, record, "estimate", estimate, WHY_ESTIMATE_SHOWN);
  if (!estimate)
    return;
  double percent = why_estimate_shown(estimate, estimate->percent);
  double low = why_estimate_shown(estimate, estimate->low);
  double high = why_estimate_shown(estimate, estimate->high);
  node->role = WHY_ROLE_POINT;
  node->mark = FROM[estimate->basis];
  node->words =
      estimate->basis == WHY_BASIS_MECHANICS
          ? why_arena_print(arena, "Expected growth: %.0f to %.0f %%", low, high)
          : why_arena_print(arena, "Expected growth: %.1f %% (%.1f to %.1f)", percent, low, high);
}

static void add_parts(const why_picked* answer, why_node* record, const why_pick_row* pick) {
  why_node* heads = why_node_add(answer->arena, record, WHY_NODE_LIST, "heads");
  for (size_t i = 0; i < pick->heads.count; i++) {
    why_node* each = why_node_add(answer->arena, heads, WHY_NODE_RECORD, NULL);
    why_node_text(answer->arena, each, "head", id_of(answer, pick->heads.at[i].head));
    why_part_estimate(answer->arena, each, "estimate", pick->heads.at[i].estimate,
                      WHY_ESTIMATE_SHOWN);
    why_node_text(answer->arena, each, "certainty", pick->heads.at[i].certainty);
  }
}

static void add_lost(const why_picked* answer, why_node* record, const why_pick_row* pick) {
  why_node* lost = why_node_add(answer->arena, record, WHY_NODE_LIST, "lost");
  lost->role = WHY_ROLE_GROUP;
  lost->words = "What is lost";
  for (size_t i = 0; i < pick->lost.count; i++) {
    why_node* each = why_node_text(answer->arena, lost, NULL, pick->lost.at[i].say);
    each->role = WHY_ROLE_POINT;
    each->words = pick->lost.at[i].say;
  }
}

static void add_cautions(const why_picked* answer, why_node* record, const why_pick_row* pick) {
  why_node* cautions = why_node_add(answer->arena, record, WHY_NODE_LIST, "cautions");
  for (size_t i = 0; i < pick->cautions.count; i++) {
    why_node* each = why_node_text(answer->arena, cautions, NULL, pick->cautions.at[i]);
    each->role = WHY_ROLE_CAUTION;
    each->words = why_arena_print(answer->arena, "Caution: %s", pick->cautions.at[i]);
  }
}

/// The first two picks are shown, and the first beside what it replaces.
static void add_pictures(const why_picked* answer, const why_node* list, why_node* record,
                         const why_pick_row* pick) {
  if (record != list->first && record != list->first->next)
    return;
  const why_question* question = answer->question;
  why_part_figures(question->ground, answer->arena, record, pick->exercise, NULL);
  if (question->replaced && record == list->first)
    why_part_two(question->ground, answer->arena, record, question->replaced, pick->exercise);
}

void why_part_pick(const why_picked* answer, why_node* list, const why_pick_row* pick,
                   const why_pick_row* before) {
  why_arena* arena = answer->arena;
  why_node* record = why_node_add(arena, list, WHY_NODE_RECORD, NULL);
  record->role = WHY_ROLE_ENTRY;
  const char* beside = before && before->step == pick->step ? ", about equal to the one above" : "";
  record->words = pick->name_here;
  record->anchor = id_of(answer, pick->exercise);
  record->mark = why_arena_print(arena, "%s; certainty %s%s", pick->recommendation,
                                 pick->certainty ? pick->certainty : "not graded", beside);
  why_node_text(arena, record, "exercise", id_of(answer, pick->exercise));
  why_node_text(arena, record, "name", pick->name);
  why_node_text(arena, record, "recommendation", pick->recommendation);
  why_node_text(arena, record, "certainty", pick->certainty);
  why_node_number(arena, record, "step", pick->step);
  add_expectation(arena, record, pick->estimate);
  add_parts(answer, record, pick);
  add_pictures(answer, list, record, pick);
  why_part_reasons(answer, record, &pick->reasons);
  add_lost(answer, record, pick);
  add_cautions(answer, record, pick);
}

/// Each study once, in order of first mention.
static void gather(const why_picked* answer, const why_reasons* reasons, why_symbol_list* all) {
  for (size_t i = 0; i < reasons->count; i++) {
    for (size_t j = 0; j < reasons->at[i].studies.count; j++) {
      why_symbol study = reasons->at[i].studies.at[j];
      bool known = false;
      for (size_t k = 0; k < all->count; k++)
        known = known || all->at[k] == study;
      if (!known)
        *WHY_LIST_ADD(answer->arena, *all) = study;
    }
  }
}

/// A publication, whether its trial stands in the tables or figures come from it.
typedef struct {
  const char* title;
  const char* journal;
  const char* doi;
  double year; ///< 0 where not known.
} publication;

static bool find_publication(const why_tables* tables, why_symbol id, publication* found) {
  const why_study* study = why_study_find(&tables->studies, id);
  const why_source* source = study ? NULL : why_source_find(&tables->measurements, id);
  if (study)
    *found = (publication){study->title, study->journal, study->doi, study->year};
  else if (source)
    *found = (publication){source->title, source->journal, source->doi, strtod(source->year, NULL)};
  return study || source;
}

void why_part_source(const why_ground* ground, why_arena* arena, why_node* list, why_symbol id) {
  publication found;
  if (!find_publication(ground->tables, id, &found))
    return;
  why_node* record = why_node_add(arena, list, WHY_NODE_RECORD, NULL);
  record->role = WHY_ROLE_POINT;
  record->anchor = why_symbols_text(ground->symbols, id);
  record->words = why_arena_print(arena, "%s: %s. %s", record->anchor, found.title, found.journal);
  if (*found.doi) {
    record->mark = why_arena_print(arena, "doi %s", found.doi);
    record->link = why_arena_print(arena, "https://doi.org/%s", found.doi);
  }
  why_node_text(arena, record, "id", record->anchor);
  why_node_text(arena, record, "title", found.title);
  why_node_text(arena, record, "journal", found.journal);
  if (found.year > 0)
    why_node_number(arena, record, "year", found.year);
  why_node_text(arena, record, "doi", *found.doi ? found.doi : NULL);
}

static void add_sources(const why_picked* answer, why_node* root, const why_symbol_list* all) {
  if (all->count)
    why_node_words(answer->arena, root, WHY_ROLE_HEADING, "Trials spoken of");
  why_node* list = why_node_add(answer->arena, root, WHY_NODE_LIST, "sources");
  for (size_t i = 0; i < all->count; i++)
    why_part_source(answer->question->ground, answer->arena, list, all->at[i]);
}

void why_part_sources_of(const why_picked* answer, why_node* root, const why_reasons* const* lists,
                         size_t count) {
  why_symbol_list all = {0};
  for (size_t i = 0; i < count; i++)
    gather(answer, lists[i], &all);
  add_sources(answer, root, &all);
}

void why_part_sources(const why_picked* answer, why_node* root) {
  why_symbol_list all = {0};
  for (size_t i = 0; i < answer->picks.count; i++)
    gather(answer, &answer->picks.at[i].reasons, &all);
  for (size_t i = 0; i < answer->against.count; i++)
    gather(answer, &answer->against.at[i].reasons, &all);
  if (answer->chain)
    all = answer->chain_studies;
  add_sources(answer, root, &all);
}

/// What the knowledge base does without, if anything.
static void add_left_out(const why_ground* ground, why_arena* arena, why_node* record) {
  const why_symbol_list* without = &ground->tables->without;
  if (!without->count)
    return;
  why_node* list = why_node_add(arena, record, WHY_NODE_LIST, "without");
  why_buffer text = {.arena = arena};
  why_buffer_add(&text, "Left out of the knowledge base: ");
  for (size_t i = 0; i < without->count; i++) {
    const char* id = why_symbols_text(ground->symbols, without->at[i]);
    why_node_text(arena, list, NULL, id);
    why_buffer_print(&text, "%s%s", i ? ", " : "", id);
  }
  why_node_words(arena, list, WHY_ROLE_PARAGRAPH, why_buffer_text(&text));
}

void why_part_closing(const why_ground* ground, why_arena* arena, why_node* root) {
  const char* closing = ground->tables->restrictions.closing;
  why_node_words(arena, root, WHY_ROLE_PARAGRAPH, closing);
  why_node* record = why_node_add(arena, root, WHY_NODE_RECORD, "knowledge");
  why_node_text(arena, record, "digest", ground->tables->digest);
  why_node_text(arena, record, "version", why_version());
  add_left_out(ground, arena, record);
  why_node_text(arena, root, "caution", closing);
  why_node_words(
      arena, root, WHY_ROLE_PARAGRAPH,
      why_arena_print(arena, "whylift %s, knowledge %s", why_version(), ground->tables->digest));
}
