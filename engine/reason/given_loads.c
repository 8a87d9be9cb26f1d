// SPDX-License-Identifier: GPL-3.0-or-later
// How the load of one exercise follows from that of another, where somebody has measured it or
// coaches agree; from evidence/measurements/load-transfer.xml.
#include "reason.h"

#include <math.h>
#include <string.h>

static const double PIECES = 2; ///< One in each hand.

static void give_factor(why_giver* giver, const why_load_relation* row, const why_load_pair* pair) {
  double pieces = pair->each ? PIECES : 1;
  double low = isfinite(row->factor.low) ? row->factor.low : row->factor.value;
  double high = isfinite(row->factor.high) ? row->factor.high : row->factor.value;
  bool of_body = strcmp(row->factor.unit, "of body mass") == 0;
  if (isfinite(low) && isfinite(high))
    WHY_GIVE(giver, of_body ? "load-as-body" : "load-ratio", pair->place, WHY_SYM(row->id),
             WHY_SYM(pair->from), WHY_SYM(pair->to), WHY_NUM(low * pieces), WHY_NUM(high * pieces),
             WHY_SYM(row->source), WHY_SYM(row->basis));
}

static void give_line(why_giver* giver, const why_load_relation* row, const why_load_pair* pair) {
  if (isfinite(row->constant) && isfinite(row->slope))
    WHY_GIVE(giver, "load-line", pair->place, WHY_SYM(row->id), WHY_SYM(pair->from),
             WHY_SYM(pair->to), WHY_NUM(row->constant), WHY_NUM(row->slope),
             WHY_NUM(isfinite(row->error) ? row->error : 0), WHY_SYM(row->source));
}

void why_given_loads(why_giver* giver) {
  const why_measurement_table* table = &giver->tables->measurements;
  for (size_t i = 0; i < table->relations.count; i++) {
    const why_load_relation* row = &table->relations.at[i];
    for (size_t k = 0; k < row->pairs.count && !*row->left_out; k++) {
      give_factor(giver, row, &row->pairs.at[k]);
      give_line(giver, row, &row->pairs.at[k]);
    }
  }
}
