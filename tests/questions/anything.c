// SPDX-License-Identifier: GPL-3.0-or-later
// Asks random questions, half of them as sentences, and looks at every pick: none may need what is
// not at hand, ask for what must be avoided, or be declined; after a sign of danger there is none.
// What follows from a question is worked out here without the rules. Ends with "N passed, N
// failed", one test a question. Usage: anything COUNT [SEED]
#include "pick/kit.h"
#include "pick/question.h"
#include "reason/random.h"
#include "whylift/whylift.h"

#include <stdio.h>
#include <stdlib.h>

enum { LIST = 4, FAULTS_SHOWN = 20 };

typedef struct {
  why_knowledge* knowledge;
  const why_ground* ground; ///< The same files, for names and needs that are not public.
  why_arena* arena;         ///< Of one question.
  uint64_t state;
} asker;

/// One question and what it means.
typedef struct {
  why_symbol goals[2];
  size_t goal_count;
  why_thing have[LIST];
  size_t have_count;
  why_thing without[LIST];
  size_t without_count;
  why_symbol avoid[LIST];
  size_t avoid_count;
  why_symbol declined;
  why_symbol replaced; ///< 0: picks for the goals.
  bool beginner;
  bool spoken; ///< As a sentence.
} question;

static unsigned below(asker* from, size_t bound) {
  return random_below(&from->state, (unsigned)bound);
}

static const char* text_of(const asker* from, why_symbol id) {
  return why_symbols_text(from->ground->symbols, id);
}

/// Whether the id can be said in a sentence: it means nothing else, and holds no phrase.
static bool is_plain(const asker* from, const char* id, unsigned kinds) {
  const why_words* words = from->ground->words;
  why_word_hits all = why_words_find(words, from->arena, id, WHY_MEANS_ANY);
  for (size_t i = 0; i < all.count; i++)
    if (!(all.at[i].kind & kinds))
      return false;
  return why_words_find(words, from->arena, id, kinds).count == 1 &&
         !why_words_find(words, from->arena, id, WHY_MEANS_ANY & ~kinds).count;
}

static why_thing draw_item(asker* from) {
  const why_equipment* equipment = &from->ground->tables->equipment;
  return (why_thing){.kind = WHY_MEANS_ITEM,
                     .id = equipment->items.at[below(from, equipment->items.count)].id};
}

static why_thing draw_kind(asker* from) {
  const why_equipment* equipment = &from->ground->tables->equipment;
  return (why_thing){.kind = WHY_MEANS_KIND,
                     .id = equipment->kinds.at[below(from, equipment->kinds.count)].id};
}

static why_thing draw_place(asker* from) {
  const why_equipment* equipment = &from->ground->tables->equipment;
  return (why_thing){.kind = WHY_MEANS_PLACE,
                     .id = equipment->places.at[below(from, equipment->places.count)].id};
}

static why_symbol draw_goal(asker* from) {
  const why_anatomy* anatomy = &from->ground->tables->anatomy;
  return below(from, 2) ? anatomy->heads.at[below(from, anatomy->heads.count)].id
                        : anatomy->groups.at[below(from, anatomy->groups.count)].id;
}

static why_symbol draw_exercise(asker* from) {
  const why_exercise_table* table = &from->ground->tables->exercises;
  return table->rows.at[below(from, table->rows.count)].id;
}

static why_symbol draw_restriction(asker* from) {
  const why_restrictions* table = &from->ground->tables->restrictions;
  return table->restrictions.at[below(from, table->restrictions.count)].id;
}

