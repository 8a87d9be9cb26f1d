// SPDX-License-Identifier: GPL-3.0-or-later
// One set of pooled trials: a line a study for people with its numbers for programs, then what they
// say together and how far that can be trusted.
#include "trials_part.h"

#include "forest.h"

#include <math.h>

/// "7.3 (6.2 to 8.5)"
static const char* interval_words(const why_teller* t, const why_interval* interval) {
  return why_arena_print(t->arena, "%.1f (%.1f to %.1f)", why_percent_of_log(interval->estimate),
                         why_percent_of_log(interval->low), why_percent_of_log(interval->high));
}

/// "7.3 % (6.2 to 8.5)"
static const char* percent_words(const why_teller* t, const why_interval* interval) {
  return why_arena_print(t->arena, "%.1f %% (%.1f to %.1f)", why_percent_of_log(interval->estimate),
                         why_percent_of_log(interval->low), why_percent_of_log(interval->high));
}

static void add_interval(const why_teller* t, why_node* into, const char* name,
                         const why_interval* interval) {
  why_node* record = why_node_add(t->arena, into, WHY_NODE_RECORD, name);
  why_node_number(t->arena, record, "percent", why_percent_of_log(interval->estimate));
  why_node_number(t->arena, record, "low", why_percent_of_log(interval->low));
  why_node_number(t->arena, record, "high", why_percent_of_log(interval->high));
  why_node_number(t->arena, record, "log_growth", interval->estimate);
  why_node_number(t->arena, record, "error", interval->error);
}

static void add_bias(const why_teller* t, why_node* record, const why_trial* trial) {
  why_node* bias = why_node_add(t->arena, record, WHY_NODE_RECORD, "risk_of_bias");
  for (int d = 0; d < WHY_BIAS_DOMAINS; d++)
    why_node_text(t->arena, bias, why_bias_domain_id(d), why_bias_grade_id(trial->bias[d]));
}

static why_node* add_line(const why_teller* t, why_node* list, const char* sketch,
                          const char* words) {
  why_node* line = why_node_words(t->arena, list, WHY_ROLE_ROW, words);
  line->sketch = sketch;
  return line;
}

static void add_trial(const why_teller* t, why_node* list, const why_trial_set* set, why_axis axis,
                      const why_trial* trial) {
  const why_composite* composite = trial->composite;
  why_arena* arena = t->arena;
  why_node* record = why_node_add(arena, list, WHY_NODE_RECORD, NULL);
  record->role = WHY_ROLE_ROW;
  record->sketch = why_forest_line(axis, &trial->growth, '-',
                                   why_forest_is_heavy(set, trial) ? 'O' : 'o', arena);
  record->words = why_arena_print(arena, "%s\t%.1f\t%s", interval_words(t, &trial->growth),
                                  trial->weight_pct, why_teller_id(t, composite->sample));
  why_node_text(arena, record, "study", why_teller_id(t, composite->sample));
  why_node_number(arena, record, "arms", (double)composite->arms);
  why_node_number(arena, record, "findings", (double)composite->findings.count);
  why_node_number(arena, record, "people", composite->people);
  why_node_number(arena, record, "weeks", composite->weeks);
  add_interval(t, record, "growth", &trial->growth);
  why_node_number(arena, record, "weight_percent", trial->weight_pct);
  add_bias(t, record, trial);
  if (!trial->has_influence)
    return;
  add_interval(t, record, "without", &trial->influence.without.mean);
  why_node_number(arena, record, "tau2_without", trial->influence.without.tau2);
  why_node_number(arena, record, "studentised", trial->influence.studentised);
  why_node_number(arena, record, "cook", trial->influence.cook);
}

static void add_last_lines(const why_teller* t, why_node* list, const why_trial_set* set,
                           why_axis axis) {
  const why_meta* meta = &set->meta;
  add_line(t, list, why_forest_line(axis, &meta->mean, '=', '#', t->arena),
           why_arena_print(t->arena, "%s\t100\tall %zu", interval_words(t, &meta->mean),
                           set->trials.count));
  if (isfinite(meta->new_study.low))
    add_line(t, list, why_forest_line(axis, &meta->new_study, '.', 0, t->arena),
             why_arena_print(t->arena, "%.1f to %.1f\t\ta new study",
                             why_percent_of_log(meta->new_study.low),
                             why_percent_of_log(meta->new_study.high)));
}

