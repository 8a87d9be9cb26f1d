// SPDX-License-Identifier: GPL-3.0-or-later
// Plain text, line by line: a line opens a day or holds items; an item is what stands between
// commas, its matches of the notation are read and blanked, and what is left is a name. An item
// without a name belongs to the one before it.
#include "programme.h"

#include <ctype.h>
#include <math.h>
#include <string.h>
#include <strings.h>

typedef struct {
  why_question* question;
  why_notation* notation;
  why_programme* programme;
  const char* file;
  unsigned line;
  const char* whole;      ///< The line as it was written.
  why_programme_day* day; ///< NULL before the first.
  bool warming;           ///< All up to the next empty line is for warming up.
  size_t rows;
  bool failed;
} writer;

enum { KILOGRAM_OF_POUND = 45359237 }; ///< In units of 10⁻⁸: the international pound, exactly.

static why_place place_at(const writer* w, size_t column) {
  return (why_place){.file = w->file, .line = w->line, .column = (unsigned)column + 1};
}

static void add_unread(const writer* w, const char* text, const char* why, size_t column) {
  *WHY_LIST_ADD(w->question->arena, w->programme->unread) =
      (why_unread){.text = text, .why = why, .place = place_at(w, column)};
}

static void refuse(writer* w, const char* sentence, const char* hint) {
  why_problems_add(w->question->problems, WHY_ERROR, "programme", place_at(w, 0), "%s", sentence);
  why_problems_hint(w->question->problems, "%s", hint);
  w->failed = true;
}

unsigned why_programme_weekdays(why_notation* notation, const char* text) {
  static const char NAMES[][4] = {"mon", "tue", "wed", "thu", "fri", "sat", "sun"};
  unsigned days = 0;
  why_written found = {0};
  for (size_t i = 0; i < notation->rows.count; i++) {
    if (notation->rows.at[i].meaning != WHY_WRITES_WEEKDAY)
      continue;
    for (size_t from = 0; why_notation_find(notation, i, text, from, &found); from = found.end)
      for (unsigned k = 0; k < 7; k++)
        if (strncasecmp(text + found.start, NAMES[k], 3) == 0)
          days |= 1u << k;
  }
  return days;
}

/// The day that is open, or one without a name.
static why_programme_day* open_day(writer* w) {
  if (w->day)
    return w->day;
  if (w->programme->days.count == WHY_PROGRAMME_DAYS) {
    refuse(w, "there are too many days", "a programme is one week");
    return NULL;
  }
  w->day = WHY_LIST_ADD(w->question->arena, w->programme->days);
  *w->day = (why_programme_day){.name = "", .place = place_at(w, 0)};
  return w->day;
}

static const char* without(const writer* w, const char* edge, const char* text, size_t length) {
  while (length && strchr(edge, text[0]))
    text++, length--;
  while (length && strchr(edge, text[length - 1]))
    length--;
  return why_arena_copy(w->question->arena, text, length);
}

static const char* trimmed(const writer* w, const char* text, size_t length) {
  return without(w, " \t\r-:;,.#*()[]=>|", text, length);
}

static void start_day(writer* w, const char* name, size_t column) {
  w->day = NULL;
  w->warming = false;
  why_programme_day* day = open_day(w);
  if (!day)
    return;
  why_written found = {0};
  day->name = name;
  day->place = place_at(w, column);
  day->weekdays = why_programme_weekdays(w->notation, name);
  if (why_notation_means(w->notation, WHY_WRITES_MANY, name, &found))
    day->times = found.count ? found.numbers[0] : strncasecmp(name + found.start, "tw", 2) ? 7 : 2;
}

static void blank(char* text, size_t start, size_t end) {
  memset(text + start, ' ', end - start);
}

static bool is_blank(const char* text) {
  return text[strspn(text, " \t\r")] == '\0';
}

