// SPDX-License-Identifier: GPL-3.0-or-later
// Lines in, lines out: order, ids, refusals that do not stop the stream, limits. The shipped
// knowledge base is opened once for each test.
#include "serve/line.h"

#include "pick/told.h"

#include <criterion/criterion.h>
#include <jansson.h>
#include <stdlib.h>
#include <string.h>

static why_knowledge* knowledge;

static void open_shipped(void) {
  knowledge = told_open(0, 0);
}

static void close_shipped(void) {
  why_knowledge_free(knowledge);
}

TestSuite(line, .init = open_shipped, .fini = close_shipped);

/// What the stream gives for `length` bytes of input, as a list of objects.
static json_t* stream(const char* input, size_t length) {
  FILE* in = tmpfile();
  FILE* out = tmpfile();
  cr_assert(in && out);
  cr_assert_eq(fwrite(input, 1, length, in), length);
  rewind(in);
  cr_assert_eq(why_lines_answer(knowledge, in, out), WHY_OK);
  rewind(out);
  json_t* all = json_array();
  char* line = NULL;
  size_t room = 0;
  for (ssize_t got; (got = getline(&line, &room, out)) > 0;) {
    cr_assert_eq(line[got - 1], '\n', "the last line ends");
    json_t* each = json_loadb(line, (size_t)got, JSON_REJECT_DUPLICATES, NULL);
    cr_assert_not_null(each, "%.200s", line);
    json_array_append_new(all, each);
  }
  free(line);
  fclose(in);
  fclose(out);
  return all;
}

static json_t* stream_text(const char* input) {
  return stream(input, strlen(input));
}

static const char* text_at(const json_t* list, size_t index, const char* name) {
  return json_string_value(json_object_get(json_array_get(list, index), name));
}

static const char* first_check(const json_t* list, size_t index) {
  json_t* found = json_object_get(json_array_get(list, index), "problems");
  return text_at(found, 0, "check");
}

Test(line, keeps_order_and_ids) {
  json_t* got = stream_text("{\"id\":2,\"task\":\"pick\",\"goal\":\"chest\",\"top\":1}\n"
                            "{\"id\":\"x\",\"task\":\"pick\",\"goal\":\"calves\",\"top\":\"1\"}\n"
                            "{\"task\":\"list\",\"kind\":\"places\"}");
  cr_assert_eq(json_array_size(got), 3);
  cr_expect_eq(json_integer_value(json_object_get(json_array_get(got, 0), "id")), 2);
  cr_expect_str_eq(text_at(got, 1, "id"), "x");
  cr_expect_null(json_object_get(json_array_get(got, 2), "id"));
  json_t* understood = json_object_get(json_array_get(got, 1), "understood");
  cr_expect_str_eq(json_string_value(json_object_get(understood, "goal")), "calf");
  json_decref(got);
}

Test(line, a_bad_line_stops_nothing) {
  json_t* got =
      stream_text("nonsense\n\n \t\r\n{\"id\":5,\"task\":\"pick\",\"goal\":\"hamstrigns\"}\n"
                  "{\"task\":\"pick\",\"goal\":\"chest\",\"goal\":\"calves\"}\n"
                  "{\"task\":\"pick\",\"goal\":\"chest\",\"top\":1}\n");
  cr_assert_eq(json_array_size(got), 4);
  cr_expect_str_eq(first_check(got, 0), "json");
  cr_expect_eq(json_integer_value(json_object_get(json_array_get(got, 0), "line")), 1);
  cr_expect_str_eq(first_check(got, 1), "goal");
  cr_expect_eq(json_integer_value(json_object_get(json_array_get(got, 1), "line")), 4);
  cr_expect_eq(json_integer_value(json_object_get(json_array_get(got, 1), "id")), 5);
  cr_expect_str_eq(first_check(got, 2), "json", "a name said twice");
  cr_expect_null(json_object_get(json_array_get(got, 3), "error"));
  json_decref(got);
}

Test(line, tells_all_that_is_wrong_at_once) {
  json_t* got =
      stream_text("{\"task\":\"fly\",\"goal\":1.5,\"colour\":\"red\",\"have\":\"rocks\"}\n");
  json_t* found = json_object_get(json_array_get(got, 0), "problems");
  cr_expect_eq(json_array_size(found), 4);
  json_decref(got);
}

