// SPDX-License-Identifier: GPL-3.0-or-later
// Planned weeks. The solver is held against trying all solutions of small problems; every limit of
// a planned week is checked anew from the exercise table and the counts, without the planner; a
// week that cannot be must become possible when a limit is relaxed as the answer says, and not
// before.
#include "told.h"

#include "pick/ground.h"
#include "pick/mip.h"

#include <criterion/criterion.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

static const why_ground* ground;
static why_arena* arena;
static why_knowledge* knowledge;

static void open_all(void) {
  arena = why_arena_new(0);
  knowledge = told_open(0, 0);
  ground = why_knowledge_ground(knowledge);
}

static void close_all(void) {
  why_knowledge_free(knowledge);
  why_arena_free(arena);
}

// ---- the solver ----

enum { COLUMNS = 5, ROWS = 4, MOST = 3 };

static unsigned draw(unsigned* seed, unsigned below) {
  *seed = *seed * 1664525U + 1013904223U; // Numerical Recipes, chapter 7
  return (*seed >> 16) % below;
}

/// The best of all solutions by trying each; -INFINITY when there is none.
static double try_all(const why_mip* mip) {
  double best = -INFINITY;
  int all = 1;
  for (int i = 0; i < COLUMNS; i++)
    all *= MOST + 1;
  for (int n = 0; n < all; n++) {
    double sums[ROWS] = {0};
    double value = 0;
    int values[COLUMNS];
    for (int i = 0, rest = n; i < COLUMNS; i++, rest /= MOST + 1) {
      values[i] = rest % (MOST + 1);
      value += mip->columns.at[i].cost * values[i];
    }
    for (size_t k = 0; k < mip->terms.count; k++)
      sums[mip->terms.at[k].row] += mip->terms.at[k].factor * values[mip->terms.at[k].column];
    bool fits = true;
    for (int r = 0; r < ROWS; r++)
      fits =
          fits && sums[r] >= mip->rows.at[r].low - 1e-9 && sums[r] <= mip->rows.at[r].high + 1e-9;
    best = fits ? fmax(best, value) : best;
  }
  return best;
}

Test(plan, solver_against_trying_all) {
  why_arena* own = why_arena_new(0);
  unsigned seed = 7;
  int impossible = 0;
  for (int n = 0; n < 200; n++) {
    why_mip mip = {.arena = own};
    for (int i = 0; i < COLUMNS; i++)
      why_mip_add_column(&mip, (double)draw(&seed, 11) - 3, 0, MOST, true);
    for (int r = 0; r < ROWS; r++) {
      bool least = r == 0;
      double bound = (double)draw(&seed, 12);
      why_mip_add_row(&mip, least ? bound : -INFINITY, least ? INFINITY : bound);
      for (int i = 0; i < COLUMNS; i++)
        why_mip_add_term(&mip, r, i, (double)draw(&seed, 5));
    }
    double best = try_all(&mip);
    why_mip_result result = why_mip_solve(&mip);
    impossible += isinf(best) != 0;
    cr_expect_eq(result.status, isinf(best) ? WHY_MIP_INFEASIBLE : WHY_MIP_OPTIMAL, "problem %d",
                 n);
    if (isfinite(best)) {
      cr_expect_float_eq(result.value, best, 1e-6, "problem %d: %g, not %g", n, result.value, best);
      cr_expect_eq(result.gap, 0);
    }
  }
  cr_expect(impossible > 5 && impossible < 195, "%d of 200 problems are impossible", impossible);
  why_arena_free(own);
}

// ---- weeks ----

typedef struct {
  const char* goals;
  const char* days;
  const char* minutes;
  const char* level;
  const char* have;
  const char* avoid;
  const char* start;
  double gap; ///< How far the choice may be from proven.
} wish;

