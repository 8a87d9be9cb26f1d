// SPDX-License-Identifier: GPL-3.0-or-later
// Recomputes published reviews from the studies at hand and prints both numbers side by side: first
// the single effects that a review took in, from our own studies' means and SDs; then what the
// review pooled, from those effects. Run by tests/reference/pool/reviews.
#include "pool/pool.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const double ROUNDED = 0.006; ///< Effects are noted to three places, SDs to fewer.
static const double MOST = 0.9;      ///< Share of the effects that must come out again.

typedef struct {
  const why_tables* tables;
  why_arena* arena;
  int passed;
  int failed;
} checker;

static const char* text(const checker* c, why_symbol symbol) {
  return why_symbols_text(c->tables->symbols, symbol);
}

static void count(checker* c, bool good) {
  c->passed += good;
  c->failed += !good;
}

static bool pairs_of(const checker* c, const why_study* study, const why_result* result,
                     why_pairs* pairs) {
  bool imputed = false;
  double n = why_people_of(c->tables, study, result, &imputed);
  double before = isfinite(result->pre.sd) ? result->pre.sd : result->pre.se * sqrt(n);
  double after = isfinite(result->post.sd) ? result->post.sd : result->post.se * sqrt(n);
  *pairs = (why_pairs){n, result->pre.mean, before, result->post.mean, after, 0.9};
  return isfinite(pairs->mean_before) && isfinite(pairs->mean_after) && before > 0 && n >= 2;
}

static bool is_about(const why_included* included, const why_result* result) {
  return (!included->muscle || included->muscle == result->muscle) &&
         (!included->site || included->site == result->site) &&
         (isnan(included->week) || isnan(result->week) || included->week == result->week);
}

static bool is_comparable(const why_result* a, const why_result* b) {
  return a->arm != b->arm && a->muscle == b->muscle && a->site == b->site &&
         a->method == b->method && a->side == b->side &&
         (a->week == b->week || (isnan(a->week) && isnan(b->week)));
}

/// The effect of our study that lies nearest to the included one; NAN when the study holds no means
/// and SDs for it. A review does not say which arms it set against each other.
static double nearest(const checker* c, const why_study* study, const why_included* included) {
  double best = NAN;
  for (size_t i = 0; i < study->results.count; i++)
    for (size_t k = 0; k < study->results.count; k++) {
      const why_result* one = &study->results.at[i];
      const why_result* other = &study->results.at[k];
      why_pairs a;
      why_pairs b;
      if (!is_about(included, one) || !is_comparable(one, other) || !pairs_of(c, study, one, &a) ||
          !pairs_of(c, study, other, &b))
        continue;
      double effect = why_effect_controlled_change(&a, &b).value;
      if (isnan(best) || fabs(effect - included->effect) < fabs(best - included->effect))
        best = effect;
    }
  return best;
}

/// How many effects of a review come out again; those that do not are printed.
static void check_effects(checker* c, const why_review* review) {
  size_t found = 0;
  size_t known = 0;
  for (size_t i = 0; i < review->included.count; i++) {
    const why_included* each = &review->included.at[i];
    const why_study* study = why_study_find(&c->tables->studies, each->study);
    bool named = each->muscle && each->site && !*each->unit;
    double effect = study && named ? nearest(c, study, each) : NAN;
    if (isnan(effect))
      continue;
    known++;
    bool good = fabs(effect - each->effect) <= ROUNDED;
    found += good;
    if (!good)
      printf("  %s %s %s: %.3f in the review, %.3f from the study\n", text(c, each->study),
             text(c, each->muscle), text(c, each->site), each->effect, effect);
  }
  if (!known)
    return;
  printf(
      "%s: %zu of %zu effects come out again; %zu more name no muscle and site, or their studies "
      "hold no means\n\n",
      text(c, review->id), found, known, review->included.count - known);
  count(c, (double)found >= MOST * (double)known);
}

/// One published mean and which of the review's effects answer to it.
typedef struct {
  const char* review;
  const char* estimate;   ///< Name of a further estimate; NULL: the main one.
  const char* partial_at; ///< Of the effects; NULL: all.
  double site_from;       ///< Per cent along the muscle; from 0 to 100: all.
  double site_to;
  why_tau_method method;
  double within; ///< How far our mean may lie from the review's.
  const char* why;
} comparison;

static const char NINE[] =
    "nine trials of its data set are at hand, it pooled twelve, and each counts by its plain mean; "
    "an older version of the review had 0.10, 0.15 and 0.20";