Test(line, refuses_bytes_that_are_no_text) {
  static const char INPUT[] = "{\"task\":\"pick\",\"goal\":\"\xFF\"}\n"
                              "{\"task\":\"pick\",\"goal\":\"a\0b\"}\n"
                              "{\"task\":\"pick\",\"goal\":\"a\\u0000b\"}\n"
                              "\xEF\xBB\xBF{}\n\0\n";
  json_t* got = stream(INPUT, sizeof INPUT - 1);
  cr_assert_eq(json_array_size(got), 5);
  for (size_t i = 0; i < 5; i++)
    cr_expect_str_eq(text_at(got, i, "error"), "question");
  json_decref(got);
}

/// A line of `length` bytes, most of them blanks inside an object, then a short one.
static json_t* stream_long(size_t length) {
  static const char SHORT[] = "\n{\"task\":\"list\",\"kind\":\"places\"}\n";
  static const char LONG[] = "{\"task\":\"list\",\"kind\":\"places\"";
  char* input = malloc(length + sizeof SHORT);
  cr_assert_not_null(input);
  memset(input, ' ', length);
  memcpy(input, LONG, sizeof LONG - 1);
  input[length - 1] = '}';
  memcpy(input + length, SHORT, sizeof SHORT - 1);
  json_t* got = stream(input, length + sizeof SHORT - 1);
  free(input);
  return got;
}

Test(line, is_limited_in_length) {
  json_t* just = stream_long(WHY_LINE_LIMIT);
  cr_assert_eq(json_array_size(just), 2);
  cr_expect_null(json_object_get(json_array_get(just, 0), "error"));
  json_t* above = stream_long(WHY_LINE_LIMIT + 1);
  cr_assert_eq(json_array_size(above), 2);
  cr_expect_str_eq(first_check(above, 0), "length");
  cr_expect_null(json_object_get(json_array_get(above, 1), "error"));
  json_decref(just);
  json_decref(above);
}

static bool take(void* user, const char* bytes, size_t length) {
  why_bytes_add(user, bytes, length);
  return true;
}

/// The line holds the same answer as --format json does, byte for byte once both are read.
Test(line, is_the_answer_of_the_command_line) {
  why_bytes told = {0};
  why_query* query = why_query_new(knowledge);
  why_answer* answer = NULL;
  why_query_set(query, WHY_REPLACE, "barbell-back-squat");
  why_query_add(query, WHY_HAVE, "hotel-room");
  cr_assert_eq(why_run(query, WHY_SWAP, &answer), WHY_OK);
  cr_assert_eq(why_tell(answer, "json", take, &told), WHY_OK);
  json_t* expected = json_loadb(told.at, told.length, 0, NULL);
  json_t* got = stream_text("{\"task\":\"swap\",\"replaced\":\"barbell-back-squat\","
                            "\"have\":[\"hotel-room\"]}");
  cr_expect(json_equal(expected, json_array_get(got, 0)));
  json_decref(got);
  json_decref(expected);
  why_bytes_free(&told);
  why_query_free(query);
}

/// What an answer says back can be asked, and gives the same picks.
Test(line, tells_what_was_understood_in_words_that_can_be_asked_again) {
  json_t* first = stream_text("{\"task\":\"pick\",\"goal\":\"quads\",\"have\":\"bands\",\"avoid\":"
                              "\"overhead\",\"level\":\"beginner\"}");
  json_t* understood = json_object_get(json_array_get(first, 0), "understood");
  json_t* again = json_pack(
      "{s:s, s:O, s:O, s:O, s:O}", "task", "pick", "goal", json_object_get(understood, "goal"),
      "have", json_object_get(understood, "have"), "avoid", json_object_get(understood, "avoid"),
      "level", json_object_get(understood, "level"));
  char* line = json_dumps(again, JSON_COMPACT);
  json_t* second = stream_text(line);
  cr_expect(json_equal(json_object_get(json_array_get(first, 0), "picks"),
                       json_object_get(json_array_get(second, 0), "picks")));
  free(line);
  json_decref(again);
  json_decref(first);
  json_decref(second);
}
