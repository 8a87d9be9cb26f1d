// SPDX-License-Identifier: GPL-3.0-or-later
// Asks the questions of JSON files and compares the answers with what a good coach would say: by
// meaning, so that a reworded sentence or a reordered list breaks nothing. Ends with "N passed, N
// failed". A question with "miss" is known to be answered otherwise, for the reason that it gives;
// it fails as soon as it is answered well. Usage: questions FILE.json...
#include "whylift/whylift.h"

#include <jansson.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { TOP = 5, NOTES_ROOM = 4096 };

/// What is wrong with one answer, as lines of text.
typedef struct {
  char text[NOTES_ROOM];
  size_t length;
  size_t count;
} faults;

__attribute__((format(printf, 2, 3))) static void find_fault(faults* found, const char* format,
                                                             ...) {
  va_list arguments;
  va_start(arguments, format);
  found->count++;
  if (found->length < NOTES_ROOM) {
    int added =
        vsnprintf(found->text + found->length, NOTES_ROOM - found->length, format, arguments);
    found->length += added > 0 ? (size_t)added : 0;
  }
  va_end(arguments);
}

typedef struct {
  char* text;
  size_t length;
} gathered;

static bool gather(void* user, const char* bytes, size_t length) {
  gathered* all = user;
  char* grown = realloc(all->text, all->length + length + 1);
  if (!grown)
    return false;
  memcpy(grown + all->length, bytes, length);
  all->text = grown;
  all->length += length;
  all->text[all->length] = '\0';
  return true;
}

static bool holds(const json_t* list, const char* text) {
  size_t i;
  const json_t* each;
  json_array_foreach(list, i, each) {
    if (strcmp(json_string_value(each), text) == 0)
      return true;
  }
  return false;
}

static const char* pick_at(const json_t* answer, size_t index) {
  const json_t* pick = json_array_get(json_object_get(answer, "picks"), index);
  const char* id = json_string_value(json_object_get(pick, "exercise"));
  return id ? id : "";
}

static size_t shown(const json_t* answer) {
  size_t count = json_array_size(json_object_get(answer, "picks"));
  return count < TOP ? count : TOP;
}

static bool any_shown(const json_t* answer, const json_t* list, size_t most) {
  for (size_t i = 0; i < most; i++)
    if (holds(list, pick_at(answer, i)))
      return true;
  return false;
}

/// The picks: "any" and "also" name what must be among the first five, "first" what must come
/// first, "none" what must not be there.
static void compare_picks(const json_t* question, const json_t* answer, faults* found) {
  const json_t* none = json_object_get(question, "none");
  static const char* const WANTED[] = {"any", "also", "first"};
  for (size_t i = 0; i < sizeof WANTED / sizeof *WANTED; i++) {
    const json_t* list = json_object_get(question, WANTED[i]);
    size_t most = i == 2 ? shown(answer) > 0 : shown(answer);
    if (list && !any_shown(answer, list, most))
      find_fault(found, "    %s: none of what a coach would say is there\n", WANTED[i]);
  }
  for (size_t i = 0; i < shown(answer); i++)
    if (holds(none, pick_at(answer, i)))
      find_fault(found, "    none: %s is there\n", pick_at(answer, i));
}

/// Every member of a wanted list is in the list that was understood.
static void compare_lists(const json_t* question, const json_t* understood, faults* found) {
  static const char* const LISTS[] = {"goals", "have", "without", "avoid", "declined"};
  for (size_t i = 0; i < sizeof LISTS / sizeof *LISTS; i++) {
    size_t k;
    const json_t* each;
    json_array_foreach(json_object_get(question, LISTS[i]), k, each) {
      if (!holds(json_object_get(understood, LISTS[i]), json_string_value(each)))
        find_fault(found, "    %s: %s was not understood\n", LISTS[i], json_string_value(each));
    }
  }
}

static void compare_limits(const json_t* question, const json_t* understood, faults* found) {
  const char* item;
  const json_t* wanted;
  json_object_foreach((json_t*)json_object_get(question, "limits"), item, wanted) {
    size_t i;
    const json_t* each;
    double kg = NAN;
    json_array_foreach(json_object_get(understood, "limits"), i, each) {
      if (strcmp(json_string_value(json_object_get(each, "item")), item) == 0)
        kg = json_number_value(json_object_get(each, "kg"));
    }
    if (!(fabs(kg - json_number_value(wanted)) < 0.05))
      find_fault(found, "    limits: %s up to %g kg\n", item, kg);
  }
}