static void add_forest(const why_teller* t, why_node* record, const why_trial_set* set) {
  why_axis axis = why_axis_of(set);
  why_part_forest(t, record, set);
  why_node* list = why_node_add(t->arena, record, WHY_NODE_LIST, "studies");
  list->role = WHY_ROLE_TABLE;
  list->words = "Studies";
  why_node* heads =
      why_node_words(t->arena, list, WHY_ROLE_COLUMNS, "growth (95 %)\tweight\tstudy");
  heads->sketch = why_forest_scale(axis, t->arena);
  for (size_t i = 0; i < set->trials.count; i++)
    add_trial(t, list, set, axis, &set->trials.at[i]);
  add_last_lines(t, list, set, axis);
}

/// "slllu": the first letters of the five judgements.
static const char* bias_letters(const why_teller* t, const why_trial* trial) {
  char* letters = why_arena_alloc(t->arena, WHY_BIAS_DOMAINS);
  for (int d = 0; d + 1 < WHY_BIAS_DOMAINS; d++)
    letters[d] = why_bias_grade_id(trial->bias[d])[0];
  return letters;
}

static const char* without_words(const why_teller* t, const why_trial* trial) {
  return trial->has_influence ? interval_words(t, &trial->influence.without.mean) : "-";
}

static const char* training_of(const why_teller* t, const why_composite* composite) {
  const why_study* study = composite->findings.at[0]->study;
  return study->training ? why_teller_id(t, study->training) : "-";
}

static const char* weeks_words(const why_teller* t, double weeks) {
  return isfinite(weeks) ? why_arena_print(t->arena, "%.3g", weeks) : "-";
}

/// What the plot has no room for.
static void add_details(const why_teller* t, why_node* record, const why_trial_set* set) {
  why_node* list = why_node_words(t->arena, record, WHY_ROLE_TABLE, "Details");
  why_teller_say(t, list, WHY_ROLE_COLUMNS,
                 "all without it\tbias\tweeks\tpeople\tarms\tfindings\ttraining\tstudy");
  for (size_t i = 0; i < set->trials.count; i++) {
    const why_trial* trial = &set->trials.at[i];
    const why_composite* composite = trial->composite;
    why_teller_say(t, list, WHY_ROLE_ROW,
                   why_arena_print(t->arena, "%s\t%s\t%s\t%.0f\t%zu\t%zu\t%s\t%s",
                                   without_words(t, trial), bias_letters(t, trial),
                                   weeks_words(t, composite->weeks), composite->people,
                                   composite->arms, composite->findings.count,
                                   training_of(t, composite), why_teller_id(t, composite->sample)));
  }
}

static const char* p_words(const why_teller* t, double p) {
  return p < 0.001 ? "p below 0.001" : why_arena_print(t->arena, "p = %.3f", p);
}

static const char* plural(size_t count, const char* one, const char* many) {
  return count == 1 ? one : many;
}

static void say_pooled(const why_teller* t, why_node* record, const why_trial_set* set) {
  const why_meta* meta = &set->meta;
  why_buffer text = {.arena = t->arena};
  why_buffer_print(&text,
                   "%zu %s with %.0f people and %zu %s: growth %.1f %% (95 %% interval %.1f to "
                   "%.1f)",
                   set->trials.count, plural(set->trials.count, "sample", "samples"), set->people,
                   set->members.count, plural(set->members.count, "finding", "findings"),
                   why_percent_of_log(meta->mean.estimate), why_percent_of_log(meta->mean.low),
                   why_percent_of_log(meta->mean.high));
  if (set->trials.count > 1)
    why_buffer_print(&text,
                     ". Spread between studies (SD): %.1f points (%.1f to %.1f); I2 %.0f %% (%.0f "
                     "to %.0f), Q %.1f with %.0f df, %s",
                     100 * sqrt(meta->tau2), 100 * sqrt(meta->tau2_low),
                     100 * sqrt(meta->tau2_high), meta->spread.i2_pct, meta->i2_low_pct,
                     meta->i2_high_pct, meta->spread.q, meta->spread.df,
                     p_words(t, meta->spread.p));
  if (isfinite(meta->new_study.low))
    why_buffer_print(&text, ". A new study would be expected between %.1f and %.1f %%",
                     why_percent_of_log(meta->new_study.low),
                     why_percent_of_log(meta->new_study.high));
  why_buffer_add(&text, ".");
  why_teller_say(t, record, WHY_ROLE_PARAGRAPH, why_buffer_text(&text));
  if (meta->narrowed)
    why_teller_say(t, record, WHY_ROLE_POINT,
                   "By how far the studies lie apart the interval would be narrower still; it was "
                   "not made narrower than the usual one.");
}

