// SPDX-License-Identifier: GPL-3.0-or-later
// The forest plot with characters: one line a study on a common axis.
#include "forest.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { COLUMNS = 41 };

double why_percent_of_log(double log_growth) {
  return 100 * expm1(log_growth);
}

why_axis why_axis_of(const why_trial_set* set) {
  double low = fmin(0, why_percent_of_log(fmin(set->meta.mean.low, set->meta.new_study.low)));
  double high = fmax(0, why_percent_of_log(fmax(set->meta.mean.high, set->meta.new_study.high)));
  for (size_t i = 0; i < set->trials.count; i++) {
    double growth = why_percent_of_log(set->trials.at[i].growth.estimate);
    low = fmin(low, growth);
    high = fmax(high, growth);
  }
  return (why_axis){10 * floor(low / 10), 10 * ceil(fmax(high, 1) / 10)};
}

bool why_forest_is_heavy(const why_trial_set* set, const why_trial* trial) {
  return trial->weight_pct * (double)set->trials.count > 150;
}

/// The column of a value, from 0; below 0 or from COLUMNS on where it lies beyond the axis.
static int column_of(why_axis axis, double percent) {
  double at = (percent - axis.low) / (axis.high - axis.low) * (COLUMNS - 1);
  return (int)lround(fmax(-1, fmin(at, COLUMNS)));
}

const char* why_forest_line(why_axis axis, const why_interval* interval, char line, char mark,
                            why_arena* arena) {
  char* text = why_arena_alloc(arena, COLUMNS + 1);
  int low = column_of(axis, why_percent_of_log(interval->low));
  int high = column_of(axis, why_percent_of_log(interval->high));
  memset(text, ' ', COLUMNS);
  int zero = column_of(axis, 0);
  if (zero >= 0 && zero < COLUMNS)
    text[zero] = ':';
  if (isfinite(interval->low) && isfinite(interval->high))
    for (int i = low < 0 ? 0 : low; i <= high && i < COLUMNS; i++)
      text[i] = line;
  if (isfinite(interval->low) && low < 0)
    text[0] = '<';
  if (isfinite(interval->high) && high >= COLUMNS)
    text[COLUMNS - 1] = '>';
  int middle = column_of(axis, why_percent_of_log(interval->estimate));
  if (mark && middle >= 0 && middle < COLUMNS)
    text[middle] = mark;
  return text;
}

/// Write a number with its middle at its column, where there is room for it.
static void put_number(char* text, why_axis axis, double percent) {
  char digits[16];
  int length = snprintf(digits, sizeof digits, "%.0f", percent);
  int from = column_of(axis, percent) - length / 2;
  from = from < 0 ? 0 : from > COLUMNS - length ? COLUMNS - length : from;
  for (int i = from > 0 ? from - 1 : 0; i < from + length + 1 && i < COLUMNS; i++)
    if (text[i] != ' ')
      return;
  memcpy(text + from, digits, (size_t)length);
}

const char* why_forest_scale(why_axis axis, why_arena* arena) {
  char* text = why_arena_alloc(arena, COLUMNS + 1);
  memset(text, ' ', COLUMNS);
  put_number(text, axis, 0);
  put_number(text, axis, axis.low);
  put_number(text, axis, axis.high);
  for (double each = axis.low + 10; each < axis.high; each += 10)
    put_number(text, axis, each);
  return text;
}
