// SPDX-License-Identifier: GPL-3.0-or-later
#include "drafting.h"

why_status why_drafting_run(const why_question* question, const why_drafting** drafting) {
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
