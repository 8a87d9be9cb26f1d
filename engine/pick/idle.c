// SPDX-License-Identifier: GPL-3.0-or-later
// Rules that never gave a fact, over the base and over questions that stand for all kinds; and
// relations that nothing reads.
#include "rulebook.h"

#include <math.h>
#include <string.h>

/// What the program itself reads: answers (pick.c, explain.c, sentence.c), what an answer can tell
/// of changes and order (ways.c, absence.c), programmes (audit.c, notation.c), plans
/// (plan_data.c, dose.c), two exercises (versus.c).
static const char* const READ[] = {"action-missed",
                                   "against",
                                   "aim",
                                   "at-hand",
                                   "best-pick",
                                   "certain",
                                   "certainty-of-two",
                                   "change",
                                   "dose",
                                   "effective",
                                   "fills",
                                   "fills-gap",
                                   "fills-movement",
                                   "fills-muscle",
                                   "grounds-certainty",
                                   "leans",
                                   "loaded-with",
                                   "nearest",
                                   "order-rests-on",
                                   "pick",
                                   "plan-basic",
                                   "plan-day",
                                   "plan-muscle",
                                   "plan-sets",
                                   "possible",
                                   "referred",
                                   "rejected",
                                   "set-value",
                                   "shorthand",
                                   "shows",
                                   "verdict-of-two",
                                   "wanted",
                                   "why-no-pick",
                                   "writes"};

typedef struct {
  const why_ground* ground;
  why_arena* arena;
  why_problems* problems;
  bool* fired; ///< By number of the rule in the tables.
  size_t questions;
} survey;

static void ask(survey* at, const why_question* question) {
  why_arena* arena = why_arena_branch(at->arena);
  why_overlay* overlay = why_overlay_new(at->ground->base, arena, NULL);
  why_question_assume(question, overlay);
  why_overlay_run(overlay, at->problems);
  why_rules_note(overlay, at->fired);
  at->questions++;
  why_arena_free(arena);
}

static why_question start(const survey* at) {
  why_question made;
  why_question_init(&made, at->ground, at->arena, at->problems);
  return made;
}

static why_thing thing(why_meaning kind, why_symbol id) {
  return (why_thing){.kind = kind, .id = id, .limit_kg = NAN};
}

static void put(const survey* at, why_things* list, why_thing each) {
  *WHY_LIST_ADD(at->arena, *list) = each;
}

/// The exercises of a group's picks are asked about in turn, so that what is said of one is seen.
static why_symbol some_exercise(const survey* at, size_t number) {
  const why_exercise_table* table = &at->ground->tables->exercises;
  return table->rows.count ? table->rows.at[number % table->rows.count].id : 0;
}

static void ask_groups(survey* at) {
  const why_tables* tables = at->ground->tables;
  size_t place_count = tables->equipment.places.count;
  for (size_t i = 0; i < tables->anatomy.groups.count; i++) {
    why_question question = start(at);
    question.goal = thing(WHY_MEANS_GROUP, tables->anatomy.groups.at[i].id);
    question.exercise = some_exercise(at, 7 * i);
    ask(at, &question);
    question.level = "beginner";
    if (place_count)
      put(at, &question.have,
          thing(WHY_MEANS_PLACE, tables->equipment.places.at[i % place_count].id));
    put(at, &question.declined, thing(WHY_MEANS_EXERCISE, some_exercise(at, 5 * i)));
    ask(at, &question);
    question = start(at);
    question.goal = thing(WHY_MEANS_GROUP, tables->anatomy.groups.at[i].id);
    put(at, &question.also,
        thing(WHY_MEANS_GROUP,
              tables->anatomy.groups.at[(i + 1) % tables->anatomy.groups.count].id));
    put(at, &question.also, thing(WHY_MEANS_HEAD, tables->anatomy.heads.at[i].id));
    put(at, &question.also, thing(WHY_MEANS_ACTION, tables->anatomy.actions.at[0].id));
    ask(at, &question);
  }
}

static void ask_others(survey* at) {
  const why_tables* tables = at->ground->tables;
  for (size_t i = 0; i < tables->anatomy.actions.count; i++) {
    why_question question = start(at);
    question.goal = thing(WHY_MEANS_ACTION, tables->anatomy.actions.at[i].id);
    ask(at, &question);
  }
  for (size_t i = 0; i < tables->anatomy.heads.count; i++) {
    why_question question = start(at);
    question.goal = thing(WHY_MEANS_HEAD, tables->anatomy.heads.at[i].id);
    question.exercise = some_exercise(at, 11 * i);
    ask(at, &question);
  }
  for (size_t i = 0; i < tables->exercises.rows.count && tables->exercises.patterns.count; i++) {
    why_question question = start(at);
    question.replaced = some_exercise(at, i);
    ask(at, &question);
    if (i % 2)
      continue;
    if (i % 4)
      put(at, &question.declined,
          thing(WHY_MEANS_PATTERN,
                tables->exercises.patterns.at[i % tables->exercises.patterns.count].id));
    else if (tables->equipment.places.count)
      put(at, &question.have,
          thing(WHY_MEANS_PLACE,
                tables->equipment.places.at[i % tables->equipment.places.count].id));
    ask(at, &question);
  }
}