/// The study without which the pooled growth is least (or greatest).
static const why_trial* extreme(const why_trial_set* set, double sign) {
  const why_trial* found = NULL;
  for (size_t i = 0; i < set->trials.count; i++) {
    const why_trial* each = &set->trials.at[i];
    if (each->has_influence && (!found || sign * each->influence.without.mean.estimate >
                                              sign * found->influence.without.mean.estimate))
      found = each;
  }
  return found;
}

static void say_influence(const why_teller* t, why_node* record, const why_trial_set* set) {
  const why_trial* least = extreme(set, -1);
  const why_trial* most = extreme(set, 1);
  if (!least || !most)
    return;
  why_teller_say(
      t, record, WHY_ROLE_POINT,
      why_arena_print(t->arena,
                      "Leaving one study out moves it to between %.1f %% (without %s) and %.1f %% "
                      "(without %s).",
                      why_percent_of_log(least->influence.without.mean.estimate),
                      why_teller_id(t, least->composite->sample),
                      why_percent_of_log(most->influence.without.mean.estimate),
                      why_teller_id(t, most->composite->sample)));
}

static void say_correlations(const why_teller* t, why_node* record, const why_trial_set* set) {
  if (!(set->at_correlation[0].error > 0) || !(set->at_correlation[1].error > 0))
    return;
  why_teller_say(t, record, WHY_ROLE_POINT,
                 why_arena_print(
                     t->arena,
                     "With a correlation of %.2f between before and after wherever one is imputed: "
                     "%s; with %.2f: %s.",
                     t->trials->tried_correlation[0], percent_words(t, &set->at_correlation[0]),
                     t->trials->tried_correlation[1], percent_words(t, &set->at_correlation[1])));
}

static void say_small_studies(const why_teller* t, why_node* record, const why_trial_set* set) {
  if (!set->is_tested)
    return;
  why_teller_say(
      t, record, WHY_ROLE_POINT,
      why_arena_print(t->arena,
                      "Small studies: growth %s with the standard error (%s); a study without "
                      "sampling error would find %s.",
                      set->small.slope.estimate < 0 ? "falls" : "rises",
                      p_words(t, set->small.slope.p), percent_words(t, &set->small.limit)));
}

/// How many findings rest on imputed spreads or numbers of people.
static void say_imputed(const why_teller* t, why_node* record, const why_trial_set* set) {
  size_t by_correlation = 0;
  size_t by_method = 0;
  size_t people = 0;
  for (size_t i = 0; i < set->samples.count; i++)
    for (size_t k = 0; k < set->samples.at[i].findings.count; k++) {
      const why_finding* each = set->samples.at[i].findings.at[k];
      by_correlation += each->spread_from == WHY_SPREAD_CORRELATION;
      by_method += each->spread_from == WHY_SPREAD_METHOD;
      people += each->people_imputed;
    }
  if (by_correlation + by_method + people)
    why_teller_say(
        t, record, WHY_ROLE_POINT,
        why_arena_print(t->arena,
                        "Of %zu findings, %zu take the spread of changes from a usual correlation, "
                        "%zu from what is usual for the method, %zu an equal share of the people.",
                        set->members.count, by_correlation, by_method, people));
}

