// SPDX-License-Identifier: GPL-3.0-or-later
// What each name is there for. A walk from left to right: "with" and "without" govern what follows
// until something ends their reach; what nothing governs is used as its kind suggests.
#include "ask.h"

#include <string.h>

typedef enum { FREE, HAVING, LACKING, SWAPPING } reach;

static bool is_kit(const why_ask_span* span) {
  return span->kinds & (WHY_MEANS_ITEM | WHY_MEANS_KIND | WHY_MEANS_PLACE);
}

static bool is_list_word(const why_asking* asking, const why_ask_span* span) {
  return why_ask_is(span, WHY_PHRASE_JOIN) || why_ask_is(span, WHY_PHRASE_EITHER) ||
         why_ask_is(span, WHY_PHRASE_ARTICLE) || why_ask_is_mark(asking, span, ",");
}

/// Whether a list goes on behind the comma at `at`: "no rack, bench or bar" says "or" later, and
/// gives no limits; "no rack, dumbbells up to 15 kg" does not go on.
static bool goes_on(const why_asking* asking, size_t at) {
  for (size_t i = at + 1; i < asking->spans.count; i++) {
    const why_ask_span* span = &asking->spans.at[i];
    if (why_ask_is(span, WHY_PHRASE_EITHER) || why_ask_is(span, WHY_PHRASE_JOIN))
      return true;
    if (!is_list_word(asking, span) && !(is_kit(span) && !(span->limit_kg > 0)))
      return false;
  }
  return false;
}

/// Behind "and", an article, a number or a limit begins something new: "no rack and a bench".
static bool begins_anew(const why_asking* asking, size_t at) {
  if (at + 1 >= asking->spans.count)
    return true;
  const why_ask_span* next = &asking->spans.at[at + 1];
  return why_ask_is(next, WHY_PHRASE_ARTICLE) || why_ask_is(next, WHY_PHRASE_NUMBER) ||
         next->limit_kg > 0;
}

/// "Only bands", "just a band": a place that is named together with all that it lacks.
bool why_ask_is_sole(const why_ask_span* span) {
  static const char* const FIRST[] = {"only ", "just "};
  if (!(span->kinds & WHY_MEANS_PLACE))
    return false;
  for (size_t i = 0; i < sizeof FIRST / sizeof *FIRST; i++)
    if (strncmp(span->form, FIRST[i], strlen(FIRST[i])) == 0)
      return true;
  const char* last = strrchr(span->form, ' ');
  return last && strcmp(last, " only") == 0;
}

/// "The leg curl machine is always busy": the thing nearest before is to be replaced.
static void take_away(why_asking* asking, size_t at) {
  while (at--) {
    why_ask_span* span = &asking->spans.at[at];
    if (why_ask_ends(asking, span))
      return;
    if (!(span->kinds & (WHY_MEANS_ITEM | WHY_MEANS_KIND | WHY_MEANS_EXERCISE)))
      continue;
    span->use =
        span->kinds & (WHY_MEANS_ITEM | WHY_MEANS_KIND) ? WHY_USE_WITHOUT : WHY_USE_REPLACED;
    asking->wish = WHY_PHRASE_SWAP;
    return;
  }
}

/// What governs behind a phrase or a mark.
static reach reach_behind(why_asking* asking, size_t at, reach now) {
  const why_ask_span* span = &asking->spans.at[at];
  if (why_ask_ends(asking, span) || why_ask_is_mark(asking, span, ")"))
    return FREE;
  if (why_ask_is_mark(asking, span, ","))
    return now == LACKING && !goes_on(asking, at) ? FREE : now;
  if (!span->phrase)
    return now;
  switch (span->phrase->role) {
  case WHY_PHRASE_BREAK:
    return FREE;
  case WHY_PHRASE_HAVE:
    return HAVING;
  case WHY_PHRASE_WITHOUT:
    return LACKING;
  case WHY_PHRASE_SWAP:
    if (asking->wish == WHY_PHRASE_WHY) // "why this instead of that" sets them side by side
      return FREE;
    asking->wish = WHY_PHRASE_SWAP;
    return SWAPPING;
  case WHY_PHRASE_WHY:
    if (asking->wish == WHY_PHRASE_FILLER)
      asking->wish = WHY_PHRASE_WHY;
    return FREE;
  case WHY_PHRASE_TAKEN:
    take_away(asking, at);
    return FREE;
  case WHY_PHRASE_JOIN:
    return now == LACKING && begins_anew(asking, at) ? FREE : now;
  default:
    return now;
  }
}

