// SPDX-License-Identifier: GPL-3.0-or-later
// The question is put to the rules twice: first to learn which heads are wanted and what each
// exercise does for them, as for picks; then with the differences that follow, to learn what they
// mean.
#include "versus.h"

#include "expectation.h"
#include "rows.h"
#include "sentence.h"

#include <math.h>

/// A comparison on its way.
typedef struct {
  why_versus* made;
  const why_question* question;
  const why_ground* ground;
  const why_picked* first; ///< What the rules say before the differences are known.
  why_aim aims[2];         ///< The whole goal.
} work;

static why_rows about(const why_picked* answer, const char* name, why_symbol exercise) {
  return why_rows_about(answer->question->ground->program, answer->overlay, name, "exercise",
                        exercise);
}

static size_t index_of(const why_ground* ground, why_symbol exercise) {
  const why_exercise* row = why_exercise_find(&ground->tables->exercises, exercise);
  return (size_t)(row - ground->tables->exercises.rows.at);
}

// ---- what each does for each head ----

static const char* level_name(const work* at, const why_rows* rows, size_t index,
                              const char* slot) {
  int number = why_program_slot(at->ground->program, rows->relation, slot);
  if (number < 0)
    return NULL;
  const why_slot* info = &why_program_relation(at->ground->program, rows->relation)->slots[number];
  const char* id = why_slot_level(at->ground->program, info, why_rows_number(rows, index, slot));
  return why_ground_name(at->ground, at->question->arena, "level", id);
}

/// The row about a head; `rows.facts.count`: there is none.
static size_t row_of(const why_rows* rows, why_symbol head) {
  size_t i = 0;
  while (i < rows->facts.count && why_rows_symbol(rows, i, "head") != head)
    i++;
  return i;
}

static const why_estimate* expect(const work* at, const why_aim* aim) {
  why_estimate* made = WHY_NEW(at->question->arena, why_estimate);
  why_outlook_estimate(at->ground->outlook, aim->exercise, &aim->goal, at->first->trained,
                       at->question->arena, made);
  return made;
}

/// The goal `head` alone, or nothing where it is not trained.
static why_aim aim_at(const work* at, int side, size_t wanted, const why_versus_part* part) {
  why_goal_head* head = WHY_NEW(at->question->arena, why_goal_head);
  *head = (why_goal_head){at->first->goal.at[wanted].head, 1};
  return (why_aim){index_of(at->ground, at->made->sides[side].exercise),
                   {head, part->part > 0 ? 1 : 0}};
}

static why_versus_part part_of(const work* at, int side, size_t wanted) {
  why_symbol exercise = at->made->sides[side].exercise;
  why_symbol head = at->first->heads.at[wanted];
  why_versus_part part = {.stress = NAN};
  why_rows effective = about(at->first, "effective", exercise);
  why_rows length = about(at->first, "at-length", exercise);
  why_rows moving = about(at->first, "moving", exercise);
  size_t row = row_of(&effective, head);
  if (row < effective.facts.count)
    part.part = why_rows_number(&effective, row, "part");
  row = row_of(&length, head);
  if (row < length.facts.count)
    part.length = level_name(at, &length, row, "class");
  row = row_of(&moving, head);
  if (row < moving.facts.count)
    part.stress = why_rows_number(&moving, row, "stress");
  return part;
}

static void add_head(work* at, size_t wanted) {
  why_versus_head* row = WHY_LIST_ADD(at->question->arena, at->made->heads);
  row->head = at->first->heads.at[wanted];
  row->weight = at->first->goal.at[wanted].weight;
  why_aim aims[2];
  for (int side = 0; side < 2; side++) {
    why_versus_part* part = &row->sides[side];
    *part = part_of(at, side, wanted);
    aims[side] = aim_at(at, side, wanted, part);
    if (part->part > 0)
      part->estimate = expect(at, &aims[side]);
  }
  why_outlook_difference(at->ground->outlook, &aims[0], &aims[1], at->first->trained,
                         at->question->arena, &row->difference);
}

