// SPDX-License-Identifier: GPL-3.0-or-later
// Figures that others published against what is computed here, file by file (tests/reference/arms,
// strength, architecture, lifts). With WHY_SHOW in the environment each figure is printed on a
// line: published, ours, their ratio, and whether it lies within its tolerance.
#include "body/quantity.h"

#include <criterion/criterion.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { FIGURES = 24, NAME_ROOM = 48 };

/// Where the model is off, what it gives must stay what the file says by this share or amount.
static const double KEPT_SHARE = 0.03;
static const double KEPT_LEAST = 0.02;

typedef struct {
  char name[NAME_ROOM];
  double value;
} figure;

typedef struct {
  quantity_bench bench;
  char id[64];
  size_t figure_count;
  figure figures[FIGURES];
  bool owes_reason; ///< The last expectation was off.
  size_t tried;
  size_t off;
} comparison;

static double value_of(const comparison* c, const char* name) {
  cr_assert_not_null(name, "%s: a figure is missing", c->id);
  for (size_t i = 0; i < c->figure_count; i++)
    if (strcmp(c->figures[i].name, name) == 0)
      return c->figures[i].value;
  char* end = NULL;
  double number = strtod(name, &end);
  cr_assert(end != name && *end == '\0', "%s: no figure %s", c->id, name);
  return number;
}

/// A quantity, or what two figures before it give.
static double compute(comparison* c, const char* kind) {
  cr_assert_not_null(kind, "%s: a quantity is missing", c->id);
  bool ratio = strcmp(kind, "ratio") == 0;
  if (!ratio && strcmp(kind, "difference") != 0)
    return quantity_of(&c->bench, kind);
  double a = value_of(c, line_word(&c->bench.at));
  double b = value_of(c, line_word(&c->bench.at));
  return ratio ? a / b : a - b;
}

static void read_figure(comparison* c) {
  cr_assert_lt(c->figure_count, FIGURES, "%s: too many figures", c->id);
  figure* made = &c->figures[c->figure_count];
  snprintf(made->name, sizeof made->name, "%s", line_word(&c->bench.at));
  made->value = compute(c, line_word(&c->bench.at));
  c->figure_count++;
}

/// What a line expects of a figure.
typedef struct {
  const char* name;
  double found;
  double low;
  double high;
  double tolerance_low; ///< Below `low`.
  double tolerance_high;
  const char* unit;
  double off; ///< What comes out where the model is off, else NAN.
} expectation;

static bool is_within(const expectation* e) {
  return e->found >= e->low - e->tolerance_low && e->found <= e->high + e->tolerance_high;
}

static void show(const comparison* c, const expectation* e) {
  char published[40];
  if (isinf(e->high))
    snprintf(published, sizeof published, "above %.4g", e->low);
  else if (e->low < e->high)
    snprintf(published, sizeof published, "%.4g to %.4g", e->low, e->high);
  else
    snprintf(published, sizeof published, "%.4g", e->low);
  double middle = isinf(e->high) ? e->low : (e->low + e->high) / 2;
  fprintf(stderr, "%-34s %-30s %14s %9.4g %-6s ratio %5.2f  %s\n", c->id, e->name, published,
          e->found, e->unit, e->found / middle,
          is_within(e)    ? "within"
          : isnan(e->off) ? "OUTSIDE"
                          : "outside, known");
}

static void check(comparison* c, const expectation* e) {
  c->tried++;
  if (getenv("WHY_SHOW"))
    show(c, e);
  if (isnan(e->off)) {
    cr_expect(is_within(e), "%s: %s is %.4g %s, published %g to %g", c->id, e->name, e->found,
              e->unit, e->low, e->high);
    return;
  }
  c->off++;
  c->owes_reason = true;
  double kept = fmax(KEPT_SHARE * fabs(e->off), KEPT_LEAST);
  cr_expect(!is_within(e), "%s: %s agrees now (%.4g); say so in the file", c->id, e->name,
            e->found);
  cr_expect_float_eq(e->found, e->off, kept, "%s: %s is %.4g, not %g as the file says", c->id,
                     e->name, e->found, e->off);
}

/// `within T % [or T]` or `within T UNIT`.
static void read_tolerance(line* at, expectation* e) {
  double tolerance = line_number(at);
  bool percent = strcmp(line_word(at), "%") == 0;
  e->tolerance_low = percent ? fabs(e->low) * tolerance / 100 : tolerance;
  e->tolerance_high = percent ? fabs(e->high) * tolerance / 100 : tolerance;
}

/// What may follow an expectation.
static void read_rest(comparison* c, expectation* e) {
  line* at = &c->bench.at;
  for (const char* text = line_word(at); text; text = line_word(at)) {
    if (strcmp(text, "within") == 0) {
      read_tolerance(at, e);
    } else if (strcmp(text, "or") == 0) {
      double least = line_number(at);
      e->tolerance_low = fmax(e->tolerance_low, least);
      e->tolerance_high = fmax(e->tolerance_high, least);
    } else {
      cr_assert_str_eq(text, "off");
      e->off = line_number(at);
    }
  }
}