static const comparison COMPARISONS[] = {
    {"thickness-vs-circumference-2020", NULL, NULL, 0, 100, WHY_TAU_FIXED, 0.1,
     "its two stages weigh as a common effect does, with rounded inputs here"},
    {"thickness-vs-circumference-2020", NULL, NULL, 0, 100, WHY_TAU_REML, 0.6,
     "three trials that disagree count more alike when they may differ"},
    {"muscle-length-regional-2025", "proximal (25%)", NULL, 0, 37.5, WHY_TAU_REML, 0.15, NINE},
    {"muscle-length-regional-2025", NULL, NULL, 37.5, 62.5, WHY_TAU_REML, 0.15, NINE},
    {"muscle-length-regional-2025", "distal (75%)", NULL, 62.5, 100, WHY_TAU_REML, 0.3, NINE},
    {"range-partial-vs-full-2023", "muscle size, full minus partial at long length", "long", 0, 100,
     WHY_TAU_REML, 0.3, "three trials only, one of them far from the others"},
};

static const why_pooled* find_pooled(const why_review* review, const char* name) {
  for (size_t i = 0; name && i < review->more.count; i++)
    if (strcmp(review->more.at[i].name, name) == 0)
      return &review->more.at[i];
  return name ? NULL : &review->pooled;
}

static bool is_of(const checker* c, const comparison* row, const why_included* included) {
  if (row->partial_at && strcmp(text(c, included->partial_at), row->partial_at) != 0)
    return false;
  if (row->site_from <= 0 && row->site_to >= 100)
    return true;
  char* end = NULL;
  double site = strtod(text(c, included->site), &end);
  return *end == '%' && site >= row->site_from && site < row->site_to;
}

/// The mean of a study's effects, whose errors correlate; false when it has none. Arms of a record
/// that holds several trials stand for themselves.
static bool study_mean(const checker* c, const comparison* row, const why_review* review,
                       const why_included* first, double correlation, double* mean,
                       double* variance) {
  double count = 0;
  double errors = 0;
  double squares = 0;
  *mean = 0;
  for (size_t i = 0; i < review->included.count; i++) {
    const why_included* each = &review->included.at[i];
    if (each->study != first->study || each->arm != first->arm || !is_of(c, row, each))
      continue;
    if (count == 0 && each != first)
      return false; // this study has had its turn
    count++;
    *mean += each->effect;
    errors += each->se;
    squares += each->se * each->se;
  }
  *mean /= count;
  *variance = (squares + correlation * (errors * errors - squares)) / (count * count);
  return count > 0;
}

static void compare(checker* c, const comparison* row) {
  const why_review* review =
      why_review_find(&c->tables->reviews, why_symbols_find(c->tables->symbols, row->review));
  const why_pooled* published = review ? find_pooled(review, row->estimate) : NULL;
  if (!published) {
    printf("%s: no such estimate\n", row->review);
    count(c, false);
    return;
  }
  why_imputing imputing = why_imputing_usual();
  why_imputing_fill(c->tables, &imputing);
  double* effect = WHY_NEW_ARRAY(c->arena, double, review->included.count);
  double* variance = WHY_NEW_ARRAY(c->arena, double, review->included.count);
  size_t studies = 0;
  for (size_t i = 0; i < review->included.count; i++)
    studies += study_mean(c, row, review, &review->included.at[i], imputing.head_correlation,
                          &effect[studies], &variance[studies]);
  why_effects effects = why_effects_plain(effect, variance, studies);
  why_pooling how = why_pooling_usual();
  why_meta meta = {0};
  how.method = row->method;
  bool pooled = why_meta_pool(&effects, &how, c->arena, &meta) == WHY_OK;
  printf("%s, %s: %.2f (%.2f to %.2f) in the review, %.2f (%.2f to %.2f) from %zu studies%s\n"
         "  why not the same: %s\n",
         row->review, row->estimate ? row->estimate : "main result", published->estimate,
         published->ci95.low, published->ci95.high, meta.mean.estimate, meta.mean.low,
         meta.mean.high, studies, row->method == WHY_TAU_FIXED ? ", common effect" : "", row->why);
  count(c, pooled && fabs(meta.mean.estimate - published->estimate) <= row->within);
}

int main(void) {
  why_arena* arena = why_arena_new(0);
  why_problems* problems = why_problems_new();
  why_tables* tables = NULL;
  if (why_tables_open(WHY_HOME, NULL, arena, problems, &tables) != WHY_OK) {
    puts("the shipped knowledge base is not sound\n0 passed, 1 failed");
    return 1;
  }
  checker c = {.tables = tables, .arena = arena};
  for (size_t i = 0; i < tables->reviews.rows.count; i++)
    check_effects(&c, &tables->reviews.rows.at[i]);
  for (size_t i = 0; i < sizeof COMPARISONS / sizeof *COMPARISONS; i++)
    compare(&c, &COMPARISONS[i]);
  printf("%d passed, %d failed\n", c.passed, c.failed);
  why_problems_free(problems);
  why_arena_free(arena);
  return c.failed > 0;
}