static question draw(asker* from) {
  question made = {.spoken = below(from, 2), .beginner = !below(from, 4)};
  made.goal_count = 1 + !below(from, 4);
  for (size_t i = 0; i < made.goal_count; i++)
    made.goals[i] = draw_goal(from);
  if (!below(from, 4))
    made.replaced = draw_exercise(from);
  made.have_count = below(from, LIST + 1);
  for (size_t i = 0; i < made.have_count; i++) {
    unsigned kind = below(from, 4);
    made.have[i] = kind == 0 ? draw_place(from) : kind == 1 ? draw_kind(from) : draw_item(from);
  }
  made.without_count = below(from, 3);
  for (size_t i = 0; i < made.without_count; i++)
    made.without[i] = below(from, 4) ? draw_item(from) : draw_kind(from);
  made.avoid_count = below(from, 3);
  for (size_t i = 0; i < made.avoid_count; i++)
    made.avoid[i] = draw_restriction(from);
  if (!below(from, 3))
    made.declined = draw_exercise(from);
  return made;
}

static bool things_are_plain(const asker* from, const why_thing* things, size_t count) {
  for (size_t i = 0; i < count; i++)
    if (!is_plain(from, text_of(from, things[i].id),
                  WHY_MEANS_ITEM | WHY_MEANS_KIND | WHY_MEANS_PLACE))
      return false;
  return true;
}

/// Words that mean several things cannot be said without more words around them.
static bool can_be_said(const asker* from, const question* asked) {
  bool plain = things_are_plain(from, asked->have, asked->have_count) &&
               things_are_plain(from, asked->without, asked->without_count);
  for (size_t i = 0; i < asked->goal_count; i++)
    plain = plain && is_plain(from, text_of(from, asked->goals[i]), WHY_MEANS_GOAL);
  for (size_t i = 0; i < asked->avoid_count; i++)
    plain = plain && is_plain(from, text_of(from, asked->avoid[i]), WHY_MEANS_RESTRICTION);
  if (asked->declined)
    plain = plain && is_plain(from, text_of(from, asked->declined), WHY_MEANS_EXERCISE);
  if (asked->replaced)
    plain = plain && is_plain(from, text_of(from, asked->replaced), WHY_MEANS_EXERCISE);
  return plain;
}

/// "instead of leg-press, for hamstrings and chest, with barbell and rack, no cable, ..."
static const char* sentence_of(asker* from, const question* asked) {
  static const char* const WITH[] = {" with", " i have", " got", " using"};
  static const char* const NO[] = {"no", "without", "i dont have"};
  why_buffer text = {.arena = from->arena};
  if (asked->replaced)
    why_buffer_print(&text, "instead of %s", text_of(from, asked->replaced));
  else
    why_buffer_print(&text, "%s", text_of(from, asked->goals[0]));
  for (size_t i = 1; i < asked->goal_count && !asked->replaced; i++)
    why_buffer_print(&text, " and %s", text_of(from, asked->goals[i]));
  for (size_t i = 0; i < asked->have_count; i++)
    why_buffer_print(&text, "%s %s",
                     i == 0   ? WITH[below(from, 4)]
                     : i == 1 ? ","
                              : " and",
                     text_of(from, asked->have[i].id));
  for (size_t i = 0; i < asked->without_count; i++)
    why_buffer_print(&text, ", %s %s", NO[below(from, 3)], text_of(from, asked->without[i].id));
  for (size_t i = 0; i < asked->avoid_count; i++)
    why_buffer_print(&text, ". %s", text_of(from, asked->avoid[i]));
  if (asked->declined)
    why_buffer_print(&text, ". anything but %s", text_of(from, asked->declined));
  if (asked->beginner)
    why_buffer_add(&text, ". beginner");
  return why_buffer_text(&text);
}

static why_status tell_apart(why_query* query, const asker* from, const question* asked) {
  unsigned status = WHY_OK;
  status |= asked->replaced ? why_query_set(query, WHY_REPLACE, text_of(from, asked->replaced))
                            : why_query_set(query, WHY_GOAL, text_of(from, asked->goals[0]));
  for (size_t i = 0; i < asked->have_count; i++)
    status |= why_query_add(query, WHY_HAVE, text_of(from, asked->have[i].id));
  for (size_t i = 0; i < asked->without_count; i++)
    status |= why_query_add(query, WHY_WITHOUT, text_of(from, asked->without[i].id));
  for (size_t i = 0; i < asked->avoid_count; i++)
    status |= why_query_add(query, WHY_AVOID, text_of(from, asked->avoid[i]));
  if (asked->beginner)
    status |= why_query_set(query, WHY_LEVEL, "beginner");
  return (why_status)status;
}

