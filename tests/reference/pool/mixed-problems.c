// SPDX-License-Identifier: GPL-3.0-or-later
// Writes problems for a mixed model with our answers, for another program to solve: the findings of
// the knowledge base with effects of study, arm and cell (exercise and muscle as measured), and
// random ones with crossed and nested effects. As JSON on standard output.
// Usage: mixed-problems KNOWLEDGE-FOLDER
#include "pool/pool.h"

#include <jansson.h>
#include <math.h>
#include <stdio.h>

typedef struct {
  why_arena* arena;
  why_mixed_data data;
  why_symbols* symbols;      ///< Names of levels, one table for all.
  why_symbol_list levels[3]; ///< Of each term.
} problem;

static size_t level_of(problem* p, size_t term, const char* name) {
  why_symbol symbol = why_symbols_add(p->symbols, name);
  why_symbol_list* levels = &p->levels[term];
  for (size_t i = 0; i < levels->count; i++)
    if (levels->at[i] == symbol)
      return i;
  *WHY_LIST_ADD(p->arena, *levels) = symbol;
  p->data.terms.at[term].level_count = levels->count;
  return levels->count - 1;
}

static void add_level(problem* p, size_t row, size_t term, const char* name) {
  size_t level = level_of(p, term, name);
  *WHY_LIST_ADD(p->arena, p->data.parts) = (why_mixed_part){row, term, level, 1};
}

static problem new_problem(why_arena* arena, size_t rows, size_t fixed, double** y, double** x) {
  problem p = {.arena = arena, .symbols = why_symbols_new(arena, NULL, 1)};
  static const char* const NAMES[] = {"study", "arm", "cell"};
  for (size_t k = 0; k < 3; k++)
    *WHY_LIST_ADD(arena, p.data.terms) = (why_mixed_term){.name = NAMES[k]};
  p.data.fixed_count = fixed;
  p.data.y = *y = WHY_NEW_ARRAY(arena, double, rows);
  p.data.x = *x = WHY_NEW_ARRAY(arena, double, rows* fixed);
  return p;
}

/// What the arm trained, if it is one exercise.
static const char* exercise_of(const why_tables* tables, const why_arm* arm) {
  return !arm->control && arm->trained.count == 1
             ? why_symbols_text(tables->symbols, arm->trained.at[0].exercise)
             : "";
}

static void add_block(problem* p, const why_findings* findings, const why_finding* const* kept,
                      size_t first) {
  size_t count = p->data.row_count - first;
  double* covariance = WHY_NEW_ARRAY(p->arena, double, count* count);
  for (size_t i = 0; i < count; i++)
    for (size_t j = 0; j < count; j++)
      covariance[i * count + j] =
          why_finding_covariance(findings, kept[first + i], kept[first + j]);
  *WHY_LIST_ADD(p->arena, p->data.blocks) = (why_mixed_block){first, count, covariance};
}

/// Findings after one exercise, with weeks and training as moderators.
static problem from_findings(const why_tables* tables, const why_findings* findings,
                             why_arena* arena) {
  double* y;
  double* x;
  problem p = new_problem(arena, findings->rows.count, 3, &y, &x);
  const why_finding** kept = WHY_NEW_ARRAY(arena, const why_finding*, findings->rows.count);
  size_t first = 0;
  for (size_t i = 0; i < findings->rows.count; i++) {
    const why_finding* f = &findings->rows.at[i];
    const char* exercise = exercise_of(tables, f->arm);
    if (!exercise[0] || !isfinite(f->weeks))
      continue;
    size_t row = p.data.row_count;
    if (row > first && kept[row - 1]->study != f->study) {
      add_block(&p, findings, kept, first);
      first = row;
    }
    kept[row] = f;
    y[row] = f->log_growth;
    x[3 * row] = 1;
    x[3 * row + 1] = (f->weeks - 10) / 10;
    x[3 * row + 2] = f->study->training == why_symbols_find(tables->symbols, "trained");
    const char* study = why_symbols_text(tables->symbols, f->study->id);
    add_level(&p, row, 0, study);
    add_level(
        &p, row, 1,
        why_arena_print(arena, "%s/%s", study, why_symbols_text(tables->symbols, f->arm->id)));
    add_level(&p, row, 2,
              why_arena_print(arena, "%s/%s", exercise,
                              why_symbols_text(tables->symbols, f->result->muscle)));
    p.data.row_count++;
  }
  add_block(&p, findings, kept, first);
  return p;
}

/// A number from 0 to 1; "A PRNG... minimal standard", as in the C standard's example but wider.
static double drawn(unsigned long long* seed) {
  *seed = *seed * 6364136223846793005ULL + 1442695040888963407ULL;
  return (double)(*seed >> 11) / 9007199254740992.0;
}

/// About normal: the sum of twelve.
static double normal(unsigned long long* seed) {
  double sum = -6;
  for (int i = 0; i < 12; i++)
    sum += drawn(seed);
  return sum;
}

