// SPDX-License-Identifier: GPL-3.0-or-later
// Numbers with their units: the load that an item goes to, the time there is, days of a week, the
// age.
#include "ask.h"

#include <math.h>
#include <string.h>

static bool is_number(const why_asking* asking, const why_ask_span* span) {
  const why_ask_word* word = &asking->words.at[span->first];
  return (word->number && span->count == 1 && !span->kinds) || why_ask_is(span, WHY_PHRASE_NUMBER);
}

static double value_of(const why_asking* asking, const why_ask_span* span) {
  if (span->phrase)
    return span->phrase->factor;
  const char* typed = asking->words.at[span->first].typed;
  char* text = why_arena_copy(asking->question->arena, typed, strlen(typed));
  char* comma = strchr(text, ',');
  if (comma)
    *comma = '.';
  double value = NAN;
  why_parse_number(text, &value);
  return value;
}

/// Numbers and units become amounts; "10 to 20 kg" counts as its last number.
static void join_units(why_asking* asking) {
  for (size_t i = 0; i + 1 < asking->spans.count; i++) {
    why_ask_span* span = &asking->spans.at[i];
    why_ask_span* unit = &asking->spans.at[i + 1];
    bool alone = why_ask_is(span, WHY_PHRASE_ARTICLE); // "an hour"
    if (!why_ask_is(unit, WHY_PHRASE_UNIT) || !(alone || is_number(asking, span)))
      continue;
    unit->amount = (alone ? 1 : value_of(asking, span)) * unit->phrase->factor;
    unit->measure = unit->phrase->measure;
    span->use = WHY_USE_SILENT;
    for (size_t k = i; k && (is_number(asking, &asking->spans.at[k - 1]) ||
                             strcmp(asking->spans.at[k - 1].form, "to") == 0);
         k--)
      asking->spans.at[k - 1].use = WHY_USE_SILENT;
  }
}

static bool can_be_had(const why_ask_span* span) {
  return span->kinds & (WHY_MEANS_ITEM | WHY_MEANS_KIND | WHY_MEANS_PLACE);
}

static bool is_glue(const why_ask_span* span) {
  return why_ask_is(span, WHY_PHRASE_FILLER) || why_ask_is(span, WHY_PHRASE_ARTICLE);
}

/// What an amount of load belongs to: the thing right behind it ("10 kg dumbbells") unless it is a
/// limit of what went before ("dumbbells up to 10 kg").
static why_ask_span* bearer_of(why_asking* asking, size_t at) {
  size_t before = at, behind = at + 1;
  while (before && (is_number(asking, &asking->spans.at[before - 1]) ||
                    is_glue(&asking->spans.at[before - 1])))
    before--;
  bool limits = before && why_ask_is(&asking->spans.at[before - 1], WHY_PHRASE_LIMIT);
  while (behind < asking->spans.count && is_glue(&asking->spans.at[behind]))
    behind++;
  if (!limits && behind < asking->spans.count && can_be_had(&asking->spans.at[behind]))
    return &asking->spans.at[behind];
  for (size_t i = at; i; i--)
    if (can_be_had(&asking->spans.at[i - 1]))
      return &asking->spans.at[i - 1];
  return NULL;
}

enum { HEAVIEST_KG = 1000 };

static void take_load(why_asking* asking, size_t at) {
  why_ask_span* span = &asking->spans.at[at];
  why_ask_span* bearer = bearer_of(asking, at);
  if (!(span->amount > 0 && span->amount <= HEAVIEST_KG)) {
    span->wrong = "a limit is above 0 and at most 1000 kg, not";
  } else if (!bearer) {
    *WHY_LIST_ADD(asking->question->arena, asking->asked->notes) =
        why_arena_print(asking->question->arena,
                        "%.3g kg belongs to no equipment that was named: not used", span->amount);
  } else {
    double kg = round(span->amount * 10) / 10;
    bearer->limit_kg = isnan(bearer->limit_kg) ? kg : fmax(bearer->limit_kg, kg);
  }
}

static void take_age(why_asking* asking, double years) {
  const why_lexicon* lexicon = &asking->question->ground->tables->lexicon;
  for (size_t i = 0; i < lexicon->ages.count; i++)
    if (years >= lexicon->ages.at[i].from && years < lexicon->ages.at[i].below)
      why_ask_avoid(asking, lexicon->ages.at[i].restriction);
}

enum { YOUNGEST = 10, OLDEST = 110 };

/// "I am 67", but not "I am 67 kg": a plain number in the range of ages of people who train.
static bool is_age(const why_asking* asking, size_t at) {
  const why_ask_span* span = &asking->spans.at[at];
  bool aged = at && why_ask_is(&asking->spans.at[at - 1], WHY_PHRASE_AGED);
  if (!aged || span->use != WHY_USE_NONE || !is_number(asking, span))
    return false;
  double years = value_of(asking, span);
  return years >= YOUNGEST && years <= OLDEST;
}

void why_ask_amounts(why_asking* asking) {
  join_units(asking);
  for (size_t i = 0; i < asking->spans.count; i++) {
    why_ask_span* span = &asking->spans.at[i];
    bool limits = i && why_ask_is(&asking->spans.at[i - 1], WHY_PHRASE_LIMIT);
    if (limits && span->use == WHY_USE_NONE && is_number(asking, span))
      span->wrong = "say kg or lb behind";
    bool counts = i + 1 < asking->spans.count && can_be_had(&asking->spans.at[i + 1]);
    if (counts && is_number(asking, span))
      span->use = WHY_USE_SILENT; // "1 dumbbell"
    if (is_age(asking, i)) {
      take_age(asking, value_of(asking, span));
      span->use = WHY_USE_SILENT;
    }
    if (isnan(span->amount))
      continue;
    if (span->measure == WHY_MEASURE_LOAD)
      take_load(asking, i);
    if (span->measure == WHY_MEASURE_TIME)
      asking->minutes = span->amount;
    if (span->measure == WHY_MEASURE_DAYS)
      asking->days = span->amount;
    if (span->measure == WHY_MEASURE_AGE)
      take_age(asking, span->amount);
  }
}
