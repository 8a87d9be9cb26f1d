// SPDX-License-Identifier: GPL-3.0-or-later
// Three passes: characters by a table, then hyphens at the ends of lines, then sentences.
#include "draft_text.h"

#include <ctype.h>
#include <stdbool.h>
#include <string.h>

/// What stands for what; longer texts before those that they begin with.
static const char* const MENDED[][2] = {
    {"\xEF\xBB\xBF", ""},             // mark of the byte order
    {"\xE2\x80\x8B", ""},             // space of no width
    {"\xEF\xAC\x80", "ff"},           // ligatures
    {"\xEF\xAC\x81", "fi"},           //
    {"\xEF\xAC\x82", "fl"},           //
    {"\xEF\xAC\x83", "ffi"},          //
    {"\xEF\xAC\x84", "ffl"},          //
    {"\xEF\xAC\x85", "st"},           //
    {"\xEF\xAC\x86", "st"},           //
    {"\xE2\x88\x92", "-"},            // minus
    {"\xE2\x80\x90", "-"},            // hyphens and dashes up to the en dash
    {"\xE2\x80\x91", "-"},            //
    {"\xE2\x80\x92", "-"},            //
    {"\xE2\x80\x93", "-"},            //
    {"\xE2\x80\x94", " - "},          // em dash
    {"\xE2\x81\xBB", "-"},            // raised minus
    {"\xC2\xB9", "1"},                // raised digits
    {"\xC2\xB2", "2"},                //
    {"\xC2\xB3", "3"},                //
    {"cm^", "cm"},                    //
    {"mm^", "mm"},                    //
    {"\xCE\xBC", "\xC2\xB5"},         // the letter mu for the micro sign
    {"+/-", "\xC2\xB1"},              //
    {"+-", "\xC2\xB1"},               //
    {"\xE2\x80\x98", "'"},            // quotation marks
    {"\xE2\x80\x99", "'"},            //
    {"\xE2\x80\x9C", "\""},           //
    {"\xE2\x80\x9D", "\""},           //
    {"\xEF\xBC\x85", "%"},            // wide per cent sign
    {"\xE2\xA9\xBD", "\xE2\x89\xA4"}, // slanted at most, at least
    {"\xE2\xA9\xBE", "\xE2\x89\xA5"}, //
    {"\xE2\x8B\x85", "\xC2\xB7"},     // dot of a product
    {"\xE2\x88\x99", "\xC2\xB7"},     //
    {"&lt;", "<"},
    {"&gt;", ">"},
    {"&amp;", "&"},
    {"\xEF\xBF\xBE", ""}, // what XML does not take
    {"\xEF\xBF\xBF", ""},
};

/// Spaces that are not plain; the first three also part the thousands of a number.
static const char* const SPACES[] = {"\xC2\xA0",     "\xE2\x80\x89", "\xE2\x80\xAF", "\xE2\x80\x87",
                                     "\xE2\x80\x8A", "\xE2\x80\x82", "\xE2\x80\x83", "\xE2\x80\x84",
                                     "\xE2\x80\x85", "\xE3\x80\x80"};

enum { SPACE_COUNT = sizeof SPACES / sizeof *SPACES, PARTING = 4 };

static bool begins(const char* text, const char* with) {
  return strncmp(text, with, strlen(with)) == 0;
}

static bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

static bool is_letter(char c) {
  return isalpha((unsigned char)c) || (unsigned char)c >= 0x80;
}

/// Whether just three digits follow.
static bool is_thousand(const char* text) {
  return is_digit(text[0]) && is_digit(text[1]) && is_digit(text[2]) && !is_digit(text[3]);
}

/// Steps over an odd space at `text`; 0 when there is none.
static size_t space_at(why_buffer* out, const char* text) {
  for (size_t i = 0; i < SPACE_COUNT; i++) {
    size_t length = strlen(SPACES[i]);
    if (!begins(text, SPACES[i]))
      continue;
    bool parts = i < PARTING && out->length && is_digit(out->text[out->length - 1]) &&
                 is_thousand(text + length);
    why_buffer_add(out, parts ? "" : " ");
    return length;
  }
  return 0;
}

static size_t mend_at(why_buffer* out, const char* text) {
  for (size_t i = 0; i < sizeof MENDED / sizeof *MENDED; i++)
    if (begins(text, MENDED[i][0])) {
      why_buffer_add(out, MENDED[i][1]);
      return strlen(MENDED[i][0]);
    }
  size_t space = space_at(out, text);
  if (space)
    return space;
  bool raised_point = begins(text, "\xC2\xB7") && out->length &&
                      is_digit(out->text[out->length - 1]) && is_digit(text[2]);
  if (raised_point) {
    why_buffer_add(out, ".");
    return 2;
  }
  bool odd = (unsigned char)*text < ' ' && *text != '\n';
  why_buffer_add_bytes(out, odd ? " " : text, 1);
  return 1;
}