/// With things at hand one by one, up to a weight, and without others; and to be avoided.
static void ask_terms(survey* at) {
  const why_tables* tables = at->ground->tables;
  size_t groups = tables->anatomy.groups.count;
  for (size_t i = 0; i < tables->restrictions.restrictions.count && groups; i++) {
    why_question question = start(at);
    question.goal = thing(WHY_MEANS_GROUP, tables->anatomy.groups.at[i % groups].id);
    put(at, &question.avoid,
        thing(WHY_MEANS_RESTRICTION, tables->restrictions.restrictions.at[i].id));
    ask(at, &question);
  }
  for (size_t i = 0; i < tables->equipment.items.count && groups; i++) {
    why_question question = start(at);
    question.goal = thing(WHY_MEANS_GROUP, tables->anatomy.groups.at[i % groups].id);
    why_thing item = thing(WHY_MEANS_ITEM, tables->equipment.items.at[i].id);
    item.limit_kg = 5;
    put(at, &question.have, item);
    if (tables->equipment.kinds.count)
      put(at, &question.have,
          thing(WHY_MEANS_KIND, tables->equipment.kinds.at[i % tables->equipment.kinds.count].id));
    put(at, &question.without,
        thing(WHY_MEANS_ITEM,
              tables->equipment.items.at[(i + 1) % tables->equipment.items.count].id));
    if (tables->equipment.kinds.count)
      put(at, &question.without,
          thing(WHY_MEANS_KIND,
                tables->equipment.kinds.at[(i + 1) % tables->equipment.kinds.count].id));
    ask(at, &question);
  }
}

/// A fact of a relation with its number, an exercise and a word wherever its slots take them.
static void assume_some(const survey* at, why_overlay* overlay, const char* name, size_t number) {
  why_relation relation = why_program_find(at->ground->program, name);
  if (relation == WHY_NO_RELATION)
    return;
  const why_relation_info* info = why_program_relation(at->ground->program, relation);
  why_value values[WHY_SLOTS_LIMIT] = {{0}};
  for (unsigned i = 0; i < info->slot_count; i++) {
    const char* kind = why_symbols_text(at->ground->symbols, info->slots[i].kind);
    why_symbol word = strcmp(kind, "exercise") == 0
                          ? some_exercise(at, 17 * number)
                          : why_symbols_add(why_overlay_symbols(overlay), "day");
    values[i] = info->slots[i].type == WHY_SLOT_SYMBOL ? why_value_of_symbol(word)
                                                       : why_value_of_number((double)(number % 7));
  }
  if (info->slot_count && info->slots[0].type == WHY_SLOT_NUMBER)
    values[0] = why_value_of_number((double)number);
  why_overlay_assume(overlay, relation, values);
}

/// Written weeks, of few sessions and of many.
static void ask_weeks(survey* at) {
  enum { WEEKS = 20 };
  for (size_t week = 0; week < WEEKS; week++) {
    why_arena* arena = why_arena_branch(at->arena);
    why_overlay* overlay = why_overlay_new(at->ground->base, arena, NULL);
    why_question question = start(at);
    why_question_assume(&question, overlay);
    for (size_t i = 0; i <= week; i++)
      assume_some(at, overlay, "session", i);
    for (size_t i = 0; i < 5 * week; i++)
      assume_some(at, overlay, "planned", i + 50 * week);
    why_overlay_run(overlay, at->problems);
    why_rules_note(overlay, at->fired);
    at->questions++;
    why_arena_free(arena);
  }
}

/// Planned weeks, with a goal and a purpose.
static void ask_plans(survey* at) {
  why_question question = start(at);
  question.level = "advanced";
  question.purpose = "grow";
  ask(at, &question);
  if (!at->ground->tables->anatomy.groups.count)
    return;
  *WHY_LIST_ADD(at->arena, question.targets) =
      (why_target){.muscle = at->ground->tables->anatomy.groups.at[0].id, .priority = 2};
  ask(at, &question);
}

/// A fact about two exercises, and a head where a slot takes one; numbers from an interval.
static void assume_pair(const survey* at, why_overlay* overlay, const char* name,
                        const why_symbol* pair, why_symbol head, const double* interval) {
  why_relation relation = why_program_find(at->ground->program, name);
  if (relation == WHY_NO_RELATION)
    return;
  const why_relation_info* info = why_program_relation(at->ground->program, relation);
  why_value values[WHY_SLOTS_LIMIT] = {{0}};
  size_t exercises = 0;
  size_t numbers = 0;
  for (unsigned i = 0; i < info->slot_count; i++) {
    const char* kind = why_symbols_text(at->ground->symbols, info->slots[i].kind);
    values[i] = info->slots[i].type != WHY_SLOT_SYMBOL
                    ? why_value_of_number(interval[numbers++ % 3])
                : strcmp(kind, "exercise") == 0 ? why_value_of_symbol(pair[exercises++ % 2])
                                                : why_value_of_symbol(head);
  }
  why_overlay_assume(overlay, relation, values);
}

