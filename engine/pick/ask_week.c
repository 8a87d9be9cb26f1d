// SPDX-License-Identifier: GPL-3.0-or-later
// A week that is to be planned, or that was written down and is to be looked through.
#include "ask.h"

#include "audit.h"

#include <string.h>

// ---- to plan ----

static why_status take_goals(why_asking* asking) {
  why_question* question = asking->question;
  why_status status = WHY_OK;
  if (question->goal.id)
    status = why_question_target(question, &question->goal);
  for (size_t i = 0; i < question->also.count; i++)
    if (why_question_target(question, &question->also.at[i]) != WHY_OK)
      status = WHY_QUESTION;
  question->goal = (why_thing){0};
  question->also = (why_things){0};
  return status;
}

static why_status take(why_asking* asking, double number,
                       why_status (*set)(why_question* question, const char* typed)) {
  return number > 0 ? set(asking->question, why_arena_print(asking->question->arena, "%g", number))
                    : WHY_OK;
}

why_status why_ask_plan(why_asking* asking) {
  asking->asked->task = WHY_ASKED_PLAN;
  for (size_t i = 0; i < asking->spans.count; i++)
    if (asking->spans.at[i].measure == WHY_MEASURE_DAYS ||
        asking->spans.at[i].measure == WHY_MEASURE_TIME)
      asking->spans.at[i].use = WHY_USE_SILENT;
  why_status days = take(asking, asking->days, why_question_days);
  why_status minutes = take(asking, asking->minutes, why_question_minutes);
  why_status goals = take_goals(asking);
  return days == WHY_OK && minutes == WHY_OK ? goals : WHY_QUESTION;
}

// ---- to look through ----

static bool has_rows(const why_programme* programme) {
  for (size_t i = 0; programme && i < programme->days.count; i++)
    if (programme->days.at[i].rows.count)
      return true;
  return false;
}

static why_status refuse_week(why_asking* asking) {
  return why_ask_refuse(asking, "no exercise with its sets was found in the week",
                        "write the week behind a colon: \"check my programme: mon squat 3x5, bench "
                        "press 3x8; thu row 4x10\"");
}

static const char MARKS[] = " \t\r\n:;,.?!-";

/// The week as it was written: behind the phrase, or before it ("... a week enough?"). Each day
/// stands on a line of its own, as in a file.
static char* find_week(const why_asking* asking, const char* sentence) {
  const why_ask_span* phrase = why_ask_first(asking, WHY_PHRASE_AUDIT);
  const why_ask_word* last = &asking->words.at[phrase->first + phrase->count - 1];
  const char* week = sentence + last->end;
  week += strspn(week, MARKS);
  size_t length = strlen(week);
  if (!length && phrase->first) {
    const why_ask_span* first = asking->spans.at;
    while (first < phrase && first->phrase) // "is 12 sets ..."
      first++;
    size_t start = first->first ? asking->words.at[first->first - 1].end : 0;
    week = sentence + start;
    length = asking->words.at[phrase->first - 1].end - start;
  }
  char* text = why_arena_copy(asking->question->arena, week, length);
  for (char* mark = strchr(text, ';'); mark; mark = strchr(mark, ';'))
    *mark = '\n';
  return text;
}

why_status why_ask_audit(why_asking* asking, const char* sentence) {
  why_question* question = asking->question;
  const char* week = find_week(asking, sentence);
  asking->asked->task = WHY_ASKED_AUDIT;
  why_status status = why_question_programme(question, "question", week, strlen(week));
  return status == WHY_OK && !has_rows(question->programme) ? refuse_week(asking) : status;
}