static bool has_sets(writer* w, const char* text) {
  why_written found = {0};
  return why_notation_means(w->notation, WHY_WRITES_SETS_REPETITIONS, text, &found) ||
         why_notation_means(w->notation, WHY_WRITES_SETS, text, &found) ||
         why_notation_means(w->notation, WHY_WRITES_SETS_SECONDS, text, &found) ||
         why_notation_means(w->notation, WHY_WRITES_LIST, text, &found);
}

/// Where the name of a day ends in a line, behind its colon or dash; 0 when the line opens none.
static size_t day_ends(writer* w, char* line) {
  why_written found = {0};
  char* colon = strchr(line, ':');
  while (colon && colon > line && isdigit((unsigned char)colon[-1]) &&
         isdigit((unsigned char)colon[1]))
    colon = strchr(colon + 1, ':');
  bool named = (why_notation_means(w->notation, WHY_WRITES_WEEKDAY, line, &found) &&
                strspn(line, " \t#*-") >= found.start) ||
               why_notation_means(w->notation, WHY_WRITES_DAY, line, &found);
  if (!colon)
    return !named ? 0 : has_sets(w, line) ? found.end : strlen(line);
  size_t end = (size_t)(colon - line) + 1;
  *colon = '\0';
  bool sets = has_sets(w, line);
  *colon = ':';
  if (sets)
    return named ? found.end : 0;
  if (named || is_blank(colon + 1))
    return end;
  // "Squat: 3x8" names an exercise, "Upper: squat 3x8" a day.
  bool direct = false;
  for (size_t i = 0; i < w->notation->rows.count && !direct; i++)
    direct = w->notation->rows.at[i].meaning >= WHY_WRITES_RESERVE &&
             why_notation_find(w->notation, i, colon + 1, 0, &found) &&
             found.start <= strspn(colon + 1, " \t");
  return direct ? 0 : end;
}

static void widen(why_from_to* span, double low, double high) {
  span->low = isnan(span->low) ? fmin(low, high) : fmin(span->low, fmin(low, high));
  span->high = isnan(span->high) ? fmax(low, high) : fmax(span->high, fmax(low, high));
}

/// Numbers from `first` on, as a range.
static void widen_by(why_from_to* span, const why_written* found, size_t first) {
  if (found->count > first)
    widen(span, found->numbers[first],
          found->numbers[found->count > first + 1 ? first + 1 : first]);
}

static void apply(const why_written* found, why_programme_row* row) {
  double one = found->count ? found->numbers[0] : 0;
  switch (found->meaning) {
  case WHY_WRITES_SETS_REPETITIONS_KILOGRAMS:
    if (found->count > 2)
      row->load_kg = found->numbers[2];
    row->sets += one;
    if (found->count > 1)
      widen(&row->repetitions, found->numbers[1], found->numbers[1]);
    break;
  case WHY_WRITES_SETS_REPETITIONS:
    row->sets += one;
    widen_by(&row->repetitions, found, 1);
    break;
  case WHY_WRITES_SETS_SECONDS:
    row->sets += one;
    widen_by(&row->seconds, found, 1);
    break;
  case WHY_WRITES_SETS:
    row->sets += one;
    break;
  case WHY_WRITES_LIST:
    row->sets += (double)found->count;
    for (size_t i = 0; i < found->count; i++)
      widen(&row->repetitions, found->numbers[i], found->numbers[i]);
    break;
  case WHY_WRITES_REPETITIONS:
    widen_by(&row->repetitions, found, 0);
    break;
  case WHY_WRITES_RESERVE:
    widen_by(&row->reserve, found, 0);
    break;
  case WHY_WRITES_EXERTION: // ten is failure, and each point below it a repetition in reserve
    if (found->count)
      widen(&row->reserve, fmax(0, 10 - one), fmax(0, 10 - found->numbers[found->count - 1]));
    break;
  case WHY_WRITES_KILOGRAMS:
    row->load_kg = one;
    break;
  case WHY_WRITES_POUNDS:
    row->load_kg = one * KILOGRAM_OF_POUND / 1e8;
    break;
  case WHY_WRITES_WARM_UP:
    row->warm_up = true;
    break;
  default:
    break;
  }
}

