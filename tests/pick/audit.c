// SPDX-License-Identifier: GPL-3.0-or-later
// Programmes as people write them. The expected sets of each head were counted by hand: sets of all
// exercises of which it is a prime mover as whole sets (direct), those in which it assists as half
// sets, as the meta-regression of weekly sets counts (evidence/measurements/dose.xml,
// volume-fractional-counting). Which muscles move and which assist in these exercises is common
// practice; heads about which coaches differ are left out.
#include "told.h"

#include <criterion/criterion.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static why_knowledge* knowledge;

static void open_all(void) {
  knowledge = told_open(0, 0);
}

static void close_all(void) {
  why_knowledge_free(knowledge);
}

/// The audit of `text` as JSON; NULL with `*status` where there is none.
static json_t* audit(const char* text, why_status* status) {
  why_query* query = why_query_new(knowledge);
  why_answer* answer = NULL;
  *status = why_query_programme(query, "programme.txt", text, strlen(text));
  if (*status == WHY_OK)
    *status = why_run(query, WHY_AUDIT, &answer);
  char* told = answer ? told_answer(answer) : NULL;
  json_t* json = told ? json_loads(told, 0, NULL) : NULL;
  free(told);
  why_query_free(query);
  return json;
}

static json_t* find(json_t* list, const char* name, const char* id) {
  size_t i;
  json_t* each;
  json_array_foreach(list, i, each) {
    if (strcmp(json_string_value(json_object_get(each, name)), id) == 0)
      return each;
  }
  return NULL;
}

typedef struct {
  const char* head;
  double direct;
  double halves;
} counted;

static void expect(const char* text, const counted* rows, size_t count, size_t unread) {
  why_status status = WHY_OK;
  json_t* json = audit(text, &status);
  cr_assert_eq(status, WHY_OK);
  for (size_t i = 0; i < count; i++) {
    json_t* row = find(json_object_get(json, "heads"), "head", rows[i].head);
    cr_assert(row || rows[i].halves == 0, "%s is missing", rows[i].head);
    if (!row)
      continue;
    double direct = json_number_value(json_object_get(row, "direct"));
    double halves = json_number_value(json_object_get(row, "published"));
    cr_expect_float_eq(direct, rows[i].direct, 1e-9, "%s: %g direct sets, not %g", rows[i].head,
                       direct, rows[i].direct);
    cr_expect_float_eq(halves, rows[i].halves, 1e-9, "%s: %g sets, not %g", rows[i].head, halves,
                       rows[i].halves);
  }
  cr_expect_eq(json_array_size(json_object_get(json, "unread")), unread);
  json_decref(json);
}

#define EXPECT(text, unread, ...)                                                                  \
  expect(text, (const counted[]){__VA_ARGS__},                                                     \
         sizeof((const counted[]){__VA_ARGS__}) / sizeof(counted), unread)

Test(audit, one_line_a_day, .init = open_all, .fini = close_all) {
  EXPECT("# what I do now\n"
         "Mon: RDL 3x8, leg ext 4x12\n"
         "Fri: Squats 5x5 (heavy), leg crul 3x12, Calf raises: 4x15\n",
         1,                                     // "leg crul" is read as leg curl, and said
         {"vastus-lateralis", 9, 9},            // extension 4, squat 5
         {"semimembranosus", 6, 6},             // Romanian deadlift 3, curl 3
         {"gluteus-maximus-lower", 8, 8},       // Romanian deadlift 3, squat 5
         {"soleus", 4, 4},                      // calf raise 4
         {"gastrocnemius-medial-head", 4, 5.5}, // calf raise 4; assists in the curl: 3 halves
         {"pectoralis-major-sternocostal-head", 0, 0});
}

