// SPDX-License-Identifier: GPL-3.0-or-later
// Names lead to the setters of a query by two tables; a new task or a new thing to say is a row.
#include "asking.h"

#include "bytes.h"

#include <stdio.h>
#include <string.h>

static const why_asking_task TASKS[] = {
    {"pick", WHY_PICK}, {"swap", WHY_SWAP},       {"why", WHY_EXPLAIN}, {"compare", WHY_COMPARE},
    {"ask", WHY_ASK},   {"moments", WHY_MOMENTS}, {"pool", WHY_POOL},   {"audit", WHY_AUDIT},
    {"plan", WHY_PLAN}, {"draft", WHY_DRAFT},     {"list", WHY_LIST},   {NULL, WHY_PICK},
};

/// How a text reaches the query.
typedef enum { SET, ADD, SENTENCE, PROGRAMME, PASTED } way;

typedef struct {
  const char* name;
  way way;
  int word; ///< Of why_word_asked (SET, PASTED) or why_words_asked (ADD).
} row;

static const row ROWS[] = {
    {"goal", SET, WHY_GOAL},        {"exercise", SET, WHY_EXERCISE}, {"other", SET, WHY_BESIDE},
    {"replaced", SET, WHY_REPLACE}, {"have", ADD, WHY_HAVE},         {"without", ADD, WHY_WITHOUT},
    {"avoid", ADD, WHY_AVOID},      {"level", SET, WHY_LEVEL},       {"top", SET, WHY_TOP},
    {"subject", SET, WHY_SUBJECT},  {"sentence", SENTENCE, 0},       {"programme", PROGRAMME, 0},
    {"kind", SET, WHY_KIND},        {"target", ADD, WHY_TARGET},     {"days", SET, WHY_DAYS},
    {"minutes", SET, WHY_MINUTES},  {"purpose", SET, WHY_PURPOSE},   {"start", SET, WHY_START},
    {"dose", SET, WHY_DOSE},        {"text", PASTED, WHY_TEXT},
};

enum { ROW_COUNT = sizeof ROWS / sizeof *ROWS, QUOTED = 80 };

static const char NAMES_HINT[] =
    "goal, exercise, other, replaced, have, without, avoid, level, top, "
    "subject, sentence, programme, kind, target, days, minutes, purpose, start, dose and text can "
    "be said";

static const char TASKS_HINT[] =
    "tasks are pick, swap, why, compare, ask, moments, pool, audit, plan, draft and list";

static const row* find_row(const char* name) {
  for (size_t i = 0; i < ROW_COUNT; i++)
    if (strcmp(ROWS[i].name, name) == 0)
      return &ROWS[i];
  return NULL;
}

void why_asking_init(why_asking* asking, const why_knowledge* knowledge) {
  *asking = (why_asking){.query = why_query_new(knowledge), .problems = json_array()};
  if (!asking->query || !asking->problems)
    asking->status = WHY_MACHINE;
}

void why_asking_clear(why_asking* asking) {
  why_answer_free(asking->answer);
  why_query_free(asking->query);
  json_decref(asking->problems);
}

const why_asking_task* why_asking_tasks(void) {
  return TASKS;
}

static void worsen(why_asking* asking, why_status status) {
  if (status > asking->status)
    asking->status = status;
}

/// A text of JSON of at most `limit` bytes that ends with a whole character; what is no UTF-8 is
/// not repeated.
static json_t* text_of(const char* text, size_t limit) {
  size_t length = strnlen(text, limit);
  while (text[length] && length && ((unsigned char)text[length] & 0xC0) == 0x80)
    length--;
  json_t* made = json_stringn(text, length);
  return made ? made : json_string("(no text)");
}

