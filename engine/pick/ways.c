// SPDX-License-Identifier: GPL-3.0-or-later
// What would make an exercise a pick: sets of changes to what the question assumes. Which
// assumptions a person could change stands in the rules (relation "change"), in which sense a
// change of them can help is read off the rules too, and whether a set does is found by asking
// again. Sets that make the exercise possible are found without gap (repair.c); each of them is
// then asked whether the exercise is a pick among all others that the same changes bring.
#include "absence.h"

#include <stdlib.h>
#include <string.h>

enum { SETS_TRIED = 200 }; ///< Sets that are asked whether they make a pick.

/// A change: a fact that is assumed in addition, or no longer.
typedef struct {
  why_relation relation;
  why_symbol value;
  bool drop;
  bool named; ///< The exercise itself names what is changed; nothing stands in for it.
  const char* words;
  const char* kind;
} change;

/// What the question assumes.
typedef struct {
  why_relation relation;
  why_value values[WHY_SLOTS_LIMIT];
} assumed;

typedef struct {
  const why_picked* answer;
  why_symbol exercise;
  why_relation possible;
  WHY_LIST(assumed) assumed;
  WHY_LIST(change) changes;
  why_relation level; ///< Changed by putting another value in its place; or WHY_NO_RELATION.
  const char* level_words;
} search;

static const char* text_of(const search* run, why_symbol symbol) {
  return why_symbols_text(why_overlay_symbols(run->answer->overlay), symbol);
}

static const why_program* program_of(const search* run) {
  return run->answer->question->ground->program;
}

// ---- asking again ----

/// The values of a fact for another overlay, whose names have other numbers.
static void assume(const search* run, why_overlay* overlay, why_relation relation,
                   const why_value* values) {
  const why_relation_info* info = why_program_relation(program_of(run), relation);
  why_value copied[WHY_SLOTS_LIMIT] = {{0}};
  for (unsigned i = 0; i < info->slot_count; i++)
    copied[i] = info->slots[i].type == WHY_SLOT_SYMBOL
                    ? why_value_of_symbol(why_symbols_add(
                          why_overlay_symbols(overlay), text_of(run, why_value_symbol(values[i]))))
                    : values[i];
  why_overlay_assume(overlay, relation, copied);
}

static bool is_dropped(const search* run, const assumed* fact, const bool* made) {
  for (size_t i = 0; i < run->changes.count; i++)
    if (made[i] && run->changes.at[i].drop && run->changes.at[i].relation == fact->relation &&
        why_value_symbol(fact->values[0]) == run->changes.at[i].value)
      return true;
  return false;
}

/// The question with changes made and, unless `level` is NULL, another level, in `arena`.
static why_overlay* ask_again(const search* run, why_arena* arena, const bool* made,
                              const char* level) {
  const why_question* question = run->answer->question;
  why_overlay* overlay = why_overlay_new(question->ground->base, arena, NULL);
  for (size_t i = 0; i < run->assumed.count; i++) {
    const assumed* fact = &run->assumed.at[i];
    if (!is_dropped(run, fact, made) && !(level && fact->relation == run->level))
      assume(run, overlay, fact->relation, fact->values);
  }
  for (size_t i = 0; i < run->changes.count; i++) {
    const why_value value = why_value_of_symbol(run->changes.at[i].value);
    if (made[i] && !run->changes.at[i].drop)
      assume(run, overlay, run->changes.at[i].relation, &value);
  }
  if (level) {
    const why_value value =
        why_value_of_symbol(why_symbols_add(why_overlay_symbols(overlay), level));
    why_overlay_assume(overlay, run->level, &value);
  }
  why_overlay_open(overlay, question->problems);
  return overlay;
}

static bool is_possible(void* user, const bool* made) {
  search* run = user;
  why_arena* arena = why_arena_branch(run->answer->arena);
  why_overlay* overlay = ask_again(run, arena, made, NULL);
  int slot = why_program_slot(program_of(run), run->possible, "exercise");
  why_value values[WHY_SLOTS_LIMIT] = {{0}};
  values[slot] = why_value_of_symbol(run->exercise);
  bool holds = why_facts_exist(overlay, run->possible, 1u << slot, values);
  why_arena_free(arena);
  return holds;
}

static size_t place_after(const search* run, const bool* made, const char* level) {
  why_arena* arena = why_arena_branch(run->answer->arena);
  size_t place = why_pick_place(run->answer->question->ground, ask_again(run, arena, made, level),
                                run->exercise);
  why_arena_free(arena);
  return place;
}

// ---- which changes there are ----