static void compare_text(const json_t* question, const char* name, const char* got, faults* found) {
  const char* wanted = json_string_value(json_object_get(question, name));
  if (wanted && (!got || strcmp(wanted, got) != 0))
    find_fault(found, "    %s: %s\n", name, got ? got : "nothing");
}

static void compare_part(const json_t* question, const char* name, const char* got, faults* found) {
  const char* wanted = json_string_value(json_object_get(question, name));
  if (wanted && (!got || !strstr(got, wanted)))
    find_fault(found, "    %s: %s\n", name, got ? got : "nothing");
}

static const char* text_of(const json_t* record, const char* name) {
  return json_string_value(json_object_get(record, name));
}

/// Whether `field` of some record of a list is `text`.
static bool names(const json_t* list, const char* field, const char* text) {
  size_t i;
  const json_t* each;
  json_array_foreach(list, i, each) {
    const char* got = text_of(each, field);
    if (got && strcmp(got, text) == 0)
      return true;
  }
  return false;
}

/// A planned week: its "sessions", its "minutes" and the "muscles" that it is for. A written one:
/// the "entries" that were read, by exercise, and how many "sets" they have in all.
static void compare_week(const json_t* question, const json_t* understood, faults* found) {
  static const char* const NUMBERS[][2] = {{"sessions", "days"}, {"minutes", "minutes"}};
  for (size_t i = 0; i < sizeof NUMBERS / sizeof *NUMBERS; i++) {
    const json_t* wanted = json_object_get(question, NUMBERS[i][0]);
    double got = json_number_value(json_object_get(understood, NUMBERS[i][1]));
    if (wanted && json_number_value(wanted) != got)
      find_fault(found, "    %s: %g\n", NUMBERS[i][0], got);
  }
  size_t i;
  const json_t* each;
  json_array_foreach(json_object_get(question, "muscles"), i, each) {
    if (!names(json_object_get(understood, "goals"), "muscle", json_string_value(each)))
      find_fault(found, "    muscles: %s was not understood\n", json_string_value(each));
  }
  const json_t* entries = json_object_get(question, "entries");
  const json_t* day;
  double sets = 0;
  size_t read = 0;
  json_array_foreach(entries ? json_object_get(understood, "days") : NULL, i, day) {
    size_t k;
    const json_t* list = json_object_get(day, "entries");
    json_array_foreach(list, k, each) {
      sets += json_number_value(json_object_get(each, "sets"));
      read += holds(entries, text_of(each, "exercise") ? text_of(each, "exercise") : "");
    }
  }
  if (entries && (read != json_array_size(entries) ||
                  sets != json_number_value(json_object_get(question, "sets"))))
    find_fault(found, "    entries: %zu of them, %g sets\n", read, sets);
}

static void compare_answer(const json_t* question, const json_t* answer, faults* found) {
  const json_t* understood = json_object_get(answer, "understood");
  compare_text(question, "task", text_of(understood, "task"), found);
  compare_text(question, "level", text_of(understood, "level"), found);
  compare_text(question, "replaced", text_of(understood, "replaced"), found);
  compare_text(question, "exercise", text_of(answer, "exercise"), found);
  compare_text(question, "a", text_of(answer, "a"), found);
  compare_text(question, "b", text_of(answer, "b"), found);
  compare_text(question, "leans", text_of(answer, "leans"), found);
  compare_part(question, "verdict", text_of(answer, "verdict"), found);
  compare_lists(question, understood, found);
  compare_limits(question, understood, found);
  compare_week(question, understood, found);
  compare_picks(question, answer, found);
  char* notes = json_dumps(json_object_get(understood, "notes"), JSON_ENCODE_ANY);
  compare_part(question, "notes", notes, found);
  free(notes);
  const json_t* refer = json_object_get(question, "refer");
  bool referred = json_array_size(json_object_get(answer, "referrals")) > 0;
  if (refer && json_is_true(refer) != referred)
    find_fault(found, "    refer: %s\n", referred ? "yes" : "no");
  if (json_is_true(refer) && shown(answer))
    find_fault(found, "    refer: there are picks\n");
}

