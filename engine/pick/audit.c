// SPDX-License-Identifier: GPL-3.0-or-later
// The rules count and remark (rules/reasoning/counting.xml, auditing.xml); here the programme is
// told to them, line by line, and what they conclude is read.
#include "audit.h"

#include "audit_change.h"
#include "programme.h"
#include "rows.h"
#include "sentence.h"

#include <math.h>
#include <string.h>

static void add_times(why_notation* notation, why_programme_day* day) {
  if (!day->weekdays)
    day->weekdays = why_programme_weekdays(notation, day->name);
  if (day->weekdays)
    day->times = 0;
  for (unsigned bits = day->weekdays; bits; bits &= bits - 1)
    day->times++;
  if (!(day->times > 0))
    day->times = 1;
  if (!*day->name)
    day->name = "session";
}

why_status why_question_programme(why_question* question, const char* file, const char* text,
                                  size_t length) {
  why_arena* arena = question->arena;
  why_programme* made = WHY_NEW(arena, why_programme);
  const char* shown = why_arena_copy(arena, file, strlen(file));
  const char* own = why_arena_copy(arena, text, length);
  if (length > WHY_PROGRAMME_LIMIT || strlen(own) < length) {
    why_problems_add(question->problems, WHY_ERROR, "programme", (why_place){.file = shown},
                     length > WHY_PROGRAMME_LIMIT ? "the programme is larger than %d KiB"
                                                  : "this is no text: it holds zero bytes (limit "
                                                    "%d KiB)",
                     WHY_PROGRAMME_LIMIT / 1024);
    return WHY_QUESTION;
  }
  why_notation notation;
  why_status status = why_notation_new(question, &notation);
  if (status == WHY_OK)
    status = why_programme_is_xml(own)
                 ? why_programme_from_xml(arena, question->problems, shown, own, length, made)
                 : why_programme_from_text(question, &notation, shown, own, made);
  if (status != WHY_OK)
    return status;
  why_programme_resolve(question, &notation, made);
  for (size_t i = 0; i < made->days.count; i++)
    add_times(&notation, &made->days.at[i]);
  question->programme = made;
  return WHY_OK;
}

/// What the parts of this file hand to each other.
typedef struct {
  why_audit* audit;
  why_picked* picked; ///< Stands for the answer where sentences are made.
  const why_program* program;
  why_overlay* overlay;
  double sessions;
  double entries;
} auditor;

static void assume_row(auditor* a, double day, why_symbol exercise, double sets) {
  why_relation planned = why_program_find(a->program, "planned");
  const why_value values[] = {why_value_of_number(++a->entries), why_value_of_number(day),
                              why_value_of_symbol(exercise), why_value_of_number(sets)};
  if (planned != WHY_NO_RELATION && why_program_relation(a->program, planned)->slot_count == 4)
    why_overlay_assume(a->overlay, planned, values);
}

static void assume_session(auditor* a, double weekday, const char* name) {
  why_relation session = why_program_find(a->program, "session");
  const why_value values[] = {
      why_value_of_number(++a->sessions), why_value_of_number(weekday),
      why_value_of_symbol(why_symbols_add(why_overlay_symbols(a->overlay), name))};
  if (session != WHY_NO_RELATION && why_program_relation(a->program, session)->slot_count == 3)
    why_overlay_assume(a->overlay, session, values);
}

/// One session; `times` a week where no weekday tells which.
static void add_session(auditor* a, const why_programme_day* day, double weekday, double times,
                        const char* name) {
  why_audit* audit = a->audit;
  why_audit_day made = {.name = name, .weekday = weekday};
  assume_session(a, weekday, name);
  for (size_t i = 0; i < day->rows.count; i++)
    made.sets += day->rows.at[i].sets;
  for (int each = 0; each < (int)times; each++)
    for (size_t i = 0; i < day->rows.count; i++)
      assume_row(a, each ? a->sessions + 1000 * each : a->sessions, day->rows.at[i].exercise,
                 day->rows.at[i].sets);
  *WHY_LIST_ADD(audit->arena, audit->days) = made;
}

static void add_day(auditor* a, const why_programme_day* day) {
  static const char* const NAMES[] = {"Monday", "Tuesday",  "Wednesday", "Thursday",
                                      "Friday", "Saturday", "Sunday"};
  a->audit->rows += day->rows.count;
  if (!day->weekdays) {
    add_session(a, day, -1, day->times, day->name);
    return;
  }
  bool one = !(day->weekdays & (day->weekdays - 1));
  for (unsigned k = 0; k < 7; k++)
    if (day->weekdays & 1u << k)
      add_session(a, day, k, 1, one ? day->name : NAMES[k]);
}