Test(audit, one_session_three_times, .init = open_all, .fini = close_all) {
  EXPECT("Full body, 3x/week\n"
         "Squat 3x8\n"
         "Bench 3x8\n"
         "Barbell row: 3x10\n"
         "Overhead press 2x10\n"
         "Curls 2 x 12\n",
         0,                                            // all times three
         {"vastus-medialis", 9, 9},                    // squat 3
         {"pectoralis-major-sternocostal-head", 9, 9}, // bench press 3
         {"triceps-brachii-lateral-head", 15, 15},     // bench press 3, overhead press 2
         {"deltoid-anterior", 6, 10.5},                // overhead press 2; bench press: 3 halves
         {"brachialis", 15, 15},                       // row 3, curl 2
         {"deltoid-posterior", 9, 9},                  // row 3
         {"soleus", 0, 0});
}

Test(audit, headings_bullets_and_warm_ups, .init = open_all, .fini = close_all) {
  EXPECT("## Upper A (Mon)\n"
         "1. Bench press - 4x6 @ 80 kg, rest 3 min\n"
         "2. Chin-ups - 3xAMRAP\n"
         "4. Lateral raise 4x15\n"
         "5. Triceps pushdown / 3x12\n"
         "## Lower A (Tue)\n"
         "1. Warm-up: 5 min bike\n"
         "2. Back squat 2x5 warm up, 4x6 RPE 8\n"
         "3. Leg press 3x10\n"
         "4. Seated leg curl 4x10\n"
         "5. Standing calf raise 4 sets of 12\n"
         "## Thu - Upper B\n"
         "Incline dumbbell press 3x10\n"
         "Lat pulldown 3x10\n"
         "## Fri - Lower B\n"
         "RDL 4x8\n"
         "Walking lunges 3x10/leg\n"
         "Leg extension 3x15\n",
         0,                                          // warm-up sets do not count
         {"vastus-lateralis", 13, 13},               // squat 4, press 3, lunge 3, extension 3
         {"semitendinosus", 8, 8},                   // curl 4, Romanian deadlift 4
         {"soleus", 4, 4},                           // calf raise 4
         {"pectoralis-major-clavicular-head", 7, 7}, // bench press 4, incline press 3
         {"latissimus-dorsi", 6, 6},                 // chin-up 3, pulldown 3
         {"deltoid-middle", 4, 5.5},                 // lateral raise 4; incline press: 3 halves
         {"gluteus-maximus-lower", 14, 14});         // squat 4, press 3, deadlift 4, lunge 3
}

Test(audit, several_ways_of_writing_sets, .init = open_all, .fini = close_all) {
  EXPECT("Mon: bench 5x5x80, dips 3x10; tricep pushdowns 12, 10, 8\n"
         "Tue: deadlift 1x5 + 4x3, pull ups 10/8/6/6, bicep curls 3 sets x 10-12 reps, RIR 1-2\n"
         "Wed: off\n"
         "Thu: squats 5 x 5 + leg press 3 sets of 12; leg curls 3x12; calf raises 4 x 15 reps\n"
         "Sat: OHP 4x8 @ 40kg, lateral raises 4x12, florps 3x3, plank 3x60s\n",
         1,                                        // nothing is called florps
         {"triceps-brachii-lateral-head", 15, 15}, // bench 5, dip 3, pushdown 3, press 4
         {"gluteus-maximus-lower", 13, 13},        // deadlift 5, squat 5, leg press 3
         {"brachialis", 7, 7},                     // pull-up 4, curl 3
         {"latissimus-dorsi", 4, 5.5},             // pull-up 4; assists in the dip: 3 halves
         {"vastus-intermedius", 8, 8},             // squat 5, leg press 3
         {"biceps-femoris-short-head", 3, 3},      // leg curl 3
         {"rectus-abdominis", 3, 3});              // plank 3
}