static problem at_random(unsigned long long seed, why_arena* arena) {
  enum { STUDIES = 25, CELLS = 12, MOST = 200 };
  double* y;
  double* x;
  problem p = new_problem(arena, MOST, 2, &y, &x);
  double cells[CELLS];
  double spread[3];
  for (int k = 0; k < 3; k++)
    spread[k] = drawn(&seed) < 0.3 ? 0 : drawn(&seed);
  for (int i = 0; i < CELLS; i++)
    cells[i] = spread[2] * normal(&seed);
  for (int s = 0; s < STUDIES; s++) {
    size_t first = p.data.row_count;
    double study = spread[0] * normal(&seed);
    int arms = 1 + (int)(3 * drawn(&seed));
    for (int a = 0; a < arms; a++) {
      double arm = spread[1] * normal(&seed);
      for (int f = 0; f < 2; f++) {
        size_t row = p.data.row_count++;
        int cell = (int)(CELLS * drawn(&seed));
        x[2 * row] = 1;
        x[2 * row + 1] = normal(&seed);
        y[row] = 0.5 + 0.3 * x[2 * row + 1] + study + arm + cells[cell] + 0.3 * normal(&seed);
        add_level(&p, row, 0, why_arena_print(arena, "s%d", s));
        add_level(&p, row, 1, why_arena_print(arena, "s%d a%d", s, a));
        add_level(&p, row, 2, why_arena_print(arena, "c%d", cell));
      }
    }
    size_t count = p.data.row_count - first;
    double* covariance = WHY_NEW_ARRAY(arena, double, count* count);
    for (size_t i = 0; i < count * count; i++)
      covariance[i] = i % (count + 1) == 0 ? 0.09 : 0.03;
    *WHY_LIST_ADD(arena, p.data.blocks) = (why_mixed_block){first, count, covariance};
  }
  return p;
}

/// Studies that differ in level and in slope, both correlated: terms study and arm of the others
/// are here intercept and slope, the third term has no rows.
static problem with_slopes(unsigned long long seed, why_arena* arena) {
  enum { STUDIES = 30, EACH = 6 };
  double* y;
  double* x;
  problem p = new_problem(arena, STUDIES * EACH, 2, &y, &x);
  double* variance = WHY_NEW(arena, double);
  *variance = 0.04;
  p.data.terms.at[1].with = 1;
  for (int s = 0; s < STUDIES; s++) {
    double level = 0.4 * normal(&seed);
    double slope = 0.5 * level + 0.2 * normal(&seed);
    for (int i = 0; i < EACH; i++) {
      size_t row = p.data.row_count++;
      x[2 * row] = 1;
      x[2 * row + 1] = normal(&seed);
      y[row] = 1 + level + (0.5 + slope) * x[2 * row + 1] + 0.2 * normal(&seed);
      add_level(&p, row, 0, why_arena_print(arena, "s%d", s));
      add_level(&p, row, 1, why_arena_print(arena, "s%d", s));
      p.data.parts.at[p.data.parts.count - 1].weight = x[2 * row + 1];
      *WHY_LIST_ADD(arena, p.data.blocks) = (why_mixed_block){row, 1, variance};
    }
  }
  p.data.terms.count = 2;
  return p;
}

static json_t* numbers(const double* at, size_t count) {
  json_t* array = json_array();
  for (size_t i = 0; i < count; i++)
    json_array_append_new(array, json_real(at[i]));
  return array;
}

static json_t* told(const problem* p, const char* id, bool plain) {
  why_mixed_fit fit;
  why_mixed_trouble trouble;
  why_mixed_settings settings = {.plain = plain};
  if (why_mixed_fit_data(&p->data, &settings, p->arena, &trouble, &fit) != WHY_OK)
    return NULL;
  json_t* blocks = json_array();
  for (size_t k = 0; k < p->data.blocks.count; k++) {
    const why_mixed_block* block = &p->data.blocks.at[k];
    json_array_append_new(blocks, numbers(block->covariance, block->count * block->count));
  }
  json_t* levels = json_array();
  for (size_t i = 0; i < p->data.parts.count; i++) // Three a row, in the order of the terms.
    json_array_append_new(levels, json_integer((json_int_t)p->data.parts.at[i].level + 1));
  double components[3];
  for (size_t k = 0; k < 3; k++) // With slopes the third is the covariance.
    components[k] = fit.components[k].value;
  return json_pack("{s:s, s:b, s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:f, s:b, s:I, s:I}", "id", id,
                   "plain", plain, "y", numbers(p->data.y, p->data.row_count), "x",
                   numbers(p->data.x, p->data.row_count * p->data.fixed_count), "blocks", blocks,
                   "levels", levels, "components", numbers(components, 3), "coefficients",
                   numbers(fit.coefficients, fit.fixed_count), "covariance",
                   numbers(fit.covariance, fit.fixed_count * fit.fixed_count), "log_likelihood",
                   fit.log_likelihood, "settled", fit.settled, "starts_agreed",
                   (json_int_t)fit.starts_agreed, "starts", (json_int_t)fit.starts);
}

int main(int count, char** words) {
  why_arena* arena = why_arena_new(0);
  why_problems* problems = why_problems_new();
  why_read_settings settings = {0};
  why_tables* tables;
  why_findings findings;
  why_imputing imputing = why_imputing_usual();
  if (count != 2 || why_tables_open(words[1], &settings, arena, problems, &tables) != WHY_OK ||
      why_findings_collect(tables, &imputing, arena, &findings) != WHY_OK) {
    fputs("usage: mixed-problems KNOWLEDGE-FOLDER\n", stderr);
    return 2;
  }
  json_t* all = json_array();
  problem own = from_findings(tables, &findings, arena);
  json_array_append_new(all, told(&own, "findings", false));
  json_array_append_new(all, told(&own, "findings", true));
  for (unsigned i = 1; i <= 8; i++) {
    problem p = at_random(i, arena);
    json_array_append_new(all, told(&p, why_arena_print(arena, "random %u", i), i % 4 == 0));
  }
  for (unsigned i = 1; i <= 2; i++) {
    problem p = with_slopes(i, arena);
    json_array_append_new(all, told(&p, why_arena_print(arena, "slopes %u", i), i == 2));
  }
  json_dumpf(all, stdout, JSON_REAL_PRECISION(17) | JSON_COMPACT);
  json_decref(all);
  why_problems_free(problems);
  why_arena_free(arena);
  return 0;
}
