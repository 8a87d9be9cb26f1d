// SPDX-License-Identifier: GPL-3.0-or-later
// What is asked of a plan: days, minutes, purpose, first day, goals with priorities.
#include "question.h"

#include <math.h>
#include <string.h>

enum { TARGETS = 20, PRIORITY_MOST = 5 };

static why_status take_number(why_question* question, const char* check, const char* typed,
                              double low, double high, double* number) {
  if (why_parse_number(typed, number) && *number >= low && *number <= high &&
      *number == floor(*number))
    return WHY_OK;
  *number = 0;
  why_question_refuse(question, check, "this number does not fit here", typed);
  why_problems_hint(question->problems, "a whole number from %g to %g", low, high);
  return WHY_QUESTION;
}

why_status why_question_days(why_question* question, const char* typed) {
  return take_number(question, "days", typed, 1, 6, &question->days);
}

why_status why_question_minutes(why_question* question, const char* typed) {
  return take_number(question, "minutes", typed, 10, 240, &question->minutes);
}

why_status why_question_purpose(why_question* question, const char* typed) {
  static const char* const PURPOSES[] = {"grow", "keep"};
  for (size_t i = 0; i < sizeof PURPOSES / sizeof *PURPOSES; i++)
    if (strcmp(typed, PURPOSES[i]) == 0) {
      question->purpose = PURPOSES[i];
      return WHY_OK;
    }
  why_question_refuse(question, "purpose", "unknown purpose", typed);
  why_problems_hint(question->problems, "say grow or keep");
  return WHY_QUESTION;
}

/// Days of a month of the Gregorian calendar.
static int days_of(int year, int month) {
  static const int DAYS[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
  bool leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
  return DAYS[month - 1] + (leap && month == 2);
}

static int digits(const char* text, int count) {
  int number = 0;
  for (int i = 0; i < count; i++) {
    if (text[i] < '0' || text[i] > '9')
      return -1;
    number = 10 * number + (text[i] - '0');
  }
  return number;
}

why_status why_question_start(why_question* question, const char* typed) {
  bool shaped = strlen(typed) == 10 && typed[4] == '-' && typed[7] == '-';
  int year = shaped ? digits(typed, 4) : -1;
  int month = shaped ? digits(typed + 5, 2) : -1;
  int day = shaped ? digits(typed + 8, 2) : -1;
  if (year < 1900 || month < 1 || month > 12 || day < 1 || day > days_of(year, month)) {
    why_question_refuse(question, "start", "this is no date", typed);
    why_problems_hint(question->problems, "write it like 2026-01-05, from 1900 on");
    return WHY_QUESTION;
  }
  question->start = why_arena_copy(question->arena, typed, strlen(typed));
  return WHY_OK;
}

static void add_target(why_question* question, why_symbol muscle, double priority) {
  for (size_t i = 0; i < question->targets.count; i++)
    if (question->targets.at[i].muscle == muscle)
      return;
  *WHY_LIST_ADD(question->arena, question->targets) = (why_target){muscle, priority};
}

/// A set of muscles stands for its groups and heads.
static void add_thing(why_question* question, const why_thing* thing, double priority) {
  const why_lexicon_entry* set =
      thing->kind == WHY_MEANS_SET
          ? why_lexicon_set_find(&question->ground->tables->lexicon, thing->id)
          : NULL;
  for (size_t i = 0; set && i < set->of.count; i++)
    add_target(question, set->of.at[i], priority);
  if (!set)
    add_target(question, thing->id, priority);
}

why_status why_question_target(why_question* question, const why_thing* goal) {
  if (goal->kind & (WHY_MEANS_HEAD | WHY_MEANS_GROUP | WHY_MEANS_SET)) {
    add_thing(question, goal, 1);
    return WHY_OK;
  }
  why_question_refuse(question, "goal", "a week is planned for muscles, not for",
                      why_symbols_text(question->ground->symbols, goal->id));
  return WHY_QUESTION;
}

static why_status take_target(why_question* question, char* word) {
  char* colon = strchr(word, ':');
  double priority = 1;
  if (colon) {
    *colon = '\0';
    if (take_number(question, "priority", colon + 1, 1, PRIORITY_MOST, &priority) != WHY_OK)
      return WHY_QUESTION;
  }
  why_thing thing = {0};
  why_status status = why_question_resolve(
      question, "goal", word, WHY_MEANS_HEAD | WHY_MEANS_GROUP | WHY_MEANS_SET, &thing);
  if (status == WHY_OK)
    add_thing(question, &thing, priority);
  return status;
}

why_status why_question_targets(why_question* question, const char* list) {
  why_status status = WHY_OK;
  char* rest = why_arena_copy(question->arena, list, strlen(list));
  while (rest) {
    char* word = rest + strspn(rest, " \t");
    rest = strchr(word, ',');
    if (rest)
      *rest++ = '\0';
    size_t length = strlen(word);
    while (length && (word[length - 1] == ' ' || word[length - 1] == '\t'))
      word[--length] = '\0';
    why_status each = question->targets.count < TARGETS
                          ? take_target(question, word)
                          : why_question_refuse(question, "goal", "too many goals", word);
    status = each == WHY_OK ? status : each;
  }
  return status;
}

static void assume(const why_question* question, why_overlay* overlay, const char* name,
                   why_value first, why_value second) {
  why_relation relation = why_program_find(question->ground->program, name);
  const why_value values[] = {first, second};
  if (relation != WHY_NO_RELATION &&
      why_program_relation(question->ground->program, relation)->slot_count <= 2)
    why_overlay_assume(overlay, relation, values);
}

void why_question_assume_plan(const why_question* question, why_overlay* overlay) {
  for (size_t i = 0; i < question->targets.count; i++)
    assume(question, overlay, "plan-goal", why_value_of_symbol(question->targets.at[i].muscle),
           why_value_of_number(question->targets.at[i].priority));
  if (!question->purpose)
    return;
  why_symbol purpose = why_symbols_add(why_overlay_symbols(overlay), question->purpose);
  assume(question, overlay, "plan-purpose", why_value_of_symbol(purpose), why_value_of_symbol(0));
}
