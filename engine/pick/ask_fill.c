// SPDX-License-Identifier: GPL-3.0-or-later
// Putting what was understood into the question: equipment, restrictions, what is declined, level
// and goals. Words with several meanings are settled by the other goals, or asked back.
#include "ask.h"

#include <math.h>
#include <string.h>

static const char* name_of(const why_asking* asking, why_meaning kind, why_symbol id) {
  const why_question* question = asking->question;
  return why_ground_name(question->ground, question->arena, why_meaning_name(kind),
                         why_symbols_text(question->ground->symbols, id));
}

/// Note what the words of a span were taken for.
static void hear(why_asking* asking, const why_ask_span* span, why_meaning kind, why_symbol id) {
  *WHY_LIST_ADD(asking->question->arena, asking->asked->heard) =
      (why_heard){.words = why_ask_typed(asking, span), .as = name_of(asking, kind, id)};
}

static void hear_last(why_asking* asking, const why_ask_span* span, const why_things* things,
                      size_t before) {
  for (size_t i = before; i < things->count; i++)
    hear(asking, span, things->at[i].kind, things->at[i].id);
}

/// A limit that was said of a place is one of its free weights.
static void limit_place(why_asking* asking, why_symbol place, double limit_kg) {
  why_question* question = asking->question;
  const why_equipment* equipment = &question->ground->tables->equipment;
  const why_equipment_place* row = why_equipment_place_find(equipment, place);
  for (size_t i = 0; row && i < row->has.count; i++) {
    const why_equipment_item* item = why_equipment_item_find(equipment, row->has.at[i]);
    bool loose =
        item && strcmp(why_symbols_text(question->ground->symbols, item->kind), "free-weight") == 0;
    if (loose && question->have.count < WHY_WORDS_LIMIT)
      *WHY_LIST_ADD(question->arena, question->have) =
          (why_thing){.kind = WHY_MEANS_ITEM, .id = item->id, .limit_kg = limit_kg};
  }
}

/// Whether the thing at `last` was named before.
static bool is_named(const why_things* things, size_t last) {
  for (size_t i = 0; i < last && last < things->count; i++)
    if (things->at[i].id == things->at[last].id && things->at[i].kind == things->at[last].kind)
      return true;
  return false;
}

static why_status fill_have(why_asking* asking, const why_ask_span* span) {
  why_question* question = asking->question;
  size_t before = question->have.count;
  why_status status = why_question_have(question, span->form);
  if (status != WHY_OK)
    return status;
  hear_last(asking, span, &question->have, before);
  if (is_named(&question->have, before) && isnan(span->limit_kg)) {
    question->have.count = before;
    return WHY_OK;
  }
  why_thing* last = &question->have.at[question->have.count - 1];
  if (last->kind == WHY_MEANS_PLACE && isfinite(span->limit_kg))
    limit_place(asking, last->id, span->limit_kg);
  else
    last->limit_kg = span->limit_kg;
  return WHY_OK;
}

static why_status fill_without(why_asking* asking, const why_ask_span* span) {
  size_t before = asking->question->without.count;
  why_status status = why_question_without(asking->question, span->form);
  if (status == WHY_OK)
    hear_last(asking, span, &asking->question->without, before);
  return status;
}

/// Every meaning of a word that is declined is meant; a pattern stands for all its exercises.
static void fill_declined(why_asking* asking, const why_ask_span* span) {
  why_question* question = asking->question;
  const why_words* words = question->ground->words;
  why_word_hits hits = why_words_find(words, question->arena, span->form, WHY_MEANS_PATTERN);
  if (!hits.count)
    hits = why_words_find(words, question->arena, span->form, WHY_MEANS_EXERCISE);
  for (size_t i = 0; i < hits.count; i++) {
    if (!hits.at[i].id || question->declined.count >= WHY_WORDS_LIMIT)
      continue;
    *WHY_LIST_ADD(question->arena, question->declined) =
        (why_thing){.kind = hits.at[i].kind, .id = hits.at[i].id, .limit_kg = NAN};
    hear(asking, span, hits.at[i].kind, hits.at[i].id);
  }
}

static why_status restrict_by(why_asking* asking, const why_ask_span* span) {
  why_thing thing = {.kind = WHY_MEANS_RESTRICTION, .id = span->restriction, .limit_kg = NAN};
  why_status status = WHY_OK;
  if (!thing.id)
    status =
        why_question_resolve(asking->question, "avoid", span->form, WHY_MEANS_RESTRICTION, &thing);
  if (status != WHY_OK)
    return status;
  why_ask_avoid(asking, thing.id);
  hear(asking, span, WHY_MEANS_RESTRICTION, thing.id);
  return WHY_OK;
}

/// A movement of which one form is to be replaced: easier forms of it may be picks ("squats hurt my
/// knees, what instead").
static bool is_to_be_replaced(const why_asking* asking, const why_ask_span* span) {
  if (asking->wish != WHY_PHRASE_SWAP || !(span->kinds & WHY_MEANS_PATTERN))
    return false;
  for (size_t i = 0; i < asking->spans.count; i++) {
    const why_ask_span* other = &asking->spans.at[i];
    bool named = other->use == WHY_USE_REPLACED || other->use == WHY_USE_EXERCISE ||
                 (other->use == WHY_USE_DECLINED && other < span);
    if (named && other->kinds & WHY_MEANS_EXERCISE)
      return false;
  }
  return true;
}