/// `expect FIGURE LOW [to HIGH] UNIT within ... [off VALUE]`, `expect FIGURE above FIGURE|NUMBER
/// [off VALUE]`, `expect FIGURE below ...`.
static void read_expect(comparison* c) {
  cr_expect(!c->owes_reason, "%s: says off, but not because of what", c->id);
  line* at = &c->bench.at;
  expectation e = {.unit = "", .off = NAN, .high = INFINITY};
  e.name = line_word(at);
  e.found = value_of(c, e.name);
  const char* text = line_word(at);
  cr_assert_not_null(text, "%s: nothing is expected", c->id);
  if (strcmp(text, "above") == 0) {
    e.low = value_of(c, line_word(at));
  } else {
    e.low = e.high = value_of(c, text);
    e.unit = line_word(at);
    if (strcmp(e.unit, "to") == 0) {
      e.high = line_number(at);
      e.unit = line_word(at);
    }
  }
  read_rest(c, &e);
  check(c, &e);
}

static void begin_case(comparison* c) {
  cr_expect(!c->owes_reason, "%s: says off, but not because of what", c->id);
  c->owes_reason = false;
  snprintf(c->id, sizeof c->id, "%s", line_word(&c->bench.at));
  c->figure_count = 0;
  c->bench.posture = (why_angles){0};
}

static void read_line(void* user, const char* first) {
  comparison* c = user;
  if (strcmp(first, "case") == 0)
    begin_case(c);
  else if (strcmp(first, "posture") == 0)
    quantity_read_angles(&c->bench, &c->bench.posture);
  else if (strcmp(first, "figure") == 0)
    read_figure(c);
  else if (strcmp(first, "expect") == 0)
    read_expect(c);
  else if (strcmp(first, "because") == 0)
    c->owes_reason = false;
  else
    cr_assert(strcmp(first, "says") == 0 || strcmp(first, "source") == 0 ||
                  strcmp(first, "conditions") == 0,
              "%s: unknown word: %s", c->id, first);
}

/// Compare every figure of a file; `expected` and `off` are how many it has and how many are known
/// to be off, so that none is lost and the state can be read here.
static void compare(const char* file, size_t expected, size_t off) {
  why_arena* arena = why_arena_new(0);
  why_problems* problems = why_problems_new();
  why_tables* tables = NULL;
  why_tables_open(WHY_HOME, NULL, arena, problems, &tables);
  comparison c = {.bench = {.arena = arena}};
  cr_assert_eq(
      why_body_model_new(why_frame_new(tables, arena), tables, 0, 0, arena, &c.bench.model),
      WHY_OK);
  cr_assert_eq(why_muscles_new(c.bench.model, arena, &c.bench.muscles), WHY_OK);
  cr_assert_eq(why_sharer_new(c.bench.muscles, arena, &c.bench.sharer), WHY_OK);
  c.bench.at.symbols = tables->symbols;
  line_each(&c.bench.at, why_arena_print(arena, "%s/tests/reference/%s", WHY_HOME, file), read_line,
            &c);
  cr_expect(!c.owes_reason, "%s: says off, but not because of what", c.id);
  if (getenv("WHY_SHOW"))
    fprintf(stderr, "%s: %zu figures, %zu outside their tolerance\n", file, c.tried, c.off);
  cr_expect_eq(c.tried, expected, "%s holds %zu figures", file, c.tried);
  cr_expect_eq(c.off, off, "%s says of %zu figures that they are off", file, c.off);
  why_problems_free(problems);
  why_arena_free(arena);
}

Test(published, arms_of_legs) {
  compare("arms/legs.txt", 50, 5);
}

Test(published, arms_of_shoulder_and_elbow) {
  compare("arms/arms.txt", 88, 8);
}

Test(published, lengths_of_hamstrings) {
  compare("arms/lengths.txt", 24, 9);
}

Test(published, strength_of_legs) {
  compare("strength/legs.txt", 35, 13);
}

Test(published, strength_of_arms) {
  compare("strength/arms.txt", 29, 8);
}

Test(published, strength_of_trunk_and_neck) {
  compare("strength/trunk.txt", 18, 8);
}

Test(published, architecture_of_legs) {
  compare("architecture/legs.txt", 69, 31);
}

Test(published, architecture_of_arms) {
  compare("architecture/arms.txt", 16, 3);
}

Test(published, moments_of_lifts) {
  compare("lifts/moments.txt", 44, 7);
}

Test(published, places_of_largest_demand) {
  compare("lifts/places.txt", 37, 1);
}
