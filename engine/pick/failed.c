// SPDX-License-Identifier: GPL-3.0-or-later
// The rules that would have made an exercise a pick, as a tree: each rule with the condition that
// fails, and below a missing fact the rules that would have given that.
#include "absence.h"

#include "rows.h"
#include "sentence.h"

#include <string.h>

enum { DEPTH_LIMIT = 12, STEPS_LIMIT = 120, AGAINST_SHOWN = 3, OTHERS_DEPTH = 2 };

/// A fact that was looked for in vain.
typedef struct {
  why_relation relation;
  uint32_t mask;
  const why_value* values;
} wanted;

typedef struct {
  const why_picked* answer;
  why_step* root;
  size_t steps;
  why_symbol_list path;
  WHY_LIST(wanted) wanted; ///< Each is explained once.
} tree;

static why_step* add(tree* into, why_step* parent, const char* say, const char* mark) {
  into->steps++;
  return why_step_add(into->answer->arena, parent, say, mark);
}

static const char* rule_mark(const tree* into, const why_rule_info* rule) {
  const why_symbols* symbols = into->answer->question->ground->symbols;
  return why_arena_print(into->answer->arena, "rule %s, %s", why_symbols_text(symbols, rule->id),
                         why_symbols_text(symbols, rule->grounds));
}

static const char* at_line(const tree* into, why_place place) {
  return place.file ? why_arena_print(into->answer->arena, "%s:%u", place.file, place.line) : "";
}

static bool was_said(const why_step* step, const char* say) {
  for (const why_step* each = step->first; each; each = each->next)
    if (strcmp(each->say, say) == 0)
      return true;
  return false;
}

/// What stands against the rule: facts, each with its own sentence.
static void add_against(tree* into, why_step* step, const why_miss* miss) {
  const why_picked* answer = into->answer;
  for (size_t i = 0; i < miss->facts.count; i++) {
    if (i == AGAINST_SHOWN) {
      step->more += miss->facts.count - i;
      return;
    }
    const why_proof* proof = why_proof_best(answer->overlay, miss->facts.at[i]);
    if (!proof)
      continue;
    const char* say = why_sentence_of(answer, &proof->step);
    if (!*say)
      say = why_fact_text(answer->overlay, proof->step.fact, answer->arena);
    say = why_arena_print(answer->arena, "Against it: %s", say);
    if (!was_said(step, say))
      add(into, step, say, why_step_mark(answer, &proof->step));
  }
}

static void add_missing(tree* into, why_step* parent, why_relation relation, uint32_t mask,
                        const why_value* values, int depth);

static bool has_rules(const tree* into, const why_miss* miss);

/// A fact that is missing: what would give it, or that it is not so.
static void add_absent(tree* into, why_step* step, const why_miss* miss, int depth) {
  const why_picked* answer = into->answer;
  if (has_rules(into, miss)) {
    add_missing(into, step, miss->relation, miss->mask, miss->values, depth + 1);
    return;
  }
  why_naming naming = why_sentence_naming(answer);
  const char* say = why_say_partly(answer->overlay, miss->relation, miss->mask, miss->values,
                                   &naming, answer->arena);
  if (!*say)
    say = why_symbols_text(
        answer->question->ground->symbols,
        why_program_relation(answer->question->ground->program, miss->relation)->name);
  add(into, step, why_arena_print(answer->arena, "Not so: %s", say),
      at_line(into, miss->row->place));
}

static void add_miss(tree* into, why_step* step, const why_miss* miss, int depth) {
  const why_picked* answer = into->answer;
  why_naming naming = why_sentence_naming(answer);
  switch (miss->kind) {
  case WHY_MISS_ABSENT:
    add_absent(into, step, miss, depth);
    break;
  case WHY_MISS_PRESENT:
    add_against(into, step, miss);
    break;
  case WHY_MISS_COMPARE:
    add(into, step,
        why_arena_print(answer->arena, "Not met: %s.",
                        why_say_miss(answer->overlay, miss, &naming, answer->arena)),
        at_line(into, miss->row->place));
    break;
  case WHY_MISS_EMPTY:
    add(into, step, "Not met: there is nothing to reckon with here.",
        at_line(into, miss->row->place));
    break;
  case WHY_MISS_OTHER:
    add(into, step, "Not met: a condition of the rule.", at_line(into, miss->row->place));
    break;
  }
}

static bool is_same(const tree* into, const wanted* a, const wanted* b) {
  const why_program* program = into->answer->question->ground->program;
  if (a->relation != b->relation || a->mask != b->mask)
    return false;
  for (unsigned i = 0; i < why_program_relation(program, a->relation)->slot_count; i++)
    if ((a->mask >> i & 1) && a->values[i].bits != b->values[i].bits)
      return false;
  return true;
}

static bool was_noted(const tree* into, const wanted* fact) {
  for (size_t i = 0; i < into->wanted.count; i++)
    if (is_same(into, &into->wanted.at[i], fact))
      return true;
  return false;
}

