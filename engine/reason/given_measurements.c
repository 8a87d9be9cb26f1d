// SPDX-License-Identifier: GPL-3.0-or-later
// Figures of evidence/measurements that rules compare with, so that no number stands twice.
#include "reason.h"

#include <math.h>

/// A figure without an interval is one from itself to itself; a bound alone stands for both.
static void give(why_giver* giver, const why_measurement* row, const why_measured_figure* figure) {
  const why_amount* amount = &figure->amount;
  double low = isfinite(amount->low) ? amount->low : amount->value;
  double high = isfinite(amount->high) ? amount->high : amount->value;
  if (isfinite(low) && isfinite(high))
    WHY_GIVE(giver, "figure", figure->place, WHY_SYM(row->id), WHY_TEXT(figure->name), WHY_NUM(low),
             WHY_NUM(high));
}

void why_given_measurements(why_giver* giver) {
  const why_measurement_table* table = &giver->tables->measurements;
  for (size_t i = 0; i < table->measurements.count; i++) {
    const why_measurement* row = &table->measurements.at[i];
    for (size_t k = 0; k < row->figures.count; k++)
      give(giver, row, &row->figures.at[k]);
  }
  for (size_t i = 0; i < table->quantities.count; i++) {
    const why_quantity* quantity = &table->quantities.at[i];
    if (!quantity->of && isfinite(quantity->amount.value))
      WHY_GIVE(giver, "quantity", quantity->place, WHY_SYM(quantity->id),
               WHY_NUM(quantity->amount.value));
  }
}
