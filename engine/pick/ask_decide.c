// SPDX-License-Identifier: GPL-3.0-or-later
// What is asked: a plan, a comparison, a replacement, an explanation or picks, in this order; and
// what to ask back when something is missing.
#include "ask.h"

#include <string.h>

typedef WHY_LIST(why_ask_span*) mentions;

static mentions spans_of(why_asking* asking, why_ask_use use) {
  mentions found = {0};
  for (size_t i = 0; i < asking->spans.count; i++)
    if (asking->spans.at[i].use == use && asking->spans.at[i].kinds & WHY_MEANS_EXERCISE)
      *WHY_LIST_ADD(asking->question->arena, found) = &asking->spans.at[i];
  return found;
}

static why_status take_exercise(why_asking* asking, why_ask_span* span, why_symbol* exercise) {
  why_question* question = asking->question;
  why_status status = why_question_exercise(question, span->form, exercise);
  if (status != WHY_OK)
    return status;
  span->use = WHY_USE_EXERCISE;
  *WHY_LIST_ADD(question->arena, asking->asked->heard) =
      (why_heard){.words = why_ask_typed(asking, span),
                  .as = why_ground_name(question->ground, question->arena, "exercise",
                                        why_symbols_text(question->ground->symbols, *exercise))};
  return WHY_OK;
}

/// Whether "or" or the like stands between two exercises.
static bool are_compared(const mentions* exercises) {
  if (exercises->count < 2)
    return false;
  for (const why_ask_span* span = exercises->at[0]; span < exercises->at[1]; span++)
    if (why_ask_is(span, WHY_PHRASE_EITHER) || why_ask_is(span, WHY_PHRASE_SWAP))
      return true;
  return false;
}

why_status why_ask_refuse(why_asking* asking, const char* sentence, const char* hint) {
  why_problems_add(asking->question->problems, WHY_ERROR, "ask", (why_place){0}, "%s", sentence);
  why_problems_hint(asking->question->problems, "%s", hint);
  return WHY_QUESTION;
}

static why_status refuse_goal(why_asking* asking, const why_ask_span* exercise) {
  if (asking->beyond)
    return why_ask_refuse(asking, asking->beyond->say, "name one muscle, action or exercise");
  if (exercise) {
    const char* typed = why_ask_typed(asking, exercise);
    why_problems_add(asking->question->problems, WHY_ERROR, "ask", (why_place){0},
                     "for which muscle or action is \"%s\" meant", typed);
    why_problems_hint(asking->question->problems,
                      "say for example \"is %s good for glutes\" or \"instead of %s\"", typed,
                      typed);
    return WHY_QUESTION;
  }
  return why_ask_refuse(asking, "no muscle, action or exercise was found in the question",
                        "say what to train, for example: hamstrings with dumbbells, no bench");
}

/// Without a goal they are compared for what both train, and the answer says so.
static why_status take_common_goal(why_asking* asking) {
  why_question* question = asking->question;
  why_status status = why_question_common(question);
  if (question->goal.id)
    *WHY_LIST_ADD(question->arena, asking->asked->notes) = why_arena_print(
        question->arena, "No muscle was named: compared for %s, which both train",
        why_ground_name(question->ground, question->arena, why_meaning_name(question->goal.kind),
                        why_symbols_text(question->ground->symbols, question->goal.id)));
  return status;
}

static why_status decide_compare(why_asking* asking, const mentions* exercises) {
  why_question* question = asking->question;
  asking->asked->task = WHY_ASKED_COMPARE;
  if (exercises->count > 2)
    *WHY_LIST_ADD(question->arena, asking->asked->notes) =
        "Two exercises are compared at a time; only the first two that were named are";
  why_status first = take_exercise(asking, exercises->at[0], &question->exercise);
  why_status second = take_exercise(asking, exercises->at[1], &question->other);
  if (first != WHY_OK || second != WHY_OK)
    return WHY_QUESTION;
  return question->goal.id ? WHY_OK : take_common_goal(asking);
}

static why_status decide_swap(why_asking* asking, why_ask_span* old) {
  why_question* question = asking->question;
  asking->asked->task = WHY_ASKED_SWAP;
  if (question->goal.id) {
    *WHY_LIST_ADD(question->arena, asking->asked->notes) =
        "A replacement is matched to what the exercise trains; the muscle that was named besides "
        "is not used";
    question->goal = (why_thing){0};
    question->also = (why_things){0};
  }
  return take_exercise(asking, old, &question->replaced);
}

