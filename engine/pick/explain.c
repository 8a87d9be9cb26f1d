// SPDX-License-Identifier: GPL-3.0-or-later
// The whole chain for one exercise and one goal: every reason as a tree down to given facts, each
// with its place in the XML.
#include "absence.h"
#include "sentence.h"
#include "shown.h"

#include <string.h>

enum { COUNTED_SHOWN = 3, DEPTH_LIMIT = 40, OTHERS_SHOWN = 5 };

why_step* why_step_add(why_arena* arena, why_step* parent, const char* say, const char* mark) {
  why_step* made = WHY_NEW(arena, why_step);
  made->say = say;
  made->mark = mark;
  if (parent->last)
    parent->last->next = made;
  else
    parent->first = made;
  parent->last = made;
  return made;
}

static const char* place_text(why_arena* arena, why_place place) {
  return place.file ? why_arena_print(arena, "%s:%u", place.file, place.line) : "";
}

const char* why_step_mark(const why_picked* answer, const why_derivation* step) {
  const why_symbols* symbols = answer->question->ground->symbols;
  if (!step->rule)
    return place_text(answer->arena, step->place);
  return why_arena_print(answer->arena, "rule %s, %s", why_symbols_text(symbols, step->rule->id),
                         why_symbols_text(symbols, step->rule->grounds));
}

static const char* words_of(const why_picked* answer, const why_derivation* step) {
  const char* say = why_sentence_of(answer, step);
  return *say ? say : why_fact_text(answer->overlay, step->fact, answer->arena);
}

static void add_fact(const why_picked* answer, why_step* parent, why_fact fact, int depth);

/// Whether a step of the same words and origin stands in the chain already.
static bool was_shown(const why_step* chain, const char* say, const char* mark) {
  for (const why_step* each = chain->first; each; each = each->next)
    if ((strcmp(each->say, say) == 0 && strcmp(each->mark, mark) == 0) ||
        was_shown(each, say, mark))
      return true;
  return false;
}

/// Counted facts of one condition can be many and alike: the first few are shown.
static bool show_counted(why_step* step, const why_premise* premise, unsigned* condition,
                         size_t* shown) {
  if (premise->kind != WHY_COUNTED)
    return true;
  if (premise->condition != *condition) {
    *condition = premise->condition;
    *shown = 0;
  }
  if ((*shown)++ < COUNTED_SHOWN)
    return true;
  step->more++;
  return false;
}

/// Whether two derivations of one fact are the same.
static bool is_same_way(const why_derivation* a, const why_derivation* b) {
  if (a->inner != b->inner || a->premise_count != b->premise_count)
    return false;
  for (size_t i = 0; i < a->premise_count; i++) {
    const why_premise* x = &a->premises[i];
    const why_premise* y = &b->premises[i];
    if (x->kind != y->kind || (x->kind != WHY_ABSENT && (x->fact.relation != y->fact.relation ||
                                                         x->fact.row != y->fact.row)))
      return false;
  }
  return true;
}

/// "barred (Nordic curl)": a relation and what is known of a fact of it.
static const char* plain_words(const why_picked* answer, const why_premise* premise) {
  const why_ground* ground = answer->question->ground;
  const why_relation_info* info = why_program_relation(ground->program, premise->relation);
  const why_symbols* symbols = why_overlay_symbols(answer->overlay);
  why_buffer text = {.arena = answer->arena};
  why_buffer_add(&text, why_symbols_text(symbols, info->name));
  const char* lead = " (";
  for (unsigned i = 0; i < info->slot_count; i++) {
    if (!(premise->mask >> i & 1) || info->slots[i].type != WHY_SLOT_SYMBOL)
      continue;
    why_buffer_print(
        &text, "%s%s", lead,
        why_ground_name(ground, answer->arena, why_symbols_text(symbols, info->slots[i].kind),
                        why_symbols_text(symbols, why_value_symbol(premise->values[i]))));
    lead = ", ";
  }
  why_buffer_add(&text, *lead == ',' ? ")" : "");
  return why_buffer_text(&text);
}

/// What was looked for and not found, in the rule's words where it has some.
static void add_absence(const why_picked* answer, why_step* step, const why_derivation* of,
                        const why_premise* premise) {
  why_naming naming = why_sentence_naming(answer);
  const char* say = why_say_absent(answer->overlay, of, premise, &naming, answer->arena);
  if (!*say)
    say = why_arena_print(answer->arena, "Looked for and not found: %s.",
                          plain_words(answer, premise));
  why_step_add(answer->arena, step, say, "");
}

