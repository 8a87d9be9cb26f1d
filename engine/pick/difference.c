// SPDX-License-Identifier: GPL-3.0-or-later
// Two answers beside each other. The reason for a shift is where the change enters the proof of the
// pick: what holds in one answer only although all that it rests on holds in both, or rests on
// nothing. Where a rule looked for something in vain that is there in the other answer, the walk
// goes on with that in the other.
#include "difference.h"

#include "absence.h"
#include "rows.h"
#include "sentence.h"

#include <math.h>
#include <string.h>

enum { CAUSES_SHOWN = 3, OBSTACLES_SHOWN = 2, DEPTH_LIMIT = 200 };

#define NOT_SO "Not so: " ///< As in failed.c.

/// One pick in its answer.
typedef struct {
  const why_picked* in;
  const why_pick_row* row;
  size_t number;
} stand;

static const char* id_of(const why_picked* answer, size_t i) {
  return why_symbols_text(answer->question->ground->symbols, answer->picks.at[i].exercise);
}

static stand find_pick(const why_picked* answer, const char* id) {
  for (size_t i = 0; i < answer->picks.count; i++)
    if (strcmp(id_of(answer, i), id) == 0)
      return (stand){answer, &answer->picks.at[i], i + 1};
  return (stand){.in = answer};
}

// ---- where a change enters a proof ----

typedef WHY_LIST(bool) flags;

/// A walk through the proofs of both answers: from what holds in one only to what it rests on, and
/// from what was not found to what is there in the other.
typedef struct {
  const why_picked* sides[2]; ///< Before and after.
  flags entered[2];           ///< By number of the proof.
  why_shift* shift;
  size_t added[2];
} walk;

/// Values of a relation of one answer as the other knows them: its relation, or WHY_NO_RELATION.
static why_relation in_other(const walk* at, int side, why_relation relation, uint32_t mask,
                             const why_value* values, why_value* other) {
  const why_program* program = at->sides[side]->question->ground->program;
  const why_program* others = at->sides[!side]->question->ground->program;
  const why_symbols* symbols = why_overlay_symbols(at->sides[side]->overlay);
  const why_relation_info* info = why_program_relation(program, relation);
  why_relation found = why_program_find(others, why_symbols_text(symbols, info->name));
  if (found == WHY_NO_RELATION ||
      why_program_relation(others, found)->slot_count != info->slot_count)
    return WHY_NO_RELATION;
  for (unsigned i = 0; i < info->slot_count; i++) {
    if (!(mask >> i & 1))
      continue;
    other[i] = values[i];
    if (info->slots[i].type != WHY_SLOT_SYMBOL)
      continue;
    why_symbol symbol = why_symbols_find(why_overlay_symbols(at->sides[!side]->overlay),
                                         why_symbols_text(symbols, why_value_symbol(values[i])));
    if (!symbol)
      return WHY_NO_RELATION;
    other[i] = why_value_of_symbol(symbol);
  }
  return found;
}

static bool holds_in_other(const walk* at, int side, why_fact fact) {
  const why_picked* from = at->sides[side];
  unsigned count = why_program_relation(from->question->ground->program, fact.relation)->slot_count;
  why_value values[WHY_SLOTS_LIMIT] = {{0}};
  why_relation relation = in_other(at, side, fact.relation, (1u << count) - 1,
                                   why_fact_values(from->overlay, fact), values);
  return relation != WHY_NO_RELATION &&
         why_facts_exist(at->sides[!side]->overlay, relation, (1u << count) - 1, values);
}

static bool enter(walk* at, int side, uint32_t number) {
  flags* entered = &at->entered[side];
  while (entered->count <= number)
    *WHY_LIST_ADD(at->sides[side]->arena, *entered) = false;
  bool known = entered->at[number];
  entered->at[number] = true;
  return !known;
}

static void add_cause(walk* at, int side, const char* say, const char* mark) {
  bool gone = side == 0;
  for (size_t i = 0; i < at->shift->causes.count; i++)
    if (at->shift->causes.at[i].gone == gone && strcmp(at->shift->causes.at[i].say, say) == 0)
      return;
  if (at->added[side]++ < CAUSES_SHOWN)
    *WHY_LIST_ADD(at->sides[side]->arena, at->shift->causes) = (why_cause){say, mark, gone};
}

static bool has_rule(const why_picked* answer, const char* id) {
  const why_ground* ground = answer->question->ground;
  for (size_t i = 0; i < ground->tables->reasoning.rules.count; i++)
    if (strcmp(why_symbols_text(ground->symbols, ground->tables->reasoning.rules.at[i].id), id) ==
        0)
      return true;
  return false;
}