static void gather_assumed(search* run) {
  const why_program* program = program_of(run);
  why_overlay* overlay = run->answer->overlay;
  for (why_relation r = 0; r < why_program_relation_count(program); r++) {
    const why_relation_info* info = why_program_relation(program, r);
    why_facts facts = info->assumable ? why_facts_find(overlay, r, 0, NULL) : (why_facts){0};
    for (size_t i = 0; i < facts.count; i++) {
      const why_proof* proof = why_proof_best(overlay, facts.at[i]);
      if (!proof || proof->step.rule)
        continue;
      assumed* made = WHY_LIST_ADD(run->answer->arena, run->assumed);
      made->relation = r;
      memcpy(made->values, why_fact_values(overlay, facts.at[i]),
             info->slot_count * sizeof *made->values);
    }
  }
}

static bool names_item(const search* run, why_symbol item) {
  const why_exercise* row =
      why_exercise_find(&run->answer->question->ground->tables->exercises, run->exercise);
  for (size_t i = 0; row && i < row->needs.count; i++)
    for (size_t k = 0; k < row->needs.at[i].items.count; k++)
      if (row->needs.at[i].items.at[k] == item)
        return true;
  return false;
}

static void add_change(search* run, change made) {
  *WHY_LIST_ADD(run->answer->arena, run->changes) = made;
}

/// Every item can be got in addition; every assumed fact can be dropped.
static void add_changes(search* run, change like) {
  const why_equipment* equipment = &run->answer->question->ground->tables->equipment;
  if (!like.drop && strcmp(like.kind, "item") == 0) {
    for (size_t i = 0; i < equipment->items.count; i++) {
      like.value = equipment->items.at[i].id;
      like.named = names_item(run, like.value);
      add_change(run, like);
    }
  }
  for (size_t i = 0; like.drop && i < run->assumed.count; i++) {
    like.value = why_value_symbol(run->assumed.at[i].values[0]);
    like.named = true;
    if (run->assumed.at[i].relation == like.relation)
      add_change(run, like);
  }
}

/// The changes that the rules name, each in the sense in which it can only help.
static void gather_changes(search* run) {
  const why_program* program = program_of(run);
  why_overlay* overlay = run->answer->overlay;
  why_relation open = why_program_find(program, "change");
  if (open == WHY_NO_RELATION)
    return;
  const unsigned char* bearings = why_program_bearing(program, run->possible, run->answer->arena);
  why_facts facts = why_facts_find(overlay, open, 0, NULL);
  for (size_t i = 0; i < facts.count; i++) {
    why_relation relation =
        why_program_find(program, text_of(run, why_fact_symbol(overlay, facts.at[i], 0)));
    const char* words = text_of(run, why_fact_symbol(overlay, facts.at[i], 1));
    if (relation == WHY_NO_RELATION || !why_program_relation(program, relation)->assumable ||
        why_program_relation(program, relation)->slot_count != 1)
      continue;
    const char* kind = text_of(run, why_program_relation(program, relation)->slots[0].kind);
    change like = {.relation = relation, .words = words, .kind = kind};
    if (bearings[relation] == WHY_BEARS_FOR)
      add_changes(run, like);
    like.drop = true;
    if (bearings[relation] == WHY_BEARS_AGAINST)
      add_changes(run, like);
    if (relation == why_program_find(program, "level")) {
      run->level = relation;
      run->level_words = words;
    }
  }
}

// ---- the sets ----

static void add_alteration(const search* run, why_way* way, const change* from) {
  const char* relation = text_of(run, why_program_relation(program_of(run), from->relation)->name);
  *WHY_LIST_ADD(run->answer->arena, way->changes) =
      (why_alteration){.words = from->words,
                       .assumption = relation,
                       .kind = from->kind,
                       .id = text_of(run, from->value)};
}

/// "get barbell and weight plates; need not avoid deep knee flexion".
static const char* words_of(const search* run, const why_way* way) {
  const why_picked* answer = run->answer;
  why_buffer text = {.arena = answer->arena};
  for (size_t i = 0; i < way->changes.count; i++) {
    const why_alteration* each = &way->changes.at[i];
    const char* name =
        why_ground_name(answer->question->ground, answer->arena, each->kind, each->id);
    bool same = i && strcmp(way->changes.at[i - 1].words, each->words) == 0;
    if (same)
      why_buffer_print(&text, " and %s", name);
    else
      why_buffer_print(&text, "%s%s %s", i ? "; " : "", each->words, name);
  }
  return why_buffer_text(&text);
}

static bool* made_of(const search* run, const why_repair* set) {
  bool* made = WHY_NEW_ARRAY(run->answer->arena, bool, run->changes.count + 1);
  for (unsigned i = 0; i < set->count; i++)
    made[set->at[i]] = true;
  return made;
}