/// Words that keep their hyphen where a line ends in it.
static bool keeps_hyphen(const char* before, size_t length) {
  static const char* const WORDS[] = {"within", "between",    "cross",    "pre",  "post",  "non",
                                      "self",   "single",     "multi",    "two",  "one",   "long",
                                      "short",  "full",       "half",     "low",  "high",  "mid",
                                      "well",   "resistance", "strength", "body", "lower", "upper"};
  size_t from = length;
  while (from && is_letter(before[from - 1]))
    from--;
  if (from == length)
    return true; // "10-" and the week on the next line
  for (size_t i = 0; i < sizeof WORDS / sizeof *WORDS; i++)
    if (strlen(WORDS[i]) == length - from && strncmp(before + from, WORDS[i], length - from) == 0)
      return true;
  return false;
}

static const char* over_blanks(const char* text) {
  return text + strspn(text, " \t");
}

/// Where the next line begins if `text` is at a hyphen that ends a line; NULL when it is not.
static const char* next_line(const char* text) {
  bool soft = begins(text, "\xC2\xAD");
  if (!soft && *text != '-')
    return NULL;
  const char* rest = over_blanks(text + (soft ? 2 : 1));
  if (*rest != '\n')
    return NULL;
  rest = over_blanks(rest + 1);
  return is_letter(*rest) || is_digit(*rest) ? rest : NULL;
}

static const char* join_lines(why_arena* arena, const char* text) {
  why_buffer out = {.arena = arena};
  while (*text) {
    const char* next = next_line(text);
    bool soft = begins(text, "\xC2\xAD");
    if (next) {
      if (!soft && (keeps_hyphen(why_buffer_text(&out), out.length) || is_digit(*next)))
        why_buffer_add(&out, "-");
      text = next;
    } else if (soft) {
      text += 2;
    } else {
      why_buffer_add_bytes(&out, text++, 1);
    }
  }
  return why_buffer_text(&out);
}

const char* why_draft_mend(why_arena* arena, const char* text) {
  why_buffer out = {.arena = arena};
  while (*text)
    text += mend_at(&out, text);
  return join_lines(arena, why_buffer_text(&out));
}

/// Whether the word before the stop at the end of `text` is usually written with one.
static bool is_abbreviated(const char* text, size_t length) {
  static const char* const WORDS[] = {"vs",   "e.g", "i.e", "approx", "ca",  "cf", "al",
                                      "resp", "no",  "fig", "wk",     "wks", "yr", "yrs"};
  size_t from = length;
  while (from && text[from - 1] != ' ' && text[from - 1] != '(')
    from--;
  for (size_t i = 0; i < sizeof WORDS / sizeof *WORDS; i++)
    if (strlen(WORDS[i]) == length - from && strncmp(text + from, WORDS[i], length - from) == 0)
      return true;
  return false;
}

/// Whether a sentence ends behind the mark at the end of `sentence`, before `rest`.
static bool ends_here(const why_buffer* sentence, const char* rest) {
  char mark = sentence->text[sentence->length - 1];
  if (mark != '.' && mark != '?' && mark != '!')
    return false;
  const char* next = rest + strspn(rest, " \t\r\n");
  if (next == rest)
    return false;
  bool begins_one = isupper((unsigned char)*next) || is_digit(*next) || strchr("(\"[", *next);
  return begins_one && !is_abbreviated(sentence->text, sentence->length - 1);
}

static void finish(why_arena* arena, why_sentences* all, why_buffer* sentence) {
  while (sentence->length && sentence->text[sentence->length - 1] == ' ')
    sentence->length--;
  if (sentence->length)
    *WHY_LIST_ADD(arena, *all) = why_arena_copy(arena, sentence->text, sentence->length);
  sentence->length = 0;
}

why_sentences why_draft_sentences(why_arena* arena, const char* mended) {
  why_sentences all = {0};
  why_buffer sentence = {.arena = arena};
  while (*mended) {
    size_t blanks = strspn(mended, " \t\r\n");
    bool many = all.count + 1 >= WHY_DRAFT_SENTENCES_LIMIT;
    const char* line = memchr(mended, '\n', blanks);
    if (line && memchr(line + 1, '\n', blanks - (size_t)(line + 1 - mended)) && !many)
      finish(arena, &all, &sentence);
    else if (blanks && sentence.length && sentence.text[sentence.length - 1] != ' ')
      why_buffer_add(&sentence, " ");
    mended += blanks;
    if (!*mended)
      break;
    why_buffer_add_bytes(&sentence, mended++, 1);
    if (ends_here(&sentence, mended) && !many)
      finish(arena, &all, &sentence);
  }
  finish(arena, &all, &sentence);
  return all;
}
