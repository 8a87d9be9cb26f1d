// SPDX-License-Identifier: GPL-3.0-or-later
// A programme is worth the sets that its heads get up to what they should get, each head by its
// part of its group; sets beyond that are worth nothing. All single changes are tried.
#include "audit_change.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/// What one head should get, and gets.
typedef struct {
  why_symbol head;
  double weight; ///< Its part of its group; of several groups the largest.
  double aim;
  double now;
} need;

typedef struct {
  size_t need;
  double count;
} part;

/// An exercise that could be done here, and what a set of it counts.
typedef struct {
  why_symbol exercise;
  double burden;
  WHY_LIST(part) parts;
} candidate;

typedef struct {
  why_audit* audit;
  why_arena* arena;
  const why_program* program;
  why_overlay* overlay;
  const why_symbols* symbols;
  WHY_LIST(need) needs;
  WHY_LIST(candidate) candidates;
  double burden_cost;
} finder;

static size_t find_need(const finder* f, why_symbol head) {
  for (size_t i = 0; i < f->needs.count; i++)
    if (f->needs.at[i].head == head)
      return i;
  return f->needs.count;
}

static void read_needs(finder* f) {
  why_rows aims = why_rows_find(f->program, f->overlay, "aim");
  for (size_t i = 0; i < aims.facts.count; i++) {
    why_symbol head = why_rows_symbol(&aims, i, "head");
    size_t at = find_need(f, head);
    if (at == f->needs.count)
      *WHY_LIST_ADD(f->arena, f->needs) = (need){.head = head};
    need* into = &f->needs.at[at];
    into->weight = fmax(into->weight, why_rows_number(&aims, i, "weight"));
    into->aim = why_rows_number(&aims, i, "sets");
  }
  for (size_t i = 0; i < f->audit->heads.count; i++) {
    size_t at = find_need(f, f->audit->heads.at[i].head);
    if (at < f->needs.count)
      f->needs.at[at].now = f->audit->heads.at[i].published;
  }
}

static candidate read_candidate(finder* f, why_symbol exercise) {
  candidate made = {.exercise = exercise};
  why_rows counts = why_rows_about(f->program, f->overlay, "counts", "exercise", exercise);
  for (size_t i = 0; i < counts.facts.count; i++) {
    size_t at = find_need(f, why_rows_symbol(&counts, i, "head"));
    if (at < f->needs.count)
      *WHY_LIST_ADD(f->arena, made.parts) = (part){at, why_rows_number(&counts, i, "published")};
  }
  return made;
}

static void read_candidates(finder* f) {
  why_rows rows = why_rows_find(f->program, f->overlay, "plan-exercise");
  for (size_t i = 0; i < rows.facts.count; i++) {
    candidate made = read_candidate(f, why_rows_symbol(&rows, i, "exercise"));
    made.burden = why_rows_number(&rows, i, "burden");
    *WHY_LIST_ADD(f->arena, f->candidates) = made;
  }
}

/// How much nearer a head comes to its aim.
static double nearer_by(const need* at, double change) {
  return fmin(at->aim, at->now + change) - fmin(at->aim, at->now);
}

/// What `sets` of `one` more and as many of `less` (NULL: none) fewer add to the worth.
static double gain_of(const finder* f, const candidate* one, const candidate* less, double sets,
                      double* change) {
  memset(change, 0, f->needs.count * sizeof *change);
  for (size_t i = 0; i < one->parts.count; i++)
    change[one->parts.at[i].need] += sets * one->parts.at[i].count;
  for (size_t i = 0; less && i < less->parts.count; i++)
    change[less->parts.at[i].need] -= sets * less->parts.at[i].count;
  double gain = 0;
  for (size_t i = 0; i < f->needs.count; i++)
    gain += f->needs.at[i].weight * nearer_by(&f->needs.at[i], change[i]);
  return gain;
}

/// Heads that come nearer to their aim (`sign` 1) or further from it (-1) by at least half a set,
/// most first.
static void name_heads(const finder* f, const double* change, double sign, why_symbol_list* into) {
  bool* told = WHY_NEW_ARRAY(f->arena, bool, f->needs.count + 1);
  for (;;) {
    size_t best = f->needs.count;
    double most = 0.5 - 2e-9;
    for (size_t i = 0; i < f->needs.count; i++) {
      double by = sign * nearer_by(&f->needs.at[i], change[i]);
      if (!told[i] && by > most + 1e-9)
        most = by, best = i;
    }
    if (best == f->needs.count)
      return;
    told[best] = true;
    *WHY_LIST_ADD(f->arena, *into) = f->needs.at[best].head;
  }
}

