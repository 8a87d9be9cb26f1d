// SPDX-License-Identifier: GPL-3.0-or-later
// The steps from a sentence to a question, and what is said back of the words that changed nothing.
#include "ask.h"

#include <string.h>

static void add_note(why_asking* asking, const char* note) {
  *WHY_LIST_ADD(asking->question->arena, asking->asked->notes) = note;
}

/// Nothing in the knowledge base stands for the words: say why, and what is nearest.
static bool note_unmapped(why_asking* asking, const why_ask_span* span) {
  why_arena* arena = asking->question->arena;
  why_word_hits hits =
      why_words_find(asking->question->ground->words, arena, span->form, WHY_MEANS_ANY);
  if (!hits.count || hits.at[0].id)
    return false;
  const why_lexicon_unmapped* row = hits.at[0].unmapped;
  add_note(asking,
           why_arena_print(arena, "\"%s\" is not used: %s%s%s", why_ask_typed(asking, span),
                           row->reason, row->near.kind ? "; the nearest is " : "",
                           row->near.kind
                               ? why_symbols_text(asking->question->ground->symbols, row->near.id)
                               : ""));
  return true;
}

static bool is_unused(const why_asking* asking, const why_ask_span* span) {
  bool mention = span->use == WHY_USE_EXERCISE &&
                 (asking->asked->task == WHY_ASKED_PICK || asking->asked->task == WHY_ASKED_PLAN);
  return span->use == WHY_USE_NONE || mention;
}

/// Words that stand side by side and changed nothing are said back as one.
static void gather_unused(why_asking* asking) {
  why_arena* arena = asking->question->arena;
  const char* run = NULL;
  for (size_t i = 0; i < asking->spans.count; i++) {
    const why_ask_span* span = &asking->spans.at[i];
    bool unused = is_unused(asking, span) && !(span->kinds && note_unmapped(asking, span));
    if (!unused && run)
      *WHY_LIST_ADD(arena, asking->asked->unused) = run;
    const char* typed = unused ? why_ask_typed(asking, span) : NULL;
    run = !unused ? NULL : run ? why_arena_print(arena, "%s %s", run, typed) : typed;
  }
  if (run)
    *WHY_LIST_ADD(arena, asking->asked->unused) = run;
}

static void add_remarks(why_asking* asking) {
  if (asking->vague)
    add_note(asking, "A complaint was named that no rule here knows: if something hurts, a doctor "
                     "or physiotherapist should look at it first");
  if (asking->beyond)
    add_note(asking, asking->beyond->say);
  if (asking->minutes > 0 && asking->asked->task != WHY_ASKED_PLAN)
    add_note(asking,
             why_arena_print(asking->question->arena,
                             "The time of %g minutes is understood, but no pick depends on it yet",
                             asking->minutes));
  if (asking->days > 0 && asking->asked->task != WHY_ASKED_PLAN)
    add_note(asking, why_arena_print(asking->question->arena,
                                     "%g days are understood, but only a plan depends on them",
                                     asking->days));
}

/// What was passed over can be what the question hangs on.
static void report_rest(why_asking* asking) {
  for (size_t i = 0; i < asking->asked->notes.count; i++)
    why_problems_add(asking->question->problems, WHY_NOTE, "ask", (why_place){0}, "%s",
                     asking->asked->notes.at[i]);
  for (size_t i = 0; i < asking->asked->unused.count; i++)
    why_problems_add(asking->question->problems, WHY_NOTE, "ask", (why_place){0},
                     "not understood: \"%s\"", asking->asked->unused.at[i]);
}

/// Everything but what must be avoided. After a sign of danger it does not matter any more.
static why_status understand(why_asking* asking, const char* sentence) {
  if (why_ask_first(asking, WHY_PHRASE_AUDIT))
    return why_ask_audit(asking, sentence);
  why_status status = why_ask_fill(asking);
  return status == WHY_OK ? why_ask_decide(asking) : status;
}

why_status why_question_ask(why_question* question, const char* sentence) {
  why_asked* asked = WHY_NEW(question->arena, why_asked);
  why_asking asking = {.question = question, .asked = asked};
  why_status status = why_ask_cut(&asking, sentence);
  if (status != WHY_OK)
    return status;
  why_ask_mend(&asking);
  why_ask_recognise(&asking);
  why_ask_amounts(&asking);
  why_ask_complaints(&asking);
  why_ask_scopes(&asking);
  status = why_ask_signs(&asking);
  if (status == WHY_OK)
    status = why_ask_restrict(&asking);
  if (status == WHY_OK && !asking.danger)
    status = understand(&asking, sentence);
  question->asked = asked;
  if (status == WHY_OK && asking.danger)
    return status; // nothing else matters now
  if (asked->task != WHY_ASKED_AUDIT)
    gather_unused(&asking);
  add_remarks(&asking);
  if (status != WHY_OK)
    report_rest(&asking);
  return status;
}