static why_audit_head read_head(auditor* a, why_symbol head) {
  why_audit_head made = {.head = head};
  why_rows rows = why_rows_about(a->program, a->overlay, "weekly", "head", head);
  if (!rows.facts.count)
    return made;
  made.direct = why_rows_number(&rows, 0, "direct");
  made.published = why_rows_number(&rows, 0, "published");
  made.computed = why_rows_number(&rows, 0, "computed");
  why_rows lengths = why_rows_about(a->program, a->overlay, "weekly-length", "head", head);
  for (size_t i = 0; i < lengths.facts.count; i++) {
    double rank = why_rows_number(&lengths, i, "class");
    if (rank >= 0 && rank < 3)
      made.at_length[(int)rank] = why_rows_number(&lengths, i, "sets");
  }
  return made;
}

/// Heads in the order of the anatomy.
static void read_heads(auditor* a) {
  const why_anatomy* anatomy = &a->audit->question->ground->tables->anatomy;
  for (size_t i = 0; i < anatomy->heads.count; i++) {
    why_audit_head made = read_head(a, anatomy->heads.at[i].id);
    if (made.published > 0)
      *WHY_LIST_ADD(a->audit->arena, a->audit->heads) = made;
  }
}

static void read_groups(auditor* a) {
  const why_anatomy* anatomy = &a->audit->question->ground->tables->anatomy;
  for (size_t i = 0; i < anatomy->groups.count; i++) {
    why_symbol group = anatomy->groups.at[i].id;
    if (!why_rows_about(a->program, a->overlay, "major", "group", group).facts.count)
      continue;
    why_rows rows = why_rows_about(a->program, a->overlay, "weekly-group", "group", group);
    *WHY_LIST_ADD(a->audit->arena, a->audit->groups) =
        (why_audit_group){group, rows.facts.count ? why_rows_number(&rows, 0, "sets") : 0};
  }
}

static void read_spine(auditor* a) {
  why_rows rows = why_rows_find(a->program, a->overlay, "spine-of-day");
  for (size_t i = 0; i < rows.facts.count; i++) {
    double day = why_rows_number(&rows, i, "day");
    if (day >= 1 && day <= (double)a->audit->days.count)
      a->audit->days.at[(size_t)day - 1].spine = why_rows_number(&rows, i, "points");
  }
}

static void read_actions(auditor* a, const char* relation, why_symbol_list* into) {
  why_rows rows = why_rows_find(a->program, a->overlay, relation);
  for (size_t i = 0; i < rows.facts.count; i++)
    *WHY_LIST_ADD(a->audit->arena, *into) = why_rows_symbol(&rows, i, "action");
}

static void read_level(auditor* a) {
  why_rows rows = why_rows_find(a->program, a->overlay, "level-here");
  a->audit->level = rows.facts.count ? why_symbols_text(why_overlay_symbols(a->overlay),
                                                        why_rows_symbol(&rows, 0, "level"))
                                     : NULL;
}

static why_status refuse(const why_question* question) {
  const why_programme* programme = question->programme;
  for (size_t i = 0; i < programme->unread.count; i++) {
    const why_unread* each = &programme->unread.at[i];
    why_problems_add(question->problems, WHY_ERROR, "programme", each->place, "%s: \"%.*s\"",
                     each->why, why_text_fit(each->text, WHY_SHOWN_LIMIT), each->text);
    if (each->hint)
      why_problems_hint(question->problems, "%s", each->hint);
  }
  why_problems_add(question->problems, WHY_ERROR, "programme", (why_place){0},
                   "no line with an exercise and its sets was found in the programme");
  why_problems_hint(question->problems, "write it like \"Mon: squat 3x8, leg curl 3x10-12\"");
  return WHY_QUESTION;
}

static void read_all(auditor* a) {
  read_heads(a);
  read_groups(a);
  read_spine(a);
  read_actions(a, "action-covered", &a->audit->covered);
  read_actions(a, "action-missed", &a->audit->missed);
  read_level(a);
  why_sentence_collect_all(a->picked, "audit", &a->audit->remarks);
  why_audit_change_find(a->audit, a->overlay);
}

why_status why_audit_run(const why_question* question, const why_audit** audit) {
  const why_programme* programme = question->programme;
  if (!programme->days.count)
    return refuse(question);
  why_audit* made = WHY_NEW(question->arena, why_audit);
  *made = (why_audit){.question = question, .programme = programme, .arena = question->arena};
  why_picked* picked = WHY_NEW(question->arena, why_picked);
  *picked = (why_picked){.question = question, .arena = question->arena};
  picked->overlay = why_overlay_new(question->ground->base, question->arena, NULL);
  auditor a = {.audit = made,
               .picked = picked,
               .program = question->ground->program,
               .overlay = picked->overlay};
  why_question_assume(question, a.overlay);
  for (size_t i = 0; i < programme->days.count; i++)
    add_day(&a, &programme->days.at[i]);
  why_overlay_open(a.overlay, question->problems);
  read_all(&a);
  *audit = made;
  return why_overlay_status(a.overlay);
}