/// Read all that the notation knows in an item; what is left stands in `item`.
static why_programme_row read_item(writer* w, char* item) {
  why_programme_row row = why_programme_row_empty();
  for (size_t i = 0; i < w->notation->rows.count; i++) {
    why_writes meaning = w->notation->rows.at[i].meaning;
    if (meaning >= WHY_WRITES_REMARK && meaning <= WHY_WRITES_MANY)
      continue; // of lines, not of items
    why_written found = {0};
    for (size_t from = 0; why_notation_find(w->notation, i, item, from, &found); from = found.end) {
      apply(&found, &row);
      blank(item, found.start, found.end);
    }
  }
  return row;
}

static bool has_letter(const char* text) {
  for (; *text; text++)
    if (isalpha((unsigned char)*text) || (unsigned char)*text >= 0x80)
      return true;
  return false;
}

static bool has_digit(const char* text) {
  return text[strcspn(text, "0123456789")] != '\0';
}

/// An item without a name says more about the row before it.
static void join(why_programme_row* into, const why_programme_row* more) {
  into->sets += more->sets;
  if (!isnan(more->repetitions.low))
    widen(&into->repetitions, more->repetitions.low, more->repetitions.high);
  if (!isnan(more->seconds.low))
    widen(&into->seconds, more->seconds.low, more->seconds.high);
  if (!isnan(more->reserve.low))
    into->reserve = more->reserve;
  if (!isnan(more->load_kg))
    into->load_kg = more->load_kg;
}

static void add_row(writer* w, why_programme_row row, const char* name, size_t column) {
  if (++w->rows == WHY_PROGRAMME_ROWS) {
    refuse(w, "the programme has too many lines", "at most 499 lines with an exercise");
    return;
  }
  why_programme_day* day = open_day(w);
  if (!day)
    return;
  row.name = name;
  row.place = place_at(w, column);
  row.warm_up = row.warm_up || w->warming;
  *WHY_LIST_ADD(w->question->arena, day->rows) = row;
}

/// An item that names nothing.
static void add_nameless(writer* w, const why_programme_row* row, const char* left,
                         const char* typed, size_t column) {
  why_programme_day* day = w->day;
  bool says = row->sets > 0 || !isnan(row->reserve.low) || !isnan(row->load_kg) ||
              !isnan(row->repetitions.low);
  why_programme_row* before = day && day->rows.count ? &day->rows.at[day->rows.count - 1] : NULL;
  if (says && before && before->warm_up && !row->warm_up && row->sets > 0)
    add_row(w, *row, before->name, column); // "2x5 warm-up, 4x6"
  else if (says && before)
    join(before, row);
  else if (says || has_digit(left))
    add_unread(w, trimmed(w, typed, strlen(typed)), "no exercise stands here", column);
}

static void add_item(writer* w, const char* start, size_t length) {
  why_arena* arena = w->question->arena;
  char* item = why_arena_copy(arena, start, length);
  const char* typed = why_arena_copy(arena, start, length);
  size_t column = (size_t)(start - w->whole);
  while (*typed == ' ' || *typed == '\t')
    typed++, column++;
  why_written found = {0};
  if (why_notation_means(w->notation, WHY_WRITES_IDLE, item, &found))
    return;
  why_programme_row row = read_item(w, item);
  const char* name = trimmed(w, item, strlen(item));
  if (!has_letter(name))
    add_nameless(w, &row, name, typed, column);
  else
    add_row(w, row, name, column);
}

/// Whether an item ends at `at`: a comma, a semicolon, a bar, "+", "/" or "&" between blanks, or
/// "and" before a number. How many characters that takes, or 0.
static size_t ends_item(const char* at, int depth) {
  if (depth)
    return 0;
  if (strchr(",;|\t", *at))
    return 1;
  if (strncasecmp(at, " and ", 5) == 0 && isdigit((unsigned char)at[5]))
    return 5; // "12 sets of squats and 6 sets of leg curls"
  return at[0] == ' ' && at[1] && strchr("+/", at[1]) && at[2] == ' ' ? 3 : 0;
}