static char* plan_as(const wish* asked, const char* format, why_status* status) {
  why_query* query = why_query_new(knowledge);
  if (asked->goals)
    cr_assert_eq(why_query_add(query, WHY_TARGET, asked->goals), WHY_OK);
  if (asked->days)
    cr_assert_eq(why_query_set(query, WHY_DAYS, asked->days), WHY_OK);
  if (asked->minutes)
    cr_assert_eq(why_query_set(query, WHY_MINUTES, asked->minutes), WHY_OK);
  if (asked->level)
    cr_assert_eq(why_query_set(query, WHY_LEVEL, asked->level), WHY_OK);
  if (asked->have)
    cr_assert_eq(why_query_add(query, WHY_HAVE, asked->have), WHY_OK);
  if (asked->avoid)
    cr_assert_eq(why_query_add(query, WHY_AVOID, asked->avoid), WHY_OK);
  if (asked->start)
    cr_assert_eq(why_query_set(query, WHY_START, asked->start), WHY_OK);
  why_answer* answer = NULL;
  *status = why_run(query, WHY_PLAN, &answer);
  char* told = answer ? told_answer_as(answer, format) : NULL;
  why_query_free(query);
  return told;
}

static json_t* plan_json(const wish* asked, why_status* status) {
  char* told = plan_as(asked, "json", status);
  json_t* json = told ? json_loads(told, 0, NULL) : NULL;
  free(told);
  return json;
}

static double number(json_t* record, const char* name) {
  return json_number_value(json_object_get(record, name));
}

static const char* text(json_t* record, const char* name) {
  return json_string_value(json_object_get(record, name));
}

/// What a set of an exercise counts for a head, from the rules and not from the planner.
static double count_of(why_overlay* overlay, const char* exercise, const char* head) {
  why_relation counts = why_program_find(ground->program, "counts");
  why_value values[WHY_SLOTS_LIMIT] = {0};
  int of = why_program_slot(ground->program, counts, "exercise");
  int on = why_program_slot(ground->program, counts, "head");
  values[of] = why_value_of_symbol(why_symbols_find(ground->symbols, exercise));
  values[on] = why_value_of_symbol(why_symbols_find(ground->symbols, head));
  why_facts facts = why_facts_find(overlay, counts, 1U << of | 1U << on, values);
  return facts.count ? why_fact_number(overlay, facts.at[0],
                                       why_program_slot(ground->program, counts, "published"))
                     : 0;
}

static double spine_of(const why_exercise* exercise) {
  const char* load = why_symbols_text(ground->symbols, exercise->axial_load);
  return strcmp(load, "high") == 0 ? 1 : strcmp(load, "medium") == 0 ? 0.5 : 0;
}

/// Seconds of an exercise: a minute to set up, 40 seconds a set and side, the mean rest.
static double seconds_of(json_t* entry, const why_exercise* exercise) {
  json_t* rest = json_object_get(json_object_get(entry, "dose"), "rest");
  double pause = (number(rest, "low") + number(rest, "high")) / 2;
  return 60 + number(entry, "sets") * (40 * (exercise->unilateral ? 2 : 1) + pause);
}

/// A session by itself; returns its load along the spine.
static double check_session(json_t* session, const wish* asked) {
  json_t* entries = json_object_get(session, "exercises");
  size_t count = json_array_size(entries);
  double seconds = 300;
  double spine = 0;
  cr_expect(count >= 3 && count <= 8, "%zu exercises", count);
  for (size_t i = 0; i < count; i++) {
    json_t* entry = json_array_get(entries, i);
    const why_exercise* exercise = why_exercise_find(
        &ground->tables->exercises, why_symbols_find(ground->symbols, text(entry, "exercise")));
    cr_assert_not_null(exercise);
    seconds += seconds_of(entry, exercise);
    spine += number(entry, "sets") * spine_of(exercise);
    cr_expect(!exercise->held);
    for (size_t k = 0; k < i; k++)
      cr_expect_neq(strcmp(text(entry, "exercise"), text(json_array_get(entries, k), "exercise")),
                    0);
  }
  cr_expect_leq(seconds, 60 * atof(asked->minutes) + 1e-6, "%g seconds", seconds);
  cr_expect_float_eq(seconds, number(session, "seconds"), 1e-6);
  cr_expect_leq(spine, 9 + 1e-9);
  return spine;
}

static int weekday_of(json_t* session) {
  static const char* const NAMES[] = {"Monday", "Tuesday",  "Wednesday", "Thursday",
                                      "Friday", "Saturday", "Sunday"};
  for (int i = 0; i < 7; i++)
    if (strcmp(NAMES[i], text(session, "weekday")) == 0)
      return i;
  return -1;
}