static why_way way_of(const search* run, const why_repair* set, const char* level, size_t place) {
  why_way way = {.number = place};
  for (unsigned i = 0; i < set->count; i++)
    add_alteration(run, &way, &run->changes.at[set->at[i]]);
  if (level)
    *WHY_LIST_ADD(run->answer->arena, way.changes) = (why_alteration){
        .words = run->level_words, .assumption = "level", .kind = "text", .id = level};
  way.say = words_of(run, &way);
  return way;
}

/// What is possible and still no pick may be one for somebody of another level.
static bool try_levels(const search* run, const why_repair* set, const bool* made,
                       why_absence* absence) {
  bool any = false;
  if (run->level == WHY_NO_RELATION || set->count == WHY_REPAIR_MOST)
    return false;
  for (size_t i = 0; why_question_level_at(i); i++) {
    const char* level = why_question_level_at(i);
    const char* now = run->answer->question->level;
    size_t place = now && strcmp(now, level) == 0 ? 0 : place_after(run, made, level);
    if (place) {
      why_way way = way_of(run, set, level, place);
      *WHY_LIST_ADD(run->answer->arena, absence->ways) = way;
    }
    any = any || place;
  }
  return any;
}

/// A set on its way through qsort: what the exercise itself names comes before stand-ins.
typedef struct {
  why_repair set;
  unsigned strange; ///< Changes that the exercise does not name.
  size_t number;    ///< Among those found.
} sorted_set;

static int by_ease(const void* left, const void* right) {
  const sorted_set* a = left;
  const sorted_set* b = right;
  if (a->set.count != b->set.count)
    return a->set.count < b->set.count ? -1 : 1;
  if (a->strange != b->strange)
    return a->strange < b->strange ? -1 : 1;
  return a->number < b->number ? -1 : 1;
}

static sorted_set* sort_sets(const search* run, const why_repairs* sets) {
  sorted_set* all = WHY_NEW_ARRAY(run->answer->arena, sorted_set, sets->count + 1);
  for (size_t i = 0; i < sets->count; i++) {
    all[i] = (sorted_set){.set = sets->at[i], .number = i};
    for (unsigned k = 0; k < sets->at[i].count; k++)
      all[i].strange += !run->changes.at[sets->at[i].at[k]].named;
  }
  if (sets->count)
    qsort(all, sets->count, sizeof *all, by_ease);
  return all;
}

static int by_size(const void* left, const void* right) {
  const why_way* a = left;
  const why_way* b = right;
  return (a->changes.count > b->changes.count) - (a->changes.count < b->changes.count);
}

void why_absence_ways(const why_picked* answer, why_symbol exercise, why_absence* absence) {
  const why_program* program = answer->question->ground->program;
  search run = {.answer = answer,
                .exercise = exercise,
                .possible = why_program_find(program, "possible"),
                .level = WHY_NO_RELATION};
  if (run.possible == WHY_NO_RELATION || answer->referrals.count ||
      why_program_slot(program, run.possible, "exercise") < 0)
    return;
  gather_assumed(&run);
  gather_changes(&run);
  why_repairs sets = {0};
  const why_repair_task task = {
      .count = run.changes.count, .holds = is_possible, .user = &run, .arena = answer->arena};
  absence->hopeless = !why_repairs_find(&task, &sets);
  absence->possible = sets.count == 1 && sets.at[0].count == 0;
  absence->cut = sets.count > SETS_TRIED;
  const sorted_set* sorted = sort_sets(&run, &sets);
  for (size_t i = 0; i < sets.count && i < SETS_TRIED; i++) {
    const bool* made = made_of(&run, &sorted[i].set);
    size_t place = place_after(&run, made, NULL);
    if (place) {
      why_way way = way_of(&run, &sorted[i].set, NULL, place);
      *WHY_LIST_ADD(answer->arena, absence->ways) = way;
    } else if (!try_levels(&run, &sorted[i].set, made, absence) && absence->vain++ == 0 &&
               sorted[i].set.count) {
      absence->vain_first = way_of(&run, &sorted[i].set, NULL, 0).say;
      absence->vain_failed =
          why_absence_failed(answer, ask_again(&run, answer->arena, made, NULL), exercise);
    }
  }
  // Levels make sets longer; otherwise the order stands.
  for (size_t i = 1; i < absence->ways.count; i++)
    for (size_t k = i; k > 0 && by_size(&absence->ways.at[k - 1], &absence->ways.at[k]) > 0; k--) {
      why_way kept = absence->ways.at[k];
      absence->ways.at[k] = absence->ways.at[k - 1];
      absence->ways.at[k - 1] = kept;
    }
}