/// Try to better `best` by a change; a handier exercise may gain a little less.
static void try(const finder* f, const candidate* one, const candidate* less, double sets,
                double* change, double* best, why_audit_change* into) {
  double gain = gain_of(f, one, less, sets, change);
  double score = gain - f->burden_cost * one->burden;
  if (gain < 0.5 || score <= *best + 1e-9)
    return;
  *best = score;
  *into = (why_audit_change){
      .exercise = one->exercise, .instead = less ? less->exercise : 0, .sets = sets};
  name_heads(f, change, 1, &into->heads);
  name_heads(f, change, -1, &into->lost);
}

static const candidate* find_candidate(finder* f, why_symbol exercise) {
  for (size_t i = 0; i < f->candidates.count; i++)
    if (f->candidates.at[i].exercise == exercise)
      return &f->candidates.at[i];
  candidate* made = WHY_NEW(f->arena, candidate); // one that cannot be set up here
  *made = read_candidate(f, exercise);
  return made;
}

static bool is_planned(const finder* f, why_symbol exercise) {
  const why_programme* programme = f->audit->programme;
  for (size_t i = 0; i < programme->days.count; i++)
    for (size_t k = 0; k < programme->days.at[i].rows.count; k++)
      if (programme->days.at[i].rows.at[k].exercise == exercise)
        return true;
  return false;
}

static void find_addition(finder* f, double* change) {
  why_audit* audit = f->audit;
  double sets = why_rows_setting(f->program, f->overlay, f->symbols, "audit-addition", 3);
  double best = 0;
  for (size_t i = 0; i < f->candidates.count; i++)
    try(f, &f->candidates.at[i], NULL, sets, change, &best, &audit->addition);
  const why_audit_day* least = NULL;
  for (size_t i = 0; i < audit->days.count; i++)
    if (!least || audit->days.at[i].sets < least->sets)
      least = &audit->days.at[i];
  audit->addition.day = least ? least->name : "";
}

/// A swap keeps the kind of movement: some joint action of both is the same.
static bool is_alike(const finder* f, why_symbol one, why_symbol other) {
  const why_exercise_table* table = &f->audit->question->ground->tables->exercises;
  const why_exercise* a = why_exercise_find(table, one);
  const why_exercise* b = why_exercise_find(table, other);
  for (size_t i = 0; a && b && i < a->moves.count; i++)
    for (size_t k = 0; k < b->moves.count; k++)
      if (a->moves.at[i] == b->moves.at[k])
        return true;
  return false;
}

/// Rows of one exercise are swapped one by one.
static void find_swap(finder* f, double* change) {
  double best = 0;
  const why_programme* programme = f->audit->programme;
  for (size_t i = 0; i < programme->days.count; i++) {
    const why_programme_day* day = &programme->days.at[i];
    for (size_t k = 0; k < day->rows.count; k++) {
      const candidate* less = find_candidate(f, day->rows.at[k].exercise);
      double sets = day->rows.at[k].sets * (day->times > 0 ? day->times : 1);
      double before = best;
      for (size_t j = 0; j < f->candidates.count; j++)
        if (!is_planned(f, f->candidates.at[j].exercise) &&
            is_alike(f, f->candidates.at[j].exercise, less->exercise))
          try(f, &f->candidates.at[j], less, sets, change, &best, &f->audit->swap);
      if (best > before)
        f->audit->swap.day = day->name;
    }
  }
}

void why_audit_change_find(why_audit* audit, why_overlay* overlay) {
  const why_ground* ground = audit->question->ground;
  finder f = {.audit = audit,
              .arena = audit->arena,
              .program = ground->program,
              .overlay = overlay,
              .symbols = ground->symbols};
  f.burden_cost = why_rows_setting(f.program, overlay, f.symbols, "change-burden", 0);
  read_needs(&f);
  read_candidates(&f);
  double* change = WHY_NEW_ARRAY(f.arena, double, f.needs.count + 1);
  find_addition(&f, change);
  find_swap(&f, change);
}
