// SPDX-License-Identifier: GPL-3.0-or-later
// From findings to rows of the growth model.
#include "growth_row.h"
#include "distribution.h"
#include "impute.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/// Stress that mechanics cannot tell from none: so much every exercise has for every head when
/// sets are counted. Half the share of a mover's moment (common practice: an assisting set counts
/// half).
static const double LEAST_STRESS = 0.05;

/// A head is a good part of what was measured from this share of its volume on.
static const double GOOD_PART = 0.2;

/// Usual length of a study, weeks, where none is known (the standard conditions of an estimate).
static const double USUAL_WEEKS = 10;

/// Findings of arms of which less is known than this share of the sets make no row.
static const double KNOWN_SHARE = 0.5;

typedef struct {
  const why_tables* tables;
  why_workbook* book;
  why_arena* arena;
  why_growth_rows* rows;
} collector;

typedef WHY_LIST(double) numbers;

static int by_size(const void* a, const void* b) {
  double x = *(const double*)a;
  double y = *(const double*)b;
  return (x > y) - (x < y);
}

static double median(const numbers* list, double otherwise) {
  if (!list->count)
    return otherwise;
  qsort(list->at, list->count, sizeof *list->at, by_size);
  size_t half = list->count / 2;
  return list->count % 2 ? list->at[half] : (list->at[half - 1] + list->at[half]) / 2;
}

static void find_usual(collector* c) {
  numbers sets = {0};
  numbers sessions = {0};
  for (size_t i = 0; i < c->tables->studies.rows.count; i++) {
    const why_study* study = &c->tables->studies.rows.at[i];
    if (isfinite(study->sessions_per_week))
      *WHY_LIST_ADD(c->arena, sessions) = study->sessions_per_week;
    for (size_t j = 0; j < study->arms.count; j++)
      for (size_t k = 0; k < study->arms.at[j].trained.count; k++)
        if (isfinite(study->arms.at[j].trained.at[k].sets_per_session))
          *WHY_LIST_ADD(c->arena, sets) = study->arms.at[j].trained.at[k].sets_per_session;
  }
  c->rows->usual_sets = median(&sets, 3);
  c->rows->usual_sessions = median(&sessions, 2);
}

/// Sets a session of one exercise: those of its text, parted among the exercises of that text.
static double sets_of(const collector* c, const why_arm* arm, const why_trained* did,
                      bool* imputed) {
  double text_share = 0;
  size_t of_text = 0;
  for (size_t i = 0; i < arm->trained.count; i++)
    if (strcmp(arm->trained.at[i].as_written, did->as_written) == 0) {
      text_share += isfinite(arm->trained.at[i].share) ? arm->trained.at[i].share : 0;
      of_text++;
    }
  if (!isfinite(did->sets_per_session)) {
    *imputed = true;
    return c->rows->usual_sets;
  }
  double part =
      text_share > 0 && isfinite(did->share) ? did->share / text_share : 1 / (double)of_text;
  return did->sets_per_session * part;
}

static double known_share(const why_arm* arm) {
  size_t known = 0;
  for (size_t i = 0; i < arm->trained.count; i++)
    known += arm->trained.at[i].exercise != 0;
  return arm->trained.count ? (double)known / (double)arm->trained.count : 0;
}

static size_t cell_number(collector* c, size_t exercise, size_t head) {
  size_t* kept = &c->rows->cell_of[exercise * c->rows->head_count + head];
  if (!*kept) {
    *WHY_LIST_ADD(c->arena, c->rows->cells) = (why_cell){.exercise = exercise, .head = head};
    *kept = c->rows->cells.count;
  }
  return *kept - 1;
}

/// Weekly sets of the head: an exercise that works it less than the one that works it most counts
/// by the proportion.
static void count_sets(why_grown_head* grown) {
  double most = 0;
  for (size_t i = 0; i < grown->bouts.count; i++)
    most = fmax(most, grown->bouts.at[i].work.stress);
  for (size_t i = 0; i < grown->bouts.count; i++) {
    why_bout* bout = &grown->bouts.at[i];
    bout->share *= (bout->work.stress + LEAST_STRESS) / (most + LEAST_STRESS);
    grown->sets += bout->share;
  }
  for (size_t i = 0; i < grown->bouts.count; i++)
    grown->bouts.at[i].share /= grown->sets;
}

