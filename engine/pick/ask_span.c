// SPDX-License-Identifier: GPL-3.0-or-later
// Finding the longest known names and phrases. Names of things go before phrases of the same
// length, phrases before words of training that name nothing.
#include "ask.h"

#include <math.h>
#include <string.h>

bool why_ask_is(const why_ask_span* span, why_phrase_role role) {
  return span->phrase && span->phrase->role == role;
}

const why_ask_span* why_ask_first(const why_asking* asking, why_phrase_role role) {
  for (size_t i = 0; i < asking->spans.count; i++)
    if (why_ask_is(&asking->spans.at[i], role))
      return &asking->spans.at[i];
  return NULL;
}

bool why_ask_is_mark(const why_asking* asking, const why_ask_span* span, const char* mark) {
  const why_ask_word* word = &asking->words.at[span->first];
  return word->mark && strcmp(word->read, mark) == 0;
}

bool why_ask_ends(const why_asking* asking, const why_ask_span* span) {
  const why_ask_word* word = &asking->words.at[span->first];
  return word->mark && strchr(".;!?:", *word->read);
}

const char* why_ask_typed(const why_asking* asking, const why_ask_span* span) {
  why_buffer text = {.arena = asking->question->arena};
  for (size_t i = 0; i < span->count; i++)
    why_buffer_print(&text, "%s%s", i ? " " : "", asking->words.at[span->first + i].typed);
  return why_buffer_text(&text);
}

/// The words of a window with blanks between them; "" when a mark stands among them. With `bare`,
/// articles between words are left out: "long head of the biceps".
static const char* form_of(const why_asking* asking, size_t first, size_t count, bool bare) {
  why_buffer text = {.arena = asking->question->arena};
  for (size_t i = 0; i < count; i++) {
    const why_ask_word* word = &asking->words.at[first + i];
    if (word->mark)
      return "";
    const why_lexicon_phrases* phrase =
        bare && i && i + 1 < count ? why_phrases_find(asking->question->ground->phrases, word->read)
                                   : NULL;
    if (!phrase || phrase->role != WHY_PHRASE_ARTICLE)
      why_buffer_print(&text, "%s%s", i ? " " : "", word->read);
  }
  return why_buffer_text(&text);
}

/// All kinds that `form` can mean. A look-up shows the meanings of the best rank only, so that each
/// spot of a question is looked up by itself.
static unsigned kinds_of(const why_asking* asking, const char* form) {
  static const unsigned SPOTS[] = {WHY_MEANS_GOAL, WHY_MEANS_EXERCISE,   WHY_MEANS_PATTERN,
                                   WHY_MEANS_ITEM, WHY_MEANS_PLACE,      WHY_MEANS_KIND,
                                   WHY_MEANS_TERM, WHY_MEANS_RESTRICTION};
  const why_words* words = asking->question->ground->words;
  why_arena* arena = asking->question->arena;
  unsigned kinds = 0;
  if (!why_words_find(words, arena, form, WHY_MEANS_ANY).count)
    return 0;
  for (size_t i = 0; i < sizeof SPOTS / sizeof *SPOTS; i++) {
    why_word_hits hits = why_words_find(words, arena, form, SPOTS[i]);
    for (size_t k = 0; k < hits.count; k++)
      kinds |= hits.at[k].kind;
  }
  return kinds;
}

/// Whether a word says that something is at hand, or is not.
static bool governs(const why_asking* asking, size_t word) {
  const why_lexicon_phrases* phrase =
      why_phrases_find(asking->question->ground->phrases, asking->words.at[word].read);
  return phrase && (phrase->role == WHY_PHRASE_HAVE || phrase->role == WHY_PHRASE_WITHOUT);
}

/// Words of training that name nothing do not hide "with" and "without"; exercises do not hide what
/// they are for ("leg press for quads" names a goal too).
static bool hides(const why_asking* asking, const char* form, size_t first, unsigned kinds) {
  const why_ask_span* before = asking->spans.at;
  bool swaps = false; // "instead of the squat with dumbbells": the dumbbells are what is at hand
  for (size_t i = 0; i < asking->spans.count; i++)
    swaps = swaps || why_ask_is(&before[i], WHY_PHRASE_SWAP);
  return (kinds == WHY_MEANS_TERM && governs(asking, first) && strchr(form, ' ')) ||
         (kinds == WHY_MEANS_EXERCISE &&
          (strstr(form, " for ") || (swaps && strstr(form, " with "))));
}

/// Whether the window is known; fills `span` if so.
static bool recognise(const why_asking* asking, const char* form, why_ask_span* span) {
  if (!*form)
    return false;
  why_arena* arena = asking->question->arena;
  unsigned kinds = kinds_of(asking, form);
  const why_lexicon_phrases* phrase =
      kinds & ~(unsigned)WHY_MEANS_TERM
          ? NULL
          : why_phrases_find(asking->question->ground->phrases, why_spell_key(arena, form, false));
  if (!phrase && hides(asking, form, span->first, kinds))
    return false;
  span->form = form;
  span->phrase = phrase;
  span->kinds = phrase ? 0 : kinds;
  span->use = phrase && phrase->role != WHY_PHRASE_OTHER ? WHY_USE_SILENT : WHY_USE_NONE;
  return phrase || kinds;
}

/// Whether a span cuts the name of a thing in two: "no weight" names a place with nothing, but "no
/// weight vest" speaks of the vest.
static bool cuts(const why_asking* asking, const why_ask_span* span) {
  if (span->count < 2 || !span->kinds || !governs(asking, span->first))
    return false;
  size_t first = span->first + 1, most = asking->words.count - first;
  for (size_t count = span->count; count <= most && count < WHY_ASK_SPAN_LIMIT; count++)
    if (kinds_of(asking, form_of(asking, first, count, false)) & WHY_MEANS_ITEM)
      return true;
  return false;
}

static why_ask_span longest_at(const why_asking* asking, size_t first) {
  why_ask_span span = {.first = first, .amount = NAN, .limit_kg = NAN};
  size_t most = asking->words.count - first;
  for (span.count = most < WHY_ASK_SPAN_LIMIT ? most : WHY_ASK_SPAN_LIMIT; span.count; span.count--)
    for (int bare = 0; bare <= (span.count > 2); bare++)
      if (recognise(asking, form_of(asking, first, span.count, bare), &span) &&
          !cuts(asking, &span))
        return span;
  span.count = 1;
  span.form = asking->words.at[first].read;
  span.use = asking->words.at[first].mark ? WHY_USE_SILENT : WHY_USE_NONE;
  return span;
}

void why_ask_recognise(why_asking* asking) {
  for (size_t first = 0; first < asking->words.count;) {
    why_ask_span span = longest_at(asking, first);
    *WHY_LIST_ADD(asking->question->arena, asking->spans) = span;
    first += span.count;
  }
}