/// A study or exercise that a fact speaks of and only one knowledge base has, in words; else NULL.
static const char* lone_part(const walk* at, int side, why_fact fact) {
  const why_picked* from = at->sides[side];
  const why_ground* ground = from->question->ground;
  const why_ground* other = at->sides[!side]->question->ground;
  const why_relation_info* info = why_program_relation(ground->program, fact.relation);
  for (unsigned i = 0; other != ground && i < info->slot_count; i++) {
    const char* kind = why_symbols_text(ground->symbols, info->slots[i].kind);
    bool study = strcmp(kind, "study") == 0;
    if (!study && strcmp(kind, "exercise") != 0)
      continue;
    const char* id = why_symbols_text(why_overlay_symbols(from->overlay),
                                      why_fact_symbol(from->overlay, fact, (int)i));
    why_symbol known = why_symbols_find(other->symbols, id);
    bool there =
        known && (study ? (const void*)why_study_find(&other->tables->studies, known)
                        : (const void*)why_exercise_find(&other->tables->exercises, known));
    if (!there)
      return why_arena_print(from->arena, "There is the %s %s.", kind, id);
  }
  return NULL;
}

static void add_step_cause(walk* at, int side, const why_derivation* step) {
  const why_picked* from = at->sides[side];
  const char* say = lone_part(at, side, step->fact);
  if (say) {
    add_cause(at, side, say, step->place.file ? step->place.file : "");
    return;
  }
  say = why_sentence_of(from, step);
  if (!*say)
    say = why_fact_text(from->overlay, step->fact, from->arena);
  const why_symbols* symbols = from->question->ground->symbols;
  if (step->rule && !has_rule(at->sides[!side], why_symbols_text(symbols, step->rule->id)))
    say = why_arena_print(from->arena, "There is the rule: %s.", step->rule->title);
  add_cause(at, side, say, why_step_mark(from, step));
}

static bool look_at(walk* at, int side, why_fact fact, int depth);

/// Whether something is there in the other answer that was looked for here in vain.
static bool look_for(walk* at, int side, const why_premise* premise, int depth) {
  why_value values[WHY_SLOTS_LIMIT] = {{0}};
  why_relation relation =
      in_other(at, side, premise->relation, premise->mask, premise->values, values);
  if (relation == WHY_NO_RELATION)
    return false;
  why_facts facts = why_facts_find(at->sides[!side]->overlay, relation, premise->mask, values);
  for (size_t i = 0; i < facts.count; i++)
    look_at(at, !side, facts.at[i], depth + 1);
  return facts.count > 0;
}

/// Look at a fact that the other answer may lack; whether it does.
static bool look_at(walk* at, int side, why_fact fact, int depth) {
  if (depth > DEPTH_LIMIT || holds_in_other(at, side, fact))
    return false;
  const why_proof* proof = why_proof_best(at->sides[side]->overlay, fact);
  if (!proof || !enter(at, side, proof->number))
    return true;
  bool deeper = false;
  for (size_t i = 0; i < proof->step.premise_count; i++) {
    const why_premise* premise = &proof->step.premises[i];
    deeper = (premise->kind == WHY_ABSENT ? look_for(at, side, premise, depth)
                                          : look_at(at, side, premise->fact, depth + 1)) ||
             deeper;
  }
  if (!deeper)
    add_step_cause(at, side, &proof->step);
  return true;
}

/// What the pick rests on in one answer, and the other does not have.
static void add_premises(walk* at, int side, why_symbol exercise) {
  const why_picked* from = at->sides[side];
  const why_program* program = from->question->ground->program;
  why_relation relation = why_program_find(program, "pick");
  int slot = why_program_slot(program, relation, "exercise");
  why_value values[WHY_SLOTS_LIMIT] = {{0}};
  values[slot] = why_value_of_symbol(exercise);
  why_facts facts = why_facts_find(from->overlay, relation, 1u << slot, values);
  for (size_t i = 0; i < facts.count; i++)
    look_at(at, side, facts.at[i], 0);
}

/// What stands in the way where it is no pick: the ends of the tree of failures.
static void add_ends(why_shift* shift, const why_picked* in, const why_step* step, bool gone,
                     size_t* left) {
  for (; step && *left; step = step->next) {
    if (step->first) {
      add_ends(shift, in, step->first, gone, left);
      continue;
    }
    if (strncmp(step->say, NOT_SO, strlen(NOT_SO)) == 0)
      continue; // what else could have given it
    *WHY_LIST_ADD(in->arena, shift->causes) = (why_cause){step->say, step->mark, gone};
    --*left;
  }
}

