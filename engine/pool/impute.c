// SPDX-License-Identifier: GPL-3.0-or-later
// Looks up what to impute; a way of measuring is known by its image and its quantity.
#include "impute.h"

#include <math.h>
#include <stdio.h>

why_imputing why_imputing_usual(void) {
  return (why_imputing){NAN, NAN, NAN};
}

/// The value of a quantity for something; NAN when there is none.
static double quantity(const why_tables* tables, const char* id, const char* of) {
  const why_quantity* row = why_quantity_find(&tables->measurements, tables->symbols, id,
                                              why_symbols_find(tables->symbols, of));
  return row ? row->amount.value : NAN;
}

static void fill(const why_tables* tables, const char* id, double* value) {
  if (isnan(*value))
    *value = quantity(tables, id, "");
}

why_status why_imputing_fill(const why_tables* tables, why_imputing* imputing) {
  fill(tables, "head-correlation", &imputing->head_correlation);
  fill(tables, "limb-correlation", &imputing->limb_correlation);
  bool known = isfinite(imputing->head_correlation) && isfinite(imputing->limb_correlation);
  return known ? WHY_OK : WHY_KNOWLEDGE;
}

why_status why_usual_of(const why_tables* tables, const why_imputing* imputing, why_symbol method,
                        why_usual* usual) {
  const why_method* row = why_method_find(&tables->measured_muscles, method);
  const char* image = row ? why_symbols_text(tables->symbols, row->image) : "";
  const char* measured = row ? why_symbols_text(tables->symbols, row->quantity) : "";
  char both[64];
  snprintf(both, sizeof both, "%s-%s", image, measured);
  usual->correlation = imputing->pre_post_correlation;
  if (isnan(usual->correlation))
    usual->correlation = quantity(tables, "pre-post-correlation", image);
  usual->spread = quantity(tables, "change-spread", both) / 100;
  bool known = isfinite(usual->correlation) && isfinite(usual->spread);
  return known ? WHY_OK : WHY_KNOWLEDGE;
}