/// The whole goal as it is counted for picks: each trained head by its weight and its part.
static why_aim aim_at_goal(const work* at, int side) {
  why_goal_head* parts =
      WHY_NEW_ARRAY(at->question->arena, why_goal_head, at->made->heads.count + 1);
  size_t count = 0;
  for (size_t i = 0; i < at->made->heads.count; i++) {
    double part = at->made->heads.at[i].sides[side].part;
    if (part > 0)
      parts[count++] =
          (why_goal_head){at->first->goal.at[i].head, at->first->goal.at[i].weight * part};
  }
  return (why_aim){index_of(at->ground, at->made->sides[side].exercise), {parts, count}};
}

/// What is shown is what the rules judge.
static double to_one_decimal(double percent) {
  return round(10 * percent) / 10 + 0.0;
}

static void find_differences(work* at) {
  for (size_t i = 0; i < at->first->heads.count; i++)
    add_head(at, i);
  for (int side = 0; side < 2; side++) {
    at->aims[side] = aim_at_goal(at, side);
    if (at->aims[side].goal.count)
      at->made->sides[side].estimate = expect(at, &at->aims[side]);
  }
  why_estimate* all = &at->made->difference;
  why_outlook_difference(at->ground->outlook, &at->aims[0], &at->aims[1], at->first->trained,
                         at->question->arena, all);
  all->percent = to_one_decimal(all->percent);
  all->low = to_one_decimal(all->low);
  all->high = to_one_decimal(all->high);
}

// ---- what the differences mean ----

/// A slot with its value.
typedef struct {
  const char* slot;
  why_value value;
} filled;

enum { FILLED_LIMIT = 6 };

/// Assume a fact of both exercises; nothing where the rules declare other slots.
static void assume(const work* at, why_overlay* overlay, const char* name, const filled* more,
                   unsigned count) {
  const why_program* program = at->ground->program;
  why_relation relation = why_program_find(program, name);
  if (relation == WHY_NO_RELATION ||
      why_program_relation(program, relation)->slot_count != count + 2)
    return;
  why_value values[WHY_SLOTS_LIMIT] = {{0}};
  filled all[FILLED_LIMIT + 2] = {{"exercise", why_value_of_symbol(at->made->sides[0].exercise)},
                                  {"other", why_value_of_symbol(at->made->sides[1].exercise)}};
  for (unsigned i = 0; i < count; i++)
    all[2 + i] = more[i];
  for (unsigned i = 0; i < count + 2; i++) {
    int slot = why_program_slot(program, relation, all[i].slot);
    if (slot < 0)
      return;
    values[slot] = all[i].value;
  }
  why_overlay_assume(overlay, relation, values);
}

static filled number(const char* slot, double value) {
  return (filled){slot, why_value_of_number(value)};
}

static void assume_difference(const work* at, why_overlay* overlay, const why_estimate* difference,
                              why_symbol head) {
  const filled more[] = {number("percent", difference->percent),
                         number("low", difference->low),
                         number("high", difference->high),
                         {"head", why_value_of_symbol(head)}};
  if (head)
    assume(at, overlay, "head-difference", more, 4);
  else
    assume(at, overlay, "goal-difference", more, 3);
}

static void assume_all(const work* at, why_overlay* overlay) {
  const why_versus* made = at->made;
  assume(at, overlay, "compared", NULL, 0);
  assume_difference(at, overlay, &made->difference, 0);
  for (size_t i = 0; i < made->heads.count; i++) {
    const why_versus_head* head = &made->heads.at[i];
    if (head->sides[0].part > 0 || head->sides[1].part > 0)
      assume_difference(at, overlay, &head->difference, head->head);
  }
  const filled size[] = {number("points", made->plan.difference),
                         number("spread", made->plan.spread), number("group", made->people_group),
                         number("within", made->people_within)};
  assume(at, overlay, "trial-size", size, 4);
}

/// A text of the row about both, or NULL.
static const char* word_of(const work* at, const char* relation, const char* slot) {
  why_rows rows = why_rows_find(at->ground->program, at->made->answer->overlay, relation);
  return rows.facts.count ? why_symbols_text(at->ground->symbols, why_rows_symbol(&rows, 0, slot))
                          : NULL;
}

