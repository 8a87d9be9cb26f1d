// SPDX-License-Identifier: GPL-3.0-or-later
// What hurts, and what is dangerous. A complaint is joined to the part of the body beside it; signs
// are patterns over the whole sentence. Nothing here diagnoses: it only finds the restriction.
#include "ask.h"

#include <math.h>
#include <string.h>

enum { REACH = 8 }; ///< How many spans before a complaint its part may stand.

void why_ask_avoid(why_asking* asking, why_symbol restriction) {
  why_question* question = asking->question;
  const why_restriction* row =
      why_restriction_find(&question->ground->tables->restrictions, restriction);
  asking->danger = asking->danger || (row && row->kind == WHY_RESTRICTION_DANGER);
  for (size_t i = 0; i < question->avoid.count; i++)
    if (question->avoid.at[i].id == restriction)
      return;
  *WHY_LIST_ADD(question->arena, question->avoid) =
      (why_thing){.kind = WHY_MEANS_RESTRICTION, .id = restriction, .limit_kg = NAN};
}

static why_symbol restriction_named(const why_asking* asking, const char* name) {
  why_word_hits hits = why_words_find(asking->question->ground->words, asking->question->arena,
                                      name, WHY_MEANS_RESTRICTION);
  return hits.count == 1 ? hits.at[0].id : 0;
}

/// The restriction of someone who complains of `part`: "knee pain", "bad knee", or plainly "knee".
static why_symbol restriction_of(const why_asking* asking, const char* part, const char* value) {
  why_arena* arena = asking->question->arena;
  why_symbol found = restriction_named(asking, why_arena_print(arena, "%s %s", part, value));
  if (!found)
    found = restriction_named(asking, why_arena_print(arena, "bad %s", part));
  return found ? found : restriction_named(asking, part);
}

static bool is_part(const why_ask_span* span) {
  return span->kinds & (WHY_MEANS_GOAL | WHY_MEANS_RESTRICTION);
}

/// Take the span as the part that complains, if there is a restriction for it.
static bool take_part(const why_asking* asking, why_ask_span* span, const char* value) {
  if (!is_part(span))
    return false;
  if (!span->restriction)
    span->restriction = restriction_of(asking, span->form, value);
  if (span->restriction)
    span->use = WHY_USE_AVOID;
  return span->restriction;
}

static bool is_glue(const why_asking* asking, const why_ask_span* span) {
  return why_ask_is(span, WHY_PHRASE_FILLER) || why_ask_is(span, WHY_PHRASE_ARTICLE) ||
         why_ask_is(span, WHY_PHRASE_JOIN) || why_ask_is(span, WHY_PHRASE_EITHER) ||
         why_ask_is_mark(asking, span, ",");
}

/// "my bad knees, hips and back": every part behind the complaint that only glue parts from it.
static bool take_behind(why_asking* asking, size_t at, const char* value) {
  bool taken = false;
  for (size_t i = at + 1; i < asking->spans.count; i++) {
    why_ask_span* span = &asking->spans.at[i];
    if (is_glue(asking, span) && !(why_ask_is_mark(asking, span, ",") && !taken))
      continue;
    if (!take_part(asking, span, value))
      break;
    taken = true;
  }
  return taken;
}

static bool is_edge(const why_asking* asking, const why_ask_span* span) {
  return why_ask_ends(asking, span) || why_ask_is(span, WHY_PHRASE_BREAK);
}

/// "my knee and hip hurt": the nearest part before, and what is joined to it.
static bool take_before(why_asking* asking, size_t at, const char* value) {
  bool taken = false;
  for (size_t i = at; i && at - i < REACH; i--) {
    why_ask_span* span = &asking->spans.at[i - 1];
    if (is_edge(asking, span) || (taken && !is_glue(asking, span) && !is_part(span)))
      break;
    if (taken && why_ask_is(span, WHY_PHRASE_FILLER))
      break;
    taken = take_part(asking, span, value) || taken;
  }
  return taken;
}

/// The exercises of the same stretch of the sentence are not wanted.
static void decline_around(why_asking* asking, size_t at) {
  size_t first = at, last = at;
  while (first && !is_edge(asking, &asking->spans.at[first - 1]) &&
         !why_ask_is_mark(asking, &asking->spans.at[first - 1], ","))
    first--;
  while (last + 1 < asking->spans.count && !is_edge(asking, &asking->spans.at[last + 1]) &&
         !why_ask_is_mark(asking, &asking->spans.at[last + 1], ","))
    last++;
  for (size_t i = first; i <= last; i++)
    if (asking->spans.at[i].kinds & WHY_MEANS_EXERCISE)
      asking->spans.at[i].use = WHY_USE_DECLINED;
}

