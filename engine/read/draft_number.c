// SPDX-License-Identifier: GPL-3.0-or-later
// Walks each sentence once. Whether a comma parts decimals or thousands is settled by what the
// whole text does; where both readings stay open the number gets no value.
#include "draft_number.h"

#include "number.h"

#include <ctype.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/// How a text writes decimals.
typedef enum { STYLE_UNKNOWN, STYLE_POINT, STYLE_COMMA, STYLE_BOTH } style;

typedef struct {
  why_arena* arena;
  why_draft_lexed out;
  style decimals;
  const char* text; ///< The sentence at hand.
  size_t at;        ///< In it.
  why_buffer shape;
} lexer;

static bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

static bool is_letter(char c) {
  return isalpha((unsigned char)c) || c == '_';
}

/// The length of digits, each followed by digits behind a comma or point, at `text`.
static size_t run_length(const char* text) {
  size_t length = strspn(text, "0123456789");
  while ((text[length] == ',' || text[length] == '.') && is_digit(text[length + 1]))
    length += 1 + strspn(text + length + 1, "0123456789");
  return length;
}

/// The length of a DOI or of a web address at `text`; 0: none.
static size_t address_length(const char* text) {
  if (strncmp(text, "http", 4) == 0 && strstr(text, "://") == text + 4 + (text[4] == 's'))
    return strcspn(text, " \"<>");
  size_t registrant = strncmp(text, "10.", 3) == 0 ? strspn(text + 3, "0123456789") : 0;
  if (registrant < 4 || text[3 + registrant] != '/')
    return 0;
  size_t length = strcspn(text, " \"<>,;");
  while (length && strchr(".)]", text[length - 1]))
    length--;
  return length;
}

/// Where the DOI in an address of `length` bytes begins; NULL: it has none.
static const char* doi_in(const char* address, size_t length) {
  for (size_t i = 0; i + 8 < length; i++)
    if (strncmp(address + i, "10.", 3) == 0 && address_length(address + i))
      return address + i;
  return NULL;
}

/// What one run of digits says about decimals.
static style style_of_run(const char* run, size_t length, const char* behind) {
  const char* comma = memchr(run, ',', length);
  const char* point = memchr(run, '.', length);
  if (point && comma)
    return point > comma ? STYLE_POINT : STYLE_COMMA;
  if (point)
    return STYLE_POINT;
  if (!comma)
    return STYLE_UNKNOWN;
  if (run[0] == '0' && comma == run + 1)
    return STYLE_COMMA;
  size_t decimals = length - (size_t)(comma + 1 - run);
  behind += strspn(behind, " ");
  bool measured = *behind == '%' || *behind == ')' || strncmp(behind, "\xC2\xB1", 2) == 0 ||
                  strncmp(behind, "cm", 2) == 0 || strncmp(behind, "mm", 2) == 0;
  return decimals < 3 && measured && !memchr(comma + 1, ',', decimals) ? STYLE_COMMA
                                                                       : STYLE_UNKNOWN;
}

static style style_of(const why_sentences* sentences) {
  style found = STYLE_UNKNOWN;
  for (size_t i = 0; i < sentences->count; i++)
    for (const char* text = sentences->at[i]; *text;) {
      size_t skipped = address_length(text);
      size_t length = skipped ? 0 : run_length(text);
      if (length)
        found |= style_of_run(text, length, text + length);
      text += skipped ? skipped : length ? length : 1;
    }
  return found;
}

static why_draft_number* add_number(lexer* l, size_t from, size_t length, double value) {
  size_t mark = l->shape.length;
  if (l->out.numbers.count == WHY_DRAFT_NUMBERS_LIMIT) {
    l->out.too_many = true;
    why_buffer_add(&l->shape, " ");
    return NULL;
  }
  char c = WHY_NUMBER_MARK;
  why_buffer_add_bytes(&l->shape, &c, 1);
  why_draft_number* number = WHY_LIST_ADD(l->arena, l->out.numbers);
  *number = (why_draft_number){.text = why_arena_copy(l->arena, l->text + from, length),
                               .value = value,
                               .sentence = l->out.sentences.count,
                               .at = mark};
  return number;
}

/// The value of digits written with `point` for decimals and another mark for thousands.
static double value_of(const lexer* l, const char* run, size_t length, char point, bool minus) {
  why_buffer plain = {.arena = l->arena};
  why_buffer_add(&plain, minus ? "-0" : "0");
  for (size_t i = 0; i < length; i++)
    if (run[i] == point)
      why_buffer_add(&plain, ".");
    else if (is_digit(run[i]))
      why_buffer_add_bytes(&plain, run + i, 1);
  double value = NAN;
  return why_parse_number(why_buffer_text(&plain), &value) ? value : NAN;
}

