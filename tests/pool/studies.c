// SPDX-License-Identifier: GPL-3.0-or-later
#include "pool/studies.h"

#include <criterion/criterion.h>
#include <math.h>
#include <string.h>

const why_effects* studies_of(const number_case* each, size_t count, why_arena* arena) {
  size_t all = number_rows(each, "study");
  count = count ? count : all;
  size_t moderators = 0;
  while (!isnan(number_at(each, "columns", 0, moderators)))
    moderators++;
  double* effect = WHY_NEW_ARRAY(arena, double, count);
  double* variance = WHY_NEW_ARRAY(arena, double, count);
  double* design = WHY_NEW_ARRAY(arena, double, count*(moderators + 1));
  for (size_t i = 0; i < count; i++) {
    effect[i] = number_at(each, "study", i, 0);
    variance[i] = number_at(each, "study", i, 1);
    design[i * (moderators + 1)] = 1;
    for (size_t j = 0; j < moderators; j++)
      design[i * (moderators + 1) + j + 1] =
          number_at(each, "study", i, 1 + (size_t)number_at(each, "columns", 0, j));
  }
  why_effects* made = WHY_NEW(arena, why_effects);
  *made = why_effects_plain(effect, variance, count);
  made->columns = moderators + 1;
  made->design = moderators ? design : NULL;
  return made;
}

why_pooling pooling_of(const number_case* each) {
  static const struct {
    const char* name;
    why_tau_method method;
  } METHODS[] = {
      {"FE", WHY_TAU_FIXED},         {"DL", WHY_TAU_DERSIMONIAN_LAIRD},
      {"HE", WHY_TAU_HEDGES},        {"HS", WHY_TAU_HUNTER_SCHMIDT},
      {"SJ", WHY_TAU_SIDIK_JONKMAN}, {"PM", WHY_TAU_PAULE_MANDEL},
      {"EB", WHY_TAU_PAULE_MANDEL},  {"ML", WHY_TAU_MAXIMUM_LIKELIHOOD},
      {"REML", WHY_TAU_REML},
  };
  why_pooling how = {WHY_TAU_REML, WHY_TEST_NORMAL, 1e-13, 500};
  size_t i = 0;
  while (i < sizeof METHODS / sizeof *METHODS && !number_is(each, "method", METHODS[i].name))
    i++;
  cr_assert_lt(i, sizeof METHODS / sizeof *METHODS, "%s: no such method", each->id);
  how.method = METHODS[i].method;
  if (number_is(each, "test", "hartung-knapp"))
    how.test = WHY_TEST_HARTUNG_KNAPP;
  return how;
}

why_meta pooled(const why_effects* effects, const why_pooling* how, why_arena* arena) {
  why_meta meta;
  cr_assert_eq(why_meta_pool(effects, how, arena, &meta), WHY_OK);
  cr_expect(meta.settled, "the search for tau2 did not end");
  return meta;
}