static why_status fill_span(why_asking* asking, const why_ask_span* span) {
  if (span->wrong)
    return why_question_refuse(asking->question, "limit", span->wrong, why_ask_typed(asking, span));
  if (why_ask_is(span, WHY_PHRASE_LEVEL))
    return why_question_level(asking->question, span->phrase->value);
  if (why_ask_is(span, WHY_PHRASE_BEYOND) && !asking->beyond)
    asking->beyond = span->phrase;
  if (why_ask_is(span, WHY_PHRASE_DOSE))
    asking->question->dosed = true;
  switch (span->use) {
  case WHY_USE_HAVE:
    return fill_have(asking, span);
  case WHY_USE_WITHOUT:
    return fill_without(asking, span);
  case WHY_USE_DECLINED:
    if (!is_to_be_replaced(asking, span))
      fill_declined(asking, span);
    return WHY_OK;
  default:
    return WHY_OK;
  }
}

why_status why_ask_restrict(why_asking* asking) {
  why_status status = WHY_OK;
  for (size_t i = 0; i < asking->spans.count; i++)
    if (asking->spans.at[i].use == WHY_USE_AVOID &&
        restrict_by(asking, &asking->spans.at[i]) != WHY_OK)
      status = WHY_QUESTION;
  return status;
}

/// "At home with bands": a place whose equipment is told one by one holds no other equipment.
static void narrow_places(why_question* question) {
  const why_equipment* equipment = &question->ground->tables->equipment;
  for (size_t i = 0; i < question->have.count && question->have.count > 1; i++) {
    why_thing* thing = &question->have.at[i];
    const why_equipment_place* place =
        thing->kind == WHY_MEANS_PLACE ? why_equipment_place_find(equipment, thing->id) : NULL;
    if (place && place->bare)
      thing->id = place->bare;
  }
}

/// "At home with just a band": the place that says so leaves no other.
static void keep_sole_place(why_asking* asking) {
  why_question* question = asking->question;
  why_symbol sole = 0;
  for (size_t i = 0; i < asking->spans.count; i++) {
    const why_ask_span* span = &asking->spans.at[i];
    if (span->use == WHY_USE_HAVE && why_ask_is_sole(span))
      sole = why_words_find(question->ground->words, question->arena, span->form, WHY_MEANS_PLACE)
                 .at[0]
                 .id;
  }
  size_t kept = 0;
  for (size_t i = 0; i < question->have.count; i++) {
    const why_thing* thing = &question->have.at[i];
    if (!sole || thing->kind != WHY_MEANS_PLACE || thing->id == sole)
      question->have.at[kept++] = *thing;
  }
  question->have.count = kept;
}

static bool is_in_goal(const why_question* question, const why_thing* goal, why_symbol head) {
  const why_group* group = goal->kind == WHY_MEANS_GROUP
                               ? why_group_find(&question->ground->tables->anatomy, goal->id)
                               : NULL;
  for (size_t i = 0; group && i < group->heads.count; i++)
    if (group->heads.at[i] == head)
      return true;
  return false;
}

/// Settle a goal of several meanings by another goal that holds one of them ("triceps, the long
/// head"), which it then makes more exact. False when none does.
static bool settle(const why_asking* asking, const why_word_hits* hits, why_things* goals) {
  for (size_t i = 0; i < goals->count; i++)
    for (size_t k = 0; k < hits->count; k++)
      if (is_in_goal(asking->question, &goals->at[i], hits->at[k].id)) {
        goals->at[i].kind = hits->at[k].kind;
        goals->at[i].id = hits->at[k].id;
        return true;
      }
  return false;
}

static why_status add_goal(why_asking* asking, why_ask_span* span, why_things* goals) {
  why_question* question = asking->question;
  why_word_hits hits =
      why_words_find(question->ground->words, question->arena, span->form, WHY_MEANS_GOAL);
  why_thing goal = {.limit_kg = NAN};
  if (hits.count > 1 && settle(asking, &hits, goals))
    return WHY_OK;
  why_status status = why_question_resolve(question, "goal", span->form, WHY_MEANS_GOAL, &goal);
  if (status != WHY_OK)
    return status;
  hear(asking, span, goal.kind, goal.id);
  for (size_t i = 0; i < goals->count; i++)
    if (goals->at[i].id == goal.id && goals->at[i].kind == goal.kind)
      return WHY_OK;
  if (goals->count == WHY_ASK_GOALS_LIMIT)
    return why_question_refuse(question, "goal", "too many goals at once; ask again for",
                               why_ask_typed(asking, span));
  *WHY_LIST_ADD(question->arena, *goals) = goal;
  return WHY_OK;
}

/// Goals of one meaning first, so that they can settle those of several.
static why_status fill_goals(why_asking* asking) {
  why_question* question = asking->question;
  why_status status = WHY_OK;
  why_things goals = {0};
  for (int several = 0; several < 2; several++) {
    for (size_t i = 0; i < asking->spans.count; i++) {
      why_ask_span* span = &asking->spans.at[i];
      if (span->use != WHY_USE_GOAL)
        continue;
      size_t meanings =
          why_words_find(question->ground->words, question->arena, span->form, WHY_MEANS_GOAL)
              .count;
      if ((meanings > 1) == several && add_goal(asking, span, &goals) != WHY_OK)
        status = WHY_QUESTION;
    }
  }
  for (size_t i = 0; i < goals.count; i++)
    if (i == 0)
      question->goal = goals.at[0];
    else
      *WHY_LIST_ADD(question->arena, question->also) = goals.at[i];
  return status;
}

why_status why_ask_fill(why_asking* asking) {
  why_status status = WHY_OK;
  for (size_t i = 0; i < asking->spans.count; i++)
    if (fill_span(asking, &asking->spans.at[i]) != WHY_OK)
      status = WHY_QUESTION;
  keep_sole_place(asking);
  narrow_places(asking->question);
  return fill_goals(asking) == WHY_OK ? status : WHY_QUESTION;
}