static void add_bias_table(const why_teller* t, why_node* record, const why_trial_set* set) {
  why_node* list = why_node_add(t->arena, record, WHY_NODE_LIST, "risk_of_bias");
  list->role = WHY_ROLE_TABLE;
  list->words = "Risk of bias";
  why_buffer heads = {.arena = t->arena};
  why_buffer_add(&heads, "risk of bias, % of weight");
  for (int g = 0; g < WHY_BIAS_GRADES; g++)
    why_buffer_print(&heads, "\t%s", why_bias_grade_words(g));
  why_teller_say(t, list, WHY_ROLE_COLUMNS, why_buffer_text(&heads));
  for (int d = 0; d < WHY_BIAS_DOMAINS; d++) {
    why_buffer words = {.arena = t->arena};
    why_node* row = why_node_add(t->arena, list, WHY_NODE_RECORD, NULL);
    why_node_text(t->arena, row, "domain", why_bias_domain_id(d));
    why_buffer_add(&words, why_bias_domain_words(d));
    for (int g = 0; g < WHY_BIAS_GRADES; g++) {
      why_buffer_print(&words, "\t%.0f", set->bias_pct[d][g]);
      why_node_number(t->arena, row, why_bias_grade_id(g), set->bias_pct[d][g]);
    }
    row->role = WHY_ROLE_ROW;
    row->words = why_buffer_text(&words);
  }
}

static void add_pooled(const why_teller* t, why_node* record, const why_trial_set* set) {
  const why_meta* meta = &set->meta;
  why_arena* arena = t->arena;
  why_node* pooled = why_node_add(arena, record, WHY_NODE_RECORD, "pooled");
  add_interval(t, pooled, "growth", &meta->mean);
  add_interval(t, pooled, "new_study", &meta->new_study);
  why_node_text(arena, pooled, "method", "REML, Hartung-Knapp, never narrower than the usual");
  why_node_number(arena, pooled, "tau2", meta->tau2);
  why_node_number(arena, pooled, "tau2_low", meta->tau2_low);
  why_node_number(arena, pooled, "tau2_high", meta->tau2_high);
  why_node_number(arena, pooled, "i2_percent", meta->spread.i2_pct);
  why_node_number(arena, pooled, "i2_low", meta->i2_low_pct);
  why_node_number(arena, pooled, "i2_high", meta->i2_high_pct);
  why_node_number(arena, pooled, "q", meta->spread.q);
  why_node_number(arena, pooled, "df", meta->spread.df);
  why_node_number(arena, pooled, "p", meta->spread.p);
  why_node_number(arena, pooled, "hartung_knapp_factor", meta->hartung_knapp);
  for (int i = 0; i < 2; i++)
    if (set->at_correlation[i].error > 0)
      add_interval(t, pooled, i ? "at_highest_correlation" : "at_lowest_correlation",
                   &set->at_correlation[i]);
  if (!set->is_tested)
    return;
  why_node* small = why_node_add(arena, pooled, WHY_NODE_RECORD, "small_studies");
  why_node_number(arena, small, "slope", set->small.slope.estimate);
  why_node_number(arena, small, "p", set->small.slope.p);
  add_interval(t, small, "limit", &set->small.limit);
}

void why_part_trial_set(const why_teller* t, why_node* list, const why_trial_set* set) {
  why_node* record = why_node_add(t->arena, list, WHY_NODE_RECORD, NULL);
  const char* name = set->group ? why_teller_name(t, "group", set->group) : why_teller_subject(t);
  why_teller_say(t, record, WHY_ROLE_HEADING, why_arena_print(t->arena, "Growth of %s", name));
  why_node_text(t->arena, record, "of",
                why_teller_id(t, set->group ? set->group : t->trials->question->goal.id));
  why_teller_symbols(t, record, "heads", set->heads);
  add_forest(t, record, set);
  add_details(t, record, set);
  add_pooled(t, record, set);
  say_pooled(t, record, set);
  say_influence(t, record, set);
  say_correlations(t, record, set);
  say_small_studies(t, record, set);
  say_imputed(t, record, set);
  add_bias_table(t, record, set);
}
