// SPDX-License-Identifier: GPL-3.0-or-later
// Every pick, and every advice against, of every question in tests/cases leads node by node to what
// it rests on: a rule with its grounds and its place, a line of a file, or what the question said.
#include "told.h"

#include "pick/pick.h"

#include <criterion/criterion.h>
#include <dirent.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

enum { WORDS = 24, LINE = 1000 };

typedef struct {
  const why_ground* ground;
  why_overlay* overlay;
  why_arena* arena;
  WHY_LIST(bool) entered; ///< By number of the proof.
  size_t nodes;
  size_t leaves;
  const char* name; ///< Of the case.
} walk;

static bool is_grounds(const char* word) {
  static const char* const GROUNDS[] = {"anatomy", "mechanism", "trials", "practice", "safety"};
  for (size_t i = 0; i < sizeof GROUNDS / sizeof *GROUNDS; i++)
    if (strcmp(GROUNDS[i], word) == 0)
      return true;
  return false;
}

static bool enter(walk* at, uint32_t number) {
  while (at->entered.count <= number)
    *WHY_LIST_ADD(at->arena, at->entered) = false;
  bool known = at->entered.at[number];
  at->entered.at[number] = true;
  return !known;
}

static void visit(walk* at, why_fact fact, double above) {
  const why_proof* proof = why_proof_best(at->overlay, fact);
  const why_program* program = at->ground->program;
  const char* text = why_fact_text(at->overlay, fact, at->arena);
  cr_assert_not_null(proof, "%s: %s has no proof", at->name, text);
  // A tree has fewer steps than the one it is part of, so that none stands below itself.
  cr_assert(proof->steps <= above, "%s: %s", at->name, text);
  if (!enter(at, proof->number))
    return;
  at->nodes++;
  const why_derivation* step = &proof->step;
  if (!step->rule) {
    at->leaves++;
    bool placed = step->place.file && step->place.line > 0;
    cr_expect(placed || why_program_relation(program, fact.relation)->assumable,
              "%s: %s stands nowhere", at->name, text);
    return;
  }
  cr_expect(step->place.file && step->place.line > 0, "%s: %s", at->name, text);
  cr_expect(is_grounds(why_symbols_text(at->ground->symbols, step->rule->grounds)), "%s: %s",
            at->name, text);
  cr_expect(*step->rule->title, "%s: %s", at->name, text);
  for (size_t i = 0; i < step->premise_count; i++)
    if (step->premises[i].kind != WHY_ABSENT)
      visit(at, step->premises[i].fact, proof->steps - 1);
}

// ---- questions out of command lines ----

/// Cut a command line into words; stops at a pipe, a redirection or a second command.
static int cut(char* line, char** words) {
  int count = 0;
  for (char* at = line; *at && count < WORDS;) {
    at += strspn(at, " \n");
    if (!*at || strchr("|>;&", *at))
      break;
    char end = *at == '"' || *at == '\'' ? *at++ : ' ';
    words[count++] = at;
    at += strcspn(at, end == ' ' ? " \n" : (char[]){end, '\0'});
    if (*at)
      *at++ = '\0';
  }
  return count;
}

static why_status say(why_question* question, const char* option, const char* value) {
  if (strcmp(option, "--have") == 0)
    return why_question_have(question, value);
  if (strcmp(option, "--without") == 0)
    return why_question_without(question, value);
  if (strcmp(option, "--avoid") == 0)
    return why_question_avoid(question, value);
  if (strcmp(option, "--level") == 0)
    return why_question_level(question, value);
  return WHY_OK;
}

/// Whether the words are a sound question about picks, which `question` then holds.
static bool fill(why_question* question, char** words, int count) {
  unsigned status = WHY_QUESTION;
  if (count < 3 || strcmp(words[0], "whylift") != 0)
    return false;
  if (strcmp(words[1], "pick") == 0)
    status = why_question_goal(question, words[2]);
  else if (strcmp(words[1], "swap") == 0)
    status = why_question_exercise(question, words[2], &question->replaced);
  else if (strcmp(words[1], "ask") == 0)
    status = why_question_ask(question, words[2]);
  for (int i = 3; i + 1 < count && status == WHY_OK; i++)
    if (words[i][0] == '-')
      status |= say(question, words[i], words[i + 1]);
  return status == WHY_OK;
}

static void visit_all(walk* at, const char* relation) {
  why_relation found = why_program_find(at->ground->program, relation);
  cr_assert_neq(found, WHY_NO_RELATION);
  why_facts facts = why_facts_find(at->overlay, found, 0, NULL);
  for (size_t i = 0; i < facts.count; i++)
    visit(at, facts.at[i], HUGE_VAL);
}

/// Walk the trees of one case; how many nodes there were, 0 when it asks for no picks.
static size_t walk_case(const why_ground* ground, const char* name, char* line, size_t* leaves) {
  why_arena* arena = why_arena_new(0);
  why_problems* problems = why_problems_new();
  char* words[WORDS];
  why_question question;
  why_question_init(&question, ground, arena, problems);
  walk at = {.ground = ground, .arena = arena, .name = name};
  if (fill(&question, words, cut(line, words))) {
    at.overlay = why_overlay_new(ground->base, arena, NULL);
    why_question_assume(&question, at.overlay);
    why_overlay_open(at.overlay, problems);
    visit_all(&at, "pick");
    visit_all(&at, "against");
    visit_all(&at, "fills-gap");
    visit_all(&at, "fills-muscle");
    visit_all(&at, "fills-movement");
    cr_expect_eq(why_overlay_status(at.overlay), WHY_OK, "%s", name);
  }
  *leaves += at.leaves;
  why_problems_free(problems);
  why_arena_free(arena);
  return at.nodes;
}

Test(trees, of_every_case_lead_to_what_they_rest_on) {
  why_arena* arena = why_arena_new(0);
  const why_ground* ground = told_ground(arena);
  DIR* folder = opendir(WHY_HOME "/tests/cases");
  cr_assert_not_null(folder);
  size_t cases = 0, nodes = 0, leaves = 0;
  for (struct dirent* each = readdir(folder); each; each = readdir(folder)) {
    FILE* file =
        each->d_name[0] == '.'
            ? NULL
            : fopen(why_arena_print(arena, "%s/tests/cases/%s/run", WHY_HOME, each->d_name), "r");
    char line[LINE] = "";
    if (!file)
      continue;
    if (fgets(line, sizeof line, file)) {
      size_t met = walk_case(ground, each->d_name, line, &leaves);
      cases += met > 0;
      nodes += met;
    }
    fclose(file);
  }
  closedir(folder);
  cr_expect_gt(cases, 20);
  cr_expect_gt(leaves, 1000);
  cr_log_info("%zu cases, %zu nodes, of which %zu leaves", cases, nodes, leaves);
  why_arena_free(arena);
}
