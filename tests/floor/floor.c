// SPDX-License-Identifier: GPL-3.0-or-later
// Counts the picks for every muscle group and every action of a joint at five places, prints the
// table, and holds a floor of four. Where anatomy or the place does not allow four, a JSON file
// says how many there must be and why; it must go once there are four. Ends with "N passed, N
// failed", one test a count. Usage: floor EXCEPTIONS.json
#include "whylift/whylift.h"

#include <jansson.h>
#include <stdio.h>
#include <string.h>

enum { FLOOR = 4, GOALS_LIMIT = 200, NAME_ROOM = 64 };

static const char* const PLACES[] = {"full-gym", "dumbbells-and-bench", "bands-only", "hotel-room",
                                     "barbell-and-rack"};
enum { PLACE_COUNT = sizeof PLACES / sizeof *PLACES };

typedef struct {
  char at[GOALS_LIMIT][NAME_ROOM];
  size_t count;
} names;

/// The first column of a listing, line by line.
static bool add_lines(void* user, const char* bytes, size_t length) {
  names* all = user;
  for (const char* line = bytes; line < bytes + length && all->count < GOALS_LIMIT;) {
    size_t size = strcspn(line, "\t\n");
    if (size && size < NAME_ROOM)
      memcpy(all->at[all->count++], line, size);
    line += strcspn(line, "\n");
    line += *line == '\n';
  }
  return true;
}

static void list(const why_knowledge* knowledge, const char* kind, names* all) {
  why_query* query = why_query_new(knowledge);
  why_answer* answer = NULL;
  if (why_query_set(query, WHY_KIND, kind) == WHY_OK && why_run(query, WHY_LIST, &answer) == WHY_OK)
    why_tell(answer, "text", add_lines, all);
  why_answer_free(answer);
  why_query_free(query);
}

static size_t count_picks(const why_knowledge* knowledge, const char* goal, const char* place) {
  why_query* query = why_query_new(knowledge);
  why_answer* answer = NULL;
  why_query_set(query, WHY_GOAL, goal);
  why_query_add(query, WHY_HAVE, place);
  why_query_set(query, WHY_TOP, "all");
  why_run(query, WHY_PICK, &answer);
  size_t count = answer ? why_answer_count(answer) : 0;
  why_answer_free(answer);
  why_query_free(query);
  return count;
}

/// How many picks there must be: the floor, or what the exception says.
static size_t least_for(const json_t* exceptions, const char* goal, const char* place) {
  const json_t* least =
      json_object_get(json_object_get(json_object_get(exceptions, goal), "least"), place);
  return least ? (size_t)json_integer_value(least) : FLOOR;
}

static void look_at(const why_knowledge* knowledge, const json_t* exceptions, const char* goal,
                    size_t* good, size_t* bad) {
  printf("%-32s", goal);
  for (size_t i = 0; i < PLACE_COUNT; i++) {
    size_t count = count_picks(knowledge, goal, PLACES[i]);
    size_t least = least_for(exceptions, goal, PLACES[i]);
    bool needless = least < FLOOR && count >= FLOOR;
    bool fails = count < least || needless;
    printf(" %19zu%s", count, count < least ? "!" : needless ? "+" : " ");
    *(fails ? bad : good) += 1;
  }
  printf("\n");
}

/// An exception for what is not in the table would hide a misspelt name.
static void check_names(const json_t* exceptions, const names* goals, size_t* bad) {
  const char* goal;
  json_t* row;
  json_object_foreach((json_t*)exceptions, goal, row) {
    bool known = false;
    for (size_t i = 0; i < goals->count; i++)
      known = known || strcmp(goals->at[i], goal) == 0;
    if (!known || !json_string_value(json_object_get(row, "reason"))) {
      printf("%s: no such goal, or no reason\n", goal);
      ++*bad;
    }
  }
}

int main(int argc, char** argv) {
  why_knowledge* knowledge = NULL;
  why_problems* problems = NULL;
  json_t* exceptions = argc > 1 ? json_load_file(argv[1], 0, NULL) : NULL;
  static names goals;
  size_t good = 0, bad = 0;
  if (!exceptions || why_knowledge_open(WHY_HOME, NULL, &knowledge, &problems) != WHY_OK) {
    printf("no exceptions, or no knowledge base\n0 passed, 1 failed\n");
    return 1;
  }
  list(knowledge, "groups", &goals);
  list(knowledge, "actions", &goals);
  check_names(exceptions, &goals, &bad);
  printf("%-32s", "(! too few, + exception not needed)");
  for (size_t i = 0; i < PLACE_COUNT; i++)
    printf(" %19s ", PLACES[i]);
  printf("\n");
  for (size_t i = 0; i < goals.count; i++)
    look_at(knowledge, exceptions, goals.at[i], &good, &bad);
  json_decref(exceptions);
  why_knowledge_free(knowledge);
  why_problems_free(problems);
  printf("%zu passed, %zu failed\n", good, bad);
  return bad > 0 || !good;
}
