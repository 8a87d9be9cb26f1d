// SPDX-License-Identifier: GPL-3.0-or-later
// A list of problems in an arena of its own, sorted by place before it is shown.
#include "problem.h"

#include "list.h"

#include <stdlib.h>
#include <string.h>

struct why_problems {
  why_arena* arena;
  WHY_LIST(why_problem) rows;
  why_problem* newest; ///< What a hint speaks of; NULL when the newest was not kept.
  size_t by_severity[WHY_ERROR + 1];
};

const char* why_status_text(why_status status) {
  switch (status) {
  case WHY_OK:
    return "answered";
  case WHY_NO_PICK:
    return "nothing fits the question";
  case WHY_QUESTION:
    return "the question is not understood";
  case WHY_KNOWLEDGE:
    return "the knowledge base has errors";
  case WHY_MACHINE:
    return "the machine failed";
  }
  return "unknown status";
}

why_problems* why_problems_new(void) {
  why_arena* arena = why_arena_new(0);
  if (!arena)
    return NULL;
  why_problems* made = WHY_NEW(arena, why_problems);
  made->arena = arena;
  return made;
}

void why_problems_free(why_problems* problems) {
  if (problems)
    why_arena_free(problems->arena);
}

static why_place keep_place(why_problems* problems, why_place place) {
  if (place.file)
    place.file = why_arena_copy(problems->arena, place.file, strlen(place.file));
  return place;
}

/// Past the limit only errors are kept; past twice the limit only the first error of each check, so
/// that `why_problems_failed` never errs.
static bool is_kept(const why_problems* problems, why_severity severity, const char* check) {
  if (problems->rows.count < WHY_PROBLEMS_LIMIT)
    return true;
  if (severity < WHY_ERROR)
    return false;
  return problems->rows.count < 2 * WHY_PROBLEMS_LIMIT || !why_problems_failed(problems, check);
}

void why_problems_add(why_problems* problems, why_severity severity, const char* check,
                      why_place place, const char* format, ...) {
  problems->by_severity[severity]++;
  problems->newest = NULL;
  if (!is_kept(problems, severity, check))
    return;
  va_list arguments;
  va_start(arguments, format);
  problems->newest = WHY_LIST_ADD(problems->arena, problems->rows);
  *problems->newest = (why_problem){
      .severity = severity,
      .check = why_arena_copy(problems->arena, check, strlen(check)),
      .place = keep_place(problems, place),
      .text = why_arena_vprint(problems->arena, format, arguments),
  };
  va_end(arguments);
}

void why_problems_hint(why_problems* problems, const char* format, ...) {
  if (!problems->newest)
    return;
  va_list arguments;
  va_start(arguments, format);
  problems->newest->hint = why_arena_vprint(problems->arena, format, arguments);
  va_end(arguments);
}

void why_problems_also(why_problems* problems, why_place other) {
  if (problems->newest)
    problems->newest->other = keep_place(problems, other);
}

static int compare_text(const char* a, const char* b) {
  return strcmp(a ? a : "", b ? b : "");
}

int why_place_compare(const why_place* a, const why_place* b) {
  int by_file = compare_text(a->file, b->file);
  if (by_file)
    return by_file;
  if (a->line != b->line)
    return a->line < b->line ? -1 : 1;
  if (a->column != b->column)
    return a->column < b->column ? -1 : 1;
  return 0;
}

/// A full order, so that the order in which problems were found cannot be seen.
static int compare(const void* left, const void* right) {
  const why_problem* a = left;
  const why_problem* b = right;
  int order = why_place_compare(&a->place, &b->place);
  if (!order)
    order = strcmp(a->check, b->check);
  if (!order)
    order = strcmp(a->text, b->text);
  if (!order)
    order = (int)b->severity - (int)a->severity;
  if (!order)
    order = compare_text(a->hint, b->hint);
  return order ? order : why_place_compare(&a->other, &b->other);
}

void why_problems_sort(why_problems* problems) {
  problems->newest = NULL;
  if (problems->rows.count)
    qsort(problems->rows.at, problems->rows.count, sizeof *problems->rows.at, compare);
}

why_status why_problems_status(const why_problems* problems) {
  return problems->by_severity[WHY_ERROR] ? WHY_KNOWLEDGE : WHY_OK;
}

bool why_problems_failed(const why_problems* problems, const char* check) {
  for (size_t i = problems->rows.count; i > 0; i--) { // the latest are the likeliest
    const why_problem* each = &problems->rows.at[i - 1];
    if (each->severity == WHY_ERROR && strcmp(each->check, check) == 0)
      return true;
  }
  return false;
}

size_t why_problems_count(const why_problems* problems) {
  return problems->rows.count;
}

size_t why_problems_count_from(const why_problems* problems, why_severity severity) {
  size_t count = 0;
  for (int each = (int)severity; each <= WHY_ERROR; each++)
    count += problems->by_severity[each];
  return count;
}

why_problem why_problems_at(const why_problems* problems, size_t index) {
  return problems->rows.at[index];
}
