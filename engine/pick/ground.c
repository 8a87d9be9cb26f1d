// SPDX-License-Identifier: GPL-3.0-or-later
// From a folder to a ground: read, compile the rules, state the facts, reason as far as possible.
#include "ground.h"

#include "body/body.h"

static why_status reason_through(why_ground* ground, why_arena* arena, why_problems* problems) {
  why_base* base = why_base_new(ground->program, ground->symbols, arena, NULL);
  why_giver giver = {.tables = ground->tables,
                     .program = ground->program,
                     .base = base,
                     .symbols = ground->symbols,
                     .arena = arena,
                     .problems = problems};
  why_given_fill(&giver);
  why_status status = why_problems_status(problems);
  if (status == WHY_OK)
    status = why_base_run(base, problems);
  ground->base = base;
  return status;
}

why_status why_ground_open(const char* folder, const why_read_settings* settings, why_arena* arena,
                           why_problems* problems, const why_ground** ground) {
  why_tables* tables = NULL;
  why_status status = why_tables_open(folder, settings, arena, problems, &tables);
  if (status == WHY_OK)
    status = why_body_check(tables, problems);
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
    made->phrases = why_phrases_new(arena, tables, made->words);
    made->studied = why_program_leading_to(made->program, "study", arena);
    status = reason_through(made, arena, problems);
  }
  why_problems_sort(problems);
  if (status == WHY_OK)
    *ground = made;
  return status;
}
