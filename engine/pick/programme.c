// SPDX-License-Identifier: GPL-3.0-or-later
// Names of exercises by the lexicon: whole, then with spelling mended, then the longest run of
// words that means one exercise. What was mended, left over or not found is said by line.
#include "programme.h"

#include <math.h>
#include <string.h>

enum { WORDS = 24 }; ///< Most words of a name that are looked at.

/// A name under way, cut into words.
typedef struct {
  const why_question* question;
  const why_notation* notation;
  why_programme* programme;
  const why_programme_row* row;
  const char* words[WORDS];
  bool mended[WORDS];
  size_t count;
} search;

static why_unread* say(const search* at, const char* text, const char* why) {
  why_unread* made = WHY_LIST_ADD(at->question->arena, at->programme->unread);
  *made = (why_unread){.text = text, .why = why, .place = at->row->place};
  return made;
}

/// Hyphens join words that the lexicon may know apart; brackets and quotes only hold them.
static void cut(search* at, const char* name) {
  static const char EDGES[] = " \t()[]\"'.:";
  at->count = 0;
  for (name += strspn(name, EDGES); *name && at->count < WORDS; name += strspn(name, EDGES)) {
    size_t length = strcspn(name, EDGES);
    at->mended[at->count] = false;
    at->words[at->count++] = why_arena_copy(at->question->arena, name, length);
    name += length;
  }
}

static const char* joined(const search* at, size_t first, size_t count) {
  why_buffer text = {.arena = at->question->arena};
  for (size_t i = 0; i < count; i++)
    why_buffer_print(&text, "%s%s", i ? " " : "", at->words[first + i]);
  return why_buffer_text(&text);
}

static why_word_hits find(const search* at, const char* form) {
  return why_words_find(at->question->ground->words, at->question->arena, form, WHY_MEANS_EXERCISE);
}

/// Whether a form has a meaning that settles the matter: one exercise, several, or none on purpose.
static bool settles(const search* at, const char* form, why_symbol* exercise) {
  why_word_hits hits = find(at, form);
  why_symbol meant =
      hits.count == 1 && hits.at[0].id ? 0 : why_notation_shorthand(at->notation, form);
  if (meant) {
    *exercise = meant;
    return true;
  }
  if (!hits.count)
    return false;
  if (hits.count == 1 && hits.at[0].id) {
    *exercise = hits.at[0].id;
    return true;
  }
  if (hits.count == 1) {
    if (at->count > 1 && strcmp(form, joined(at, 0, at->count)) != 0)
      return false; // a part of the name that means nothing here
    say(at, form, hits.at[0].unmapped->reason);
    return true;
  }
  why_buffer names = {.arena = at->question->arena};
  for (size_t i = 0; i < hits.count; i++)
    why_buffer_print(&names, "%s%s", i ? ", " : "say one of: ", hits.at[i].id_text);
  say(at, form, "this can mean several exercises")->hint = why_buffer_text(&names);
  return true;
}

static void mend(search* at) {
  const why_ground* ground = at->question->ground;
  why_arena* arena = at->question->arena;
  for (size_t i = 0; i < at->count; i++) {
    const char* key = why_spell_key(arena, at->words[i], false);
    if (!*key || why_phrases_know(ground->phrases, arena, key) ||
        why_words_find(ground->words, arena, at->words[i], WHY_MEANS_ANY).count)
      continue;
    const char* known = why_phrases_mend(ground->phrases, arena, key);
    if (!known)
      continue;
    at->words[i] = known;
    at->mended[i] = true;
  }
}

static bool any_mended(const search* at, size_t first, size_t count) {
  for (size_t i = first; i < first + count; i++)
    if (at->mended[i])
      return true;
  return false;
}

/// What a name was read as, where that is not what was written, and what was left over.
static void say_part(const search* at, size_t first, size_t count, why_symbol exercise) {
  const why_ground* ground = at->question->ground;
  why_arena* arena = at->question->arena;
  const char* name =
      why_ground_name(ground, arena, "exercise", why_symbols_text(ground->symbols, exercise));
  if (any_mended(at, first, count))
    say(at, at->row->name, why_arena_print(arena, "read as %s", name));
  if (first)
    say(at, joined(at, 0, first), why_arena_print(arena, "not used; read as %s", name));
  size_t behind = first + count;
  if (behind < at->count)
    say(at, joined(at, behind, at->count - behind),
        why_arena_print(arena, "not used; read as %s", name));
}

static why_symbol find_part(const search* at) {
  why_symbol exercise = 0;
  for (size_t count = at->count; count; count--)
    for (size_t first = 0; first + count <= at->count; first++) {
      size_t before = at->programme->unread.count;
      if (!settles(at, joined(at, first, count), &exercise))
        continue;
      if (exercise)
        say_part(at, first, count, exercise);
      else if (at->programme->unread.count == before)
        continue;
      return exercise;
    }
  return 0;
}

static void say_unknown(const search* at) {
  const why_ground* ground = at->question->ground;
  why_unread* made = say(at, at->row->name, "no exercise of this name is known");
  why_word_hits near =
      why_words_near(ground->words, at->question->arena, at->row->name, WHY_MEANS_EXERCISE);
  why_buffer text = {.arena = at->question->arena};
  for (size_t i = 0; i < near.count; i++)
    why_buffer_print(&text, "%s%s", i ? ", " : "near matches: ",
                     near.at[i].id ? near.at[i].id_text : near.at[i].word);
  made->hint = near.count ? why_buffer_text(&text) : NULL;
}

static why_symbol resolve(search* at) {
  why_symbol exercise = 0;
  if (settles(at, at->row->name, &exercise))
    return exercise;
  size_t before = at->programme->unread.count;
  cut(at, at->row->name);
  mend(at);
  exercise = find_part(at);
  if (!exercise && at->programme->unread.count == before)
    say_unknown(at);
  return exercise;
}

/// Whether the row is to be counted.
static bool keep(const why_question* question, const why_notation* notation,
                 why_programme* programme, why_programme_row* row) {
  search at = {.question = question, .notation = notation, .programme = programme, .row = row};
  if (row->warm_up)
    return false;
  row->exercise = resolve(&at);
  if (!row->exercise)
    return false;
  if (row->sets >= 1 && row->sets <= WHY_PROGRAMME_SETS)
    return true;
  say(&at, row->name,
      row->sets > 0 ? "more than 20 sets of one exercise are taken for a slip; not counted"
                    : "no number of sets; not counted");
  return false;
}

void why_programme_resolve(const why_question* question, const why_notation* notation,
                           why_programme* programme) {
  size_t days = 0;
  for (size_t i = 0; i < programme->days.count; i++) {
    why_programme_day* day = &programme->days.at[i];
    size_t kept = 0;
    for (size_t k = 0; k < day->rows.count; k++)
      if (keep(question, notation, programme, &day->rows.at[k]))
        day->rows.at[kept++] = day->rows.at[k];
    day->rows.count = kept;
    if (kept)
      programme->days.at[days++] = *day;
  }
  programme->days.count = days;
}