static json_t* problem_of(const char* severity, const char* check, const char* text,
                          const char* hint) {
  json_t* made = json_object();
  int failed =
      json_object_set_new(made, "severity", json_string(severity)) |
      json_object_set_new(made, "check", json_string(check)) |
      json_object_set_new(made, "text", text_of(text, WHY_TEXT_LIMIT)) |
      json_object_set_new(made, "hint", hint ? text_of(hint, WHY_TEXT_LIMIT) : json_null());
  if (!failed)
    return made;
  json_decref(made);
  return NULL;
}

void why_asking_refuse(why_asking* asking, const char* check, const char* sentence,
                       const char* subject, const char* hint) {
  json_t* quoted = subject ? text_of(subject, QUOTED) : NULL;
  const char* words = quoted ? json_string_value(quoted) : NULL;
  char text[2 * QUOTED + 200];
  snprintf(text, sizeof text, words ? "%s: \"%s\"%s" : "%s", sentence, words,
           words && strlen(subject) > QUOTED ? " ..." : "");
  json_decref(quoted);
  worsen(asking, json_array_append_new(asking->problems, problem_of("error", check, text, hint))
                     ? WHY_MACHINE
                     : WHY_QUESTION);
}

void why_asking_task_set(why_asking* asking, const char* name) {
  for (const why_asking_task* each = TASKS; each->name; each++) {
    if (strcmp(each->name, name) == 0) {
      asking->task = each;
      return;
    }
  }
  why_asking_refuse(asking, "task", "there is no task of this name", name, TASKS_HINT);
}

bool why_asking_knows(const char* name) {
  return find_row(name) != NULL;
}

bool why_asking_many(const char* name) {
  const row* found = find_row(name);
  return found && found->way == ADD;
}

void why_asking_say(why_asking* asking, const char* name, const char* text) {
  const row* found = find_row(name);
  if (!found)
    why_asking_refuse(asking, "name", "nothing is said under this name", name, NAMES_HINT);
  else if (found->way < PROGRAMME && strlen(text) > WHY_TEXT_LIMIT)
    why_asking_refuse(asking, "length", "this text is too long", name, NULL);
  else if (++asking->said > WHY_SAID_LIMIT)
    why_asking_refuse(asking, "length", "too much is said at once", name, NULL);
  else if (asking->query)
    switch (found->way) {
    case SET:
    case PASTED: // as of a programme, its length is limited by what it came in
      worsen(asking, why_query_set(asking->query, (why_word_asked)found->word, text));
      break;
    case ADD:
      worsen(asking, why_query_add(asking->query, (why_words_asked)found->word, text));
      break;
    case SENTENCE:
      worsen(asking, why_query_ask(asking->query, text));
      break;
    case PROGRAMME:
      worsen(asking, why_query_programme(asking->query, "programme", text, strlen(text)));
      break;
    }
}

why_status why_asking_run(why_asking* asking) {
  if (asking->status == WHY_OK && !asking->task)
    why_asking_refuse(asking, "task", "no task is named", NULL, TASKS_HINT);
  if (asking->status == WHY_OK)
    asking->status = why_run(asking->query, asking->task->task, &asking->answer);
  return asking->status;
}

json_t* why_asking_json(why_asking* asking) {
  why_bytes told = {0};
  json_t* read = NULL;
  if (why_asking_run(asking) <= WHY_NO_PICK &&
      why_tell(asking->answer, "json", why_bytes_sink, &told) == WHY_OK)
    read = json_loadb(told.at, told.length, 0, NULL);
  why_bytes_free(&told);
  return read;
}

json_t* why_asking_problems(const why_asking* asking) {
  static const char* const WORDS[] = {"note", "warning", "error"};
  json_t* all = json_copy(asking->problems);
  const why_problems* problems = asking->query ? why_query_problems(asking->query) : NULL;
  for (size_t i = 0; problems && all && i < why_problems_count(problems); i++) {
    why_problem each = why_problems_at(problems, i);
    if (json_array_append_new(all,
                              problem_of(WORDS[each.severity], each.check, each.text, each.hint))) {
      json_decref(all);
      return NULL;
    }
  }
  return all;
}