/// Whether every `mark` parts three digits from those before it.
static bool parts_thousands(const char* run, size_t length, char mark) {
  size_t group = 0;
  bool first = true;
  for (size_t i = 0; i <= length; i++) {
    if (i < length && is_digit(run[i])) {
      group++;
      continue;
    }
    if (first ? group == 0 || group > 3 || run[0] == '0' : group != 3)
      return false;
    first = false;
    group = 0;
    if (i < length && run[i] != mark)
      return true; // the decimals
  }
  return true;
}

/// How many bytes of the run make one number, and its value.
static size_t settle(const lexer* l, const char* run, size_t length, bool minus, double* value) {
  const char* comma = memchr(run, ',', length);
  const char* point = memchr(run, '.', length);
  *value = NAN;
  if (!comma && !point) {
    *value = value_of(l, run, length, '.', minus);
    return length;
  }
  bool twice = (comma && point) || memchr((comma ? comma : point) + 1, comma ? ',' : '.',
                                          length - (size_t)((comma ? comma : point) + 1 - run));
  char mark = comma && (!point || comma < point) ? ',' : '.';
  bool thousands = parts_thousands(run, length, mark);
  if (twice && thousands) {
    *value = value_of(l, run, length, mark == ',' ? '.' : ',', minus);
    return length;
  }
  if (twice && mark == '.' && !comma)
    return length; // 1.2.3 is no number that can be told
  if (!comma) {
    bool open = l->decimals != STYLE_POINT && thousands;
    *value = open ? NAN : value_of(l, run, length, '.', minus);
    return length;
  }
  if (!twice && (l->decimals & STYLE_COMMA || run[0] == '0')) {
    *value = thousands ? NAN : value_of(l, run, length, ',', minus);
    return length;
  }
  if (!twice && thousands) {
    *value = l->decimals == STYLE_POINT ? value_of(l, run, length, '.', minus) : NAN;
    return length;
  }
  size_t head = (size_t)(comma - run); // a list such as 4,8 or 1.2,4.5
  return settle(l, run, head, minus, value);
}

/// Whether the sign before `at` belongs to the number: nothing that it could join stands before it.
static bool is_signed(const char* text, size_t at) {
  if (!at || (text[at - 1] != '-' && text[at - 1] != '+'))
    return false;
  char before = at > 1 ? text[at - 2] : ' ';
  return !is_letter(before) && !is_digit(before) && !strchr(").%", before) &&
         (unsigned char)before < 0x80;
}

static void take_digits(lexer* l, size_t from) {
  bool has_sign = is_signed(l->text, from);
  bool minus = has_sign && l->text[from - 1] == '-';
  const char* run = l->text + from;
  bool bare = *run == '.';
  double value = NAN;
  size_t length = bare ? 1 + strspn(run + 1, "0123456789") : run_length(run);
  if (bare)
    value = value_of(l, run, length, '.', minus);
  else
    length = settle(l, run, length, minus, &value);
  if (has_sign)
    l->shape.length--;
  add_number(l, from - has_sign, length + has_sign, value);
  l->at = from + length;
}

static const struct {
  const char* word;
  double value;
} WORDS[] = {
    {"zero", 0},       {"one", 1},       {"once", 1},      {"two", 2},      {"twice", 2},
    {"three", 3},      {"thrice", 3},    {"four", 4},      {"five", 5},     {"six", 6},
    {"seven", 7},      {"eight", 8},     {"nine", 9},      {"ten", 10},     {"eleven", 11},
    {"twelve", 12},    {"thirteen", 13}, {"fourteen", 14}, {"fifteen", 15}, {"sixteen", 16},
    {"seventeen", 17}, {"eighteen", 18}, {"nineteen", 19}, {"twenty", 20},  {"thirty", 30},
    {"forty", 40},     {"fifty", 50},    {"sixty", 60},    {"seventy", 70}, {"eighty", 80},
    {"ninety", 90},    {"hundred", 100},
};

/// The value of the word of `length` letters at `text`; -1: none.
static double word_value(const char* text, size_t length) {
  char lower[16] = "";
  if (length >= sizeof lower)
    return -1;
  for (size_t i = 0; i < length; i++)
    lower[i] = (char)tolower((unsigned char)text[i]);
  for (size_t i = 0; i < sizeof WORDS / sizeof *WORDS; i++)
    if (strcmp(WORDS[i].word, lower) == 0)
      return WORDS[i].value;
  return -1;
}

/// Whether the character beyond ASCII is no letter: the signs of Latin-1 but for the letters among
/// them, U+00D7 and U+00F7, U+2000 to U+2FFF, and the delta of a change.
static bool is_sign(const char* text) {
  unsigned char first = (unsigned char)text[0];
  unsigned char second = (unsigned char)text[1];
  if (first == 0xC2)
    return second != 0xAA && second != 0xB5 && second != 0xBA;
  if (first == 0xC3)
    return second == 0x97 || second == 0xB7;
  return first == 0xE2 || (first == 0xCE && second == 0x94);
}

