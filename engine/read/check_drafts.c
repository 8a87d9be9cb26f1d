// SPDX-License-Identifier: GPL-3.0-or-later
// Checks that keep drafts out of answers, and of the forms that drafts are read by.
#include "draft_form.h"
#include "evidence_checks.h"
#include "study_write.h"
#include "tables.h"

#include <string.h>

static void check_mark(const why_inspection* inspection, const why_study* study) {
  if (!study->draft.file)
    return;
  why_inspection_report(inspection, study->draft, "the study is a draft that nobody has confirmed");
  why_problems_hint(inspection->problems,
                    "compare it with its text, mend it, then take the element <draft> out");
}

static void study_draft(const why_inspection* inspection) {
  why_each_study(inspection, check_mark);
}

static void need_word(const why_inspection* inspection, why_symbol word, const char* what,
                      why_place place) {
  if (strcmp(why_inspection_text(inspection, word), WHY_TO_CONFIRM) != 0)
    return;
  why_inspection_report(inspection, place, "the %s is still to confirm", what);
  why_problems_hint(inspection->problems, "write the word that the paper bears out");
}

static void check_words(const why_inspection* inspection, const why_study* study) {
  need_word(inspection, study->design, "design", study->place);
  need_word(inspection, study->sex, "sex of the people", study->place);
  for (size_t i = 0; i < study->arms.count; i++)
    for (size_t k = 0; k < study->arms.at[i].trained.count; k++)
      need_word(inspection, study->arms.at[i].trained.at[k].fit, "fit",
                study->arms.at[i].trained.at[k].place);
  for (size_t i = 0; i < study->results.count; i++) {
    need_word(inspection, study->results.at[i].site, "site", study->results.at[i].place);
    need_word(inspection, study->results.at[i].unit, "unit", study->results.at[i].place);
  }
  for (size_t i = 0; i < study->contrasts.count; i++) {
    need_word(inspection, study->contrasts.at[i].site, "site", study->contrasts.at[i].place);
    need_word(inspection, study->contrasts.at[i].favours, "arm that is favoured",
              study->contrasts.at[i].place);
  }
}

static void study_to_confirm(const why_inspection* inspection) {
  why_each_study(inspection, check_words);
}

/// It could not be compiled when it was read; once more, to be told why.
static void refuse_pattern(const why_inspection* inspection, const char* pattern, bool by_case,
                           why_place place) {
  why_abstracts_compile(inspection->scratch, pattern, by_case, inspection->problems, place);
}

static void form_pattern(const why_inspection* inspection) {
  const why_abstracts* abstracts = &inspection->tables->abstracts;
  for (size_t i = 0; i < abstracts->forms.count; i++)
    if (!abstracts->forms.at[i].regex)
      refuse_pattern(inspection, abstracts->forms.at[i].pattern, abstracts->forms.at[i].by_case,
                     abstracts->forms.at[i].place);
  for (size_t i = 0; i < abstracts->tellings.count; i++)
    if (!abstracts->tellings.at[i].regex)
      refuse_pattern(inspection, abstracts->tellings.at[i].pattern, false,
                     abstracts->tellings.at[i].place);
}

static void form_twice(const why_inspection* inspection) {
  const why_abstracts* abstracts = &inspection->tables->abstracts;
  for (size_t i = 0; i < abstracts->forms.count; i++)
    for (size_t k = 0; k < i; k++)
      if (abstracts->forms.at[k].id == abstracts->forms.at[i].id) {
        why_inspection_report(inspection, abstracts->forms.at[i].place,
                              "the form %s is defined twice",
                              why_inspection_text(inspection, abstracts->forms.at[i].id));
        why_problems_also(inspection->problems, abstracts->forms.at[k].place);
      }
}

/// Whether the form takes a number of its example, after the forms before it.
static bool reads_example(const why_inspection* inspection, const why_form* form) {
  why_arena* arena = inspection->scratch;
  why_sentences sentences = why_draft_sentences(arena, why_draft_mend(arena, form->example));
  why_draft_lexed lexed = why_draft_lex(arena, &sentences);
  why_draft_found_list found = why_draft_apply(&inspection->tables->abstracts, &lexed, arena);
  for (size_t i = 0; i < found.count; i++)
    if (found.at[i].form == form)
      return true;
  return false;
}

static void form_example(const why_inspection* inspection) {
  const why_abstracts* abstracts = &inspection->tables->abstracts;
  for (size_t i = 0; i < abstracts->forms.count; i++)
    if (!reads_example(inspection, &abstracts->forms.at[i]))
      why_inspection_report(inspection, abstracts->forms.at[i].place,
                            "the form %s does not read its own example",
                            why_inspection_text(inspection, abstracts->forms.at[i].id));
}

why_check_rows why_draft_checks = {
    {"study-draft", WHY_ERROR, study_draft, NULL, "No study is a draft that nobody has confirmed."},
    {"study-to-confirm", WHY_ERROR, study_to_confirm, NULL,
     "No word of a study is still to confirm."},
    {"form-pattern", WHY_ERROR, form_pattern, NULL,
     "What abstracts are read by are regular expressions."},
    {"form-twice", WHY_ERROR, form_twice, NULL, "No two forms of abstracts have one id."},
    {"form-example", WHY_ERROR, form_example, "form-pattern",
     "Every form of abstracts reads its own example."},
    {0}};
