// SPDX-License-Identifier: GPL-3.0-or-later
// The question read back: what was understood, and of a sentence also what was not.
#include "parts.h"

#include <math.h>

static const char* id_of(const why_picked* answer, why_symbol symbol) {
  return symbol ? why_symbols_text(answer->question->ground->symbols, symbol) : NULL;
}

static const char* name_of(const why_picked* answer, const char* kind, why_symbol symbol) {
  return why_ground_name(answer->question->ground, answer->arena, kind,
                         why_symbols_text(answer->question->ground->symbols, symbol));
}

/// "dumbbells, flat bench" for people.
static void print_things(const why_picked* answer, const char* lead, const why_things* things,
                         why_buffer* text) {
  for (size_t i = 0; i < things->count; i++) {
    why_buffer_print(text, "%s%s", i ? ", " : lead,
                     name_of(answer, why_meaning_name(things->at[i].kind), things->at[i].id));
    if (isfinite(things->at[i].limit_kg))
      why_buffer_print(text, " up to %g kg", things->at[i].limit_kg);
  }
}

static void add_things(const why_picked* answer, why_node* record, const char* name,
                       const why_things* things) {
  why_node* list = why_node_add(answer->arena, record, WHY_NODE_LIST, name);
  for (size_t i = 0; i < things->count; i++)
    why_node_text(answer->arena, list, NULL, id_of(answer, things->at[i].id));
}

static void add_limits(const why_picked* answer, why_node* record) {
  const why_things* have = &answer->question->have;
  why_node* list = why_node_add(answer->arena, record, WHY_NODE_LIST, "limits");
  for (size_t i = 0; i < have->count; i++) {
    if (!isfinite(have->at[i].limit_kg))
      continue;
    why_node* each = why_node_add(answer->arena, list, WHY_NODE_RECORD, NULL);
    why_node_text(answer->arena, each, "item", id_of(answer, have->at[i].id));
    why_node_number(answer->arena, each, "kg", have->at[i].limit_kg);
  }
}

static const char* goal_name(const why_picked* answer) {
  const why_question* question = answer->question;
  why_buffer text = {.arena = answer->arena};
  why_buffer_add(&text, name_of(answer, why_meaning_name(question->goal.kind), question->goal.id));
  for (size_t i = 0; i < question->also.count; i++)
    why_buffer_print(
        &text, "%s%s", i + 1 < question->also.count ? ", " : " and ",
        name_of(answer, why_meaning_name(question->also.at[i].kind), question->also.at[i].id));
  return why_buffer_text(&text);
}

static void print_goal(const why_picked* answer, why_buffer* text) {
  const why_question* question = answer->question;
  if (question->replaced)
    why_buffer_print(text, "Instead of %s", name_of(answer, "exercise", question->replaced));
  else if (question->other)
    why_buffer_print(text, "%s or %s, for %s", name_of(answer, "exercise", question->exercise),
                     name_of(answer, "exercise", question->other), goal_name(answer));
  else if (question->exercise)
    why_buffer_print(text, "Why or why not %s, for %s",
                     name_of(answer, "exercise", question->exercise), goal_name(answer));
  else if (question->goal.id)
    why_buffer_print(text, "For %s", goal_name(answer));
  else
    why_buffer_add(text, "Before any exercise");
}

static const char* goal_words(const why_picked* answer) {
  why_buffer text = {.arena = answer->arena};
  print_goal(answer, &text);
  return why_buffer_text(&text);
}

/// With what it was asked: "at hand: dumbbells; to avoid: running".
const char* why_part_terms_words(const why_picked* answer) {
  const why_question* question = answer->question;
  why_buffer text = {.arena = answer->arena};
  if (question->pattern)
    why_buffer_print(&text,
                     answer->pattern_missed ? "none is of the pattern: %s; "
                                            : "only of the pattern: %s; ",
                     name_of(answer, "pattern", question->pattern));
  if (question->have.count)
    print_things(answer, "at hand: ", &question->have, &text);
  else
    why_buffer_add(&text, "at hand: full gym, as nothing else was said");
  print_things(answer, "; without: ", &question->without, &text);
  print_things(answer, "; to avoid: ", &question->avoid, &text);
  print_things(answer, "; left out: ", &question->declined, &text);
  return why_buffer_text(&text);
}

