// SPDX-License-Identifier: GPL-3.0-or-later
#include "plan_data.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

typedef struct {
  why_plan* plan;
  why_arena* arena;
  const why_ground* ground;
  why_overlay* overlay;
  double full_growth;
  double set_seconds;
  double change_seconds;
  double sets;
} reader;

static why_rows find(const reader* r, const char* name) {
  return why_rows_find(r->ground->program, r->overlay, name);
}

static why_rows about(const reader* r, const char* name, why_symbol exercise) {
  return why_rows_about(r->ground->program, r->overlay, name, "exercise", exercise);
}

static double setting(const reader* r, const char* name) {
  return why_rows_setting(r->ground->program, r->overlay, r->ground->symbols, name, 0);
}

static const char* text(const reader* r, why_symbol symbol) {
  return why_symbols_text(why_overlay_symbols(r->overlay), symbol);
}

static const char* first_text(const reader* r, const char* relation, const char* slot) {
  why_rows rows = find(r, relation);
  return rows.facts.count ? text(r, why_rows_symbol(&rows, 0, slot)) : "";
}

static double volume_of(const reader* r, why_symbol head) {
  const why_head* row = why_head_find(&r->ground->tables->anatomy, head);
  return row && isfinite(row->volume_cm3.value) ? row->volume_cm3.value : 50;
}

/// Sums of the rules can differ in their last digits by the order of their terms; the search must
/// not.
static double rounded(double number) {
  return round(number * 1e6) / 1e6;
}

/// A head counts once, for the first muscle that names it: goals come first.
static void add_head(reader* r, why_symbol head, size_t muscle, double all) {
  why_plan* plan = r->plan;
  const why_plan_muscle* own = &plan->muscles.at[muscle];
  for (size_t i = 0; i < plan->heads.count; i++)
    if (plan->heads.at[i].head == head)
      return;
  *WHY_LIST_ADD(r->arena, plan->heads) =
      (why_plan_head){.head = head,
                      .muscle = muscle,
                      .weight = rounded(own->priority * volume_of(r, head) / all),
                      .aim = own->aim,
                      .most = own->most};
}

static void add_heads(reader* r, size_t muscle) {
  why_symbol id = r->plan->muscles.at[muscle].muscle;
  const why_group* group = why_group_find(&r->ground->tables->anatomy, id);
  double all = 0;
  for (size_t i = 0; group && i < group->heads.count; i++)
    all += volume_of(r, group->heads.at[i]);
  for (size_t i = 0; group && i < group->heads.count; i++)
    add_head(r, group->heads.at[i], muscle, all);
  if (!group)
    add_head(r, id, muscle, volume_of(r, id));
}

/// Goals first, then by id, so that nothing depends on the order of facts.
static int by_rank(const void* left, const void* right) {
  const why_plan_muscle* a = left;
  const why_plan_muscle* b = right;
  int order = (strcmp(b->why, "goal") == 0) - (strcmp(a->why, "goal") == 0);
  return order ? order : a->priority > b->priority ? -1 : a->priority < b->priority;
}

static void read_muscles(reader* r) {
  why_plan* plan = r->plan;
  why_rows rows = find(r, "plan-muscle"); // in order of their ids
  for (size_t i = 0; i < rows.facts.count; i++) {
    why_symbol muscle = why_rows_symbol(&rows, i, "muscle");
    *WHY_LIST_ADD(r->arena, plan->muscles) =
        (why_plan_muscle){.muscle = muscle,
                          .is_group = why_group_find(&r->ground->tables->anatomy, muscle) != NULL,
                          .why = text(r, why_rows_symbol(&rows, i, "why")),
                          .least = why_rows_number(&rows, i, "least"),
                          .aim = why_rows_number(&rows, i, "aim"),
                          .most = why_rows_number(&rows, i, "most"),
                          .priority = why_rows_number(&rows, i, "priority")};
  }
  // A stable sort of few rows.
  for (size_t i = 1; i < plan->muscles.count; i++)
    for (size_t k = i; k && by_rank(&plan->muscles.at[k], &plan->muscles.at[k - 1]) < 0; k--) {
      why_plan_muscle swap = plan->muscles.at[k];
      plan->muscles.at[k] = plan->muscles.at[k - 1];
      plan->muscles.at[k - 1] = swap;
    }
  for (size_t i = 0; i < plan->muscles.count; i++)
    add_heads(r, i);
}

