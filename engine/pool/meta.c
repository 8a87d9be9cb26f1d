// SPDX-License-Identifier: GPL-3.0-or-later
// Puts estimator, intervals and heterogeneity of one meta-analysis together.
#include "meta.h"

#include <math.h>

why_pooling why_pooling_usual(void) {
  return (why_pooling){WHY_TAU_REML, WHY_TEST_HARTUNG_KNAPP_GUARDED, 1e-10, 200};
}

static void add_spread(why_meta* meta) {
  why_regression* regression = &meta->regression;
  meta->tau2_low = why_spread_tau2_at(regression, 0.975, meta->how.share, meta->how.most);
  meta->tau2_high = why_spread_tau2_at(regression, 0.025, meta->how.share, meta->how.most);
  meta->spread = why_spread_of(regression, meta->how.method, meta->tau2);
  meta->i2_low_pct = why_spread_i2_pct(&meta->spread, meta->tau2_low);
  meta->i2_high_pct = why_spread_i2_pct(&meta->spread, meta->tau2_high);
}

why_status why_meta_pool(const why_effects* effects, const why_pooling* how, why_arena* arena,
                         why_meta* meta) {
  why_tau tau;
  *meta = (why_meta){.how = *how};
  if (effects->count < effects->columns || !effects->count)
    return WHY_QUESTION;
  why_regression_init(effects, arena, &meta->regression);
  why_tau_set(&tau, how->method, &meta->regression);
  if (!tau.determined)
    return WHY_QUESTION;
  meta->settled = why_tau_settle(&tau, how->share, how->most);
  meta->tau2 = tau.tau2;
  meta->tau2_error = why_tau_error(&tau);
  meta->residual = tau.residual;
  meta->steps = tau.steps;
  add_spread(meta);
  meta->mean = why_interval_coefficient(&meta->regression, 0, how->test);
  meta->new_study =
      why_interval_new_study(&meta->mean, meta->tau2, why_regression_df(&meta->regression) - 1);
  meta->hartung_knapp = why_interval_factor(&meta->regression, WHY_TEST_HARTUNG_KNAPP);
  why_interval plain = why_interval_coefficient(&meta->regression, 0, WHY_TEST_NORMAL);
  why_interval scaled = why_interval_coefficient(&meta->regression, 0, WHY_TEST_HARTUNG_KNAPP);
  meta->narrowed = scaled.high - scaled.low < plain.high - plain.low;
  return WHY_OK;
}

double why_meta_weight_pct(const why_meta* meta, size_t i) {
  double sum = 0;
  for (size_t k = 0; k < meta->regression.effects->count; k++)
    sum += meta->regression.weight[k];
  return 100 * meta->regression.weight[i] / sum;
}

double why_meta_mode(const why_meta* meta, size_t i, double* error) {
  const why_regression* regression = &meta->regression;
  double own = meta->tau2 * regression->weight[i];
  double of_mean = (1 - own) * (1 - own) * regression->hat[i] / regression->weight[i];
  double factor = why_interval_factor(regression, meta->how.test);
  *error = sqrt(own * regression->effects->variance[i] + factor * of_mean);
  return regression->effects->effect[i] - (1 - own) * regression->residual[i];
}

double why_meta_explained_pct(const why_meta* with, const why_meta* without) {
  return without->tau2 > 0 ? 100 * fmax(0, 1 - with->tau2 / without->tau2) : 0;
}