/// A list of texts, each also shown to people behind `lead`.
static void add_texts(why_arena* arena, why_node* record, const char* name, const char* lead,
                      const why_texts* texts) {
  why_node* list = why_node_add(arena, record, WHY_NODE_LIST, name);
  for (size_t i = 0; i < texts->count; i++) {
    why_node* each = why_node_text(arena, list, NULL, texts->at[i]);
    each->role = WHY_ROLE_POINT;
    each->words = why_arena_print(arena, *lead ? "%s: \"%s\"" : "%s%s", lead, texts->at[i]);
  }
}

void why_part_asked(const why_question* question, why_arena* arena, why_node* record) {
  static const char* const TASKS[] = {
      [WHY_ASKED_PICK] = "pick",       [WHY_ASKED_SWAP] = "swap",       [WHY_ASKED_EXPLAIN] = "why",
      [WHY_ASKED_COMPARE] = "compare", [WHY_ASKED_MOMENTS] = "moments", [WHY_ASKED_PLAN] = "plan",
      [WHY_ASKED_AUDIT] = "audit"};
  const why_asked* asked = question->asked;
  if (!asked)
    return;
  why_node_text(arena, record, "task", TASKS[asked->task]);
  why_node* heard = why_node_add(arena, record, WHY_NODE_LIST, "heard");
  for (size_t i = 0; i < asked->heard.count; i++) {
    why_node* each = why_node_add(arena, heard, WHY_NODE_RECORD, NULL);
    why_node_text(arena, each, "words", asked->heard.at[i].words);
    why_node_text(arena, each, "as", asked->heard.at[i].as);
  }
  add_texts(arena, record, "mended", "", &asked->mended);
  add_texts(arena, record, "notes", "", &asked->notes);
  add_texts(arena, record, "unused", "Not used", &asked->unused);
}

static void add_goals(const why_picked* answer, why_node* record) {
  const why_question* question = answer->question;
  why_node* goals = why_node_add(answer->arena, record, WHY_NODE_LIST, "goals");
  if (question->goal.id && !question->replaced)
    why_node_text(answer->arena, goals, NULL, id_of(answer, question->goal.id));
  for (size_t i = 0; i < question->also.count; i++)
    why_node_text(answer->arena, goals, NULL, id_of(answer, question->also.at[i].id));
  why_node* heads = why_node_add(answer->arena, record, WHY_NODE_LIST, "heads");
  for (size_t i = 0; i < answer->heads.count; i++)
    why_node_text(answer->arena, heads, NULL, id_of(answer, answer->heads.at[i]));
}

void why_part_terms(const why_picked* answer, why_node* record) {
  const why_question* question = answer->question;
  add_things(answer, record, "have", &question->have);
  if (!question->have.count)
    why_node_text(answer->arena, record->last, NULL, WHY_PLACE_USUAL);
  add_limits(answer, record);
  add_things(answer, record, "without", &question->without);
  add_things(answer, record, "avoid", &question->avoid);
}

void why_part_understood(const why_picked* answer, why_node* root) {
  const why_question* question = answer->question;
  why_arena* arena = answer->arena;
  why_node* title = why_node_words(arena, root, WHY_ROLE_TITLE, goal_words(answer));
  if (question->goal.id || question->replaced)
    title->mark = why_arena_print(arena, "%s%s%s", why_part_terms_words(answer),
                                  question->asked && question->level ? "; level: " : "",
                                  question->asked && question->level ? question->level : "");
  why_node* record = why_node_add(arena, root, WHY_NODE_RECORD, "understood");
  const char* kind = question->replaced  ? "exercise"
                     : question->goal.id ? why_meaning_name(question->goal.kind)
                                         : NULL;
  why_node_text(arena, record, "kind", kind);
  why_node_text(arena, record, "goal",
                id_of(answer, question->replaced ? question->replaced : question->goal.id));
  add_goals(answer, record);
  why_part_terms(answer, record);
  add_things(answer, record, "declined", &question->declined);
  why_node_text(arena, record, "pattern", id_of(answer, question->pattern));
  why_node_text(arena, record, "level", question->level);
  why_node_text(arena, record, "replaced", id_of(answer, question->replaced));
  why_part_asked(question, arena, record);
}
