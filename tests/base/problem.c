// SPDX-License-Identifier: GPL-3.0-or-later
// The list of problems: what is kept, in which order, and what it makes of the status.
#include "base/problem.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <string.h>

static why_problems* problems;

static void make_problems(void) {
  problems = why_problems_new();
}

static void free_problems(void) {
  why_problems_free(problems);
}

TestSuite(problem, .init = make_problems, .fini = free_problems);

static why_place at(const char* file, unsigned line, unsigned column) {
  return (why_place){.file = file, .line = line, .column = column};
}

Test(problem, an_empty_list_is_fine) {
  cr_expect_eq(why_problems_count(problems), 0);
  cr_expect_eq(why_problems_status(problems), WHY_OK);
  cr_expect_not(why_problems_failed(problems, "size"));
  why_problems_hint(problems, "about nothing");
  why_problems_also(problems, at("a.xml", 1, 1));
  why_problems_sort(problems);
  cr_expect_eq(why_problems_count(problems), 0);
  why_problems_free(NULL);
}

/// The list outlives what it speaks of.
Test(problem, texts_are_copied) {
  char check[] = "size", file[] = "a.xml", other[] = "b.xml", word[] = "large";
  why_problems_add(problems, WHY_ERROR, check, at(file, 3, 7), "too %s by %d", word, 12);
  why_problems_hint(problems, "make it %s", word);
  why_problems_also(problems, at(other, 9, 2));
  check[0] = file[0] = other[0] = word[0] = '?';
  why_problem kept = why_problems_at(problems, 0);
  cr_expect_eq(kept.severity, WHY_ERROR);
  cr_expect_str_eq(kept.check, "size");
  cr_expect_str_eq(kept.place.file, "a.xml");
  cr_expect(kept.place.line == 3 && kept.place.column == 7);
  cr_expect_str_eq(kept.text, "too large by 12");
  cr_expect_str_eq(kept.hint, "make it large");
  cr_expect_str_eq(kept.other.file, "b.xml");
  cr_expect(kept.other.line == 9 && kept.other.column == 2);
}

Test(problem, nothing_is_said_that_was_not_told) {
  why_problems_add(problems, WHY_NOTE, "gap", at(NULL, 0, 0), "no place");
  why_problem kept = why_problems_at(problems, 0);
  cr_expect_null(kept.place.file);
  cr_expect_null(kept.hint);
  cr_expect_null(kept.other.file);
}

Test(problem, only_errors_spoil_the_knowledge_base) {
  why_problems_add(problems, WHY_NOTE, "gap", at("a.xml", 1, 1), "one");
  why_problems_add(problems, WHY_WARNING, "doubt", at("a.xml", 2, 1), "two");
  cr_expect_eq(why_problems_status(problems), WHY_OK);
  cr_expect_not(why_problems_failed(problems, "doubt"), "a warning is no failure");
  why_problems_add(problems, WHY_ERROR, "size", at("a.xml", 3, 1), "three");
  cr_expect_eq(why_problems_status(problems), WHY_KNOWLEDGE);
  cr_expect(why_problems_failed(problems, "size"));
  cr_expect_not(why_problems_failed(problems, "siz"));
  cr_expect_eq(why_problems_count_from(problems, WHY_NOTE), 3);
  cr_expect_eq(why_problems_count_from(problems, WHY_WARNING), 2);
  cr_expect_eq(why_problems_count_from(problems, WHY_ERROR), 1);
}

typedef struct {
  why_severity severity;
  const char *check, *file;
  unsigned line, column;
  const char *text, *hint;
} row;

/// In the order that is wanted; each differs from the one before it in one more thing.
static const row SORTED[] = {
    {WHY_NOTE, "z", NULL, 0, 0, "nowhere", NULL},
    {WHY_NOTE, "z", "a.xml", 0, 0, "in the file", NULL},
    {WHY_NOTE, "z", "a.xml", 2, 9, "x", NULL},
    {WHY_NOTE, "z", "a.xml", 10, 1, "x", NULL},
    {WHY_NOTE, "b", "a.xml", 10, 2, "x", NULL},
    {WHY_NOTE, "c", "a.xml", 10, 2, "x", NULL},
    {WHY_ERROR, "c", "a.xml", 10, 2, "y", NULL},
    {WHY_NOTE, "c", "a.xml", 10, 2, "y", NULL},
    {WHY_NOTE, "c", "a.xml", 10, 2, "y", "h"},
    {WHY_NOTE, "a", "b.xml", 1, 1, "a", NULL},
};