/// Items of the line from byte `from` on. A list of repetitions is one item, whatever its commas.
static void add_items(writer* w, char* line, size_t from) {
  why_written found = {0};
  if (why_notation_means(w->notation, WHY_WRITES_LIST, line + from, &found))
    for (size_t i = from + found.start; i < from + found.end; i++)
      line[i] = line[i] == ',' ? '/' : line[i];
  size_t start = from;
  int depth = 0;
  for (size_t i = from; !w->failed; i++) {
    depth += line[i] == '(' ? 1 : line[i] == ')' && depth ? -1 : 0;
    size_t skip = line[i] ? ends_item(line + i, depth) : 1;
    if (!skip)
      continue;
    // Addresses tell the columns, so items are taken from the line as it was copied.
    add_item(w, w->whole + start, i - start);
    if (!line[i])
      break;
    start = i + skip;
    i += skip - 1;
  }
}

/// Blank what is a remark, a bullet, and brackets, which keep what they hold.
static void clean(writer* w, char* line) {
  static const why_writes FIRST[] = {WHY_WRITES_BULLET, WHY_WRITES_REMARK};
  why_written found = {0};
  size_t hashes = strspn(line, " \t#");
  if (memchr(line, '#', hashes) && (why_programme_weekdays(w->notation, line) ||
                                    why_notation_means(w->notation, WHY_WRITES_DAY, line, &found)))
    blank(line, 0, hashes); // a heading, no remark
  for (size_t i = 0; i < sizeof FIRST / sizeof *FIRST; i++)
    if (why_notation_means(w->notation, FIRST[i], line, &found))
      blank(line, found.start, found.end);
  for (char* at = line; *at; at++)
    if (*at == '*' && !(at > line && isdigit((unsigned char)at[-1])))
      *at = ' ';
}

static void read_line(writer* w, char* line) {
  clean(w, line);
  w->whole = line;
  if (is_blank(line)) {
    w->warming = false;
    return;
  }
  why_written found = {0};
  size_t end = day_ends(w, line);
  if (end) {
    const char* name = without(w, " \t\r-:;,.#*", line, end);
    if (why_notation_means(w->notation, WHY_WRITES_WARM_UP, name, &found))
      w->warming = true;
    else
      start_day(w, name, strspn(line, " \t"));
  }
  if (is_blank(line + end))
    return;
  add_items(w, line, end);
  w->warming = w->warming && !end; // of this line alone where it said so
}

/// A line of text; what is no UTF-8 is refused.
static void take_line(writer* w, const char* start, size_t length) {
  why_arena* arena = w->question->arena;
  size_t from = 0, to = 0;
  w->line++;
  char* line = why_arena_copy(arena, start, length);
  if (length > WHY_PROGRAMME_LINE)
    refuse(w, "this line is too long", "at most 1000 bytes a line");
  else if (why_regex_find(why_phrases_cutter(w->question->ground->phrases), line, 0, arena,
                          &w->notation->matcher, &from, &to) == WHY_MATCH_FAILED)
    refuse(w, "this is not text in UTF-8", "save the file as UTF-8");
  else
    read_line(w, line);
}

why_status why_programme_from_text(why_question* question, why_notation* notation, const char* file,
                                   const char* text, why_programme* programme) {
  writer w = {.question = question, .notation = notation, .programme = programme, .file = file};
  if (strncmp(text, "\xEF\xBB\xBF", 3) == 0)
    text += 3;
  while (*text && !w.failed) {
    size_t length = strcspn(text, "\n");
    take_line(&w, text, length && text[length - 1] == '\r' ? length - 1 : length);
    text += length + (text[length] == '\n');
  }
  return w.failed ? WHY_QUESTION : WHY_OK;
}
