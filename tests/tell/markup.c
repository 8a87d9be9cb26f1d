// SPDX-License-Identifier: GPL-3.0-or-later
// Whatever a name holds, libxml2 reads back what was meant.
#include "tell/markup.h"

#include <criterion/criterion.h>
#include <libxml/parser.h>
#include <locale.h>
#include <string.h>

static uint64_t next(uint64_t* state) {
  *state = *state * 6364136223846793005u + 1442695040888963407u;
  return *state >> 33;
}

/// What libxml2 reads from an element and from an attribute that hold `text`; both must agree.
static char* read_back(why_arena* arena, const char* text) {
  why_buffer out = {.arena = arena};
  why_buffer_add(&out, "<a");
  why_markup_attribute(&out, "b", text);
  why_buffer_add(&out, ">");
  why_markup_text(&out, text);
  why_buffer_add(&out, "</a>");
  xmlDocPtr doc = xmlReadMemory(why_buffer_text(&out), (int)out.length, NULL, "UTF-8",
                                XML_PARSE_NONET | XML_PARSE_NOERROR | XML_PARSE_NOWARNING);
  cr_assert_not_null(doc, "not well-formed: %s", why_buffer_text(&out));
  xmlNodePtr root = xmlDocGetRootElement(doc);
  xmlChar* inside = xmlNodeGetContent(root);
  xmlChar* attribute = xmlGetProp(root, (const xmlChar*)"b");
  cr_expect_null(root->next);
  cr_expect(!root->children || !root->children->next, "markup came through");
  if (!strpbrk(text, "\t\n\r"))
    cr_expect_str_eq((const char*)inside, (const char*)attribute);
  char* copy = why_arena_copy(arena, (const char*)inside, strlen((const char*)inside));
  xmlFree(inside);
  xmlFree(attribute);
  xmlFreeDoc(doc);
  return copy;
}

Test(markup, gives_back_what_may_stand) {
  static const char* const TEXTS[] = {"", "a < b & c > d \"e\" 'f'",
                                      "]]> <!-- --> <script>alert(1)</script> &amp;",
                                      "5 \xC2\xB5m, \xE2\x88\x92x, \xF0\x9F\x98\x80"};
  why_arena* arena = why_arena_new(0);
  for (size_t i = 0; i < sizeof TEXTS / sizeof *TEXTS; i++)
    cr_expect_str_eq(read_back(arena, TEXTS[i]), TEXTS[i]);
  why_arena_free(arena);
}

/// Sequences that The Unicode Standard (section 3.9) calls ill-formed, and characters that XML 1.0
/// (section 2.2) does not have.
Test(markup, replaces_what_may_not) {
  static const char* const TEXTS[] = {
      "\xC0\x80", "\xE0\x9F\xBF", "\xED\xA0\x80", "\xF4\x90\x80\x80", "\xFF",    "\xE2\x82",
      "\x01",     "\x1B",         "\xEF\xBF\xBE", "\xE2\x80\xAE",     "\xC2\x85"};
  why_arena* arena = why_arena_new(0);
  for (size_t i = 0; i < sizeof TEXTS / sizeof *TEXTS; i++) {
    const char* got = read_back(arena, TEXTS[i]);
    cr_expect_eq(strncmp(got, "\xEF\xBF\xBD", 3), 0, "case %zu gave %s", i, got);
    cr_expect_null(strpbrk(got, "\x01\x1B"));
  }
  why_arena_free(arena);
}

Test(markup, bears_random_bytes) {
  static const char FAVOURITES[] = "<&\"'>]-!\xC3\xA9\xE2\x80\xED\xF0\xFF\x02";
  uint64_t state = 7;
  for (int round = 0; round < 3000; round++) {
    why_arena* arena = why_arena_new(0);
    char text[33] = {0};
    size_t length = next(&state) % 32;
    for (size_t i = 0; i < length; i++)
      text[i] = next(&state) % 2 ? FAVOURITES[next(&state) % (sizeof FAVOURITES - 1)]
                                 : (char)(1 + next(&state) % 255);
    read_back(arena, text);
    why_arena_free(arena);
  }
}

static const char* number(why_arena* arena, double value) {
  why_buffer out = {.arena = arena};
  why_markup_number(&out, value);
  return why_buffer_text(&out);
}

Test(markup, writes_numbers_shortly_in_every_locale) {
  why_arena* arena = why_arena_new(0);
  setlocale(LC_ALL, "de_DE.UTF-8"); // where it is installed
  cr_expect_str_eq(number(arena, 12.5), "12.5");
  cr_expect_str_eq(number(arena, -0.04), "-0.04");
  cr_expect_str_eq(number(arena, -0.001), "0");
  cr_expect_str_eq(number(arena, 7), "7");
  cr_expect_str_eq(number(arena, 3.10), "3.1");
  cr_expect_str_eq(number(arena, 0.0 / 0.0), "0");
  why_arena_free(arena);
}