/// Sets of each head: in a session at most 10, in a week at most what the level allows.
static void check_heads(json_t* plan, why_overlay* overlay, double most) {
  json_t* sessions = json_object_get(plan, "sessions");
  for (size_t h = 0; h < ground->tables->anatomy.heads.count; h++) {
    const char* head = why_symbols_text(ground->symbols, ground->tables->anatomy.heads.at[h].id);
    double week = 0;
    bool planned = false;
    size_t i;
    json_t* row;
    json_array_foreach(json_object_get(plan, "heads"), i, row) {
      planned = planned || strcmp(text(row, "head"), head) == 0;
    }
    for (size_t d = 0; d < json_array_size(sessions); d++) {
      json_t* entries = json_object_get(json_array_get(sessions, d), "exercises");
      double day = 0;
      for (size_t k = 0; k < json_array_size(entries); k++)
        day += number(json_array_get(entries, k), "sets") *
               count_of(overlay, text(json_array_get(entries, k), "exercise"), head);
      cr_expect(!planned || day <= 10 + 1e-9, "%s: %g sets in a session", head, day);
      week += day;
    }
    cr_expect(!planned || week <= most + 1e-9, "%s: %g sets a week", head, week);
  }
}

/// Weekly sets of a group or head: each set as for the head for which it counts most.
static double muscle_sets(json_t* plan, why_overlay* overlay, const char* muscle) {
  json_t* sessions = json_object_get(plan, "sessions");
  why_symbol id = why_symbols_find(ground->symbols, muscle);
  const why_group* group = why_group_find(&ground->tables->anatomy, id);
  double sum = 0;
  for (size_t d = 0; d < json_array_size(sessions); d++) {
    json_t* entries = json_object_get(json_array_get(sessions, d), "exercises");
    for (size_t k = 0; k < json_array_size(entries); k++) {
      json_t* entry = json_array_get(entries, k);
      double most = group ? 0 : count_of(overlay, text(entry, "exercise"), muscle);
      for (size_t i = 0; group && i < group->heads.count; i++)
        most = fmax(most, count_of(overlay, text(entry, "exercise"),
                                   why_symbols_text(ground->symbols, group->heads.at[i])));
      sum += most * number(entry, "sets");
    }
  }
  return sum;
}

/// `least` and `most`: weekly sets of goals (or majors), of heads.
static void check_week(const wish* asked, double least, double most) {
  why_status status = WHY_OK;
  json_t* plan = plan_json(asked, &status);
  cr_assert_eq(status, WHY_OK);
  json_t* sessions = json_object_get(plan, "sessions");
  cr_expect_eq(json_array_size(sessions), (size_t)atoi(asked->days));
  cr_expect_leq(number(json_object_get(plan, "choice"), "gap"), asked->gap);
  why_overlay* overlay = why_overlay_new(ground->base, arena, NULL);
  why_problems* problems = why_problems_new();
  why_overlay_open(overlay, problems);
  double before = 0;
  for (size_t d = 0; d < json_array_size(sessions); d++) {
    json_t* session = json_array_get(sessions, d);
    double spine = check_session(session, asked);
    bool next = d && weekday_of(session) == weekday_of(json_array_get(sessions, d - 1)) + 1;
    cr_expect(!(next && spine >= 3 && before >= 3), "heavy on the spine on two days running");
    before = spine;
  }
  check_heads(plan, overlay, most);
  size_t i;
  json_t* row;
  json_array_foreach(json_object_get(plan, "muscles"), i, row) {
    double sets = muscle_sets(plan, overlay, text(row, "muscle"));
    cr_expect_float_eq(sets, number(row, "sets"), 1e-9, "%s: %g", text(row, "muscle"), sets);
    if (strcmp(text(row, "why"), "other") != 0)
      cr_expect_geq(sets, least - 1e-9, "%s: %g sets", text(row, "muscle"), sets);
  }
  why_problems_free(problems);
  json_decref(plan);
}

// Ranges: evidence/measurements/dose.xml, volume-trained-practice, volume-smallest-detectable and
// maintenance-travel.
Test(plan, whole_body, .init = open_all, .fini = close_all) {
  check_week(&(wish){.days = "3", .minutes = "60"}, 4, 15);
  check_week(&(wish){.days = "2", .minutes = "60", .level = "beginner"}, 4, 10);
  check_week(&(wish){.days = "5", .minutes = "60", .level = "advanced"}, 4, 20);
}