static void add_bouts(collector* c, const why_growth_row* row, why_grown_head* grown,
                      bool* imputed) {
  const why_arm* arm = row->of_arm;
  double sessions = row->of_study->sessions_per_week;
  if (!isfinite(sessions)) {
    sessions = c->rows->usual_sessions;
    *imputed = true;
  }
  for (size_t i = 0; i < arm->trained.count; i++) {
    const why_trained* did = &arm->trained.at[i];
    const why_exercise* exercise = why_exercise_find(&c->tables->exercises, did->exercise);
    double sets = sets_of(c, arm, did, imputed) * sessions;
    if (!did->exercise || !exercise || !(sets > 0))
      continue;
    size_t index = (size_t)(exercise - c->tables->exercises.rows.at);
    *WHY_LIST_ADD(c->arena, grown->bouts) =
        (why_bout){index, cell_number(c, index, grown->head), sets,
                   why_workbook_trained(c->book, index, did)[grown->head]};
  }
  if (grown->bouts.count)
    count_sets(grown);
}

/// The heads that were measured, by their volume.
static void add_heads(collector* c, const why_symbol_list* heads, why_growth_row* row) {
  const why_anatomy* anatomy = &c->tables->anatomy;
  double whole = 0;
  bool complete = true;
  for (size_t i = 0; i < heads->count; i++) {
    const why_head* head = why_head_find(anatomy, heads->at[i]);
    complete &= isfinite(head->volume_cm3.value) && head->volume_cm3.value > 0;
    whole += head->volume_cm3.value;
  }
  for (size_t i = 0; i < heads->count; i++) {
    const why_head* head = why_head_find(anatomy, heads->at[i]);
    *WHY_LIST_ADD(c->arena, row->heads) = (why_grown_head){
        .head = (size_t)(head - anatomy->heads.at),
        .weight = complete ? head->volume_cm3.value / whole : 1 / (double)heads->count};
  }
}

bool why_growth_is_main(const why_grown_head* grown, const why_bout* bout) {
  return grown->weight >= GOOD_PART && bout->share > 0.5;
}

static void count_cells(why_growth_rows* rows, const why_growth_row* row) {
  for (size_t i = 0; i < row->heads.count; i++) {
    const why_grown_head* grown = &row->heads.at[i];
    rows->head_rows[grown->head] += grown->weight >= GOOD_PART && grown->bouts.count;
    for (size_t j = 0; j < grown->bouts.count; j++) {
      why_cell* cell = &rows->cells.at[grown->bouts.at[j].cell];
      cell->rows++;
      cell->main_rows += why_growth_is_main(grown, &grown->bouts.at[j]);
    }
  }
}

static why_size size_of(const collector* c, const why_finding* finding) {
  const why_method* method = why_method_find(&c->tables->measured_muscles, finding->result->method);
  const why_symbols* symbols = c->tables->symbols;
  if (method && method->quantity == why_symbols_find(symbols, "thickness"))
    return WHY_SIZE_THICKNESS;
  if (method && method->quantity == why_symbols_find(symbols, "volume"))
    return WHY_SIZE_VOLUME;
  return WHY_SIZE_AREA;
}

bool why_growth_is_trained(const why_tables* tables, const why_study* study) {
  return study->training == why_symbols_find(tables->symbols, "trained") ||
         study->training == why_symbols_find(tables->symbols, "athletes");
}

/// Number of the study, which stands together, and of the arm among its rows, which may have been
/// met already.
static void number_row(why_growth_rows* rows, bool same_study, why_growth_row* row) {
  size_t before = rows->rows.count;
  const why_growth_row* last = before ? &rows->rows.at[before - 1] : NULL;
  rows->study_count += !same_study && (!last || last->of_study != row->of_study);
  row->study = rows->study_count - 1;
  row->arm = rows->arm_count;
  for (size_t i = before; i-- > 0 && rows->rows.at[i].study == row->study;) {
    const why_growth_row* each = &rows->rows.at[i];
    if (each->of_arm == row->of_arm)
      row->arm = each->arm;
    else if (each->minus && each->minus->of_arm == row->of_arm)
      row->arm = each->minus->arm;
  }
  rows->arm_count += row->arm == rows->arm_count;
}

/// What an arm did for the heads that were measured. False when that is not known.
static bool fill_row(collector* c, const why_symbol_list* heads, why_growth_row* row) {
  why_growth_rows* rows = c->rows;
  if (!row->of_arm->control && known_share(row->of_arm) < KNOWN_SHARE) {
    rows->unknown_training++;
    return false;
  }
  row->trained = why_growth_is_trained(c->tables, row->of_study);
  if (!(row->weeks > 0)) {
    row->weeks = USUAL_WEEKS;
    rows->weeks_imputed++;
  }
  add_heads(c, heads, row);
  bool imputed = false;
  for (size_t i = 0; i < row->heads.count && !row->of_arm->control; i++)
    add_bouts(c, row, &row->heads.at[i], &imputed);
  rows->sets_imputed += imputed;
  count_cells(rows, row);
  return true;
}

