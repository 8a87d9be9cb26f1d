// SPDX-License-Identifier: GPL-3.0-or-later
// Facts of the trade as orders between what the sharing computes (tests/reference/training), and
// how far the loads that bring a set near failure lie from the usual ones. With WHY_SHOW in the
// environment each order is printed with its ratio.
#include "body/line.h"
#include "body/mechanics.h"

#include <criterion/criterion.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static mechanics opened;

static void open_knowledge(void) {
  mechanics_open(&opened);
}

static void close_knowledge(void) {
  mechanics_close(&opened);
}

TestSuite(orders, .init = open_knowledge, .fini = close_knowledge);

static const why_feature* features_of(const char* id) {
  const why_exercise* exercise = mechanics_exercise(&opened, id);
  why_feature* made = WHY_NEW_ARRAY(opened.arena, why_feature, opened.muscles->count);
  why_features_find(opened.sharer, why_effort_find(opened.sharer, exercise), made);
  return made;
}

static double part_of(const why_feature* feature) {
  double most = 0;
  for (size_t i = 0; i < WHY_MOVES_LIMIT; i++)
    most = fmax(most, feature->parts[i]);
  return most;
}

static double measured(const char* measure, const why_feature* feature) {
  const struct {
    const char* name;
    double value;
  } MEASURES[] = {
      {"moving", feature->moving},     {"stress", feature->stress},
      {"peak", feature->peak},         {"part", part_of(feature)},
      {"longest", feature->longest},   {"work", feature->moving * part_of(feature)},
      {"shortest", feature->shortest},
  };
  for (size_t i = 0; i < sizeof MEASURES / sizeof *MEASURES; i++)
    if (strcmp(MEASURES[i].name, measure) == 0)
      return MEASURES[i].value;
  cr_assert(false, "no measure %s", measure);
  return NAN;
}

/// A measure of one head, or of several joined by +, by their greatest force.
static double side_of(line* at) {
  const char* measure = line_word(at);
  cr_assert_not_null(measure);
  if (strcmp(measure, "number") == 0)
    return line_number(at);
  char* heads = line_word(at);
  const char* exercise = line_word(at);
  cr_assert(heads && exercise, "a side is not complete");
  const why_feature* features = features_of(exercise);
  double sum = 0;
  double force = 0;
  char* rest = NULL;
  for (char* id = strtok_r(heads, "+", &rest); id; id = strtok_r(NULL, "+", &rest)) {
    size_t head = mechanics_head(&opened, id);
    sum += features[head].head->force_n.value * measured(measure, &features[head]);
    force += features[head].head->force_n.value;
  }
  return sum / force;
}

typedef struct {
  line at;
  size_t tried;
  size_t off;
  bool reason; ///< The next line must say why.
} reading;

static void read_order(void* user, const char* first) {
  reading* r = user;
  if (strcmp(first, "because") == 0) {
    cr_expect(r->reason, "a reason without an order that is off");
    r->reason = false;
    return;
  }
  cr_expect_not(r->reason, "an order is off and nothing says why");
  bool is_off = strcmp(first, "off") == 0;
  cr_assert(is_off || strcmp(first, "holds") == 0, "neither holds nor off: %s", first);
  const char* relation = line_word(&r->at);
  cr_assert(relation && (strcmp(relation, "below") == 0 || strcmp(relation, "above") == 0));
  double bound = line_number(&r->at);
  double left = side_of(&r->at);
  double right = side_of(&r->at);
  double ratio = left / right;
  bool holds = strcmp(relation, "below") == 0 ? ratio < bound : ratio > bound;
  if (getenv("WHY_SHOW"))
    fprintf(stderr, "%s ratio %6.3f, expected %s %.3g: %.3f to %.3f, %s", holds ? "    " : "OFF ",
            ratio, relation, bound, left, right, r->at.rest);
  cr_expect(holds != is_off, "ratio %g (%g to %g), expected %s %g%s: %s", ratio, left, right,
            relation, bound, is_off ? ", and marked as off" : "", r->at.rest);
  r->tried++;
  r->off += is_off;
  r->reason = is_off;
}

Test(orders, facts_of_the_trade) {
  reading r = {.at = {.symbols = opened.tables->symbols}};
  line_each(&r.at, WHY_HOME "/tests/reference/training/orders.txt", read_order, &r);
  cr_expect_not(r.reason, "an order is off and nothing says why");
  cr_expect_gt(r.tried, 100);
  cr_expect_lt(10 * r.off, r.tried * 2, "%zu of %zu orders are off", r.off, r.tried);
  if (getenv("WHY_SHOW"))
    fprintf(stderr, "%zu orders, %zu off\n", r.tried, r.off);
}

enum { REGIONS_LIMIT = 32 };

/// Shares within the bounds that must not be lost again. Regions that are not named come out too
/// strong or too weak for most exercises, and nothing is said of their loads; each new exercise of
/// them takes a little from the share of all.
static const struct {
  const char* region;
  double share;
} FLOORS[] = {{"shoulder", 0.79}, {"elbow", 0.85}, {"knee", 0.45}, {"all", 0.54}};

static void expect_floor(const char* region, size_t within, size_t loaded) {
  if (getenv("WHY_SHOW"))
    fprintf(stderr, "%-14s %3zu of %3zu\n", region, within, loaded);
  for (size_t i = 0; i < sizeof FLOORS / sizeof *FLOORS; i++)
    if (strcmp(FLOORS[i].region, region) == 0)
      cr_expect_geq((double)within, FLOORS[i].share * (double)loaded, "%s: %zu of %zu", region,
                    within, loaded);
}

typedef struct {
  why_symbol region;
  size_t loaded;
  size_t within;
} tally;

static tally* tally_of(tally* tallies, size_t* count, why_symbol region) {
  for (size_t i = 0; i < *count; i++)
    if (tallies[i].region == region)
      return &tallies[i];
  cr_assert_lt(*count, REGIONS_LIMIT);
  tallies[*count] = (tally){.region = region};
  return &tallies[(*count)++];
}

/// How many exercises with a load to raise come to the limit of a set between half and twice the
/// usual load. Usual loads are those of the trade, so this asks whether bodies here are as strong
/// as people are: for most of the upper body they are, legs and calves come out too strong.
Test(orders, loads_near_failure_are_those_of_the_trade) {
  const why_quantity* sensible =
      why_quantity_find(&opened.tables->measurements, opened.tables->symbols, "sensible-load", 0);
  tally tallies[REGIONS_LIMIT];
  size_t count = 0;
  tally all = {0};
  cr_assert_not_null(sensible);
  for (size_t i = 0; i < opened.tables->exercises.rows.count; i++) {
    const why_exercise* each = &opened.tables->exercises.rows.at[i];
    const why_effort* effort = why_effort_find(opened.sharer, each);
    if (effort->end == WHY_LOAD_NONE)
      continue;
    bool within = effort->factor >= sensible->amount.low && effort->factor <= sensible->amount.high;
    tally* here = tally_of(tallies, &count, each->region);
    here->loaded++;
    here->within += within;
    all.loaded++;
    all.within += within;
  }
  for (size_t i = 0; i < count; i++)
    expect_floor(why_symbols_text(opened.tables->symbols, tallies[i].region), tallies[i].within,
                 tallies[i].loaded);
  expect_floor("all", all.within, all.loaded);
}