/// What was reported: "problem" is a part of it, "choices" are offered.
static void compare_problems(const json_t* question, const why_problems* problems, faults* found) {
  gathered all = {0};
  for (size_t i = 0; i < why_problems_count(problems); i++) {
    why_problem each = why_problems_at(problems, i);
    gather(&all, each.text, strlen(each.text));
    gather(&all, "; ", 2);
    if (each.hint)
      gather(&all, each.hint, strlen(each.hint));
    gather(&all, "; ", 2);
  }
  compare_part(question, "problem", all.text, found);
  size_t i;
  const json_t* each;
  json_array_foreach(json_object_get(question, "choices"), i, each) {
    if (!all.text || !strstr(all.text, json_string_value(each)))
      find_fault(found, "    choices: %s is not offered\n", json_string_value(each));
  }
  free(all.text);
}

static void ask(const why_knowledge* knowledge, const json_t* question, faults* found) {
  why_query* query = why_query_new(knowledge);
  why_answer* answer = NULL;
  why_status status = why_query_ask(query, text_of(question, "ask"));
  if (status == WHY_OK)
    status = why_run(query, WHY_ASK, &answer);
  if (status != (why_status)json_integer_value(json_object_get(question, "status")))
    find_fault(found, "    status: %d\n", (int)status);
  compare_problems(question, why_query_problems(query), found);
  gathered all = {0};
  if (answer && why_tell(answer, "json", gather, &all) == WHY_OK) {
    json_t* told = json_loads(all.text, 0, NULL);
    compare_answer(question, told, found);
    for (size_t i = 0; found->count && i < shown(told); i++)
      find_fault(found, "    pick: %s\n", pick_at(told, i));
    json_decref(told);
  }
  free(all.text);
  why_answer_free(answer);
  why_query_free(query);
}

/// An expectation that names what is not there can never fail as it should.
static void check_ids(const why_knowledge* knowledge, const json_t* question, faults* found) {
  static const char* const LISTS[] = {"any", "also", "first", "none"};
  for (size_t i = 0; i < sizeof LISTS / sizeof *LISTS; i++) {
    size_t k;
    const json_t* each;
    json_array_foreach(json_object_get(question, LISTS[i]), k, each) {
      why_query* query = why_query_new(knowledge);
      if (why_query_set(query, WHY_EXERCISE, json_string_value(each)) != WHY_OK)
        find_fault(found, "    %s: there is no exercise %s\n", LISTS[i], json_string_value(each));
      why_query_free(query);
    }
  }
}

/// Whether the answer is as expected, or as badly as it is known to be.
static bool passes(const why_knowledge* knowledge, const json_t* question) {
  faults named = {0}, found = {0};
  check_ids(knowledge, question, &named);
  ask(knowledge, question, &found);
  const char* miss = text_of(question, "miss");
  bool good = !named.count && (found.count > 0) == (miss != NULL);
  if (!good)
    printf("%s\n    coach: %s\n%s%s%s", text_of(question, "ask"), text_of(question, "coach"),
           named.text, found.text,
           miss && !found.count ? "    it is no miss any more: take \"miss\" away\n" : "");
  return good;
}

static bool ask_all(const why_knowledge* knowledge, const char* path, size_t* good, size_t* bad) {
  json_error_t error;
  json_t* questions = json_load_file(path, 0, &error);
  if (!json_is_array(questions) || !json_array_size(questions)) {
    printf("%s:%d: %s\n", path, error.line, questions ? "no list of questions" : error.text);
    json_decref(questions);
    return false;
  }
  size_t i;
  const json_t* question;
  json_array_foreach(questions, i, question) {
    *(passes(knowledge, question) ? good : bad) += 1;
  }
  json_decref(questions);
  return true;
}

int main(int argc, char** argv) {
  why_knowledge* knowledge = NULL;
  why_problems* problems = NULL;
  size_t good = 0, bad = 0;
  if (why_knowledge_open(WHY_HOME, NULL, &knowledge, &problems) != WHY_OK)
    bad++;
  for (int i = 1; i < argc && knowledge; i++)
    bad += !ask_all(knowledge, argv[i], &good, &bad);
  why_knowledge_free(knowledge);
  why_problems_free(problems);
  printf("%zu passed, %zu failed\n", good, bad);
  return bad > 0 || !good;
}
