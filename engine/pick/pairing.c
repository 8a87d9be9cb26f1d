// SPDX-License-Identifier: GPL-3.0-or-later
// A set cover: gaps are rows, exercises are columns. What another exercise outdoes in every respect
// is left out first, so that GLPK meets a handful of columns.
#include "pairing.h"

#include "mip.h"
#include "rows.h"
#include "sentence.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { PERCENT_STEP = 5 };

/// What is left out; 0 where it does not matter.
typedef struct {
  why_symbol head;
  why_symbol group;
  why_symbol action;
  why_symbol what;
} gap;

typedef struct {
  why_symbol exercise;
  double points;
  bool* fills; ///< By gap.
  bool outdone;
  bool main;    ///< Fills more than gaps of shorter lengths.
  bool* serves; ///< By wanted head: works it in earnest. Of members.
  double share; ///< Of the weekly work.
  int percent;
} candidate;

typedef struct {
  why_picked* answer;
  WHY_LIST(gap) gaps;
  WHY_LIST(candidate) all;
  WHY_LIST(candidate) members; ///< The first pick, then what is added.
} pairing;

static why_rows find(const pairing* at, const char* name) {
  return why_rows_find(at->answer->question->ground->program, at->answer->overlay, name);
}

static bool is_word(const pairing* at, why_symbol symbol, const char* word) {
  return strcmp(why_symbols_text(at->answer->question->ground->symbols, symbol), word) == 0;
}

static size_t number_of_gap(const pairing* at, gap wanted) {
  size_t i = 0;
  while (i < at->gaps.count && memcmp(&at->gaps.at[i], &wanted, sizeof wanted) != 0)
    i++;
  return i;
}

static gap gap_at(const why_rows* filled, size_t i) {
  return (gap){why_rows_symbol(filled, i, "head"), why_rows_symbol(filled, i, "group"),
               why_rows_symbol(filled, i, "action"), why_rows_symbol(filled, i, "what")};
}

static void read_gaps(pairing* at, const why_rows* filled) {
  for (size_t i = 0; i < filled->facts.count; i++) {
    gap each = gap_at(filled, i);
    if (number_of_gap(at, each) == at->gaps.count)
      *WHY_LIST_ADD(at->answer->arena, at->gaps) = each;
  }
}

static void read_candidates(pairing* at) {
  why_rows worth = find(at, "fills");
  for (size_t k = 0; k < worth.facts.count; k++)
    *WHY_LIST_ADD(at->answer->arena, at->all) =
        (candidate){.exercise = why_rows_symbol(&worth, k, "exercise"),
                    .points = why_rows_number(&worth, k, "points"),
                    .fills = WHY_NEW_ARRAY(at->answer->arena, bool, at->gaps.count + 1)};
}

static void read_fillers(pairing* at, const why_rows* filled) {
  for (size_t i = 0; i < filled->facts.count; i++) {
    why_symbol exercise = why_rows_symbol(filled, i, "exercise");
    gap each = gap_at(filled, i);
    for (size_t k = 0; k < at->all.count; k++)
      if (at->all.at[k].exercise == exercise) {
        at->all.at[k].fills[number_of_gap(at, each)] = true;
        at->all.at[k].main = at->all.at[k].main || !is_word(at, each.what, "shorter");
      }
  }
}

/// Whether `other` fills all that `one` fills, and is worth as much.
static bool outdoes(const pairing* at, const candidate* other, const candidate* one) {
  if (other->outdone || other->points < one->points)
    return false;
  for (size_t i = 0; i < at->gaps.count; i++)
    if (one->fills[i] && !other->fills[i])
      return false;
  return true;
}

static void drop_outdone(pairing* at) {
  for (size_t i = 0; i < at->all.count; i++)
    for (size_t k = 0; k < at->all.count && !at->all.at[i].outdone; k++)
      at->all.at[i].outdone = k != i && outdoes(at, &at->all.at[k], &at->all.at[i]);
  size_t kept = 0;
  for (size_t i = 0; i < at->all.count; i++)
    if (!at->all.at[i].outdone)
      at->all.at[kept++] = at->all.at[i];
  at->all.count = kept;
}

/// An exercise costs one, and less than its part of one more by what it is worth, so that the size
/// of the set decides first.
static void choose(pairing* at) {
  double most = -INFINITY;
  double least = INFINITY;
  for (size_t k = 0; k < at->all.count; k++) {
    most = fmax(most, at->all.at[k].points);
    least = fmin(least, at->all.at[k].points);
  }
  why_mip mip = {.arena = at->answer->arena};
  double unit = 1 / ((most - least + 1) * (double)(at->gaps.count + 1));
  for (size_t k = 0; k < at->all.count; k++)
    why_mip_add_column(&mip, -1 - unit * (most - at->all.at[k].points), 0, 1, true);
  for (size_t i = 0; i < at->gaps.count; i++) {
    int row = why_mip_add_row(&mip, 1, INFINITY);
    for (size_t k = 0; k < at->all.count; k++)
      why_mip_add_term(&mip, row, (int)k, at->all.at[k].fills[i]);
  }
  why_mip_result result = why_mip_solve(&mip);
  if (result.status != WHY_MIP_OPTIMAL && result.status != WHY_MIP_FEASIBLE)
    return;
  for (size_t k = 0; k < at->all.count; k++)
    if (mip.columns.at[k].value > 0.5)
      *WHY_LIST_ADD(at->answer->arena, at->members) = at->all.at[k];
}

