// SPDX-License-Identifier: GPL-3.0-or-later
// Lays out a planned week: its sessions, why each exercise is there, what each muscle gets, what
// binds; or, where there is no such week, what would have to give.
#include "dose_part.h"
#include "measured_part.h"
#include "parts.h"
#include "report.h"
#include "week_picture.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { WEEKS = 8 }; ///< An appointment comes so often: the longest time until an easy week is due.

static const char* const WEEKDAYS[] = {"Monday", "Tuesday",  "Wednesday", "Thursday",
                                       "Friday", "Saturday", "Sunday"};

/// What the parts of this file hand to each other.
typedef struct {
  why_arena* arena;
  const why_ground* ground;
  const why_plan* plan;
} teller;

static const char* id_of(const teller* t, why_symbol symbol) {
  return symbol ? why_symbols_text(t->ground->symbols, symbol) : NULL;
}

static const char* name_of(const teller* t, const char* kind, why_symbol symbol) {
  return why_ground_name(t->ground, t->arena, kind, id_of(t, symbol));
}

/// A muscle is a group or a head.
static const char* muscle_name(const teller* t, why_symbol symbol) {
  return name_of(t, why_group_find(&t->ground->tables->anatomy, symbol) ? "group" : "head", symbol);
}

static why_node* say(const teller* t, why_node* into, why_role role, const char* words) {
  return why_node_words(t->arena, into, role, words);
}

// ---- dates, by counting days from 1970-01-01 in the Gregorian calendar ----

/// Days to the first of January of a year.
static long days_before(long year) {
  long past = year - 1;
  return 365 * past + past / 4 - past / 100 + past / 400 - 719162;
}