/// What is at hand, by plain reckoning.
static kit kit_of(const asker* from, const question* asked) {
  kit all = {.equipment = &from->ground->tables->equipment};
  for (size_t i = 0; i < asked->have_count; i++) {
    const why_thing* thing = &asked->have[i];
    const why_equipment_place* place = why_equipment_place_find(all.equipment, thing->id);
    if (thing->kind == WHY_MEANS_ITEM)
      kit_add_item(&all, thing->id);
    else if (thing->kind == WHY_MEANS_KIND)
      kit_add_kind(&all, thing->id);
    else if (place)
      kit_add_place(&all, asked->spoken && place->bare && asked->have_count > 1 ? place->bare
                                                                                : thing->id);
  }
  if (!asked->have_count)
    kit_add_place(&all, why_symbols_find(from->ground->symbols, WHY_PLACE_USUAL));
  for (size_t i = 0; i < asked->without_count; i++)
    asked->without[i].kind == WHY_MEANS_ITEM ? kit_rule_out_item(&all, asked->without[i].id)
                                             : kit_rule_out_kind(&all, asked->without[i].id);
  kit_close(&all);
  return all;
}

static bool has_symbol(const why_symbol_list* list, why_symbol id) {
  for (size_t i = 0; i < list->count; i++)
    if (list->at[i] == id)
      return true;
  return false;
}

/// What is to be avoided, with all that it includes.
static why_symbol_list avoided(const asker* from, const question* asked) {
  why_symbol_list all = {0};
  for (size_t i = 0; i < asked->avoid_count; i++)
    *WHY_LIST_ADD(from->arena, all) = asked->avoid[i];
  for (size_t i = 0; i < all.count; i++) {
    const why_restriction* row =
        why_restriction_find(&from->ground->tables->restrictions, all.at[i]);
    for (size_t k = 0; row && k < row->implies.count; k++)
      if (!has_symbol(&all, row->implies.at[k]))
        *WHY_LIST_ADD(from->arena, all) = row->implies.at[k];
  }
  return all;
}

static bool is_danger(const asker* from, const why_symbol_list* avoid) {
  for (size_t i = 0; i < avoid->count; i++) {
    const why_restriction* row =
        why_restriction_find(&from->ground->tables->restrictions, avoid->at[i]);
    if (row && row->kind == WHY_RESTRICTION_DANGER)
      return true;
  }
  return false;
}

/// Whether a test of a caution can be told from the exercise's own row alone.
static bool row_fails(const why_caution_test* test, const why_exercise* exercise) {
  if (test->kind == WHY_TEST_TAG)
    return !has_symbol(&exercise->restricted, test->subject);
  if (test->kind == WHY_TEST_PATTERN)
    return exercise->pattern != test->subject;
  return true;
}

/// Whether a caution says that the exercise is to be left out, as far as its own row tells.
static bool is_barred(const asker* from, const why_symbol_list* avoid,
                      const why_exercise* exercise) {
  const why_restrictions* table = &from->ground->tables->restrictions;
  for (size_t i = 0; i < exercise->restricted.count; i++)
    if (has_symbol(avoid, exercise->restricted.at[i]))
      return true;
  for (size_t i = 0; i < table->cautions.count; i++) {
    const why_caution* caution = &table->cautions.at[i];
    if (caution->effect != WHY_EFFECT_AVOID || !has_symbol(avoid, caution->condition))
      continue;
    for (unsigned way = 1; way <= caution->tests.count; way++) {
      bool some = false, all = true;
      for (size_t k = 0; k < caution->tests.count; k++) {
        if (caution->tests.at[k].way != way)
          continue;
        some = true;
        all = all && !row_fails(&caution->tests.at[k], exercise);
      }
      if (some && all)
        return true;
    }
  }
  return false;
}

