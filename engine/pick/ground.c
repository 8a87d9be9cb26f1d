// SPDX-License-Identifier: GPL-3.0-or-later
// From a folder to a ground: read, compile the rules, state the facts, reason as far as possible.
#include "ground.h"

#include "typical.h"

#include "body/body.h"

#include <string.h>

/// Facts of `relation` will be found by exercise.
static void expect(why_ground* ground, why_base* base, why_relation relation) {
  int slot = why_program_slot(ground->program, relation, "exercise");
  if (slot >= 0)
    why_base_expect(base, relation, 1U << slot);
}

static void add_shown(why_ground* ground, why_arena* arena, const char* part,
                      why_relation relation) {
  size_t i = 0;
  while (i < ground->shown.count && strcmp(ground->shown.at[i].part, part) != 0)
    i++;
  if (i == ground->shown.count)
    *WHY_LIST_ADD(arena, ground->shown) = (why_shown){.part = part};
  *WHY_LIST_ADD(arena, ground->shown.at[i].relations) = relation;
}

/// What an answer shows, from a question that assumes nothing; relations that no rule declares are
/// passed over.
static void read_shown(why_ground* ground, why_base* base, why_arena* arena) {
  static const char* const ALWAYS[] = {"certain-here", "effective", "serves"};
  why_relation shows = why_program_find(ground->program, "shows");
  why_overlay* overlay = why_overlay_new(base, why_arena_scratch(arena), NULL);
  why_facts facts = {0};
  if (shows != WHY_NO_RELATION)
    facts = why_facts_find(overlay, shows, 0, NULL);
  for (size_t i = 0; i < facts.count; i++) {
    const char* part = why_symbols_text(ground->symbols, why_fact_symbol(overlay, facts.at[i], 0));
    const char* name = why_symbols_text(ground->symbols, why_fact_symbol(overlay, facts.at[i], 1));
    why_relation relation = why_program_find(ground->program, name);
    if (relation == WHY_NO_RELATION)
      continue;
    add_shown(ground, arena, part, relation);
    expect(ground, base, relation);
  }
  for (size_t i = 0; i < sizeof ALWAYS / sizeof *ALWAYS; i++) {
    why_relation relation = why_program_find(ground->program, ALWAYS[i]);
    if (relation != WHY_NO_RELATION)
      expect(ground, base, relation);
  }
}

static why_holder** places_for_pictures(const why_tables* tables, why_arena* arena) {
  size_t count = tables->exercises.rows.count;
  why_holder** made = WHY_NEW_ARRAY(arena, why_holder*, count);
  for (size_t i = 0; i < count; i++)
    made[i] = why_arena_holder(arena);
  return made;
}

static why_status reason_through(why_ground* ground, why_arena* arena, why_problems* problems) {
  why_base* base = why_base_new(ground->program, ground->symbols, arena, NULL);
  why_giver giver = {.tables = ground->tables,
                     .program = ground->program,
                     .base = base,
                     .symbols = ground->symbols,
                     .arena = why_arena_scratch(arena),
                     .problems = problems};
  why_given_fill(&giver);
  why_status status = why_problems_status(problems);
  if (status == WHY_OK)
    status = why_base_run(base, problems);
  ground->base = base;
  if (status == WHY_OK) {
    why_typical_teach(ground, base, why_arena_scratch(arena));
    read_shown(ground, base, arena);
    why_base_lay_out(base);
    ground->behind = why_behind_new(base, ground->program, ground->tables, arena);
  }
  ground->outlook = giver.outlook;
  return status;
}

why_status why_ground_open(const char* folder, const why_read_settings* settings, why_arena* arena,
                           why_problems* problems, const why_ground** ground) {
  why_tables* tables = NULL;
  why_status status = why_tables_open(folder, settings, arena, problems, &tables);
  if (status == WHY_OK)
    status = why_body_check(tables, problems);
  if (status == WHY_QUESTION)
    return status;
  why_ground* made = WHY_NEW(arena, why_ground);
  if (status == WHY_OK || status == WHY_KNOWLEDGE) {
    // Rules are compiled even after errors elsewhere, so that one run reports them all.
    *made = (why_ground){.tables = tables, .symbols = tables->symbols};
    why_status compiled =
        why_program_compile(&tables->reasoning, tables->symbols, arena, problems, &made->program);
    status = status == WHY_OK ? compiled : status;
  }
  if (status == WHY_OK) {
    made->words = why_words_new(arena, tables);
    made->pictures = places_for_pictures(tables, arena);
    made->phrases = why_phrases_new(arena, tables, made->words);
    status = reason_through(made, arena, problems);
  }
  why_problems_sort(problems);
  if (status == WHY_OK)
    *ground = made;
  return status;
}