/// On two days running no head may work twice: exercises and days have to be chosen together.
Test(plan, days_that_follow_each_other, .init = open_all, .fini = close_all) {
  check_week(&(wish){.days = "4", .minutes = "60", .level = "advanced", .gap = 0.05}, 4, 20);
}

Test(plan, goals, .init = open_all, .fini = close_all) {
  check_week(&(wish){.days = "2", .minutes = "45", .level = "beginner", .goals = "glutes:2,calves"},
             5, 10);
  check_week(
      &(wish){.days = "3", .minutes = "45", .goals = "back", .avoid = "axial-load", .gap = 0.2}, 8,
      15);
}

Test(plan, travelling_keeps_what_is_there, .init = open_all, .fini = close_all) {
  check_week(&(wish){.days = "2", .minutes = "30", .have = "travel-bag"}, 2, 15);
}

Test(plan, same_question_same_week, .init = open_all, .fini = close_all) {
  why_status status = WHY_OK;
  wish asked = {.days = "3", .minutes = "45"};
  char* one = plan_as(&asked, "json", &status);
  why_knowledge_free(knowledge);
  knowledge = told_open(3, 5); // files in another order, other hashing
  char* two = plan_as(&asked, "json", &status);
  cr_expect_str_eq(one, two);
  free(one);
  free(two);
}

/// The minutes that the only relaxed limit of some way out asks for; 0 when there is none.
static double minutes_needed(json_t* plan) {
  size_t i;
  json_t* way;
  json_array_foreach(json_object_get(plan, "ways_out"), i, way) {
    json_t* limits = json_object_get(way, "limits");
    if (json_array_size(limits) == 1 &&
        strcmp(text(json_array_get(limits, 0), "limit"), "time") == 0)
      return ceil(number(json_array_get(limits, 0), "needed"));
  }
  return 0;
}

// Ten sets of glutes and calves a week do not fit into a session of 15 minutes.
Test(plan, too_little_time, .init = open_all, .fini = close_all) {
  why_status status = WHY_OK;
  wish asked = {.days = "1", .minutes = "15", .goals = "glutes,calves", .level = "beginner"};
  json_t* plan = plan_json(&asked, &status);
  cr_expect_eq(status, WHY_NO_PICK);
  double needed = minutes_needed(plan);
  cr_assert_gt(needed, 15);
  json_decref(plan);
  char minutes[8];
  snprintf(minutes, sizeof minutes, "%.0f", needed);
  asked.minutes = minutes;
  plan = plan_json(&asked, &status);
  cr_expect_eq(status, WHY_OK, "%s minutes are not enough", minutes);
  json_decref(plan);
  snprintf(minutes, sizeof minutes, "%.0f", needed - 2);
  plan = plan_json(&asked, &status);
  cr_expect_eq(status, WHY_NO_PICK, "%s minutes are enough", minutes);
  json_decref(plan);
}

// Without any equipment nothing raises the shoulder blades against a load: only letting the goal go
// helps.
Test(plan, goal_without_exercise, .init = open_all, .fini = close_all) {
  why_status status = WHY_OK;
  wish asked = {.days = "2", .minutes = "60", .goals = "levator-scapulae", .have = "nothing"};
  json_t* plan = plan_json(&asked, &status);
  cr_expect_eq(status, WHY_NO_PICK);
  json_t* way = json_array_get(json_object_get(plan, "ways_out"), 0);
  json_t* limit = json_array_get(json_object_get(way, "limits"), 0);
  cr_assert_not_null(limit);
  cr_expect_str_eq(text(limit, "limit"), "least-sets");
  cr_expect_str_eq(text(limit, "about"), "levator-scapulae");
  json_decref(plan);
}

// ---- the calendar, RFC 5545 ----

static size_t occurrences(const char* text_of, const char* part) {
  size_t count = 0;
  for (const char* at = strstr(text_of, part); at; at = strstr(at + 1, part))
    count++;
  return count;
}

/// Lines end with CR LF, have at most 75 octets (section 3.1) and are whole UTF-8 characters.
static void check_lines(const char* calendar) {
  const char* line = calendar;
  for (const char* at = calendar; *at; at++) {
    cr_assert((*at == '\n') == (at > calendar && at[-1] == '\r'), "a bare CR or LF");
    if (*at != '\n')
      continue;
    cr_expect_leq(at - 1 - line, 75);
    cr_expect(((unsigned char)line[*line == ' '] & 0xC0) != 0x80, "a character is cut in two");
    line = at + 1;
  }
  cr_expect_eq(*line, '\0');
}