enum { ROWS = sizeof SORTED / sizeof *SORTED };

static bool is_row(why_problem problem, const row* wanted) {
  const char* file = problem.place.file ? problem.place.file : "";
  const char* hint = problem.hint ? problem.hint : "";
  return problem.severity == wanted->severity && strcmp(problem.check, wanted->check) == 0 &&
         strcmp(file, wanted->file ? wanted->file : "") == 0 &&
         problem.place.line == wanted->line && problem.place.column == wanted->column &&
         strcmp(problem.text, wanted->text) == 0 &&
         strcmp(hint, wanted->hint ? wanted->hint : "") == 0;
}

/// Told in many orders (all steps prime to the number of rows), the list is always the same.
Test(problem, order_does_not_depend_on_the_order_of_telling) {
  static const size_t steps[] = {1, 3, 7, 9};
  for (size_t s = 0; s < sizeof steps / sizeof *steps; s++) {
    why_problems* list = why_problems_new();
    for (size_t i = 0; i < ROWS; i++) {
      const row* each = &SORTED[i * steps[s] % ROWS];
      why_problems_add(list, each->severity, each->check, at(each->file, each->line, each->column),
                       "%s", each->text);
      if (each->hint)
        why_problems_hint(list, "%s", each->hint);
    }
    why_problems_sort(list);
    for (size_t i = 0; i < ROWS; i++)
      cr_expect(is_row(why_problems_at(list, i), &SORTED[i]), "step %zu, row %zu", steps[s], i);
    why_problems_free(list);
  }
}

static void add_many(why_severity severity, const char* check, unsigned count) {
  for (unsigned i = 0; i < count; i++)
    why_problems_add(problems, severity, check, at("a.xml", i + 1, 1), "number %u", i);
}

Test(problem, more_than_the_limit_are_counted_only) {
  add_many(WHY_NOTE, "gap", WHY_PROBLEMS_LIMIT + 10);
  cr_expect_eq(why_problems_count(problems), WHY_PROBLEMS_LIMIT);
  cr_expect_eq(why_problems_count_from(problems, WHY_NOTE), WHY_PROBLEMS_LIMIT + 10);
  why_problems_hint(problems, "about the one that was not kept");
  cr_expect_null(why_problems_at(problems, WHY_PROBLEMS_LIMIT - 1).hint);
}

Test(problem, notes_do_not_hide_errors) {
  add_many(WHY_NOTE, "gap", WHY_PROBLEMS_LIMIT + 10);
  add_many(WHY_ERROR, "size", 1);
  cr_expect_eq(why_problems_count(problems), WHY_PROBLEMS_LIMIT + 1);
  cr_expect(why_problems_failed(problems, "size"));
}

Test(problem, many_errors_of_one_check_do_not_hide_another) {
  add_many(WHY_ERROR, "size", 3 * WHY_PROBLEMS_LIMIT);
  cr_expect_eq(why_problems_count(problems), 2 * WHY_PROBLEMS_LIMIT);
  add_many(WHY_ERROR, "unit", 5);
  cr_expect(why_problems_failed(problems, "unit"));
  cr_expect_eq(why_problems_count(problems), 2 * WHY_PROBLEMS_LIMIT + 1);
}

Test(problem, places_compare_like_texts) {
  why_place unknown = at(NULL, 0, 0), first = at("a.xml", 9, 9), second = at("b.xml", 1, 1);
  cr_expect_lt(why_place_compare(&unknown, &first), 0);
  cr_expect_lt(why_place_compare(&first, &second), 0);
  cr_expect_gt(why_place_compare(&second, &first), 0);
  cr_expect_eq(why_place_compare(&first, &first), 0);
}

Test(problem, every_status_has_a_sentence) {
  for (int status = WHY_OK; status <= WHY_MACHINE + 1; status++) {
    const char* text = why_status_text((why_status)status);
    cr_assert_not_null(text);
    cr_expect_gt(strlen(text), 5);
    cr_expect_neq(text[strlen(text) - 1], '.');
    for (int other = WHY_OK; other < status; other++)
      cr_expect_str_neq(text, why_status_text((why_status)other));
  }
}