/// What another derivation rests on, without what that rests on in turn.
static void add_other(const why_picked* answer, why_step* parent, const why_derivation* other) {
  why_step* step = why_step_add(answer->arena, parent,
                                why_arena_print(answer->arena, "Also: %s", words_of(answer, other)),
                                why_step_mark(answer, other));
  unsigned condition = UINT32_MAX;
  size_t shown = 0;
  for (size_t i = 0; i < other->premise_count; i++) {
    const why_premise* premise = &other->premises[i];
    if (premise->kind == WHY_ABSENT) {
      add_absence(answer, step, other, premise);
    } else if (show_counted(step, premise, &condition, &shown)) {
      const why_proof* proof = why_proof_best(answer->overlay, premise->fact);
      if (proof)
        why_step_add(answer->arena, step, words_of(answer, &proof->step),
                     why_step_mark(answer, &proof->step));
    }
  }
}

/// Other ways in which the fact follows, when all are asked for. Each fact is entered once in a
/// chain, so that the whole stays in proportion to it.
static void add_others(const why_picked* answer, why_step* step, const why_derivation* best) {
  const why_derivation* all = NULL;
  size_t count = why_derivations(answer->overlay, best->fact, &all);
  size_t shown = 0;
  for (size_t i = 0; i < count; i++) {
    if (is_same_way(&all[i], best))
      continue;
    if (shown++ < OTHERS_SHOWN)
      add_other(answer, step, &all[i]);
    else
      step->more++;
  }
}

static void add_premises(const why_picked* answer, why_step* step, const why_proof* proof,
                         int depth) {
  unsigned condition = UINT32_MAX;
  size_t shown = 0;
  for (size_t i = 0; i < proof->step.premise_count; i++) {
    const why_premise* premise = &proof->step.premises[i];
    if (premise->kind == WHY_ABSENT)
      add_absence(answer, step, &proof->step, premise);
    else if (show_counted(step, premise, &condition, &shown))
      add_fact(answer, step, premise->fact, depth + 1);
  }
}

/// A fact with what its best derivation rests on.
static void add_fact(const why_picked* answer, why_step* parent, why_fact fact, int depth) {
  const why_proof* proof = depth > DEPTH_LIMIT ? NULL : why_proof_best(answer->overlay, fact);
  if (!proof)
    return;
  const char* say = words_of(answer, &proof->step);
  const char* mark = why_step_mark(answer, &proof->step);
  if (was_shown(answer->chain, say, mark)) {
    if (proof->step.rule)
      mark = "as above";
    why_step_add(answer->arena, parent, say, mark);
    return;
  }
  why_step* step = why_step_add(answer->arena, parent, say, mark);
  add_premises(answer, step, proof, depth);
  if (answer->question->top == WHY_TOP_LIMIT)
    add_others(answer, step, &proof->step);
}

/// Every fact about the exercise that the rules say is shown in `part`, each with its tree.
static void add_part(const why_picked* answer, const char* part) {
  const why_relation_list* relations = why_shown_relations(answer, part);
  for (size_t i = 0; i < relations->count; i++) {
    why_facts facts = why_shown_about(answer, relations->at[i], answer->question->exercise);
    for (size_t k = 0; k < facts.count; k++)
      add_fact(answer, answer->chain, facts.at[k], 0);
  }
}

static void gather_sources(why_picked* answer) {
  static const char* const PARTS[] = {"reasons", "against"};
  for (size_t i = 0; i < sizeof PARTS / sizeof *PARTS; i++) {
    why_reasons reasons = {0};
    why_sentence_collect(answer, PARTS[i], answer->question->exercise, &reasons);
    for (size_t k = 0; k < reasons.count; k++)
      for (size_t n = 0; n < reasons.at[k].studies.count; n++)
        why_behind_add(answer->arena, &answer->chain_studies, reasons.at[k].studies.at[n]);
  }
}

why_status why_explain_run(const why_question* question, why_picked** answer) {
  why_status status = why_pick_run(question, answer);
  if (status != WHY_OK && status != WHY_NO_PICK)
    return status;
  why_picked* made = *answer;
  made->chain = WHY_NEW(made->arena, why_step);
  add_part(made, "why");
  made->verdict = why_sentence_verdict(made, question->exercise);
  gather_sources(made);
  made->absence = why_absence_find(made);
  status = why_overlay_status(made->overlay);
  if (status != WHY_OK)
    return status;
  return made->chain->first ? WHY_OK : WHY_NO_PICK;
}