static bool in_muscle(const reader* r, const why_plan_muscle* muscle, why_symbol head) {
  const why_group* group = why_group_find(&r->ground->tables->anatomy, muscle->muscle);
  for (size_t i = 0; group && i < group->heads.count; i++)
    if (group->heads.at[i] == head)
      return true;
  return muscle->muscle == head;
}

static double value_of(const reader* r, why_symbol exercise, why_symbol head) {
  why_rows rows = about(r, "set-value", exercise);
  for (size_t i = 0; i < rows.facts.count; i++)
    if (why_rows_symbol(&rows, i, "head") == head)
      return rounded(fmin(1, why_rows_number(&rows, i, "points") / r->full_growth));
  return 0;
}

static bool is_long(const reader* r, why_symbol exercise, why_symbol head) {
  why_rows rows = about(r, "at-length", exercise);
  for (size_t i = 0; i < rows.facts.count; i++)
    if (why_rows_symbol(&rows, i, "head") == head)
      return why_rows_number(&rows, i, "class") == 2;
  return false;
}

static void read_parts(const reader* r, why_plan_choice* choice) {
  const why_plan* plan = r->plan;
  choice->muscles = WHY_NEW_ARRAY(r->arena, double, plan->muscles.count + 1);
  why_rows rows = about(r, "counts", choice->exercise);
  for (size_t i = 0; i < rows.facts.count; i++) {
    why_symbol head = why_rows_symbol(&rows, i, "head");
    double count = why_rows_number(&rows, i, "published");
    bool direct = strcmp(text(r, why_rows_symbol(&rows, i, "way")), "direct") == 0;
    for (size_t k = 0; k < plan->muscles.count; k++)
      if (in_muscle(r, &plan->muscles.at[k], head))
        choice->muscles[k] = fmax(choice->muscles[k], count);
    for (size_t k = 0; k < plan->heads.count; k++)
      if (plan->heads.at[k].head == head)
        *WHY_LIST_ADD(r->arena, choice->parts) =
            (why_plan_part){.head = k,
                            .count = count,
                            .value = count * value_of(r, choice->exercise, head),
                            .direct = direct,
                            .is_long = direct && is_long(r, choice->exercise, head)};
  }
}

static why_plan_choice read_choice(const reader* r, why_symbol exercise, double burden) {
  const why_exercise* row = why_exercise_find(&r->ground->tables->exercises, exercise);
  why_dose dose = why_dose_of(r->plan->picked, exercise);
  why_from_to rest = dose.at[WHY_DOSE_REST];
  double pause = isnan(rest.low) ? 0 : (rest.low + rest.high) / 2;
  double sides = row && row->unilateral ? 2 : 1;
  why_rows spine = about(r, "spine-points", exercise);
  why_plan_choice made = {.exercise = exercise, .burden = burden, .sets = r->sets};
  made.seconds = r->change_seconds + r->sets * (sides * r->set_seconds + pause);
  made.spine = spine.facts.count ? r->sets * why_rows_number(&spine, 0, "points") : 0;
  made.compound = about(r, "compound", exercise).facts.count > 0;
  made.pattern = row ? row->pattern : 0;
  why_rows basics = about(r, "plan-basic", exercise);
  for (size_t i = 0; i < basics.facts.count; i++)
    *WHY_LIST_ADD(r->arena, made.basics) = why_rows_symbol(&basics, i, "movement");
  read_parts(r, &made);
  return made;
}

/// What a choice is worth by itself, for the plan as a whole.
static double worth_of(const why_plan* plan, const why_plan_choice* choice, double burden_cost) {
  double sum = -burden_cost * choice->burden;
  for (size_t k = 0; k < choice->parts.count; k++)
    sum +=
        choice->sets * choice->parts.at[k].value * plan->heads.at[choice->parts.at[k].head].weight;
  return sum;
}

