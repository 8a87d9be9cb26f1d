// SPDX-License-Identifier: GPL-3.0-or-later
// Pooled trials as a program reads them: what must hold whatever the numbers are.
#include "told.h"

#include <criterion/criterion.h>
#include <math.h>
#include <string.h>

static why_knowledge* knowledge;

static void open_knowledge(void) {
  knowledge = told_open(0, 0);
}

static void close_knowledge(void) {
  why_knowledge_free(knowledge);
}

TestSuite(trials, .init = open_knowledge, .fini = close_knowledge);

static json_t* pool(const char* goal, const char* exercise) {
  why_status status = WHY_OK;
  const told_question question = {.task = WHY_POOL, .goal = goal, .exercise = exercise};
  json_t* told = told_json(knowledge, &question, &status);
  cr_assert_eq(status, WHY_OK);
  cr_assert_not_null(told);
  return told;
}

static double number(const json_t* record, const char* name) {
  const json_t* value = json_object_get(record, name);
  cr_assert(json_is_number(value), "no number %s", name);
  return json_number_value(value);
}

static const char* text(const json_t* record, const char* name) {
  const char* value = json_string_value(json_object_get(record, name));
  cr_assert_not_null(value, "no text %s", name);
  return value;
}

Test(trials, weights_and_judgements_add_up) {
  json_t* told = pool("quadriceps", NULL);
  const json_t* set = json_array_get(json_object_get(told, "sets"), 0);
  const json_t* studies = json_object_get(set, "studies");
  size_t i = 0;
  json_t* each = NULL;
  double weight = 0;
  double findings = 0;
  json_array_foreach(studies, i, each) {
    weight += number(each, "weight_percent");
    findings += number(each, "findings");
  }
  cr_expect_float_eq(weight, 100, 1e-9);
  cr_expect_eq((size_t)findings, json_array_size(json_object_get(told, "findings")));
  cr_expect_eq(json_array_size(json_object_get(set, "risk_of_bias")), 6);
  json_array_foreach(json_object_get(set, "risk_of_bias"), i, each) cr_expect_float_eq(
      number(each, "low") + number(each, "some") + number(each, "unclear") + number(each, "high"),
      100, 1e-9);
  json_decref(told);
}

/// A study that pulls the mean up leaves a lower one behind.
Test(trials, leaving_a_study_out_moves_the_mean_away_from_it) {
  json_t* told = pool("hamstrings", NULL);
  const json_t* set = json_array_get(json_object_get(told, "sets"), 0);
  double all = number(json_object_get(json_object_get(set, "pooled"), "growth"), "percent");
  size_t i = 0;
  json_t* each = NULL;
  json_array_foreach(json_object_get(set, "studies"), i, each) {
    double own = number(json_object_get(each, "growth"), "percent");
    double rest = number(json_object_get(each, "without"), "percent");
    cr_expect(fabs(own - all) < 1 || (own - all) * (rest - all) < 0, "%s", text(each, "study"));
  }
  json_decref(told);
}

Test(trials, what_is_retracted_is_not_pooled) {
  const char* retracted = "squat-vs-hip-thrust-women-retracted-2020";
  json_t* told = pool("gluteus maximus", NULL);
  size_t i = 0;
  json_t* each = NULL;
  bool told_of = false;
  json_array_foreach(json_object_get(told, "findings"), i, each)
      cr_expect_str_neq(text(each, "study"), retracted);
  json_array_foreach(json_object_get(told, "not_pooled"), i, each) told_of =
      told_of || (strcmp(text(each, "study"), retracted) == 0 &&
                  strcmp(text(each, "reason"), "retracted") == 0);
  cr_expect(told_of);
  json_decref(told);
}

/// Seen from either arm a difference has the other sign. That the two-joint hamstrings grow more
/// seated and the short head about equally is the finding of the trial itself (Medicine and Science
/// in Sports and Exercise, 2021, DOI 10.1249/MSS.0000000000002523, abstract).
Test(trials, contrasts_turn_with_the_exercise) {
  json_t* seated = pool(NULL, "seated-leg-curl");
  json_t* prone = pool(NULL, "prone-leg-curl");
  const json_t* others = json_object_get(prone, "contrasts");
  size_t i = 0;
  size_t k = 0;
  json_t* each = NULL;
  json_t* other = NULL;
  cr_assert_gt(json_array_size(json_object_get(seated, "contrasts")), 0);
  json_array_foreach(json_object_get(seated, "contrasts"), i, each) {
    size_t found = 0;
    json_array_foreach(others, k,
                       other) if (strcmp(text(each, "study"), text(other, "study")) == 0 &&
                                  strcmp(text(each, "muscle"), text(other, "muscle")) == 0 &&
                                  strcmp(text(each, "site"), text(other, "site")) == 0) {
      found++;
      cr_expect_eq(number(each, "log_difference"), -number(other, "log_difference"));
    }
    cr_expect_eq(found, 1);
    if (strcmp(text(each, "muscle"), "hamstrings (whole)") == 0)
      cr_expect_gt(number(each, "low"), 0);
    if (strcmp(text(each, "muscle"), "biceps femoris short head") == 0)
      cr_expect(number(each, "low") < 0 && number(each, "high") > 0);
  }
  json_decref(seated);
  json_decref(prone);
}