/// Which of the wanted heads a member works in earnest.
static void read_served(const pairing* at, candidate* member) {
  const why_picked* answer = at->answer;
  why_rows rows = why_rows_about(answer->question->ground->program, answer->overlay, "serves",
                                 "exercise", member->exercise);
  member->serves = WHY_NEW_ARRAY(answer->arena, bool, answer->heads.count + 1);
  for (size_t i = 0; i < rows.facts.count; i++)
    for (size_t h = 0; h < answer->heads.count; h++)
      if (answer->heads.at[h] == why_rows_symbol(&rows, i, "head"))
        member->serves[h] = true;
}

/// Main members share each head that they work by its weight; those for shorter lengths only have
/// the share that the rules give them.
static void share(pairing* at) {
  const why_picked* answer = at->answer;
  const why_ground* ground = answer->question->ground;
  double shorter =
      why_rows_setting(ground->program, answer->overlay, ground->symbols, "share-of-shorter", 0);
  double others = 0;
  for (size_t k = 0; k < at->members.count; k++) {
    read_served(at, &at->members.at[k]);
    others += !at->members.at[k].main;
  }
  double all = 0;
  for (size_t i = 0; i < answer->heads.count; i++) {
    double workers = 0;
    for (size_t k = 0; k < at->members.count; k++)
      workers += at->members.at[k].main && at->members.at[k].serves[i];
    all += workers > 0 ? answer->goal.at[i].weight : 0;
    for (size_t k = 0; k < at->members.count && workers > 0; k++)
      if (at->members.at[k].main && at->members.at[k].serves[i])
        at->members.at[k].share += answer->goal.at[i].weight / workers;
  }
  for (size_t k = 0; k < at->members.count; k++) {
    candidate* member = &at->members.at[k];
    member->share = !member->main ? shorter / others
                    : all > 0     ? member->share / all * (others > 0 ? 1 - shorter : 1)
                                  : 0;
  }
}

static double cut_off(const candidate* member) {
  return 100 * member->share - member->percent;
}

/// Whole steps of per cent that add up to 100: what is cut off most is rounded up first.
static void round_shares(pairing* at) {
  int left = 100;
  for (size_t k = 0; k < at->members.count; k++) {
    candidate* member = &at->members.at[k];
    member->percent = PERCENT_STEP * (int)floor(100 * member->share / PERCENT_STEP + 1e-9);
    left -= member->percent;
  }
  for (; left >= PERCENT_STEP; left -= PERCENT_STEP) {
    size_t most = 0;
    for (size_t k = 1; k < at->members.count; k++)
      if (cut_off(&at->members.at[k]) > cut_off(&at->members.at[most]) + 1e-6)
        most = k;
    at->members.at[most].percent += PERCENT_STEP;
  }
}

static void report(const pairing* at) {
  why_picked* answer = at->answer;
  const why_ground* ground = answer->question->ground;
  for (size_t k = 0; k < at->members.count; k++) {
    const candidate* member = &at->members.at[k];
    why_near_row row = {.exercise = member->exercise, .share = member->percent};
    row.name = why_ground_name(ground, answer->arena, "exercise",
                               why_symbols_text(ground->symbols, member->exercise));
    why_sentence_collect_said(answer, "complement", member->exercise, &row.because);
    if (k == 0)
      answer->leading = row;
    else
      *WHY_LIST_ADD(answer->arena, answer->complement) = row;
  }
}

static int by_share(const void* a, const void* b) {
  const why_near_row* one = a;
  const why_near_row* other = b;
  return one->share != other->share ? other->share - one->share : strcmp(one->name, other->name);
}

void why_pairing_read(why_picked* answer) {
  pairing at = {.answer = answer};
  why_rows filled[] = {find(&at, "fills-gap"), find(&at, "fills-muscle"),
                       find(&at, "fills-movement")};
  enum { KINDS = sizeof filled / sizeof *filled };
  for (size_t i = 0; i < KINDS; i++)
    read_gaps(&at, &filled[i]);
  read_candidates(&at);
  for (size_t i = 0; i < KINDS; i++)
    read_fillers(&at, &filled[i]);
  why_rows first = find(&at, "best-pick");
  if (!at.all.count || !first.facts.count)
    return;
  *WHY_LIST_ADD(answer->arena, at.members) =
      (candidate){.exercise = why_rows_symbol(&first, 0, "exercise"), .main = true};
  drop_outdone(&at);
  choose(&at);
  if (!answer->question->replaced) {
    share(&at);
    round_shares(&at);
  }
  report(&at);
  if (answer->complement.count)
    qsort(answer->complement.at, answer->complement.count, sizeof *answer->complement.at, by_share);
}
