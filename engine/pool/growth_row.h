// SPDX-License-Identifier: GPL-3.0-or-later
/// Findings as rows of the growth model: which heads, which exercises, how many weekly sets, and
/// what mechanics says of each. Private to pool.
#ifndef WHY_POOL_GROWTH_ROW_H
#define WHY_POOL_GROWTH_ROW_H

#include "finding.h"
#include "growth_feature.h"

/// One exercise for one head in an arm.
typedef struct {
  size_t exercise; ///< Index in the tables, as head below.
  size_t cell;     ///< Number of (exercise, head) among all cells of the rows.
  double share;    ///< Of the head's weekly sets in the arm; of one head they sum to 1.
  why_work work;
} why_bout;

/// One head in a finding.
typedef struct {
  size_t head;
  double weight; ///< Share of the volume that was measured; of one row they sum to 1.
  double sets;   ///< Weekly sets that work it; sets of exercises that work it less count less.
  WHY_LIST(why_bout) bouts; ///< None: it was not trained.
} why_grown_head;

typedef enum { WHY_SIZE_AREA, WHY_SIZE_THICKNESS, WHY_SIZE_VOLUME, WHY_SIZES } why_size;

/// Growth of one muscle in an arm; or, of a study that prints nothing but differences between arms,
/// such a difference.
typedef struct why_growth_row {
  const why_finding* finding; ///< NULL: a difference.
  const why_study* of_study;
  const why_arm* of_arm;
  double log_growth; ///< Or the difference.
  double variance;
  size_t study; ///< Number among the studies of the rows.
  size_t arm;   ///< Number among their arms.
  why_size size;
  double weeks;
  double trained; ///< 0 people new to training, 1 trained.
  WHY_LIST(why_grown_head) heads;
  const struct why_growth_row* minus; ///< The other arm of a difference.
} why_growth_row;

/// A cell and what is known of it.
typedef struct {
  size_t exercise;
  size_t head;
  size_t rows;      ///< Rows that it has a part in.
  size_t main_rows; ///< Rows that speak for it: see why_growth_is_main.
} why_cell;

typedef struct {
  WHY_LIST(why_growth_row) rows; ///< In the order of the findings; each study together.
  WHY_LIST(why_cell) cells;
  size_t study_count;
  size_t arm_count;
  size_t head_count;     ///< Of the tables.
  size_t* cell_of;       ///< 1 + cell of exercise · head_count + head; 0: none.
  size_t* head_rows;     ///< Rows in which a head is a good part of what was measured.
  double usual_sets;     ///< Median of known sets a session of one text, used where none is given.
  double usual_sessions; ///< Median of known sessions a week.
  size_t sets_imputed;   ///< Rows with imputed sets or sessions,
  size_t weeks_imputed;  ///< or weeks.
  size_t differences;    ///< Rows that are differences.
  size_t unknown_training; ///< Findings that make no row: what was trained is not in the catalogue.
} why_growth_rows;

void why_growth_rows_collect(const why_tables* tables, const why_findings* findings,
                             why_workbook* book, why_arena* arena, why_growth_rows* rows);

/// Sampling covariance of two rows. Differences that one study prints correlate as heads do.
double why_growth_rows_covariance(const why_findings* findings, const why_growth_row* a,
                                  const why_growth_row* b);

/// Whether the people of a study count as trained before.
bool why_growth_is_trained(const why_tables* tables, const why_study* study);

/// Whether most sets of the head are of the bout's exercise and the head is a good part of what was
/// measured: the row then speaks for both.
bool why_growth_is_main(const why_grown_head* grown, const why_bout* bout);

/// The cell of an exercise and a head (indexes in the tables), or NULL.
const why_cell* why_growth_cell(const why_growth_rows* rows, size_t exercise, size_t head);

#endif
