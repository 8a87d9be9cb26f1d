// SPDX-License-Identifier: GPL-3.0-or-later
// Two problems that every chainer is measured with: writes their facts as text, and counts what
// follows from such a text here, with all derivations kept.
//   bench-datalog facts closure|generation          the facts, as "edge(1,2)."
//   bench-datalog count closure|generation FILE     facts, derivations, seconds
#include "read/reasoning_reader.h"
#include "reason/store.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <time.h>

#define BOTH             "<slot name='a' kind='node'/><slot name='b' kind='node'/></relation>"
#define RULE(id, inside) "<rule id='" id "' grounds='practice'><title>t</title>" inside "</rule>"

/// All that is reached from a node over edges.
static const char CLOSURE[] =
    "<reasoning><relation name='edge'>" BOTH "<relation name='path'>" BOTH RULE(
        "direct", "<if fact='edge' a='?x' b='?y'/><then fact='path' a='?x' b='?y'/>")
        RULE("onward", "<if fact='path' a='?x' b='?y'/><if fact='edge' a='?y' b='?z'/>"
                       "<then fact='path' a='?x' b='?z'/>") "</reasoning>";

/// Two nodes are of one generation when they are siblings, or when their parents are.
static const char GENERATION[] =
    "<reasoning><relation name='parent'>" BOTH "<relation name='same'>" BOTH RULE(
        "siblings", "<if fact='parent' a='?p' b='?x'/><if fact='parent' a='?p' b='?y'/>"
                    "<where left='?x' is='differs' right='?y'/><then fact='same' a='?x' b='?y'/>")
        RULE("cousins",
             "<if fact='parent' a='?p' b='?x'/><if fact='same' a='?p' b='?q'/>"
             "<if fact='parent' a='?q' b='?y'/><then fact='same' a='?x' b='?y'/>") "</reasoning>";

typedef struct {
  const char* name;
  const char* rules;
  const char* given;
  const char* derived;
} problem;

static const problem PROBLEMS[] = {{"closure", CLOSURE, "edge", "path"},
                                   {"generation", GENERATION, "parent", "same"}};

enum { NODES = 1000, EDGES = 2000, DEPTH = 9 };

/// 2,000 different edges between 1,000 nodes, none from a node to itself, drawn with a
/// multiplicative generator (Knuth's MMIX constants), so that they are the same everywhere.
static void write_edges(void) {
  static bool drawn[NODES][NODES];
  uint64_t state = 3 * UINT64_C(0x9e3779b97f4a7c15) + 1;
  for (unsigned count = 0; count < EDGES;) {
    unsigned ends[2];
    for (int i = 0; i < 2; i++) {
      state = state * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
      ends[i] = (unsigned)((state >> 33) % NODES);
    }
    if (ends[0] == ends[1] || drawn[ends[0]][ends[1]])
      continue;
    drawn[ends[0]][ends[1]] = true;
    printf("edge(%u,%u).\n", ends[0], ends[1]);
    count++;
  }
}

/// A full binary tree: node n has the children 2n and 2n + 1.
static void write_tree(void) {
  for (unsigned node = 1; node < 1U << DEPTH; node++)
    printf("parent(%u,%u).\nparent(%u,%u).\n", node, 2 * node, node, 2 * node + 1);
}

static double now(void) {
  struct timespec time;
  clock_gettime(CLOCK_MONOTONIC, &time);
  return (double)time.tv_sec + (double)time.tv_nsec / 1e9;
}

static const why_program* compile(const problem* at, why_reader* reader) {
  const why_program* program = NULL;
  why_reasoning* reasoning = WHY_NEW(reader->arena, why_reasoning);
  reader->text = at->rules;
  xmlDoc* doc = why_xml_parse(reader, strlen(reader->text));
  if (!doc)
    return NULL;
  why_reasoning_add(reader, xmlDocGetRootElement(doc), reasoning);
  xmlFreeDoc(doc);
  why_program_compile(reasoning, reader->symbols, reader->arena, reader->problems, &program);
  return program;
}

/// Take in lines like "edge(1,2)."; false when the file cannot be read or a line is another.
static bool read_facts(const char* path, why_base* base, why_symbols* symbols,
                       why_relation relation) {
  FILE* file = fopen(path, "r");
  if (!file)
    return false;
  char a[12];
  char b[12];
  int got = 2;
  while (got == 2) {
    got = fscanf(file, " %*[a-z](%11[0-9],%11[0-9]).", a, b);
    const why_value values[] = {why_value_of_symbol(why_symbols_add(symbols, a)),
                                why_value_of_symbol(why_symbols_add(symbols, b))};
    if (got == 2)
      why_base_add(base, relation, values, (why_place){.file = path, .line = 1}, NULL);
  }
  bool whole = got == EOF && !ferror(file);
  fclose(file);
  return whole;
}

/// Evaluate, and no more: what why_base_run does then is for questions and explanations.
static bool run(why_base* base, why_problems* problems) {
  base->store.problems = problems;
  why_store_run(&base->store);
  return !base->store.failed;
}

static bool count(const problem* at, const char* path, why_reader* reader) {
  double begun = now();
  const why_program* program = compile(at, reader);
  if (!program)
    return false;
  why_base* base = why_base_new(program, reader->symbols, reader->arena, NULL);
  if (!read_facts(path, base, reader->symbols, why_program_find(program, at->given)) ||
      !run(base, reader->problems))
    return false;
  const why_tuples* tuples = why_store_tuples(&base->store, why_program_find(program, at->derived));
  struct rusage usage;
  getrusage(RUSAGE_SELF, &usage);
  printf("%s: %u facts, %zu derivations, %.3f s, %.0f MB\n", at->name, tuples->count,
         base->store.derivations, now() - begun, (double)usage.ru_maxrss / 1024);
  return true;
}

int main(int argc, char** words) {
  const problem* at = NULL;
  for (size_t i = 0; argc > 2 && i < sizeof PROBLEMS / sizeof *PROBLEMS; i++)
    if (strcmp(words[2], PROBLEMS[i].name) == 0)
      at = &PROBLEMS[i];
  if (at && argc == 3 && strcmp(words[1], "facts") == 0) {
    at == PROBLEMS ? write_edges() : write_tree();
    return 0;
  }
  if (!at || argc != 4 || strcmp(words[1], "count") != 0) {
    fputs("usage: bench-datalog facts|count closure|generation [FILE]\n", stderr);
    return 2;
  }
  why_reader reader = {
      .arena = why_arena_new(0), .problems = why_problems_new(), .file = "rules/reasoning/bench"};
  reader.symbols = why_symbols_new(reader.arena, NULL, 0);
  bool sound = count(at, words[3], &reader);
  for (size_t i = 0; i < why_problems_count(reader.problems); i++)
    fprintf(stderr, "%s\n", why_problems_at(reader.problems, i).text);
  why_problems_free(reader.problems);
  why_arena_free(reader.arena);
  return sound ? 0 : 1;
}