Test(audit, sets_on_the_line_below, .init = open_all, .fini = close_all) {
  EXPECT("Day 1\n"
         "Push ups 3x15\n"
         "bodyweight squats\n"
         "4x20\n"
         "glute bridge 3 sets x 12 reps\n"
         "Day 2\n"
         "lunges 3x12 each leg\n"
         "side plank 2x30s per side\n"
         "single leg RDL 3x10\n"
         "pike pushups\n",
         1,                                            // no sets stand by the last
         {"pectoralis-major-sternocostal-head", 3, 3}, // push-up 3
         {"triceps-brachii-medial-head", 3, 3},        // push-up 3
         {"vastus-lateralis", 7, 7},                   // squat 4, lunge 3
         {"gluteus-maximus-lower", 13, 13},            // squat 4, bridge 3, lunge 3, deadlift 3
         {"external-oblique", 2, 2},                   // side plank 2
         {"brachialis", 0, 0});
}

Test(audit, xml_says_the_same_as_text, .init = open_all, .fini = close_all) {
  why_status status = WHY_OK;
  json_t* text = audit("Mon: RDL 3x8-10 @ 60kg RIR 2\nThu: leg press 4x12", &status);
  json_t* xml = audit("<programme><day name='Mon'><exercise name='RDL' sets='3' "
                      "repetitions='8-10' kg='60' reserve='2'/></day><day name='Thu'><exercise "
                      "name='leg press' sets='4' repetitions='12'/></day></programme>",
                      &status);
  cr_assert(text && xml);
  json_t* line = json_array_get(
      json_object_get(
          json_array_get(json_object_get(json_object_get(text, "understood"), "days"), 1),
          "entries"),
      0);
  json_object_set_new(line, "line", json_integer(1)); // all of the XML stands in its first line
  cr_expect(json_equal(text, xml));
  json_decref(text);
  json_decref(xml);
}

/// The message of the first error about `text`, and its line.
static void refused(const char* text, unsigned line, const char* part) {
  why_query* query = why_query_new(knowledge);
  why_answer* answer = NULL;
  why_status status = why_query_programme(query, "programme", text, strlen(text));
  if (status == WHY_OK)
    status = why_run(query, WHY_AUDIT, &answer);
  cr_expect_eq(status, WHY_QUESTION);
  const why_problems* problems = why_query_problems(query);
  cr_assert_gt(why_problems_count(problems), 0);
  why_problem first = why_problems_at(problems, 0);
  cr_expect_eq(first.place.line, line, "line %u: %s", first.place.line, first.text);
  cr_expect_not_null(strstr(first.text, part), "%s", first.text);
  why_query_free(query);
}

Test(audit, what_is_no_programme, .init = open_all, .fini = close_all) {
  refused("", 0, "no line with an exercise");
  refused("\nshopping: milk, eggs\n", 2, "no exercise of this name");
  refused("Mon: \xff\xfe 3x8", 1, "UTF-8");
  refused("<programme><day name='Mon'><exercise sets='3'/></day></programme>", 1, "exercise");
  refused("<programme>\n<day", 2, "");
  refused("<!DOCTYPE programme>\n<programme/>", 1, "document type");
}

Test(audit, limits, .init = open_all, .fini = close_all) {
  char* many = malloc(20000);
  size_t length = 0;
  for (int i = 0; i < 600; i++)
    length += (size_t)snprintf(many + length, 20000 - length, "squat 3x8\n");
  refused(many, 500, "too many lines");
  memset(many, 'x', 1001);
  many[1001] = '\0';
  refused(many, 1, "too long");
  free(many);
}

Test(audit, two_days_running_with_much_load_along_the_spine, .init = open_all, .fini = close_all) {
  why_status status = WHY_OK;
  json_t* near = audit("Mon: squat 4x5\nTue: deadlift 4x5", &status);
  json_t* far = audit("Mon: squat 4x5\nWed: deadlift 4x5", &status);
  cr_expect_not_null(find(json_object_get(near, "remarks"), "rule", "remark-on-spine-next-day"));
  cr_expect_null(find(json_object_get(far, "remarks"), "rule", "remark-on-spine-next-day"));
  json_decref(near);
  json_decref(far);
}