static size_t sign_length(const char* text) {
  size_t length = 1;
  while (((unsigned char)text[length] & 0xC0) == 0x80)
    length++;
  return length;
}

/// The length of a letter at `text`; 0: there is none.
static size_t letter_length(const char* text) {
  if ((unsigned char)*text >= 0x80)
    return is_sign(text) ? 0 : sign_length(text);
  return is_letter(*text);
}

static size_t letters(const char* text) {
  size_t length = 0;
  for (size_t more; (more = letter_length(text + length));)
    length += more;
  return length;
}

/// A number in words from `text` on; returns its length, 0: none.
static size_t read_words(const char* text, double* value) {
  size_t length = letters(text);
  *value = word_value(text, length);
  if (*value < 0)
    return 0;
  for (;;) {
    const char* rest = text + length;
    size_t gap = *rest == '-' || *rest == ' ' ? 1 : 0;
    bool joined = *value >= 100 && strncmp(rest, " and ", 5) == 0;
    gap = joined ? 5 : gap;
    size_t more = gap ? letters(rest + gap) : 0;
    double next = more ? word_value(rest + gap, more) : -1;
    bool hundred = next == 100 && *value >= 1 && *value < 10;
    bool ones = next >= 1 && next < 10 && *value >= 20 && *value < 100 && fmod(*value, 10) == 0;
    bool rest_of_hundred = next > 0 && next < 100 && fmod(*value, 100) == 0 && *value >= 100;
    if (!hundred && !ones && !rest_of_hundred)
      return length;
    *value = hundred ? *value * 100 : *value + next;
    length += gap + more;
  }
}

/// Letters, with digits that belong to them: T1, VO2max, CI95, cm2, and a unit to the power of
/// minus one.
static size_t name_length(const char* text) {
  static const char* const UNITS[] = {"wk", "week", "day", "d", "min", "s", "h", "kg", "session"};
  size_t word = letters(text);
  size_t length = word;
  for (size_t more; (more = is_digit(text[length]) ? 1 : letter_length(text + length));)
    length += more;
  for (size_t i = 0; i < sizeof UNITS / sizeof *UNITS; i++)
    if (length == word && strlen(UNITS[i]) == word && strncmp(text, UNITS[i], word) == 0 &&
        strncmp(text + word, "-1", 2) == 0 && !is_digit(text[word + 2]) && text[word + 2] != '.')
      return word + 2;
  return length;
}

static void copy(lexer* l, size_t length) {
  for (size_t i = 0; i < length; i++) {
    char c = l->text[l->at + i];
    c = c == WHY_NUMBER_MARK || c == WHY_TAKEN_MARK ? ' ' : c;
    why_buffer_add_bytes(&l->shape, &c, 1);
  }
  l->at += length;
}

static void take_address(lexer* l, size_t length) {
  const char* from = doi_in(l->text + l->at, length + 8);
  if (from && from < l->text + l->at + length && !*l->out.doi)
    l->out.doi = why_arena_copy(l->arena, from, address_length(from));
  why_buffer_add(&l->shape, "@");
  l->at += length;
}

static void step(lexer* l) {
  const char* here = l->text + l->at;
  size_t address = address_length(here);
  double value = NAN;
  if (address) {
    take_address(l, address);
  } else if (is_digit(*here) || (*here == '.' && is_digit(here[1]))) {
    take_digits(l, l->at);
  } else if (letters(here)) {
    size_t words = read_words(here, &value);
    if (!words || is_digit(here[words])) {
      copy(l, name_length(here));
      return;
    }
    why_draft_number* number = add_number(l, l->at, words, value);
    if (number)
      number->in_words = true;
    l->at += words;
  } else {
    copy(l, sign_length(here));
  }
}

why_draft_lexed why_draft_lex(why_arena* arena, const why_sentences* sentences) {
  lexer l = {.arena = arena, .out = {.doi = ""}, .decimals = style_of(sentences)};
  for (size_t i = 0; i < sentences->count; i++) {
    l.text = sentences->at[i];
    l.at = 0;
    l.shape = (why_buffer){.arena = arena};
    size_t first = l.out.numbers.count;
    while (l.text[l.at])
      step(&l);
    *WHY_LIST_ADD(arena, l.out.sentences) = (why_draft_sentence){
        .text = l.text,
        .shape = why_arena_copy(arena, why_buffer_text(&l.shape), l.shape.length),
        .first = first,
        .count = l.out.numbers.count - first};
  }
  return l.out;
}

const char* why_number_fate_name(why_number_fate fate) {
  static const char* const NAMES[] = {"open", "used", "ignored"};
  return NAMES[fate];
}

why_draft_number* why_draft_number_at(const why_draft_lexed* lexed, size_t sentence, size_t at) {
  const why_draft_sentence* of = &lexed->sentences.at[sentence];
  for (size_t i = of->first; i < of->first + of->count; i++)
    if (lexed->numbers.at[i].at == at)
      return &lexed->numbers.at[i];
  return NULL;
}
