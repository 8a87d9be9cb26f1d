// SPDX-License-Identifier: GPL-3.0-or-later
// Through the public headers only, as a program would.
#include "told.h"

#include <criterion/criterion.h>
#include <stdlib.h>
#include <string.h>

why_knowledge* told_open(uint64_t order_seed, uint64_t hash_seed) {
  why_knowledge* knowledge = NULL;
  why_problems* problems = NULL;
  why_settings settings = {
      .order_seed = order_seed, .hash_seed = hash_seed, .cache = getenv("WHY_TEST_CACHE")};
  why_status status = why_knowledge_open(WHY_HOME, &settings, &knowledge, &problems);
  cr_assert_eq(status, WHY_OK, "the shipped knowledge base is not sound");
  why_problems_free(problems);
  return knowledge;
}

static void close_knowledge(void* knowledge) {
  why_knowledge_free(knowledge);
}

const why_ground* told_ground(why_arena* arena) {
  why_knowledge* knowledge = told_open(0, 0);
  why_arena_defer(arena, close_knowledge, knowledge);
  return why_knowledge_ground(knowledge);
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

static void set(why_query* query, why_word_asked word, const char* text) {
  if (text)
    cr_assert_eq(why_query_set(query, word, text), WHY_OK, "\"%s\" is not understood", text);
}

static void add(why_query* query, why_words_asked words, const char* text) {
  if (text)
    cr_assert_eq(why_query_add(query, words, text), WHY_OK, "\"%s\" is not understood", text);
}

char* told_answer_as(const why_answer* answer, const char* format) {
  gathered all = {0};
  cr_assert_eq(why_tell(answer, format, gather, &all), WHY_OK);
  return all.text;
}

char* told_answer(const why_answer* answer) {
  return told_answer_as(answer, "json");
}

char* told_text(const why_knowledge* knowledge, const told_question* question, why_status* status) {
  why_query* query = why_query_new(knowledge);
  cr_assert_not_null(query);
  set(query, WHY_GOAL, question->goal);
  set(query, WHY_EXERCISE, question->exercise);
  set(query, WHY_BESIDE, question->other);
  set(query, WHY_LEVEL, question->level);
  set(query, WHY_REPLACE, question->replaced);
  set(query, WHY_TOP, question->top);
  add(query, WHY_HAVE, question->have);
  add(query, WHY_WITHOUT, question->without);
  add(query, WHY_AVOID, question->avoid);
  why_answer* answer = NULL;
  gathered all = {0};
  *status = why_run(query, question->task, &answer);
  if (answer)
    cr_assert_eq(why_tell(answer, question->format ? question->format : "json", gather, &all),
                 WHY_OK);
  why_answer_free(answer);
  why_query_free(query);
  return all.text;
}

json_t* told_json(const why_knowledge* knowledge, const told_question* question,
                  why_status* status) {
  char* text = told_text(knowledge, question, status);
  json_error_t error;
  json_t* json = text ? json_loads(text, 0, &error) : NULL;
  free(text);
  return json;
}