/// How good a choice is for a head that it trains directly, at long length or at another: by the
/// worth of a set for that head, or of all that it trains; below zero where it does not.
static double score_for(const reader* r, const why_plan_choice* choice, size_t head, bool longs,
                        bool own, double burden_cost) {
  for (size_t k = 0; k < choice->parts.count; k++) {
    const why_plan_part* part = &choice->parts.at[k];
    if (part->head == head && part->direct && part->is_long == longs)
      return own ? 100 + part->value - burden_cost / 5 * choice->burden
                 : 100 + worth_of(r->plan, choice, burden_cost);
  }
  return -1;
}

/// Mark the best few of `all` for a head.
static void mark_best(const reader* r, const why_plan_choices* all, size_t head, bool longs,
                      bool own, double burden_cost, size_t few, bool* marked) {
  bool* taken = marked + all->count;
  memset(taken, 0, all->count * sizeof *taken);
  for (size_t n = 0; n < few; n++) {
    size_t best = all->count;
    double most = 0;
    for (size_t i = 0; i < all->count; i++) {
      double score = score_for(r, &all->at[i], head, longs, own, burden_cost);
      if (!taken[i] && score > most + 1e-9)
        most = score, best = i;
    }
    if (best == all->count)
      return;
    taken[best] = marked[best] = true;
  }
}

bool why_plan_is_basic(const why_plan_choice* choice, why_symbol movement) {
  for (size_t i = 0; i < choice->basics.count; i++)
    if (choice->basics.at[i] == movement)
      return true;
  return false;
}

/// Mark the best few of a basic movement, and note that it is possible.
static void mark_basics(reader* r, const why_plan_choices* all, const why_plan_amounts* amounts,
                        size_t few, bool* marked) {
  for (size_t b = 0; b < amounts->basics.count; b++) {
    bool* taken = marked + all->count;
    memset(taken, 0, all->count * sizeof *taken);
    for (size_t n = 0; n < few; n++) {
      size_t best = all->count;
      for (size_t i = 0; i < all->count; i++)
        if (!taken[i] && why_plan_is_basic(&all->at[i], amounts->basics.at[b]) &&
            (best == all->count ||
             worth_of(r->plan, &all->at[i], amounts->burden_cost) >
                 worth_of(r->plan, &all->at[best], amounts->burden_cost) + 1e-9))
          best = i;
      if (best == all->count)
        break;
      taken[best] = marked[best] = true;
    }
  }
}

static void read_basics(reader* r, why_plan_amounts* amounts) {
  why_rows rows = find(r, "plan-basic");
  for (size_t i = 0; i < rows.facts.count; i++) {
    why_symbol movement = why_rows_symbol(&rows, i, "movement");
    bool known = false;
    for (size_t k = 0; k < amounts->basics.count; k++)
      known = known || amounts->basics.at[k] == movement;
    if (!known)
      *WHY_LIST_ADD(r->arena, amounts->basics) = movement;
  }
}

static void keep_best(reader* r, const why_plan_choices* all, const why_plan_amounts* amounts,
                      why_plan_choices* choices) {
  double burden_cost = amounts->burden_cost;
  size_t few = (size_t)setting(r, "plan-candidates");
  bool* marked = WHY_NEW_ARRAY(r->arena, bool, 2 * all->count + 1);
  for (size_t head = 0; head < r->plan->heads.count; head++)
    for (int longs = 0; longs < 2; longs++)
      for (int own = 0; own < 2; own++)
        mark_best(r, all, head, longs, own, burden_cost, few, marked);
  mark_basics(r, all, amounts, few, marked);
  for (size_t i = 0; i < all->count; i++)
    if (marked[i])
      *WHY_LIST_ADD(r->arena, *choices) = all->at[i];
}

/// A set is worth its part of what the best exercise at hand gives the head; a head for which no
/// exercise is worth much weighs less.
static void compare_values(const reader* r, why_plan_choices* all) {
  double* best = WHY_NEW_ARRAY(r->arena, double, r->plan->heads.count + 1);
  for (size_t i = 0; i < all->count; i++)
    for (size_t k = 0; k < all->at[i].parts.count; k++) {
      const why_plan_part* part = &all->at[i].parts.at[k];
      best[part->head] = fmax(best[part->head], part->value);
    }
  for (size_t i = 0; i < all->count; i++)
    for (size_t k = 0; k < all->at[i].parts.count; k++) {
      why_plan_part* part = &all->at[i].parts.at[k];
      part->value = best[part->head] > 0 ? rounded(part->value / best[part->head]) : 0;
    }
  for (size_t h = 0; h < r->plan->heads.count; h++)
    r->plan->heads.at[h].weight *= best[h];
}