static bool is_harm(const why_asking* asking, const char* words) {
  const why_lexicon_phrases* phrase = why_phrases_find(asking->question->ground->phrases, words);
  return phrase && phrase->role == WHY_PHRASE_HARMS;
}

/// "Knees hurt", "hurt my knees": the name of a complaint that says what harms.
static bool names_harm(const why_asking* asking, const why_ask_span* span) {
  if (!(span->kinds & WHY_MEANS_RESTRICTION))
    return false;
  for (const char* blank = strchr(span->form, ' '); blank; blank = strchr(blank + 1, ' '))
    if (is_harm(asking, blank + 1) ||
        is_harm(asking,
                why_arena_copy(asking->question->arena, span->form, (size_t)(blank - span->form))))
      return true;
  return false;
}

void why_ask_complaints(why_asking* asking) {
  for (size_t i = 0; i < asking->spans.count; i++) {
    const why_ask_span* span = &asking->spans.at[i];
    bool harms = why_ask_is(span, WHY_PHRASE_HARMS);
    if (names_harm(asking, span))
      decline_around(asking, i);
    if (!harms && !why_ask_is(span, WHY_PHRASE_COMPLAINT))
      continue;
    const char* value = span->phrase->value;
    bool denied = i && why_ask_is(&asking->spans.at[i - 1], WHY_PHRASE_WITHOUT);
    if (!take_behind(asking, i, value) && !take_before(asking, i, value) && !denied)
      asking->vague = true;
    if (harms)
      decline_around(asking, i);
  }
}

/// The sentence as signs are written: words as read (or as typed, in lower case), single blanks.
typedef struct {
  const char* text;
  size_t* starts; ///< By word, and the end of the text.
} plain_sentence;

static plain_sentence plain_text(const why_asking* asking, bool mended) {
  why_arena* arena = asking->question->arena;
  why_buffer text = {.arena = arena};
  size_t* starts = WHY_NEW_ARRAY(arena, size_t, asking->words.count + 1);
  for (size_t i = 0; i < asking->words.count; i++) {
    const why_ask_word* word = &asking->words.at[i];
    const char* typed = word->mark || word->number || strcmp(word->typed, "/") == 0
                            ? word->typed
                            : why_spell_key(arena, word->typed, false);
    why_buffer_add(&text, i ? " " : "");
    starts[i] = strlen(why_buffer_text(&text));
    why_buffer_add(&text, mended && strcmp(word->typed, "/") != 0 ? word->read : typed);
  }
  starts[asking->words.count] = strlen(why_buffer_text(&text));
  return (plain_sentence){why_buffer_text(&text), starts};
}

/// What a sign is made of asks for nothing else: "pain down my leg" is no wish to train the leg.
static void silence(why_asking* asking, const plain_sentence* sentence, size_t start, size_t end) {
  for (size_t i = 0; i < asking->spans.count; i++) {
    why_ask_span* span = &asking->spans.at[i];
    if (sentence->starts[span->first] >= start && sentence->starts[span->first] < end)
      span->use = WHY_USE_SILENT;
  }
}

/// Whether "no" or "without" stands right before byte `start`.
static bool is_denied(const why_asking* asking, const char* text, size_t start) {
  size_t end = start;
  while (end && text[end - 1] == ' ')
    end--;
  size_t first = end;
  while (first && text[first - 1] != ' ')
    first--;
  const char* word = why_arena_copy(asking->question->arena, text + first, end - first);
  const why_lexicon_phrases* phrase = why_phrases_find(asking->question->ground->phrases, word);
  return phrase && phrase->denies;
}

static why_status find_sign(why_asking* asking, const why_sign* sign,
                            const plain_sentence* sentence) {
  const char* text = sentence->text;
  why_arena* arena = asking->question->arena;
  why_matcher matcher = {0};
  size_t start = 0, end = 0;
  why_match_result found;
  while ((found = why_regex_find(sign->regex, text, end, arena, &matcher, &start, &end)) ==
         WHY_MATCH) {
    if (!is_denied(asking, text, start)) {
      why_ask_avoid(asking, sign->row->restriction);
      silence(asking, sentence, start, end);
      asking->vague = false;
    }
    if (start == end)
      break;
  }
  if (found == WHY_MATCH_FAILED)
    return why_question_refuse(asking->question, "ask", "the sentence takes too long to read",
                               text);
  return WHY_OK;
}

why_status why_ask_signs(why_asking* asking) {
  const why_phrases* phrases = asking->question->ground->phrases;
  const plain_sentence texts[] = {plain_text(asking, false), plain_text(asking, true)};
  why_status status = WHY_OK;
  for (size_t i = 0; i < why_signs_count(phrases); i++)
    for (size_t k = 0; k < sizeof texts / sizeof *texts && status == WHY_OK; k++)
      status = find_sign(asking, why_signs_at(phrases, i), &texts[k]);
  return status;
}
