// SPDX-License-Identifier: GPL-3.0-or-later
// What completes a goal, held against all smaller sets by trying them, for every group at several
// places; and the hamstrings as coaches pair them (common practice).
#include "told.h"

#include "pick/pick.h"
#include "pick/rows.h"

#include <criterion/criterion.h>
#include <string.h>

static const char* const FILLED[] = {"fills-gap", "fills-muscle", "fills-movement"};
static const char* const PARTS[] = {"head", "group", "action", "what"};
enum { KINDS = 3, SLOTS = 4, ROOM = 4000 };

typedef struct {
  why_symbol exercise;
  why_symbol gap[SLOTS];
} filling;

typedef struct {
  filling all[ROOM];
  size_t count;
} fillings;

static why_picked* ask(const why_ground* ground, why_arena* arena, why_problems* problems,
                       const char* goal, const char* have) {
  why_question* question = WHY_NEW(arena, why_question);
  why_question_init(question, ground, arena, problems);
  cr_assert_eq(why_question_goal(question, goal), WHY_OK, "%s", goal);
  cr_assert_eq(why_question_have(question, have), WHY_OK, "%s", have);
  why_picked* answer = NULL;
  why_status status = why_pick_run(question, &answer);
  cr_assert(status == WHY_OK || status == WHY_NO_PICK);
  return answer;
}

static void read_fillings(const why_picked* answer, fillings* found) {
  found->count = 0;
  why_rows worth = why_rows_find(answer->question->ground->program, answer->overlay, "fills");
  for (size_t kind = 0; kind < KINDS; kind++) {
    why_rows rows = why_rows_find(answer->question->ground->program, answer->overlay, FILLED[kind]);
    for (size_t i = 0; i < rows.facts.count; i++) {
      filling each = {.exercise = why_rows_symbol(&rows, i, "exercise")};
      bool counts = false;
      for (size_t k = 0; k < worth.facts.count; k++)
        counts = counts || why_rows_symbol(&worth, k, "exercise") == each.exercise;
      for (size_t k = 0; k < SLOTS; k++)
        each.gap[k] = why_rows_symbol(&rows, i, PARTS[k]);
      cr_assert_lt(found->count, (size_t)ROOM);
      if (counts)
        found->all[found->count++] = each;
    }
  }
}

/// Whether one of two exercises (they may be the same) fills the gap of row `i`.
static bool filled(const fillings* found, size_t i, why_symbol one, why_symbol other) {
  for (size_t k = 0; k < found->count; k++)
    if (memcmp(found->all[k].gap, found->all[i].gap, sizeof found->all[i].gap) == 0 &&
        (found->all[k].exercise == one || found->all[k].exercise == other))
      return true;
  return false;
}

static bool do_all(const fillings* found, why_symbol one, why_symbol other) {
  for (size_t i = 0; i < found->count; i++)
    if (!filled(found, i, one, other))
      return false;
  return true;
}

static void check_answer(const why_picked* answer, const fillings* found, const char* place) {
  const char* goal = why_symbols_text(answer->question->ground->symbols, answer->question->goal.id);
  cr_expect_eq(answer->complement.count == 0, found->count == 0, "%s, %s", goal, place);
  for (size_t i = 0; i < found->count; i++) {
    bool done = false;
    for (size_t k = 0; k < answer->complement.count; k++)
      done = done || filled(found, i, answer->complement.at[k].exercise, 0);
    cr_expect(done, "%s, %s: a gap is left", goal, place);
  }
  int sum = answer->leading.share;
  for (size_t k = 0; k < answer->complement.count; k++) {
    sum += answer->complement.at[k].share;
    cr_expect_gt(answer->complement.at[k].because.count, (size_t)0, "%s, %s", goal, place);
  }
  cr_expect(!answer->complement.count || sum == 100, "%s, %s: shares sum to %d", goal, place, sum);
  for (size_t i = 0; i < found->count && answer->complement.count > 1; i++)
    for (size_t k = answer->complement.count > 2 ? 0 : i; k < found->count; k++) {
      if (answer->complement.count == 2 && found->all[i].exercise != found->all[k].exercise)
        continue;
      bool fewer = do_all(found, found->all[i].exercise, found->all[k].exercise);
      cr_expect(!fewer, "%s, %s: %zu exercises where fewer do", goal, place,
                answer->complement.count);
      if (fewer)
        return;
    }
}

Test(pairing, every_gap_is_filled_and_by_no_more_exercises_than_it_takes) {
  static const char* const PLACES[] = {"full-gym", "hotel-room", "barbell-and-rack"};
  why_arena* arena = why_arena_new(0);
  why_problems* problems = why_problems_new();
  const why_ground* ground = told_ground(arena);
  fillings* found = WHY_NEW(arena, fillings);
  size_t completed = 0;
  for (size_t g = 0; g < ground->tables->anatomy.groups.count; g++)
    for (size_t p = 0; p < sizeof PLACES / sizeof *PLACES; p++) {
      why_arena* branch = why_arena_branch(arena);
      const char* goal = why_symbols_text(ground->symbols, ground->tables->anatomy.groups.at[g].id);
      why_picked* answer = ask(ground, branch, problems, goal, PLACES[p]);
      read_fillings(answer, found);
      check_answer(answer, found, PLACES[p]);
      completed += answer->complement.count > 0;
      why_arena_free(branch);
    }
  cr_expect_gt(completed, (size_t)20);
  why_problems_free(problems);
  why_arena_free(arena);
}

/// The first sentence about an exercise that completes the answer, and its share; NULL: it does
/// not.
static const char* share_of(const why_picked* answer, const char* id, int* share) {
  const why_symbols* symbols = answer->question->ground->symbols;
  for (size_t k = 0; k < answer->complement.count; k++)
    if (strcmp(why_symbols_text(symbols, answer->complement.at[k].exercise), id) == 0) {
      *share = answer->complement.at[k].share;
      return answer->complement.at[k].because.at[0].say;
    }
  return NULL;
}

Test(pairing, hamstrings_are_hinged_and_curled_with_a_fifth_for_the_straight_hip) {
  why_arena* arena = why_arena_new(0);
  why_problems* problems = why_problems_new();
  const why_ground* ground = told_ground(arena);
  why_picked* answer = ask(ground, arena, problems, "hamstrings", "full-gym");
  const why_symbols* symbols = ground->symbols;
  cr_expect_str_eq(why_symbols_text(symbols, answer->leading.exercise), "seated-leg-curl");
  int share = 0;
  cr_expect_not_null(share_of(answer, "prone-leg-curl", &share));
  cr_expect_eq(share, 20);
  cr_expect_eq(answer->complement.count, (size_t)2);
  why_problems_free(problems);
  why_arena_free(arena);
}