/// Misses of one rule.
typedef struct {
  const why_miss* at;
  size_t count;
} misses;

static bool has_rules(const tree* into, const why_miss* miss) {
  return miss->kind == WHY_MISS_ABSENT &&
         why_program_rule_count(into->answer->question->ground->program, miss->relation) > 0;
}

/// A rule that only lacks a fact which other rules would give is passed through.
static bool is_passed(const tree* into, const misses* of) {
  for (size_t i = 0; i < of->count; i++)
    if (!has_rules(into, &of->at[i]) || of->at[i].relation != of->at[0].relation)
      return false;
  return of->count > 0;
}

/// Whether the fact is said by a question and is none that a person could change: what to replace
/// is said by another kind of question.
static bool is_of_question(const tree* into, const why_miss* miss) {
  const why_program* program = into->answer->question->ground->program;
  if (miss->kind != WHY_MISS_ABSENT || !why_program_relation(program, miss->relation)->assumable)
    return false;
  why_symbol name = why_program_relation(program, miss->relation)->name;
  return why_rows_about(program, into->answer->overlay, "change", "assumption", name).facts.count ==
         0;
}

/// The misses of the rule at `*at`, which moves on to the next rule.
static misses next_rule(const why_miss* all, size_t count, size_t* at) {
  misses of = {.at = &all[*at]};
  while (*at < count && all[*at].rule == of.at[0].rule) {
    of.count++;
    ++*at;
  }
  return of;
}

/// A rule for another kind of question: a condition of it is said by that, or follows from such
/// rules alone.
static bool is_for_others(const tree* into, const misses* of, int depth) {
  for (size_t i = 0; i < of->count; i++) {
    const why_miss* miss = &of->at[i];
    if (is_of_question(into, miss))
      return true;
    if (!has_rules(into, miss) || depth == OTHERS_DEPTH)
      continue;
    const why_miss* all = NULL;
    size_t count =
        why_misses(into->answer->overlay, miss->relation, miss->mask, miss->values, &all);
    bool others = count > 0;
    for (size_t k = 0; k < count && others;) {
      misses each = next_rule(all, count, &k);
      others = is_for_others(into, &each, depth + 1);
    }
    if (others)
      return true;
  }
  return false;
}

static void add_rule(tree* into, why_step* parent, const misses* of, int depth) {
  if (is_passed(into, of)) {
    // Alike for every head or item: the first stands for all.
    if (!was_noted(into, &(wanted){of->at[0].relation, of->at[0].mask, of->at[0].values}))
      *WHY_LIST_ADD(into->answer->arena, into->path) = of->at[0].rule->id;
    add_missing(into, parent, of->at[0].relation, of->at[0].mask, of->at[0].values, depth + 1);
    return;
  }
  why_step* step = add(into, parent, of->at[0].rule->title, rule_mark(into, of->at[0].rule));
  for (size_t i = 0; i < of->count; i++)
    add_miss(into, step, &of->at[i], depth);
  step->more += of->at[0].more;
}

/// The rules that could give a fact, each with what fails in it.
static void add_missing(tree* into, why_step* parent, why_relation relation, uint32_t mask,
                        const why_value* values, int depth) {
  const wanted fact = {relation, mask, values};
  if (depth > DEPTH_LIMIT || into->steps > STEPS_LIMIT || was_noted(into, &fact))
    return;
  *WHY_LIST_ADD(into->answer->arena, into->wanted) = fact;
  const why_miss* all = NULL;
  size_t count = why_misses(into->answer->overlay, relation, mask, values, &all);
  // Rules for other kinds of question stand only where there is nothing else to say.
  for (int others = 0; others < 2; others++) {
    size_t before = into->steps + into->path.count;
    for (size_t i = 0; i < count;) {
      misses of = next_rule(all, count, &i);
      if (is_for_others(into, &of, 0) == (others > 0))
        add_rule(into, parent, &of, depth);
    }
    if (into->steps + into->path.count > before)
      return;
  }
}

why_failure why_absence_failed(const why_picked* answer, why_overlay* overlay,
                               why_symbol exercise) {
  const why_program* program = answer->question->ground->program;
  why_picked* seen = WHY_NEW(answer->arena, why_picked);
  *seen = *answer;
  seen->overlay = overlay;
  tree into = {.answer = seen, .root = WHY_NEW(answer->arena, why_step)};
  why_relation relation = why_program_find(program, "pick");
  int slot = relation == WHY_NO_RELATION ? -1 : why_program_slot(program, relation, "exercise");
  if (slot >= 0) {
    why_value* values = WHY_NEW_ARRAY(answer->arena, why_value, WHY_SLOTS_LIMIT);
    values[slot] = why_value_of_symbol(exercise);
    add_missing(&into, into.root, relation, 1u << slot, values, 0);
  }
  return (why_failure){.steps = into.root, .path = into.path};
}