static void read_meaning(work* at) {
  why_versus* made = at->made;
  made->verdict = word_of(at, "verdict-of-two", "verdict");
  made->leans = word_of(at, "leans", "towards");
  why_rows certainty =
      why_rows_find(at->ground->program, made->answer->overlay, "certainty-of-two");
  if (certainty.facts.count)
    made->certainty = level_name(at, &certainty, 0, "certainty");
  why_rows certain = about(made->answer, "certain-difference", made->sides[0].exercise);
  for (size_t i = 0; i < made->heads.count; i++) {
    size_t row = row_of(&certain, made->heads.at[i].head);
    if (row < certain.facts.count)
      made->heads.at[i].certainty = level_name(at, &certain, row, "certainty");
  }
  why_sentence_collect(made->answer, "two", made->sides[0].exercise, &made->reasons);
  why_sentence_collect(made->answer, "decides", made->sides[0].exercise, &made->decides);
}

static void read_side(const work* at, why_versus_side* side) {
  side->number = why_pick_place(at->ground, at->first->overlay, side->exercise);
  side->verdict = why_sentence_verdict(at->first, side->exercise);
  why_sentence_collect(at->made->answer, "side", side->exercise, &side->reasons);
  why_reasons warned = {0};
  why_sentence_collect(at->first, "cautions", side->exercise, &warned);
  for (size_t i = 0; i < warned.count; i++)
    *WHY_LIST_ADD(at->question->arena, side->cautions) = warned.at[i].say;
}

// ---- a trial that would decide ----

static why_status plan_trial(work* at) {
  static const char* const NAMES[] = {"trial-alpha", "trial-power", "smallest-important",
                                      "change-spread", "limb-correlation"};
  double values[sizeof NAMES / sizeof *NAMES];
  for (size_t i = 0; i < sizeof NAMES / sizeof *NAMES; i++) {
    const why_quantity* row =
        why_quantity_find(&at->ground->tables->measurements, at->ground->symbols, NAMES[i], 0);
    values[i] = row ? row->amount.value : NAN;
    if (isfinite(values[i]))
      continue;
    why_problems_add(at->question->problems, WHY_ERROR, "compare", (why_place){0},
                     "evidence/measurements lacks the quantity %s", NAMES[i]);
    return WHY_KNOWLEDGE;
  }
  at->made->plan = (why_trial_plan){
      .alpha = values[0], .power = values[1], .difference = values[2], .spread = values[3]};
  at->made->people_group = why_people_in_group(&at->made->plan);
  at->made->people_within = why_people_within(&at->made->plan, values[4]);
  return WHY_OK;
}

/// The same question with the differences.
static why_status judge(work* at) {
  why_picked* second = WHY_NEW(at->question->arena, why_picked);
  *second = *at->first;
  second->overlay = why_overlay_new(at->ground->base, at->question->arena, NULL);
  why_question_assume(at->question, second->overlay);
  assume_all(at, second->overlay);
  why_overlay_open(second->overlay, at->question->problems);
  at->made->answer = second;
  read_meaning(at);
  return why_overlay_status(second->overlay);
}

why_status why_versus_run(const why_question* question, const why_versus** versus) {
  why_picked* first = NULL;
  why_status status = why_pick_run(question, &first);
  if (status != WHY_OK && status != WHY_NO_PICK)
    return status;
  why_versus* made = WHY_NEW(question->arena, why_versus);
  work at = {.made = made, .question = question, .ground = question->ground, .first = first};
  made->answer = first;
  made->sides[0].exercise = question->exercise;
  made->sides[1].exercise = question->other;
  for (int side = 0; side < 2; side++)
    made->sides[side].name =
        why_ground_name(at.ground, question->arena, "exercise",
                        why_symbols_text(at.ground->symbols, made->sides[side].exercise));
  *versus = made;
  if (first->referrals.count || !at.ground->outlook)
    return WHY_NO_PICK;
  find_differences(&at);
  made->possible = at.aims[0].goal.count || at.aims[1].goal.count;
  status = made->possible ? plan_trial(&at) : WHY_OK;
  if (status == WHY_OK && made->possible)
    status = judge(&at);
  for (int side = 0; side < 2; side++)
    read_side(&at, &made->sides[side]);
  if (status == WHY_OK)
    status = why_overlay_status(first->overlay);
  return status == WHY_OK && !made->possible ? WHY_NO_PICK : status;
}