/// "Without quads" is about the muscle; "I cannot grow my quads" is not.
static bool stands_behind_without(const why_asking* asking, size_t at) {
  while (at && why_ask_is(&asking->spans.at[at - 1], WHY_PHRASE_ARTICLE))
    at--;
  return at && why_ask_is(&asking->spans.at[at - 1], WHY_PHRASE_WITHOUT);
}

static bool is_demand(const why_asking* asking, const why_ask_span* span) {
  why_word_hits hits = why_words_find(asking->question->ground->words, asking->question->arena,
                                      span->form, WHY_MEANS_RESTRICTION);
  const why_restriction* row =
      hits.count
          ? why_restriction_find(&asking->question->ground->tables->restrictions, hits.at[0].id)
          : NULL;
  return row && row->kind == WHY_RESTRICTION_DEMAND;
}

/// What is not at hand, not wanted, or not the case.
static why_ask_use use_lacking(const why_asking* asking, size_t at) {
  const why_ask_span* span = &asking->spans.at[at];
  if (span->kinds & (WHY_MEANS_ITEM | WHY_MEANS_KIND))
    return WHY_USE_WITHOUT;
  if (span->kinds & (WHY_MEANS_EXERCISE | WHY_MEANS_PATTERN))
    return WHY_USE_DECLINED;
  if (span->kinds & WHY_MEANS_GOAL)
    return stands_behind_without(asking, at) ? WHY_USE_NONE : WHY_USE_GOAL;
  if (span->kinds & WHY_MEANS_RESTRICTION)
    return !is_demand(asking, span) && stands_behind_without(asking, at) ? WHY_USE_SILENT
                                                                         : WHY_USE_AVOID;
  return WHY_USE_NONE;
}

/// "The best squat", "which row": the pattern in whichever form.
static bool is_chosen(const why_asking* asking, size_t at) {
  while (at && why_ask_is(&asking->spans.at[at - 1], WHY_PHRASE_ARTICLE))
    at--;
  return at && why_ask_is(&asking->spans.at[at - 1], WHY_PHRASE_CHOOSE);
}

static why_ask_use use_free(const why_ask_span* span, reach now) {
  if (now == HAVING && is_kit(span))
    return WHY_USE_HAVE;
  if (now == SWAPPING && span->kinds & WHY_MEANS_EXERCISE)
    return WHY_USE_REPLACED;
  if (now == SWAPPING && span->kinds & (WHY_MEANS_ITEM | WHY_MEANS_KIND))
    return WHY_USE_WITHOUT;
  if (span->kinds & WHY_MEANS_GOAL)
    return WHY_USE_GOAL;
  if (span->kinds & WHY_MEANS_EXERCISE)
    return WHY_USE_EXERCISE;
  if (is_kit(span))
    return WHY_USE_HAVE;
  return span->kinds & WHY_MEANS_RESTRICTION ? WHY_USE_AVOID : WHY_USE_NONE;
}

/// Equipment that nothing in the knowledge base stands for; it is said back why.
static bool is_unmapped(const why_asking* asking, const why_ask_span* span) {
  if (span->kinds & ~(unsigned)(WHY_MEANS_ITEM | WHY_MEANS_KIND | WHY_MEANS_PLACE))
    return false;
  why_word_hits hits = why_words_find(asking->question->ground->words, asking->question->arena,
                                      span->form, span->kinds);
  return hits.count && !hits.at[0].id;
}

/// "No bench dumbbell chest": nothing joins the second thing to the first.
static bool stands_alone(const why_asking* asking, size_t at) {
  const why_ask_span* before = at ? &asking->spans.at[at - 1] : NULL;
  return before && before->use == WHY_USE_WITHOUT && is_kit(&asking->spans.at[at]);
}

void why_ask_scopes(why_asking* asking) {
  reach now = FREE;
  for (size_t i = 0; i < asking->spans.count; i++) {
    why_ask_span* span = &asking->spans.at[i];
    if (!span->kinds) {
      now = reach_behind(asking, i, now);
      continue;
    }
    if (span->use != WHY_USE_NONE || is_unmapped(asking, span))
      continue;
    // What is limited is there: "no rack, dumbbells up to 15 kg", "no bench, just bands".
    if (now == LACKING && (span->limit_kg > 0 || why_ask_is_sole(span) || stands_alone(asking, i)))
      now = HAVING;
    span->use = now == LACKING ? use_lacking(asking, i) : use_free(span, now);
    if (span->use == WHY_USE_EXERCISE && span->kinds & WHY_MEANS_PATTERN && is_chosen(asking, i))
      asking->chosen = span;
    if (span->use == WHY_USE_REPLACED)
      now = FREE;
  }
}
