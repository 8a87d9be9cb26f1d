// SPDX-License-Identifier: GPL-3.0-or-later
// The whole chain for one exercise and one goal: every reason as a tree down to given facts, each
// with its place in the XML.
#include "sentence.h"
#include "shown.h"

#include <string.h>

enum { COUNTED_SHOWN = 3, DEPTH_LIMIT = 40 };

static why_step* add_step(why_arena* arena, why_step* parent, const char* say, const char* mark) {
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

/// Where a step comes from: a rule with its grounds, or a line of the knowledge base.
static const char* mark_of(const why_picked* answer, const why_derivation* step) {
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

static void add_absence(const why_picked* answer, why_step* step, const why_derivation* of,
                        const why_premise* premise) {
  why_naming naming = why_sentence_naming(answer);
  const char* say = why_say_absent(answer->overlay, of, premise, &naming, answer->arena);
  if (*say)
    add_step(answer->arena, step, say, "");
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
  const char* mark = mark_of(answer, &proof->step);
  if (was_shown(answer->chain, say, mark)) {
    if (proof->step.rule)
      mark = "as above";
    add_step(answer->arena, parent, say, mark);
    return;
  }
  why_step* step = add_step(answer->arena, parent, say, mark);
  add_premises(answer, step, proof, depth);
}

/// Every fact about the exercise that the rules say is shown in `part`, each with its tree.
static void add_part(const why_picked* answer, const char* part) {
  why_relation_list relations = why_shown_relations(answer, part);
  for (size_t i = 0; i < relations.count; i++) {
    why_facts facts = why_shown_about(answer, relations.at[i], answer->question->exercise);
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
        why_sentence_add_study(answer, &answer->chain_studies, reasons.at[k].studies.at[n]);
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
  status = why_overlay_status(made->overlay);
  if (status != WHY_OK)
    return status;
  return made->chain->first ? WHY_OK : WHY_NO_PICK;
}
