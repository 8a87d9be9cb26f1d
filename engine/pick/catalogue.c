// SPDX-License-Identifier: GPL-3.0-or-later
// Counting and listing the rows of the tables.
#include "catalogue.h"

#include "body/body.h"

#include <stdlib.h>
#include <string.h>

static void tally(why_arena* arena, why_tallies* tallies, const char* what, size_t count) {
  for (size_t i = 0; i < tallies->count; i++) {
    if (strcmp(tallies->at[i].what, what) == 0) {
      tallies->at[i].count += count;
      return;
    }
  }
  *WHY_LIST_ADD(arena, *tallies) = (why_tally){.what = what, .count = count};
}

static int most_first(const void* left, const void* right) {
  const why_tally* a = left;
  const why_tally* b = right;
  if (a->count != b->count)
    return a->count > b->count ? -1 : 1;
  return strcmp(a->what, b->what);
}

static void sort_tallies(why_tallies* tallies) {
  if (tallies->count)
    qsort(tallies->at, tallies->count, sizeof *tallies->at, most_first);
}

static void count_studies(const why_tables* tables, why_arena* arena, why_tallies* things) {
  size_t arms = 0;
  size_t results = 0;
  size_t contrasts = 0;
  for (size_t i = 0; i < tables->studies.rows.count; i++) {
    arms += tables->studies.rows.at[i].arms.count;
    results += tables->studies.rows.at[i].results.count;
    contrasts += tables->studies.rows.at[i].contrasts.count;
  }
  tally(arena, things, "studies", tables->studies.rows.count);
  tally(arena, things, "study arms", arms);
  tally(arena, things, "results", results);
  tally(arena, things, "contrasts", contrasts);
  tally(arena, things, "reviews", tables->reviews.rows.count);
}

static void count_things(const why_tables* tables, why_arena* arena, why_tallies* things) {
  tally(arena, things, "files", tables->file_count);
  tally(arena, things, "heads", tables->anatomy.heads.count);
  tally(arena, things, "groups", tables->anatomy.groups.count);
  tally(arena, things, "actions", tables->anatomy.actions.count);
  tally(arena, things, "exercises", tables->exercises.rows.count);
  tally(arena, things, "items of equipment", tables->equipment.items.count);
  tally(arena, things, "places", tables->equipment.places.count);
  tally(arena, things, "restrictions", tables->restrictions.restrictions.count);
  tally(arena, things, "cautions", tables->restrictions.cautions.count);
  count_studies(tables, arena, things);
  tally(arena, things, "measured or chosen quantities", tables->measurements.quantities.count);
  tally(arena, things, "sources that are no trials", tables->measurements.sources.count);
  tally(arena, things, "relations", tables->reasoning.relations.count);
  tally(arena, things, "rules", tables->reasoning.rules.count);
}

const why_summary* why_summary_new(const why_ground* ground, why_arena* arena,
                                   why_problems* problems) {
  why_summary* made = WHY_NEW(arena, why_summary);
  made->ground = ground;
  count_things(ground->tables, arena, &made->things);
  const why_census* census = &ground->tables->census;
  for (size_t i = 0; i < census->bases.count; i++) {
    const char* basis = why_symbols_text(ground->symbols, census->bases.at[i].basis);
    tally(arena, &made->bases, *basis ? basis : "of structure (counts, limits, positions)",
          census->bases.at[i].numbers);
  }
  for (size_t i = 0; i < census->left_out.count; i++) {
    const why_census_left_out* each = &census->left_out.at[i];
    tally(
        arena, &made->left_out,
        why_arena_print(arena, "%s: %s", why_symbols_text(ground->symbols, each->kind), each->why),
        1);
  }
  made->idle = why_idle_find(ground, arena, problems);
  sort_tallies(&made->bases);
  sort_tallies(&made->left_out);
  return made;
}

static void list(const why_question* question, why_listing* listing, why_symbol id,
                 const char* kind, const char* more) {
  const why_ground* ground = question->ground;
  const char* text = why_symbols_text(ground->symbols, id);
  *WHY_LIST_ADD(question->arena, listing->rows) = (why_listed){
      .id = text, .name = why_ground_name(ground, question->arena, kind, text), .more = more};
}

static const char* text_of(const why_question* question, why_symbol symbol) {
  return why_symbols_text(question->ground->symbols, symbol);
}

static void list_exercises(const why_question* question, why_listing* listing) {
  const why_exercise_table* table = &question->ground->tables->exercises;
  for (size_t i = 0; i < table->rows.count; i++)
    list(question, listing, table->rows.at[i].id, "exercise",
         text_of(question, table->rows.at[i].pattern));
}

static void list_heads(const why_question* question, why_listing* listing) {
  const why_anatomy* anatomy = &question->ground->tables->anatomy;
  for (size_t i = 0; i < anatomy->heads.count; i++)
    list(question, listing, anatomy->heads.at[i].id, "head",
         text_of(question, anatomy->heads.at[i].group));
}