Test(plan, calendar, .init = open_all, .fini = close_all) {
  why_status status = WHY_OK;
  char* calendar =
      plan_as(&(wish){.days = "3", .minutes = "45", .start = "2027-12-30"}, "ical", &status);
  cr_assert_not_null(calendar);
  check_lines(calendar);
  cr_expect_eq(strncmp(calendar, "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:", 37), 0);
  static const char* const ONCE[] = {
      "BEGIN:VEVENT", "END:VEVENT", "\r\nUID:", "\r\nDTSTAMP:", "\r\nDTSTART;VALUE=DATE:",
      "\r\nSUMMARY:"};
  for (size_t i = 0; i < sizeof ONCE / sizeof *ONCE; i++)
    cr_expect_eq(occurrences(calendar, ONCE[i]), 3, "%s", ONCE[i]);
  // Weekdays by the C library: the first Monday, Wednesday and Friday from that Thursday on.
  int wanted[] = {1, 3, 5};
  const char* at = calendar;
  for (int i = 0; i < 3; i++) {
    at = strstr(at, "DATE:") + 5;
    struct tm day = {0};
    cr_assert_eq(sscanf(at, "%4d%2d%2d", &day.tm_year, &day.tm_mon, &day.tm_mday), 3);
    day.tm_year -= 1900;
    day.tm_mon -= 1;
    day.tm_hour = 12;
    mktime(&day);
    cr_expect_eq(day.tm_wday, wanted[i]);
  }
  cr_expect_not_null(strstr(calendar, "DATE:20280103")); // into the next year
  cr_expect_not_null(strstr(calendar, "DATE:20271231"));
  cr_expect_not_null(strstr(calendar, "\\, ")); // commas of texts are escaped (3.3.11)
  free(calendar);
}

Test(plan, calendar_needs_a_first_day, .init = open_all, .fini = close_all) {
  why_query* query = why_query_new(knowledge);
  why_answer* answer = NULL;
  cr_assert_eq(why_run(query, WHY_PLAN, &answer), WHY_OK);
  cr_expect_eq(why_tell(answer, "ical", NULL, NULL), WHY_QUESTION);
  cr_expect_eq(why_query_set(query, WHY_START, "2027-02-29"), WHY_QUESTION);
  cr_expect_eq(why_query_set(query, WHY_START, "2028-02-29"), WHY_OK);
  cr_expect_eq(why_query_set(query, WHY_START, "28-02-2028"), WHY_QUESTION);
  cr_expect_eq(why_query_set(query, WHY_DAYS, "7"), WHY_QUESTION);
  cr_expect_eq(why_query_set(query, WHY_MINUTES, "5"), WHY_QUESTION);
  cr_expect_eq(why_query_set(query, WHY_PURPOSE, "shrink"), WHY_QUESTION);
  cr_expect_eq(why_query_add(query, WHY_TARGET, "glutes:9"), WHY_QUESTION);
  cr_expect_eq(why_query_add(query, WHY_TARGET, "flubber"), WHY_QUESTION);
  why_query_free(query);
}

/// A page shows the sessions as the text does: every exercise by name.
Test(plan, page_holds_every_exercise, .init = open_all, .fini = close_all) {
  why_status status = WHY_OK;
  wish asked = {.days = "2", .minutes = "45", .goals = "glutes"};
  char* page = plan_as(&asked, "html", &status);
  json_t* plan = plan_json(&asked, &status);
  json_t* sessions = json_object_get(plan, "sessions");
  cr_assert_eq(json_array_size(sessions), 2);
  for (size_t d = 0; d < 2; d++) {
    json_t* entries = json_object_get(json_array_get(sessions, d), "exercises");
    cr_assert_gt(json_array_size(entries), 0);
    for (size_t k = 0; k < json_array_size(entries); k++) {
      const char* name = text(json_array_get(entries, k), "name");
      cr_expect_not_null(strstr(page, name + 1), "%s", name);
    }
  }
  json_decref(plan);
  free(page);
}