static const char* fault_of(const asker* from, const question* asked, const kit* all,
                            const why_symbol_list* avoid, const char* id) {
  const why_exercise* exercise = why_exercise_find(&from->ground->tables->exercises,
                                                   why_symbols_find(from->ground->symbols, id));
  if (!exercise)
    return "is not in the catalogue";
  if (is_danger(from, avoid))
    return "stands beside a sign of danger";
  if (!kit_can_set_up(all, exercise))
    return "needs what is not at hand";
  if (is_barred(from, avoid, exercise))
    return "asks for what must be avoided";
  if (asked->spoken && exercise->id == asked->declined)
    return "was declined";
  return NULL;
}

/// Ask; returns what is wrong, or NULL. `*picks` counts what was looked at.
static const char* look_at(asker* from, const question* asked, const char* sentence,
                           size_t* picks) {
  why_query* query = why_query_new(from->knowledge);
  why_answer* answer = NULL;
  why_status status =
      asked->spoken ? why_query_ask(query, sentence) : tell_apart(query, from, asked);
  if (status == WHY_OK)
    status = why_query_set(query, WHY_TOP, "all");
  why_task task = asked->spoken ? WHY_ASK : asked->replaced ? WHY_SWAP : WHY_PICK;
  if (status == WHY_OK)
    status = why_run(query, task, &answer);
  const char* fault =
      status == WHY_OK || status == WHY_NO_PICK ? NULL : "the question was not understood";
  kit all = kit_of(from, asked);
  why_symbol_list avoid = avoided(from, asked);
  for (size_t i = 0; !fault && i < why_answer_count(answer); i++) {
    const char* id = why_answer_at(answer, i).exercise;
    const char* wrong = fault_of(from, asked, &all, &avoid, id);
    if (wrong)
      fault = why_arena_print(from->arena, "%s %s", id, wrong);
    ++*picks;
  }
  why_answer_free(answer);
  why_query_free(query);
  return fault;
}

static const char* described(asker* from, const question* asked) {
  return why_arena_print(from->arena, "%s: %s", asked->spoken ? "ask" : "set",
                         sentence_of(from, asked));
}

static void run(asker* from, size_t count, size_t* good, size_t* bad, size_t* picks) {
  for (size_t i = 0; i < count; i++) {
    from->arena = why_arena_new(0);
    question asked = draw(from);
    asked.spoken = asked.spoken && can_be_said(from, &asked);
    const char* sentence = sentence_of(from, &asked);
    const char* fault = look_at(from, &asked, sentence, picks);
    if (fault && ++*bad <= FAULTS_SHOWN)
      printf("%s\n    %s\n", described(from, &asked), fault);
    *good += !fault;
    why_arena_free(from->arena);
  }
}

int main(int argc, char** argv) {
  size_t count = argc > 1 ? (size_t)strtoul(argv[1], NULL, 10) : 0;
  asker from = {.state = argc > 2 ? strtoull(argv[2], NULL, 10) : 1};
  why_problems* problems = why_problems_new();
  why_arena* arena = why_arena_new(0);
  why_problems* more = NULL;
  size_t good = 0, bad = 0, picks = 0;
  why_read_settings settings = {0};
  if (why_ground_open(WHY_HOME, &settings, arena, problems, &from.ground) == WHY_OK &&
      why_knowledge_open(WHY_HOME, NULL, &from.knowledge, &more) == WHY_OK)
    run(&from, count, &good, &bad, &picks);
  else
    bad++;
  why_knowledge_free(from.knowledge);
  why_problems_free(more);
  why_problems_free(problems);
  why_arena_free(arena);
  bad += good > 0 && picks < good; // questions without picks would show nothing
  printf("%zu passed, %zu failed\n", good, bad);
  return bad > 0 || !good;
}