/// Two exercises of all heads of a group, with differences of every kind by turns.
static void ask_pair(survey* at, const why_symbol* pair, size_t number) {
  static const double INTERVALS[][3] = {{0, -1, 1}, {3, 1, 5}, {-3, -5, -1}, {1, -3, 5}};
  const double* interval = INTERVALS[number % (sizeof INTERVALS / sizeof *INTERVALS)];
  const why_anatomy* anatomy = &at->ground->tables->anatomy;
  why_arena* arena = why_arena_branch(at->arena);
  why_overlay* overlay = why_overlay_new(at->ground->base, arena, NULL);
  why_question question = start(at);
  question.level = number % 2 ? "beginner" : NULL;
  if (anatomy->groups.count)
    question.goal = thing(WHY_MEANS_GROUP, anatomy->groups.at[number % anatomy->groups.count].id);
  why_question_assume(&question, overlay);
  assume_pair(at, overlay, "compared", pair, 0, interval);
  assume_pair(at, overlay, "goal-difference", pair, 0, interval);
  assume_pair(at, overlay, "trial-size", pair, 0, interval);
  for (size_t i = 0; i < anatomy->heads.count; i++)
    assume_pair(at, overlay, "head-difference", pair, anatomy->heads.at[i].id, interval);
  why_overlay_run(overlay, at->problems);
  why_rules_note(overlay, at->fired);
  at->questions++;
  why_arena_free(arena);
}

static why_symbol first_trained(const why_arm* arm) {
  return arm->trained.count ? arm->trained.at[0].exercise : 0;
}

/// What a trial compared, and that with something that it did not.
static void ask_pairs(survey* at) {
  const why_study_table* studies = &at->ground->tables->studies;
  for (size_t i = 0; i < studies->rows.count; i++) {
    const why_study* study = &studies->rows.at[i];
    why_symbol pair[2] = {0};
    for (size_t k = 0; k < study->arms.count && !pair[1]; k++) {
      why_symbol trained = first_trained(&study->arms.at[k]);
      if (trained && trained != pair[0])
        pair[pair[0] != 0] = trained;
    }
    if (!pair[1])
      continue;
    ask_pair(at, pair, i);
    pair[1] = some_exercise(at, 13 * i);
    if (pair[1] != pair[0])
      ask_pair(at, pair, i + 1);
  }
}

static bool is_read(const why_ground* ground, const why_rulebook* rules, why_symbol relation) {
  const char* name = why_symbols_text(ground->symbols, relation);
  for (size_t i = 0; i < sizeof READ / sizeof *READ; i++)
    if (strcmp(READ[i], name) == 0)
      return true;
  for (size_t i = 0; i < rules->count; i++) {
    const why_symbol_list* lists[] = {&rules->at[i].reads, &rules->at[i].refuses};
    for (size_t k = 0; k < 2; k++)
      for (size_t n = 0; n < lists[k]->count; n++)
        if (lists[k]->at[n] == relation)
          return true;
  }
  for (size_t i = 0; i < ground->shown.count; i++) {
    const why_relation_list* shown = &ground->shown.at[i].relations;
    for (size_t k = 0; k < shown->count; k++)
      if (why_program_relation(ground->program, shown->at[k])->name == relation)
        return true;
  }
  return false;
}

why_idle why_idle_find(const why_ground* ground, why_arena* arena, why_problems* problems) {
  const why_reasoning* reasoning = &ground->tables->reasoning;
  survey at = {.ground = ground,
               .arena = arena,
               .problems = problems,
               .fired = WHY_NEW_ARRAY(arena, bool, reasoning->rules.count + 1)};
  ask_groups(&at);
  ask_others(&at);
  ask_terms(&at);
  ask_weeks(&at);
  ask_plans(&at);
  ask_pairs(&at);
  why_idle made = {.questions = at.questions};
  why_rulebook rules = why_rulebook_new(ground, arena);
  for (size_t i = 0; i < rules.count; i++)
    if (!at.fired[rules.at[i].row - reasoning->rules.at])
      *WHY_LIST_ADD(arena, made.rules) = rules.at[i].row->id;
  for (size_t i = 0; i < why_program_relation_count(ground->program); i++) {
    why_symbol name = why_program_relation(ground->program, (why_relation)i)->name;
    if (!is_read(ground, &rules, name))
      *WHY_LIST_ADD(arena, made.relations) = name;
  }
  return made;
}