static void add_finding(collector* c, const why_finding* finding) {
  why_growth_row row = {.finding = finding,
                        .of_study = finding->study,
                        .of_arm = finding->arm,
                        .log_growth = finding->log_growth,
                        .variance = finding->variance,
                        .size = size_of(c, finding),
                        .weeks = finding->weeks};
  if (!fill_row(c, &finding->heads, &row))
    return;
  number_row(c->rows, false, &row);
  *WHY_LIST_ADD(c->arena, c->rows->rows) = row;
}

/// Variance of a standardised difference: from its interval, else from the sizes of the arms
/// (Hedges and Olkin, "Statistical Methods for Meta-Analysis", 1985, chapter 5, eq. 14; from
/// memory).
static double smd_variance(const why_contrast* contrast, const why_arm* a, const why_arm* b) {
  double width = contrast->smd_ci95.high - contrast->smd_ci95.low;
  if (width > 0)
    return pow(width / (2 * why_normal_quantile(0.975)), 2);
  return 1 / a->n + 1 / b->n + contrast->smd * contrast->smd / (2 * (a->n + b->n));
}

/// A difference in units of the spread of changes, times the spread that is usual where a study
/// does not tell it.
static void add_contrast(collector* c, const why_study* study, const why_contrast* contrast) {
  const why_arm* arms[] = {why_study_arm(study, contrast->a), why_study_arm(study, contrast->b)};
  why_symbol_list heads = why_contrast_heads(c->tables, study, contrast);
  why_imputing imputing = why_imputing_usual();
  why_usual usual;
  if (!isfinite(contrast->smd) || !arms[0] || !arms[1] || !heads.count ||
      why_contrast_uncounted(c->tables, study, contrast) ||
      why_usual_of(c->tables, &imputing, 0, &usual) != WHY_OK)
    return;
  double variance = usual.spread * usual.spread * smd_variance(contrast, arms[0], arms[1]);
  why_growth_row sides[2];
  for (int i = 0; i < 2; i++) {
    sides[i] = (why_growth_row){.of_study = study, .of_arm = arms[i], .weeks = study->weeks};
    if (!isfinite(variance) || !fill_row(c, &heads, &sides[i]))
      return;
  }
  number_row(c->rows, false, &sides[0]);
  number_row(c->rows, true, &sides[1]);
  why_growth_row* minus = WHY_NEW(c->arena, why_growth_row);
  *minus = sides[1];
  sides[0].minus = minus;
  sides[0].log_growth = contrast->smd * usual.spread;
  sides[0].variance = variance;
  *WHY_LIST_ADD(c->arena, c->rows->rows) = sides[0];
  c->rows->differences++;
}

double why_growth_rows_covariance(const why_findings* findings, const why_growth_row* a,
                                  const why_growth_row* b) {
  if (a->finding && b->finding)
    return why_finding_covariance(findings, a->finding, b->finding);
  if (a == b)
    return a->variance;
  return a->study == b->study ? findings->head_correlation * sqrt(a->variance * b->variance) : 0;
}

/// Studies of which no arm's own growth is known, but differences are.
static void add_contrasts(collector* c, const why_findings* findings) {
  for (size_t s = 0; s < c->tables->studies.rows.count; s++) {
    const why_study* study = &c->tables->studies.rows.at[s];
    bool found = false;
    for (size_t i = 0; i < findings->rows.count; i++)
      found |= findings->rows.at[i].study == study;
    for (size_t i = 0; !found && i < study->contrasts.count; i++)
      add_contrast(c, study, &study->contrasts.at[i]);
  }
}

void why_growth_rows_collect(const why_tables* tables, const why_findings* findings,
                             why_workbook* book, why_arena* arena, why_growth_rows* rows) {
  *rows = (why_growth_rows){.head_count = tables->anatomy.heads.count};
  rows->cell_of = WHY_NEW_ARRAY(arena, size_t, tables->exercises.rows.count * rows->head_count + 1);
  rows->head_rows = WHY_NEW_ARRAY(arena, size_t, rows->head_count + 1);
  collector c = {tables, book, arena, rows};
  find_usual(&c);
  for (size_t i = 0; i < findings->rows.count; i++)
    add_finding(&c, &findings->rows.at[i]);
  add_contrasts(&c, findings);
}

const why_cell* why_growth_cell(const why_growth_rows* rows, size_t exercise, size_t head) {
  size_t number = rows->cell_of[exercise * rows->head_count + head];
  return number ? &rows->cells.at[number - 1] : NULL;
}
