// SPDX-License-Identifier: GPL-3.0-or-later
// Limits and odd input of a question in plain words; what good questions mean stands in
// tests/questions.
#include "told.h"

#include <criterion/criterion.h>
#include <stdlib.h>
#include <string.h>

static why_knowledge* knowledge;

static void open_knowledge(void) {
  knowledge = told_open(0, 0);
}

static void close_knowledge(void) {
  why_knowledge_free(knowledge);
}

TestSuite(ask, .init = open_knowledge, .fini = close_knowledge);

/// The sentence is refused, and a problem holds `part`.
static void expect_refusal(const char* sentence, const char* part) {
  why_query* query = why_query_new(knowledge);
  cr_expect_eq(why_query_ask(query, sentence), WHY_QUESTION, "\"%.40s\" is taken", sentence);
  const why_problems* problems = why_query_problems(query);
  bool found = false;
  for (size_t i = 0; i < why_problems_count(problems); i++)
    found = found || strstr(why_problems_at(problems, i).text, part);
  cr_expect(found, "\"%.40s\": no problem says \"%s\"", sentence, part);
  why_answer* answer = NULL;
  cr_expect_eq(why_run(query, WHY_ASK, &answer), WHY_QUESTION);
  cr_expect_null(answer);
  why_query_free(query);
}

Test(ask, refuses_what_nobody_can_read) {
  expect_refusal("", "no muscle");
  expect_refusal("   \t\n", "no muscle");
  expect_refusal("?!...", "no muscle");
  expect_refusal("hamstrings \xFF\xFE", "UTF-8");
  expect_refusal("hamstrings \xC3", "UTF-8");
  expect_refusal("hamstrings \xED\xA0\x80", "UTF-8"); // a surrogate (Unicode Standard, table 3-7)
}

Test(ask, has_limits) {
  char* text = malloc(2000);
  cr_assert_not_null(text);
  memset(text, 'a', 1001);
  text[1001] = '\0';
  expect_refusal(text, "too long");
  for (size_t i = 0; i < 201; i++)
    memcpy(text + 2 * i, "a ", 3);
  expect_refusal(text, "too long");
  free(text);
  expect_refusal("chest, biceps, quads, calves and abs", "too many goals");
  expect_refusal("chest, dumbbells up to 99999 kg", "1000 kg");
  expect_refusal("chest, dumbbells up to 0 kg", "1000 kg");
}

/// What was understood of the limit of dumbbells, kilograms.
static double limit_of(const char* sentence) {
  why_query* query = why_query_new(knowledge);
  cr_assert_eq(why_query_ask(query, sentence), WHY_OK, "%s", sentence);
  why_answer* answer = NULL;
  cr_assert_eq(why_run(query, WHY_ASK, &answer), WHY_OK, "%s", sentence);
  char* text = told_answer(answer);
  json_t* told = json_loads(text, 0, NULL);
  const json_t* limit =
      json_array_get(json_object_get(json_object_get(told, "understood"), "limits"), 0);
  double kg = json_number_value(json_object_get(limit, "kg"));
  json_decref(told);
  free(text);
  why_answer_free(answer);
  why_query_free(query);
  return kg;
}

Test(ask, reads_loads_in_every_way_they_are_written) {
  static const char* const KILOGRAMS[] = {
      "chest, dumbbells up to 15 kg", "chest, dumbbells up to 15kg", "chest with 15 kilo dumbbells",
      "chest, dumbbells 2-15 kg",     "chest, dumbbells (max 15kg)", "chest 2 x 15kg dumbbells",
      "chest, dumbbells fifteen kg",  "chest, dumbbells to 15,0 kg"};
  for (size_t i = 0; i < sizeof KILOGRAMS / sizeof *KILOGRAMS; i++)
    cr_expect_float_eq(limit_of(KILOGRAMS[i]), 15, 1e-9, "%s: %g", KILOGRAMS[i],
                       limit_of(KILOGRAMS[i]));
  cr_expect_float_eq(limit_of("chest, dumbbells up to 35 lbs"), 35 * 0.45359237, 0.05);
  cr_expect_float_eq(limit_of("chest, 35# dumbbells"), 35 * 0.45359237, 0.05);
}

Test(ask, bears_apostrophes_pictures_and_other_letters) {
  static const char* const SENTENCES[] = {
      "don\xE2\x80\x99t have a bench, chest", "dont have a bench, chest",
      "CHEST, NO BENCH!!! \xF0\x9F\x8F\x8B", "chest \xE2\x80\x94 no bench",
      "\303\274bung: chest, no bench"};
  for (size_t i = 0; i < sizeof SENTENCES / sizeof *SENTENCES; i++) {
    why_query* query = why_query_new(knowledge);
    cr_expect_eq(why_query_ask(query, SENTENCES[i]), WHY_OK, "%s", SENTENCES[i]);
    why_query_free(query);
  }
}
