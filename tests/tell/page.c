// SPDX-License-Identifier: GPL-3.0-or-later
// Pages: whole, from nowhere else, whatever names hold.
#include "tell/format.h"

#include "pick/told.h"
#include "tell/marks.h"

#include <criterion/criterion.h>
#include <stdlib.h>
#include <string.h>

static const told_question QUESTIONS[] = {
    {.task = WHY_PICK, .goal = "hamstrings", .without = "machine", .top = "all"},
    {.task = WHY_PICK, .goal = "hamstrings", .avoid = "chest-pain"},
    {.task = WHY_SWAP, .replaced = "seated-leg-curl", .have = "hotel-room"},
    {.task = WHY_EXPLAIN, .exercise = "barbell-back-squat", .goal = "hamstrings"},
    {.task = WHY_MOMENTS, .exercise = "seated-leg-curl"},
    {.task = WHY_CHECK},
};

enum { QUESTION_COUNT = sizeof QUESTIONS / sizeof *QUESTIONS };

static char* tell(const why_knowledge* knowledge, size_t i, const char* format) {
  told_question question = QUESTIONS[i];
  question.format = format;
  why_status status = WHY_OK;
  char* text = told_text(knowledge, &question, &status);
  cr_assert_not_null(text, "question %zu is not answered", i);
  return text;
}

Test(page, is_well_formed_and_complete, .timeout = 120) {
  why_knowledge* knowledge = told_open(0, 0);
  for (size_t i = 0; i < QUESTION_COUNT; i++) {
    char* text = tell(knowledge, i, "html");
    marks_check_xml(text, strlen(text), "a page");
    static const char* const NOTHING[] = {"<script", " src=", "@import", "url(", "http://"};
    char* namespace = strstr(text, "http://www.w3.org/1999/xhtml");
    cr_assert_not_null(namespace);
    memset(namespace, ' ', strlen("http://"));
    for (char* svg = text; (svg = strstr(svg, "http://www.w3.org/2000/svg"));)
      memset(svg, ' ', strlen("http://"));
    for (size_t k = 0; k < sizeof NOTHING / sizeof *NOTHING; k++)
      cr_expect_null(strstr(text, NOTHING[k]), "question %zu: %s", i, NOTHING[k]);
    cr_expect_not_null(strstr(text, "not medical advice"), "question %zu lacks the caution", i);
    free(text);
  }
  why_knowledge_free(knowledge);
}

/// A picture whose words are those of the subject.
static void draw_words(const void* subject, why_picture* picture) {
  picture->title = subject;
  picture->description = subject;
  picture->width = picture->height = 100;
  why_picture_words(picture, &(why_type){.ink = WHY_INK_TEXT, .size = 10}, (why_spot){0, 50},
                    subject);
}

/// A tree that holds `words` in every place where a text can be.
static why_node* tree_of(why_arena* arena, const char* words) {
  why_node* root = why_node_add(arena, NULL, WHY_NODE_RECORD, NULL);
  for (int role = WHY_ROLE_TITLE; role <= WHY_ROLE_PICTURE; role++) {
    why_node* node = why_node_words(arena, root, (why_role)role, words);
    node->mark = words;
    node->anchor = words;
    node->link = role % 2 ? words : why_arena_print(arena, "https://doi.org/%s", words);
    if (role == WHY_ROLE_PICTURE)
      node->drawing = why_node_picture(arena, root, draw_words, words)->drawing;
    else
      why_node_words(arena, node, WHY_ROLE_POINT, words)->link = words;
  }
  why_node* list = why_node_add(arena, root, WHY_NODE_LIST, "chain");
  why_node_words(arena, list, WHY_ROLE_STEP, words)->mark = words;
  return root;
}

static void check(why_arena* arena, const char* words) {
  static bool (*const WRITE[])(const why_node*, why_buffer*) = {why_page_write, why_sheet_write};
  for (size_t i = 0; i < 2; i++) {
    why_buffer out = {.arena = arena};
    cr_assert(WRITE[i](tree_of(arena, words), &out));
    marks_check_xml(why_buffer_text(&out), out.length, words);
    cr_expect_null(strstr(why_buffer_text(&out), "<script"));
    cr_expect_null(strstr(why_buffer_text(&out), "href=\"java"));
  }
}

Test(page, bears_any_name) {
  static const char* const NAMES[] = {
      "<script>alert('x')</script>", "\"><img onerror=\"x\">", "javascript:alert(1)",
      "a&b;&#0;&unknown;",           "]]>--></style></title>", "10.1002/(SICI)<1::AID>3.0;2-#"};
  why_arena* arena = why_arena_new(0);
  for (size_t i = 0; i < sizeof NAMES / sizeof *NAMES; i++)
    check(arena, NAMES[i]);
  why_arena_free(arena);
}

Test(page, bears_random_names) {
  uint64_t state = 3;
  for (int round = 0; round < 300; round++) {
    why_arena* arena = why_arena_new(0);
    char words[41] = {0};
    for (size_t i = 0; i < sizeof words - 1; i++) {
      state = state * 6364136223846793005u + 1442695040888963407u;
      words[i] = (char)(1 + (state >> 33) % 255);
    }
    check(arena, words);
    why_arena_free(arena);
  }
}

/// A DOI may hold characters that a link may not (RFC 3986, section 2).
Test(page, links_in_percent) {
  why_arena* arena = why_arena_new(0);
  why_node* root = why_node_add(arena, NULL, WHY_NODE_RECORD, NULL);
  why_node* point = why_node_words(arena, root, WHY_ROLE_POINT, "a study");
  point->mark = "doi";
  point->link = "https://doi.org/10.1002/(SICI)1097<19::AID-1>3.0.CO;2-\"";
  why_buffer out = {.arena = arena};
  why_page_write(root, &out);
  cr_expect_not_null(
      strstr(why_buffer_text(&out),
             "href=\"https://doi.org/10.1002/(SICI)1097%3C19::AID-1%3E3.0.CO;2-%22\""));
  why_arena_free(arena);
}