static void read_choices(reader* r, const why_plan_amounts* amounts, why_plan_choices* choices) {
  why_plan_choices all = {0};
  why_rows rows = find(r, "plan-exercise");
  for (size_t i = 0; i < rows.facts.count; i++) {
    why_plan_choice made =
        read_choice(r, why_rows_symbol(&rows, i, "exercise"), why_rows_number(&rows, i, "burden"));
    if (made.parts.count)
      *WHY_LIST_ADD(r->arena, all) = made;
  }
  compare_values(r, &all);
  keep_best(r, &all, amounts, choices);
  r->plan->candidates = choices->count;
  for (size_t k = 0; k < r->plan->muscles.count; k++) {
    why_plan_muscle* muscle = &r->plan->muscles.at[k];
    muscle->hopeless = true;
    for (size_t i = 0; i < choices->count; i++)
      muscle->hopeless = muscle->hopeless && choices->at[i].muscles[k] == 0;
  }
}

static void read_days(reader* r) {
  why_plan* plan = r->plan;
  double wanted = plan->question->days > 0 ? plan->question->days : setting(r, "plan-days");
  why_rows rows = find(r, "plan-day");
  for (size_t i = 0; i < rows.facts.count; i++)
    if (why_rows_number(&rows, i, "days") == wanted)
      *WHY_LIST_ADD(r->arena, plan->days) =
          (why_plan_day){.weekday = why_rows_number(&rows, i, "weekday")};
}

static void read_sets(reader* r) {
  why_rows rows = find(r, "plan-sets");
  for (size_t i = 0; i < rows.facts.count; i++)
    if (strcmp(text(r, why_rows_symbol(&rows, i, "purpose")), r->plan->purpose) == 0 &&
        strcmp(text(r, why_rows_symbol(&rows, i, "level")), r->plan->level) == 0)
      r->sets = why_rows_number(&rows, i, "sets");
}

static double session_most(const reader* r) {
  why_rows rows = find(r, "figure");
  for (size_t i = 0; i < rows.facts.count; i++)
    if (strcmp(text(r, why_rows_symbol(&rows, i, "measurement")), "volume-session-cap") == 0)
      return why_rows_number(&rows, i, "high");
  return 10;
}

why_status why_plan_read(why_plan* plan, why_plan_choices* choices, why_plan_amounts* amounts) {
  reader r = {.plan = plan,
              .arena = plan->arena,
              .ground = plan->question->ground,
              .overlay = plan->picked->overlay};
  r.full_growth = setting(&r, "plan-full-growth");
  r.set_seconds = setting(&r, "plan-set-seconds");
  r.change_seconds = setting(&r, "plan-change-seconds");
  plan->level = first_text(&r, "level-here", "level");
  plan->purpose = first_text(&r, "plan-for", "purpose");
  plan->minutes =
      plan->question->minutes > 0 ? plan->question->minutes : setting(&r, "plan-minutes");
  plan->least_exercises = setting(&r, "plan-least-exercises");
  plan->most_exercises = setting(&r, "plan-most-exercises");
  plan->spine_most = setting(&r, "spine-most");
  plan->session_most = session_most(&r);
  read_days(&r);
  *amounts =
      (why_plan_amounts){.exercise_cost = setting(&r, "plan-exercise-cost"),
                         .burden_cost = setting(&r, "plan-burden-cost"),
                         .most_times = setting(&r, "plan-most-times"),
                         .warm_up = setting(&r, "plan-warm-up-seconds"),
                         .spare = plan->days.count > 1 ? setting(&r, "plan-spare-seconds") : 0,
                         .spine_heavy = setting(&r, "spine-heavy-from")};
  read_sets(&r);
  read_muscles(&r);
  read_basics(&r, amounts);
  read_choices(&r, amounts, choices);
  return why_overlay_status(r.overlay);
}
