// SPDX-License-Identifier: GPL-3.0-or-later
// The order of drafting: mend, cut, find numbers, read forms, then people, arms, growth, tests; in
// the end every number has a use or a reason.
#include "draft.h"

#include "draft_form.h"
#include "draft_parts.h"
#include "xml.h"

#include <math.h>
#include <string.h>

static why_symbol name(const why_draft* draft, const char* text) {
  return why_symbols_add(draft->symbols, text);
}

static void init_study(why_draft* draft, why_arena* arena) {
  why_study* study = &draft->study;
  why_symbol unclear = name(draft, "unclear");
  *study = (why_study){.id = name(draft, "draft"),
                       .doi = "",
                       .pmid = "",
                       .pmc = "",
                       .link = "",
                       .title = WHY_TO_CONFIRM,
                       .title_as = name(draft, "unconfirmed"),
                       .journal = "",
                       .n = NAN,
                       .age = NAN,
                       .weeks = NAN,
                       .sessions_per_week = NAN,
                       .note = "",
                       .interests = "",
                       .left_out = {.text = ""},
                       .bias = {.randomisation = unclear,
                                .deviations = unclear,
                                .missing = unclear,
                                .measurement = unclear,
                                .selection = unclear,
                                .overall = unclear}};
  *WHY_LIST_ADD(arena, study->population_basis) = name(draft, "abstract");
  *WHY_LIST_ADD(arena, study->protocol_basis) = name(draft, "abstract");
}

/// A first line that is no sentence and stands alone is the title.
static void take_title(why_drafter* d) {
  const why_draft_sentence_list* sentences = &d->draft->text.sentences;
  const char* first = sentences->at[0].text;
  size_t length = strlen(first);
  if (sentences->count > 1 && length && !strchr(".?!:", first[length - 1]) &&
      !sentences->at[0].count)
    d->draft->study.title = first;
}

static bool follows(const why_draft_number* number, const why_draft_sentence* sentence,
                    const char* words) {
  const char* behind = sentence->shape + number->at + 1;
  behind += *behind == ' ';
  return strncmp(behind, words, strlen(words)) == 0;
}

static bool is_year(const why_draft_number* number) {
  return !number->in_words && strlen(number->text) == 4 && number->value >= 1900 &&
         number->value < 2100;
}

/// Say of a number that no form took what can be said of it.
static void settle_rest(const why_draft* draft, why_draft_number* number, why_arena* arena) {
  const why_draft_sentence* sentence = &draft->text.sentences.at[number->sentence];
  if (isnan(number->value))
    why_draft_open(number, "a comma or point that can be read in two ways");
  else if (number->in_words && number->value <= 1)
    why_draft_ignore(number, why_arena_print(arena, "the word \"%s\"", number->text));
  else if (follows(number, sentence, "%"))
    why_draft_open(number, "a percentage; of what is not clear");
  else if (is_year(number))
    why_draft_open(number, "a year, it seems");
  else
    why_draft_open(number, "a number; of what is not clear");
}

/// What forms say is noted, or is nothing that a study keeps.
static void take_noted(why_drafter* d) {
  for (size_t i = 0; i < d->found.count; i++) {
    const why_draft_found* each = &d->found.at[i];
    for (size_t k = 0; k < each->roles.count; k++)
      if (each->form->gives == WHY_GIVES_NOTED)
        why_draft_open(each->roles.at[k].number, each->form->says);
      else if (each->form->gives == WHY_GIVES_NOTHING)
        why_draft_ignore(each->roles.at[k].number, each->form->says);
      else if (each->form->gives == WHY_GIVES_SITE)
        why_draft_open(each->roles.at[k].number,
                       "a site of measurement; of which result is not clear");
  }
}

static const char* joined(const why_sentences* sentences, why_arena* arena) {
  why_buffer all = {.arena = arena};
  for (size_t i = 0; i < sentences->count; i++)
    why_buffer_print(&all, "%s\n", sentences->at[i]);
  return why_buffer_text(&all);
}

static void fill(why_drafter* d, why_arena* arena) {
  why_draft* draft = d->draft;
  d->spread = why_draft_told(&d->tables->abstracts, "spread", d->whole, arena);
  d->found = why_draft_apply(&d->tables->abstracts, &draft->text, arena);
  take_title(d);
  take_noted(d);
  why_draft_arms(d);
  why_draft_people(d);
  why_draft_training(d);
  why_draft_results(d);
  why_draft_tests(d);
  for (size_t i = 0; i < draft->text.numbers.count; i++)
    if (!draft->text.numbers.at[i].what)
      settle_rest(draft, &draft->text.numbers.at[i], arena);
}

static why_status refuse(why_problems* problems, const char* sentence) {
  why_problems_add(problems, WHY_ERROR, "abstract", (why_place){0}, "%s", sentence);
  why_problems_hint(problems, "paste the abstract of one growth trial as plain text in UTF-8");
  return WHY_QUESTION;
}

static why_status refuse_text(const char* text, why_problems* problems) {
  if (strlen(text) > WHY_DRAFT_TEXT_LIMIT)
    return refuse(problems, "the text is longer than 64 KiB");
  if (!why_text_is_utf8(text))
    return refuse(problems, "the text is not in UTF-8");
  return WHY_OK;
}

why_status why_draft_new(const why_tables* tables, const why_words* words, const char* text,
                         why_arena* arena, why_problems* problems, why_draft** draft) {
  if (refuse_text(text, problems) != WHY_OK)
    return WHY_QUESTION;
  why_sentences sentences = why_draft_sentences(arena, why_draft_mend(arena, text));
  why_draft* made = WHY_NEW(arena, why_draft);
  made->text = why_draft_lex(arena, &sentences);
  if (!made->text.numbers.count)
    return refuse(problems, "the text holds no number");
  if (made->text.too_many)
    return refuse(problems, "the text holds more than 2000 numbers");
  made->symbols = why_symbols_new(arena, tables->symbols, 0);
  init_study(made, arena);
  why_drafter d = {.tables = tables,
                   .words = words,
                   .arena = arena,
                   .draft = made,
                   .whole = joined(&sentences, arena),
                   .to_confirm = name(made, WHY_TO_CONFIRM)};
  fill(&d, arena);
  *draft = made;
  return WHY_OK;
}

const char* why_draft_xml(const why_draft* draft, why_arena* arena) {
  why_buffer out = {.arena = arena};
  why_study_writing how = {
      .symbols = draft->symbols, .comments = &draft->comments, .draft = &draft->text};
  why_study_write(&draft->study, &how, &out);
  return why_buffer_text(&out);
}
