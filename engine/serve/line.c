// SPDX-License-Identifier: GPL-3.0-or-later
// From an object of JSON to a question, and from the answer to one line.
#include "line.h"

#include <stdlib.h>
#include <string.h>

const char* why_line_error(why_status status) {
  return status == WHY_MACHINE ? "machine" : "question";
}

/// The answer comes laid out over many lines. jansson writes a line break inside a text as \n, so
/// every real one is layout, as are the spaces after it.
static bool to_one_line(void* user, const char* bytes, size_t length) {
  why_bytes* out = user;
  const char* end = bytes + length;
  while (bytes < end) {
    const char* stop = memchr(bytes, '\n', (size_t)(end - bytes));
    why_bytes_add(out, bytes, (size_t)((stop ? stop : end) - bytes));
    bytes = stop ? stop : end;
    while (bytes < end && (*bytes == '\n' || *bytes == ' '))
      bytes++;
  }
  return !out->failed;
}

static void add_json(why_bytes* out, const char* name, const json_t* value) {
  char* text = value ? json_dumps(value, JSON_COMPACT | JSON_ENCODE_ANY) : NULL;
  if (!text)
    out->failed = true;
  else
    why_bytes_print(out, "\"%s\":", name), why_bytes_text(out, text);
  free(text);
}

static void say_one(why_asking* asking, const char* name, const json_t* value) {
  char digits[32];
  if (json_is_string(value)) {
    why_asking_say(asking, name, json_string_value(value));
  } else if (json_is_integer(value)) {
    snprintf(digits, sizeof digits, "%" JSON_INTEGER_FORMAT, json_integer_value(value));
    why_asking_say(asking, name, digits);
  } else {
    why_asking_refuse(asking, "value",
                      why_asking_many(name)
                          ? "a text or a list of texts is expected under this name"
                          : "a text is expected under this name",
                      name, NULL);
  }
}

static void say(why_asking* asking, const char* name, const json_t* value) {
  if (json_is_null(value) && why_asking_knows(name))
    return;
  if (!json_is_array(value) || !why_asking_many(name)) {
    say_one(asking, name, value);
    return;
  }
  size_t index;
  json_t* each;
  json_array_foreach(value, index, each) say_one(asking, name, each);
}

static void say_all(why_asking* asking, json_t* line) {
  const char* name;
  json_t* value;
  json_object_foreach(line, name, value) {
    if (strcmp(name, "id") == 0)
      continue;
    if (strcmp(name, "task") != 0)
      say(asking, name, value);
    else if (json_is_string(value))
      why_asking_task_set(asking, json_string_value(value));
    else
      why_asking_refuse(asking, "value", "a text is expected under this name", name, NULL);
  }
}

static json_t* read_line(why_asking* asking, const char* line, size_t length) {
  json_error_t error;
  json_t* read = json_loadb(line, length, JSON_REJECT_DUPLICATES, &error);
  if (!read)
    why_asking_refuse(asking, "json", "this line is no JSON", NULL, error.text);
  else if (!json_is_object(read))
    why_asking_refuse(asking, "json", "an object is expected", NULL,
                      "write {\"task\": \"pick\", \"goal\": \"hamstrings\"}");
  return read;
}

static void add_refusal(const why_asking* asking, size_t number, why_bytes* out) {
  if (number)
    why_bytes_print(out, "\"line\":%zu,", number);
  why_bytes_print(out, "\"error\":\"%s\",", why_line_error(asking->status));
  json_t* problems = why_asking_problems(asking);
  add_json(out, "problems", problems);
  json_decref(problems);
  why_bytes_text(out, "}");
}

void why_line_refuse(const why_asking* asking, size_t number, why_bytes* out) {
  why_bytes_text(out, "{");
  add_refusal(asking, number, out);
}

/// What is worth knowing though it was answered goes in front of the answer.
static void add_answer(why_asking* asking, why_bytes* out) {
  json_t* problems = why_asking_problems(asking);
  if (!problems || json_array_size(problems)) {
    add_json(out, "problems", problems);
    why_bytes_text(out, ",");
  }
  json_decref(problems);
  why_bytes answer = {0};
  why_status told = why_tell(asking->answer, "json", to_one_line, &answer);
  if (told == WHY_OK && answer.length > 1)
    why_bytes_add(out, answer.at + 1, answer.length - 1); // behind its own opening brace
  else
    out->failed = true;
  why_bytes_free(&answer);
}

why_status why_line_answer(const why_knowledge* knowledge, const char* line, size_t length,
                           size_t number, why_bytes* out) {
  why_asking asking;
  why_asking_init(&asking, knowledge);
  json_t* read = read_line(&asking, line, length);
  const json_t* id = json_object_get(read, "id");
  if (id && !json_is_string(id) && !json_is_integer(id) && !json_is_null(id)) {
    why_asking_refuse(&asking, "value", "an id is a text or a whole number", NULL, NULL);
    id = NULL;
  }
  if (json_is_object(read))
    say_all(&asking, read);
  why_status status = why_asking_run(&asking);
  why_bytes_text(out, "{");
  if (id) {
    add_json(out, "id", id);
    why_bytes_text(out, ",");
  }
  if (asking.answer)
    add_answer(&asking, out);
  else
    add_refusal(&asking, number, out);
  json_decref(read);
  why_asking_clear(&asking);
  return status;
}