static void list_groups(const why_question* question, why_listing* listing) {
  const why_anatomy* anatomy = &question->ground->tables->anatomy;
  for (size_t i = 0; i < anatomy->groups.count; i++)
    list(question, listing, anatomy->groups.at[i].id, "group", "");
}

static void list_actions(const why_question* question, why_listing* listing) {
  const why_anatomy* anatomy = &question->ground->tables->anatomy;
  for (size_t i = 0; i < anatomy->actions.count; i++)
    list(question, listing, anatomy->actions.at[i].id, "action", "");
}

static void list_equipment(const why_question* question, why_listing* listing) {
  const why_equipment* equipment = &question->ground->tables->equipment;
  for (size_t i = 0; i < equipment->items.count; i++)
    list(question, listing, equipment->items.at[i].id, "item",
         text_of(question, equipment->items.at[i].kind));
}

static void list_places(const why_question* question, why_listing* listing) {
  const why_equipment* equipment = &question->ground->tables->equipment;
  for (size_t i = 0; i < equipment->places.count; i++)
    list(question, listing, equipment->places.at[i].id, "place", "");
}

static void list_restrictions(const why_question* question, why_listing* listing) {
  const why_restrictions* table = &question->ground->tables->restrictions;
  for (size_t i = 0; i < table->restrictions.count; i++)
    list(question, listing, table->restrictions.at[i].id, "restriction",
         why_restriction_kind_name(table->restrictions.at[i].kind));
}

static void list_studies(const why_question* question, why_listing* listing) {
  const why_study_table* table = &question->ground->tables->studies;
  for (size_t i = 0; i < table->rows.count; i++) {
    why_listed* made = WHY_LIST_ADD(question->arena, listing->rows);
    const why_study* study = &table->rows.at[i];
    *made = (why_listed){
        .id = text_of(question, study->id), .name = study->title, .more = study->journal};
  }
}

static void list_rules(const why_question* question, why_listing* listing) {
  listing->rules = why_rulebook_new(question->ground, question->arena);
}

static void list_relations(const why_question* question, why_listing* listing) {
  const why_reasoning* table = &question->ground->tables->reasoning;
  for (size_t i = 0; i < table->relations.count; i++)
    *WHY_LIST_ADD(question->arena, listing->rows) =
        (why_listed){.id = text_of(question, table->relations.at[i].name),
                     .name = table->relations.at[i].about,
                     .more = table->relations.at[i].assumable ? "a question can assume it" : ""};
}

static void list_check(const why_question* question, why_listing* listing, const why_check* check) {
  *WHY_LIST_ADD(question->arena, listing->rows) =
      (why_listed){.id = check->name, .name = check->what, .more = ""};
}

static void list_checks(const why_question* question, why_listing* listing) {
  for (size_t i = 0; why_checks_at(i); i++)
    list_check(question, listing, why_checks_at(i));
  for (size_t i = 0; why_body_checks_at(i); i++)
    list_check(question, listing, why_body_checks_at(i));
}

typedef struct {
  const char* kind;
  void (*run)(const why_question* question, why_listing* listing);
} kind_row;

static const kind_row KINDS[] = {
    {"actions", list_actions},
    {"checks", list_checks},
    {"equipment", list_equipment},
    {"exercises", list_exercises},
    {"groups", list_groups},
    {"heads", list_heads},
    {"places", list_places},
    {"relations", list_relations},
    {"restrictions", list_restrictions},
    {"rules", list_rules},
    {"studies", list_studies},
};

enum { KIND_COUNT = sizeof KINDS / sizeof *KINDS };

static int by_id(const void* left, const void* right) {
  return strcmp(((const why_listed*)left)->id, ((const why_listed*)right)->id);
}

static void list_kinds(const why_question* question, why_listing* listing) {
  for (size_t i = 0; i < KIND_COUNT; i++)
    *WHY_LIST_ADD(question->arena, listing->rows) =
        (why_listed){.id = KINDS[i].kind, .name = "", .more = ""};
}

why_status why_listing_run(const why_question* question, why_listing** listing) {
  why_listing* made = WHY_NEW(question->arena, why_listing);
  made->ground = question->ground;
  made->kind = *question->list ? question->list : "kinds";
  *listing = made;
  if (!*question->list) {
    list_kinds(question, made);
    return WHY_OK;
  }
  for (size_t i = 0; i < KIND_COUNT; i++) {
    if (strcmp(question->list, KINDS[i].kind) != 0)
      continue;
    KINDS[i].run(question, made);
    if (made->rows.count)
      qsort(made->rows.at, made->rows.count, sizeof *made->rows.at, by_id);
    return WHY_OK;
  }
  why_problems_add(question->problems, WHY_ERROR, "list", (why_place){0},
                   "there is no list of this kind: \"%.*s\"",
                   why_text_fit(question->list, WHY_SHOWN_LIMIT), question->list);
  why_problems_hint(question->problems, "whylift list shows the kinds");
  return WHY_QUESTION;
}