static why_status decide_moments(why_asking* asking, why_ask_span* exercise) {
  asking->asked->task = WHY_ASKED_MOMENTS;
  return take_exercise(asking, exercise, &asking->question->exercise);
}

static why_status decide_explain(why_asking* asking, why_ask_span* exercise) {
  asking->asked->task = WHY_ASKED_EXPLAIN;
  return take_exercise(asking, exercise, &asking->question->exercise);
}

/// "Squats for quads": only small words between the exercise and the goal behind it.
static bool stands_before_goal(const why_asking* asking, const why_ask_span* exercise) {
  const why_ask_span* end = asking->spans.at + asking->spans.count;
  for (const why_ask_span* span = exercise + 1; span < end; span++) {
    if (span->use == WHY_USE_GOAL)
      return true;
    if (!why_ask_is(span, WHY_PHRASE_FILLER) && !why_ask_is(span, WHY_PHRASE_ARTICLE))
      return false;
  }
  return false;
}

/// "In place of a leg extension machine": the exercise that is called like the machine.
static why_ask_span* find_machine(why_asking* asking) {
  why_question* question = asking->question;
  for (size_t i = 0; i < asking->spans.count; i++) {
    why_ask_span* span = &asking->spans.at[i];
    const char* last = span->use == WHY_USE_WITHOUT ? strrchr(span->form, ' ') : NULL;
    if (!last)
      continue;
    const char* name = why_arena_copy(question->arena, span->form, (size_t)(last - span->form));
    if (!why_words_find(question->ground->words, question->arena, name, WHY_MEANS_EXERCISE).count)
      continue;
    span->form = name;
    return span;
  }
  return NULL;
}

/// What is to be replaced: what follows the wish, else the exercise named last, else what was
/// declined ("squats hurt my knees, what instead").
static why_ask_span* find_old(why_asking* asking) {
  static const why_ask_use USES[] = {WHY_USE_REPLACED, WHY_USE_EXERCISE, WHY_USE_DECLINED};
  for (size_t i = 0; i < sizeof USES / sizeof *USES; i++) {
    mentions found = spans_of(asking, USES[i]);
    if (found.count)
      return USES[i] == WHY_USE_EXERCISE ? found.at[found.count - 1] : found.at[0];
  }
  return asking->question->goal.id ? NULL : find_machine(asking);
}

/// "Row for back": which row is not said, so that any may be meant.
static bool is_ambiguous(const why_asking* asking, const why_ask_span* exercise) {
  return why_words_find(asking->question->ground->words, asking->question->arena, exercise->form,
                        WHY_MEANS_EXERCISE)
             .count > 1;
}

static why_status decide_pattern(why_asking* asking) {
  why_question* question = asking->question;
  why_thing pattern = {0};
  why_status status =
      why_question_resolve(question, "ask", asking->chosen->form, WHY_MEANS_PATTERN, &pattern);
  question->pattern = pattern.id;
  asking->chosen->use = WHY_USE_SILENT;
  return status;
}

static why_status decide_one(why_asking* asking, const mentions* exercises) {
  why_question* question = asking->question;
  why_ask_span* first = exercises->count ? exercises->at[0] : NULL;
  if (!question->goal.id && first && why_ask_first(asking, WHY_PHRASE_WORKS))
    return decide_moments(asking, first);
  if (!question->goal.id) {
    bool set_up = question->have.count || question->without.count || question->avoid.count;
    return first && set_up && exercises->count == 1 ? decide_swap(asking, first)
                                                    : refuse_goal(asking, first);
  }
  if (first && asking->wish == WHY_PHRASE_WHY)
    return decide_explain(asking, first);
  if (!asking->chosen && first && first->kinds & WHY_MEANS_PATTERN &&
      stands_before_goal(asking, first) && is_ambiguous(asking, first))
    asking->chosen = first;
  if (asking->chosen)
    return decide_pattern(asking);
  if (first && stands_before_goal(asking, first) && !is_ambiguous(asking, first))
    return decide_explain(asking, first);
  return WHY_OK;
}

why_status why_ask_decide(why_asking* asking) {
  mentions exercises = spans_of(asking, WHY_USE_EXERCISE);
  if (why_ask_first(asking, WHY_PHRASE_PLAN))
    return why_ask_plan(asking);
  if (asking->wish != WHY_PHRASE_SWAP && are_compared(&exercises))
    return decide_compare(asking, &exercises);
  why_ask_span* old = asking->wish == WHY_PHRASE_SWAP ? find_old(asking) : NULL;
  return old ? decide_swap(asking, old) : decide_one(asking, &exercises);
}