static bool is_leap(long year) {
  return (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
}

static long month_length(long year, int month) {
  static const long DAYS[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
  return DAYS[month] + (month == 1 && is_leap(year));
}

/// The first `weekday` (0: Monday) on or after `start`, which has been checked.
static const char* date_of(const teller* t, const char* start, int weekday) {
  long year = strtol(start, NULL, 10);
  int month = (int)strtol(start + 5, NULL, 10) - 1;
  long day = strtol(start + 8, NULL, 10) - 1;
  long number = days_before(year) + day;
  for (int i = 0; i < month; i++)
    number += month_length(year, i);
  long own = ((number + 3) % 7 + 7) % 7; // the first day of 1970 was a Thursday
  for (day += (weekday - own + 7) % 7; day >= month_length(year, month);) {
    day -= month_length(year, month);
    month = (month + 1) % 12;
    year += month == 0;
  }
  return why_arena_print(t->arena, "%04ld-%02d-%02ld", year, month + 1, day + 1);
}

// ---- sessions ----

static bool holds(const why_symbol_list* list, why_symbol symbol) {
  for (size_t i = 0; i < list->count; i++)
    if (list->at[i] == symbol)
      return true;
  return false;
}

static void add_reason(const teller* t, why_node* record, const why_plan_entry* entry) {
  why_buffer words = {.arena = t->arena};
  why_node* list = why_node_add(t->arena, record, WHY_NODE_LIST, "direct");
  for (size_t i = 0; i < entry->direct.count; i++) {
    bool is_long = holds(&entry->longs, entry->direct.at[i]);
    why_node* each = why_node_add(t->arena, list, WHY_NODE_RECORD, NULL);
    why_node_text(t->arena, each, "head", id_of(t, entry->direct.at[i]));
    why_node_number(t->arena, each, "long", is_long);
    why_buffer_print(&words, "%s%s%s", i ? ", " : "For ", name_of(t, "head", entry->direct.at[i]),
                     is_long ? " (long under load)" : "");
  }
  if (entry->direct.count)
    say(t, record, WHY_ROLE_POINT, why_buffer_text(&words));
}

static void add_entry(const teller* t, why_node* list, const why_plan_entry* entry) {
  why_node* record = why_node_add(t->arena, list, WHY_NODE_RECORD, NULL);
  const char* name = name_of(t, "exercise", entry->exercise);
  record->role = WHY_ROLE_ENTRY;
  record->words = why_arena_print(t->arena, "%s: %s", name,
                                  why_dose_words(&entry->dose, entry->sets, t->arena));
  why_node_text(t->arena, record, "exercise", id_of(t, entry->exercise));
  why_node_text(t->arena, record, "name", name);
  why_node_number(t->arena, record, "sets", entry->sets);
  why_node_number(t->arena, record, "seconds", entry->seconds);
  why_part_dose(t->ground, t->arena, record, &entry->dose);
  add_reason(t, record, entry);
}

static void add_day(const teller* t, why_node* list, const why_plan_day* day) {
  const char* start = t->plan->question->start;
  const char* weekday = WEEKDAYS[(int)day->weekday];
  why_node* record = why_node_add(t->arena, list, WHY_NODE_RECORD, NULL);
  record->role = WHY_ROLE_HEADING;
  record->words = why_arena_print(t->arena, "%s, %.0f minutes", weekday, ceil(day->seconds / 60));
  why_node_text(t->arena, record, "weekday", weekday);
  why_node_number(t->arena, record, "seconds", day->seconds);
  why_node_number(t->arena, record, "spine", day->spine);
  const char* date = start ? date_of(t, start, (int)day->weekday) : NULL;
  why_node_text(t->arena, record, "date", date);
  record->date = date;
  record->weeks = WEEKS;
  why_node* entries = why_node_add(t->arena, record, WHY_NODE_LIST, "exercises");
  for (size_t i = 0; i < day->entries.count; i++)
    add_entry(t, entries, &day->entries.at[i]);
}

static void add_days(const teller* t, why_node* root) {
  why_node* list = why_node_add(t->arena, root, WHY_NODE_LIST, "sessions");
  for (size_t i = 0; i < t->plan->days.count; i++)
    if (t->plan->days.at[i].entries.count)
      add_day(t, list, &t->plan->days.at[i]);
}

// ---- sums ----

static void add_muscles(const teller* t, why_node* root) {
  say(t, root, WHY_ROLE_HEADING, "Weekly sets");
  why_node* list = why_node_add(t->arena, root, WHY_NODE_LIST, "muscles");
  list->role = WHY_ROLE_TABLE;
  list->words = "Weekly sets";
  say(t, list, WHY_ROLE_COLUMNS, "sets\tat least\taim\tmuscle");
  for (size_t i = 0; i < t->plan->muscles.count; i++) {
    const why_plan_muscle* each = &t->plan->muscles.at[i];
    why_node* row = why_node_add(t->arena, list, WHY_NODE_RECORD, NULL);
    row->role = WHY_ROLE_ROW;
    row->words = why_arena_print(t->arena, "%g\t%g\t%g\t%s%s%s", each->sets, each->least, each->aim,
                                 muscle_name(t, each->muscle),
                                 strcmp(each->why, "goal") == 0 ? ", a goal" : "",
                                 each->hopeless ? ", for which nothing can be set up here" : "");
    why_node_text(t->arena, row, "muscle", id_of(t, each->muscle));
    why_node_text(t->arena, row, "why", each->why);
    why_node_number(t->arena, row, "sets", each->sets);
    why_node_number(t->arena, row, "least", each->least);
    why_node_number(t->arena, row, "aim", each->aim);
    why_node_number(t->arena, row, "priority", each->priority);
  }
  say(t, root, WHY_ROLE_PARAGRAPH,
      "A set counts for a muscle as for that head of it for which it counts most: 1 where a head "
      "is "
      "a prime mover, 0.5 where heads only assist.");
}

/// Sets of a head as a prime mover.
static double direct_sets(const why_plan* plan, why_symbol head) {
  double sum = 0;
  for (size_t d = 0; d < plan->days.count; d++)
    for (size_t i = 0; i < plan->days.at[d].entries.count; i++) {
      const why_plan_entry* entry = &plan->days.at[d].entries.at[i];
      for (size_t k = 0; k < entry->direct.count; k++)
        sum += entry->direct.at[k] == head ? entry->sets : 0;
    }
  return sum;
}

static void add_picture(const teller* t, why_node* root) {
  why_week_bars* bars = WHY_NEW(t->arena, why_week_bars);
  for (size_t i = 0; i < t->plan->heads.count; i++) {
    const why_plan_head* each = &t->plan->heads.at[i];
    *WHY_LIST_ADD(t->arena, *bars) = (why_week_bar){
        name_of(t, "head", each->head), direct_sets(t->plan, each->head), each->sets, each->aim};
  }
  why_part_week(t->arena, root, bars);
}

static void add_heads(const teller* t, why_node* root) {
  why_node* list = why_node_add(t->arena, root, WHY_NODE_LIST, "heads");
  for (size_t i = 0; i < t->plan->heads.count; i++) {
    const why_plan_head* each = &t->plan->heads.at[i];
    why_node* row = why_node_add(t->arena, list, WHY_NODE_RECORD, NULL);
    why_node_text(t->arena, row, "head", id_of(t, each->head));
    why_node_number(t->arena, row, "sets", each->sets);
    why_node_number(t->arena, row, "most", each->most);
  }
}

static const char* limit_words(const teller* t, const why_limit* limit, bool relaxed) {
  why_arena* arena = t->arena;
  const char* muscle = !limit->about                    ? ""
                       : limit->kind == WHY_LIMIT_BASIC ? id_of(t, limit->about)
                                                        : muscle_name(t, limit->about);
  double bound = limit->bound;
  double got = limit->reached;
  switch (limit->kind) {
  case WHY_LIMIT_TIME:
    return relaxed
               ? why_arena_print(arena, "%.0f minutes a session instead of %.0f", ceil(got), bound)
               : why_arena_print(arena, "Time: %.0f of %.0f minutes a session on average", got,
                                 bound);
  case WHY_LIMIT_LEAST:
    return relaxed
               ? why_arena_print(arena, "%g sets a week instead of %g for %s", got, bound, muscle)
               : why_arena_print(arena, "Sets: %s gets the least it must, %g a week", muscle,
                                 bound);
  case WHY_LIMIT_MOST:
    return relaxed
               ? why_arena_print(arena, "%g sets a week instead of at most %g for %s", got, bound,
                                 muscle)
               : why_arena_print(arena, "Sets: %s gets the most it may, %g a week", muscle, bound);
  case WHY_LIMIT_EXERCISES:
    return relaxed ? why_arena_print(arena, "%.3g exercises a session instead of at most %.3g", got,
                                     bound)
                   : why_arena_print(arena, "Exercises: at most %.3g a session", bound);
  case WHY_LIMIT_FEWEST:
    if (limit->about)
      return relaxed
                 ? why_arena_print(arena,
                                   "%g exercises a week that spare %s instead of at least %g, for "
                                   "the days between",
                                   got, muscle, bound)
                 : why_arena_print(arena, "Recovery: no more exercises for %s, given the days",
                                   muscle);
    return relaxed ? why_arena_print(arena, "%.3g exercises a session instead of at least %.3g",
                                     got, bound)
                   : why_arena_print(arena, "Exercises: at least %.3g a session", bound);
  case WHY_LIMIT_SPINE:
    return relaxed ? why_arena_print(arena,
                                     "%g sets a week with high load along the spine instead of at "
                                     "most %g",
                                     got, bound)
                   : "Load along the spine: as much as it may be";
  case WHY_LIMIT_LONG:
    return relaxed ? why_arena_print(arena, "no exercise for %s at long muscle length", muscle)
                   : why_arena_print(arena, "Muscle length: one exercise for %s at long length",
                                     muscle);
  case WHY_LIMIT_SHORTER:
    return relaxed ? why_arena_print(arena, "no exercise for %s at a shorter muscle length", muscle)
                   : why_arena_print(
                         arena, "Muscle length: one exercise for %s at a shorter length", muscle);
  case WHY_LIMIT_BASIC:
    return relaxed ? why_arena_print(arena, "no %s", muscle)
                   : why_arena_print(arena, "Basic movements: one %s and no more", muscle);
  }
  return "";
}

static void add_limit(const teller* t, why_node* list, const why_limit* limit, bool relaxed) {
  static const char* const KINDS[] = {"time",           "least-sets",       "most-sets",
                                      "most-exercises", "fewest-exercises", "spine",
                                      "long-length",    "shorter-length",   "basic-movement"};
  why_node* record = why_node_add(t->arena, list, WHY_NODE_RECORD, NULL);
  why_node_text(t->arena, record, "limit", KINDS[limit->kind]);
  why_node_text(t->arena, record, "about", id_of(t, limit->about));
  why_node_number(t->arena, record, "bound", limit->bound);
  why_node_number(t->arena, record, relaxed ? "needed" : "reached", limit->reached);
  if (relaxed)
    return;
  record->role = WHY_ROLE_POINT;
  record->words = limit_words(t, limit, false);
}

static void add_binding(const teller* t, why_node* root) {
  say(t, root, WHY_ROLE_HEADING, "What binds");
  why_node* list = why_node_add(t->arena, root, WHY_NODE_LIST, "binding");
  for (size_t i = 0; i < t->plan->limits.count; i++)
    if (t->plan->limits.at[i].binds)
      add_limit(t, list, &t->plan->limits.at[i], false);
  if (!list->first)
    say(t, list, WHY_ROLE_POINT, "No limit: more would not be worth another exercise.");
}

static void add_proof(const teller* t, why_node* root) {
  const why_plan* plan = t->plan;
  why_node* record = why_node_add(t->arena, root, WHY_NODE_RECORD, "choice");
  say(t, record, WHY_ROLE_HEADING, "How it was chosen");
  why_node_number(t->arena, record, "candidates", (double)plan->candidates);
  why_node_number(t->arena, record, "value", plan->value);
  why_node_number(t->arena, record, "bound", plan->bound);
  why_node_number(t->arena, record, "gap", plan->gap);
  why_node_number(t->arena, record, "nodes", plan->nodes);
  say(t, record, WHY_ROLE_POINT,
      why_arena_print(
          t->arena,
          "Among the best %zu exercises for these muscles, by integer programming: a set "
          "is worth the growth expected of each head, up to the aim; "
          "every further exercise must earn its place.",
          plan->candidates));
  say(t, record, WHY_ROLE_POINT,
      plan->gap < 1e-9
          ? why_arena_print(t->arena, "No choice among them is worth more (gap 0, nodes %d).",
                            plan->nodes)
          : why_arena_print(t->arena, "Another choice could be worth %.1f %% more at most.",
                            100 * plan->gap));
}

// ---- no such week ----

static void add_way_out(const teller* t, why_node* list, const why_way_out* way) {
  why_buffer words = {.arena = t->arena};
  why_node* record = why_node_add(t->arena, list, WHY_NODE_RECORD, NULL);
  why_node* limits = why_node_add(t->arena, record, WHY_NODE_LIST, "limits");
  for (size_t i = 0; i < way->limits.count; i++) {
    add_limit(t, limits, &way->limits.at[i], true);
    why_buffer_print(&words, "%s%s", i ? ", and " : "", limit_words(t, &way->limits.at[i], true));
  }
  record->role = WHY_ROLE_POINT;
  record->words = why_buffer_text(&words);
}

static void add_ways_out(const teller* t, why_node* root) {
  const why_plan* plan = t->plan;
  if (!plan->limits.count && !plan->referrals.count) {
    say(t, root, WHY_ROLE_PARAGRAPH, "No week holds all limits together.");
    say(t, root, WHY_ROLE_HEADING,
        plan->ways_out.count ? "Each of these would make one possible"
                             : "No way of placing the exercises on the days was found");
  }
  why_node* list = why_node_add(t->arena, root, WHY_NODE_LIST, "ways_out");
  for (size_t i = 0; i < plan->ways_out.count; i++)
    add_way_out(t, list, &plan->ways_out.at[i]);
}

// ---- the whole ----

/// "for chest and gluteus maximus (priority 2); ", or nothing where no muscle was named.
static const char* goals_words(const teller* t) {
  const why_targets* goals = &t->plan->question->targets;
  why_buffer text = {.arena = t->arena};
  for (size_t i = 0; i < goals->count; i++) {
    const char* lead = i == 0 ? "for " : i + 1 < goals->count ? ", " : " and ";
    why_buffer_print(&text, "%s%s", lead, muscle_name(t, goals->at[i].muscle));
    if (goals->at[i].priority > 1)
      why_buffer_print(&text, " (priority %g)", goals->at[i].priority);
  }
  why_buffer_add(&text, goals->count ? "; " : "");
  return why_buffer_text(&text);
}

static void add_understood(const teller* t, why_node* root) {
  const why_plan* plan = t->plan;
  why_node* title =
      say(t, root, WHY_ROLE_TITLE,
          why_arena_print(t->arena, "A week of training to %s: %zu session%s of up to %g minutes",
                          plan->purpose, plan->days.count, plan->days.count == 1 ? "" : "s",
                          plan->minutes));
  why_node* record = why_node_add(t->arena, root, WHY_NODE_RECORD, "understood");
  why_node_number(t->arena, record, "days", (double)plan->days.count);
  why_node_number(t->arena, record, "minutes", plan->minutes);
  why_node_text(t->arena, record, "purpose", plan->purpose);
  why_node_text(t->arena, record, "level", plan->level);
  why_node_text(t->arena, record, "start", plan->question->start);
  why_part_terms(plan->picked, record);
  title->mark = why_arena_print(t->arena, "%slevel: %s%s; %s", goals_words(t), plan->level,
                                plan->question->level ? "" : ", as nothing else was said",
                                why_part_terms_words(plan->picked));
  why_node* goals = why_node_add(t->arena, record, WHY_NODE_LIST, "goals");
  for (size_t i = 0; i < plan->question->targets.count; i++) {
    why_node* each = why_node_add(t->arena, goals, WHY_NODE_RECORD, NULL);
    why_node_text(t->arena, each, "muscle", id_of(t, plan->question->targets.at[i].muscle));
    why_node_number(t->arena, each, "priority", plan->question->targets.at[i].priority);
  }
  why_part_asked(plan->question, t->arena, record);
}

static void add_referrals(const teller* t, why_node* root) {
  why_node* list = why_node_add(t->arena, root, WHY_NODE_LIST, "referrals");
  for (size_t i = 0; i < t->plan->referrals.count; i++) {
    why_node* each = why_node_text(t->arena, list, NULL, t->plan->referrals.at[i]);
    each->role = WHY_ROLE_PARAGRAPH;
    each->words = t->plan->referrals.at[i];
  }
  if (t->plan->referrals.count)
    say(t, root, WHY_ROLE_PARAGRAPH, t->ground->tables->restrictions.referral);
}

static void add_dose(const teller* t, why_node* root) {
  why_doses doses = {0};
  why_symbol_list measurements = {0};
  for (size_t i = 0; i < t->plan->days.count; i++)
    for (size_t k = 0; k < t->plan->days.at[i].entries.count; k++)
      *WHY_LIST_ADD(t->arena, doses) = t->plan->days.at[i].entries.at[k].dose;
  say(t, root, WHY_ROLE_HEADING, "From week to week");
  why_part_dose_general(t->plan->picked, root, &measurements);
  why_part_dose_sources(t->ground, t->arena, root, &doses, &measurements);
}

why_node* why_report_plan(const why_plan* plan, why_arena* arena) {
  teller t = {arena, plan->question->ground, plan};
  why_node* root = why_node_add(arena, NULL, WHY_NODE_RECORD, NULL);
  add_understood(&t, root);
  add_referrals(&t, root);
  add_days(&t, root);
  add_ways_out(&t, root);
  if (plan->limits.count) {
    add_muscles(&t, root);
    add_picture(&t, root);
    add_heads(&t, root);
    add_binding(&t, root);
    add_proof(&t, root);
    add_dose(&t, root);
  }
  why_part_closing(t.ground, arena, root);
  return root;
}