static void add_obstacles(why_shift* shift, const why_picked* in, const char* id, bool gone) {
  why_symbol exercise = why_symbols_find(in->question->ground->symbols, id);
  if (!exercise || !why_exercise_find(&in->question->ground->tables->exercises, exercise)) {
    *WHY_LIST_ADD(in->arena, shift->causes) =
        (why_cause){"The catalogue does not hold it.", "", gone};
    return;
  }
  // Where several rules could have given it, no one of them is the reason.
  const why_step* first = why_absence_failed(in, in->overlay, exercise).steps->first;
  size_t left = first && !first->next ? OBSTACLES_SHOWN : 0;
  add_ends(shift, in, first, gone, &left);
}

// ---- shifts ----

static bool same_text(const char* a, const char* b) {
  return a == b || (a && b && strcmp(a, b) == 0);
}

/// Whether two figures are the same, or too near to each other to be worth telling.
static bool is_near(double a, double b, double worth) {
  return a == b || fabs(a - b) < worth;
}

static bool same_growth(const why_estimate* a, const why_estimate* b, double worth) {
  if (!a || !b)
    return a == b;
  return is_near(a->percent, b->percent, worth) && is_near(a->low, b->low, worth) &&
         is_near(a->high, b->high, worth);
}

/// Whether the growth model was fitted to something else and expects another growth.
static bool is_refitted(const why_shifts* made, const why_pick_row* a, const why_pick_row* b) {
  return made->before->question->ground != made->after->question->ground &&
         !same_growth(a->estimate, b->estimate, 0);
}

/// But for place and step, which a new fit may change by less than is worth telling.
static bool same_row(const why_shifts* made, const why_pick_row* a, const why_pick_row* b) {
  return same_text(a->certainty, b->certainty) && same_text(a->recommendation, b->recommendation) &&
         same_growth(a->estimate, b->estimate, made->worth);
}

/// How many of the picks before number `number` the other answer has too.
static size_t common_before(const why_picked* answer, const why_picked* other, size_t number) {
  size_t count = 0;
  for (size_t i = 0; i + 1 < number; i++)
    count += find_pick(other, id_of(answer, i)).row != NULL;
  return count;
}

static why_shift_kind kind_of(const why_shifts* made, const stand* before, const stand* after) {
  if (!before->row)
    return WHY_SHIFT_CAME;
  if (!after->row)
    return WHY_SHIFT_WENT;
  if (!same_row(made, before->row, after->row))
    return WHY_SHIFT_CHANGED;
  bool slight = is_refitted(made, before->row, after->row);
  if (before->row->step != after->row->step)
    return slight ? WHY_SHIFT_SLIGHT : WHY_SHIFT_CHANGED;
  if (common_before(before->in, after->in, before->number) ==
      common_before(after->in, before->in, after->number))
    return WHY_SHIFT_PUSHED;
  return slight ? WHY_SHIFT_SLIGHT : WHY_SHIFT_MOVED;
}

static void add_shift(why_shifts* made, const char* id, stand before, stand after) {
  if (before.row && after.row && before.number == after.number &&
      before.row->step == after.row->step && same_row(made, before.row, after.row)) {
    made->same++;
    return;
  }
  why_shift* shift = WHY_LIST_ADD(made->after->arena, made->all);
  *shift = (why_shift){.kind = kind_of(made, &before, &after),
                       .exercise = id,
                       .name = after.row ? after.row->name : before.row->name,
                       .number_before = before.number,
                       .number_after = after.number,
                       .before = before.row,
                       .after = after.row};
  if (shift->kind == WHY_SHIFT_PUSHED || shift->kind == WHY_SHIFT_SLIGHT)
    return;
  walk at = {.sides = {made->before, made->after}, .shift = shift};
  if (before.row)
    add_premises(&at, 0, before.row->exercise);
  if (after.row)
    add_premises(&at, 1, after.row->exercise);
  if (!before.row)
    add_obstacles(shift, made->before, id, true);
  if (!after.row)
    add_obstacles(shift, made->after, id, false);
}

const why_shifts* why_shifts_find(const why_picked* before, const why_picked* after) {
  why_shifts* made = WHY_NEW(after->arena, why_shifts);
  made->before = before;
  made->after = after;
  made->worth = why_rows_setting(after->question->ground->program, after->overlay,
                                 after->question->ground->symbols, "shift-worth-telling", 0);
  for (size_t i = 0; i < after->picks.count; i++) {
    const char* id = id_of(after, i);
    add_shift(made, id, find_pick(before, id), find_pick(after, id));
  }
  for (size_t i = 0; i < before->picks.count; i++) {
    const char* id = id_of(before, i);
    if (!find_pick(after, id).row)
      add_shift(made, id, find_pick(before, id), find_pick(after, id));
  }
  return made;
}
