// SPDX-License-Identifier: GPL-3.0-or-later
#include "drafting.h"

#include <string.h>

static why_status from_table(const why_question* question, const why_drafting** drafting) {
  why_buffer xml = {.arena = question->arena};
  why_cell_origins origins = {0};
  if (why_study_table_read(question->findings_file, question->findings, strlen(question->findings),
                           question->arena, question->problems, &xml, &origins) != WHY_OK)
    return WHY_QUESTION;
  why_drafting* made = WHY_NEW(question->arena, why_drafting);
  *made = (why_drafting){.question = question, .xml = why_buffer_text(&xml)};
  *drafting = made;
  return WHY_OK;
}

why_status why_drafting_run(const why_question* question, const why_drafting** drafting) {
  if (question->findings)
    return from_table(question, drafting);
  why_draft* draft = NULL;
  const why_ground* ground = question->ground;
  why_status status = why_draft_new(ground->tables, ground->words, question->text, question->arena,
                                    question->problems, &draft);
  if (status != WHY_OK)
    return status;
  why_drafting* made = WHY_NEW(question->arena, why_drafting);
  *made = (why_drafting){
      .question = question, .draft = draft, .xml = why_draft_xml(draft, question->arena)};
  *drafting = made;
  return WHY_OK;
}

why_status why_tabling_run(const why_question* question, const why_tabling** tabling) {
  const why_tables* tables = question->ground->tables;
  why_tabling* made = WHY_NEW(question->arena, why_tabling);
  *made =
      (why_tabling){.question = question,
                    .sheet = why_study_sheet_of(why_study_find(&tables->studies, question->study),
                                                tables->symbols, question->arena)};
  *tabling = made;
  return WHY_OK;
}
