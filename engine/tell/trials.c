// SPDX-License-Identifier: GPL-3.0-or-later
// Lays out pooled trials: the sets, every finding with its numbers for programs, what was not
// pooled, and the studies.
#include "forest.h"
#include "parts.h"
#include "report.h"
#include "trials_part.h"

#include <math.h>
#include <string.h>

const char* why_teller_id(const why_teller* t, why_symbol symbol) {
  return symbol ? why_symbols_text(t->ground->symbols, symbol) : NULL;
}

const char* why_teller_name(const why_teller* t, const char* kind, why_symbol symbol) {
  return why_ground_name(t->ground, t->arena, kind, why_symbols_text(t->ground->symbols, symbol));
}

const char* why_teller_subject(const why_teller* t) {
  const why_question* question = t->trials->question;
  return question->goal.id
             ? why_teller_name(t, why_meaning_name(question->goal.kind), question->goal.id)
             : why_teller_name(t, "exercise", question->exercise);
}

void why_teller_say(const why_teller* t, why_node* into, why_role role, const char* words) {
  why_node_words(t->arena, into, role, words);
}

void why_teller_symbols(const why_teller* t, why_node* into, const char* name,
                        why_symbol_list list) {
  why_node* made = why_node_add(t->arena, into, WHY_NODE_LIST, name);
  for (size_t i = 0; i < list.count; i++)
    why_node_text(t->arena, made, NULL, why_teller_id(t, list.at[i]));
}

static void add_understood(const why_teller* t, why_node* root) {
  const why_question* question = t->trials->question;
  bool goal = question->goal.id != 0;
  why_node* record = why_node_add(t->arena, root, WHY_NODE_RECORD, "understood");
  why_teller_say(t, root, WHY_ROLE_TITLE,
                 why_arena_print(t->arena,
                                 "What trials found %s %s: growth in per cent of the start",
                                 goal ? "for" : "with", why_teller_subject(t)));
  why_node_text(t->arena, record, "kind",
                goal ? why_meaning_name(question->goal.kind) : "exercise");
  why_node_text(t->arena, record, goal ? "goal" : "exercise",
                why_teller_id(t, goal ? question->goal.id : question->exercise));
  why_teller_symbols(t, record, "heads", t->trials->heads);
}

static const char* spread_word(why_spread_from from) {
  static const char* const WORDS[] = {"change", "interval", "p", "correlation", "method"};
  return WORDS[from];
}

static void add_finding(const why_teller* t, why_node* list, const char* group,
                        const why_finding* finding) {
  why_arena* arena = t->arena;
  why_node* record = why_node_add(arena, list, WHY_NODE_RECORD, NULL);
  why_node_text(arena, record, "of", group);
  why_node_text(arena, record, "sample", why_teller_id(t, finding->sample));
  why_node_text(arena, record, "study", why_teller_id(t, finding->study->id));
  why_node_text(arena, record, "arm", why_teller_id(t, finding->arm->id));
  why_node_text(arena, record, "muscle", why_teller_id(t, finding->result->muscle));
  why_node_text(arena, record, "site", why_teller_id(t, finding->result->site));
  why_node_text(arena, record, "side", why_teller_id(t, finding->result->side));
  why_node_text(arena, record, "method", why_teller_id(t, finding->result->method));
  why_teller_symbols(t, record, "heads", finding->heads);
  why_node_number(arena, record, "people", finding->people);
  why_node_text(arena, record, "people_imputed", finding->people_imputed ? "yes" : "no");
  why_node_number(arena, record, "weeks", finding->weeks);
  why_node_number(arena, record, "percent", why_percent_of_log(finding->log_growth));
  why_node_number(arena, record, "log_growth", finding->log_growth);
  why_node_number(arena, record, "variance", finding->variance);
  why_node_text(arena, record, "spread_from", spread_word(finding->spread_from));
  why_node_number(arena, record, "correlation", finding->correlation);
  why_node_text(arena, record, "spread_bounded", finding->spread_bounded ? "yes" : "no");
  why_node_text(arena, record, "from_memory", finding->from_memory ? "yes" : "no");
}

static void add_findings(const why_teller* t, why_node* root) {
  why_node* list = why_node_add(t->arena, root, WHY_NODE_LIST, "findings");
  list->sheet = true;
  for (size_t i = 0; i < t->trials->sets.count; i++) {
    const why_trial_set* set = &t->trials->sets.at[i];
    const char* group = why_teller_id(t, set->group ? set->group : t->trials->question->goal.id);
    for (size_t k = 0; k < set->samples.count; k++)
      for (size_t f = 0; f < set->samples.at[k].findings.count; f++)
        add_finding(t, list, group, set->samples.at[k].findings.at[f]);
  }
}

/// "prone leg curl", "no training", or the arm's own id where it mixed exercises.
static const char* training_words(const why_teller* t, const why_arm* arm) {
  if (arm->control)
    return "no training";
  if (arm->trained.count == 1 && arm->trained.at[0].exercise)
    return why_teller_name(t, "exercise", arm->trained.at[0].exercise);
  return why_teller_id(t, arm->id);
}

static void add_contrast(const why_teller* t, why_node* list, const why_trial_contrast* contrast) {
  why_arena* arena = t->arena;
  const why_difference* d = contrast->difference;
  const why_finding* own = contrast->turned ? d->b : d->a;
  const why_finding* other = contrast->turned ? d->a : d->b;
  double percent = why_percent_of_log(contrast->growth.estimate);
  double low = why_percent_of_log(contrast->growth.low);
  double high = why_percent_of_log(contrast->growth.high);
  why_node* record = why_node_add(arena, list, WHY_NODE_RECORD, NULL);
  record->role = WHY_ROLE_ROW;
  record->words =
      why_arena_print(arena, "%.1f (%.1f to %.1f)\t%s, %s\t%s\t%s", percent, low, high,
                      why_teller_id(t, own->result->muscle), why_teller_id(t, own->result->site),
                      training_words(t, other->arm), why_teller_id(t, own->study->id));
  why_node_text(arena, record, "study", why_teller_id(t, own->study->id));
  why_node_text(arena, record, "arm", why_teller_id(t, own->arm->id));
  why_node_text(arena, record, "against", why_teller_id(t, other->arm->id));
  why_node_text(arena, record, "muscle", why_teller_id(t, own->result->muscle));
  why_node_text(arena, record, "site", why_teller_id(t, own->result->site));
  why_node_text(arena, record, "method", why_teller_id(t, own->result->method));
  why_node_number(arena, record, "percent", percent);
  why_node_number(arena, record, "low", low);
  why_node_number(arena, record, "high", high);
  why_node_number(arena, record, "log_difference", contrast->growth.estimate);
  why_node_number(arena, record, "error", contrast->growth.error);
  why_node_text(arena, record, "from_p", d->from_p ? "yes" : "no");
}

static void add_contrasts(const why_teller* t, why_node* root) {
  const why_trials* trials = t->trials;
  if (trials->contrasts.count)
    why_teller_say(t, root, WHY_ROLE_HEADING,
                   "Against other arms of the same studies, in per cent of size");
  why_node* list = why_node_add(t->arena, root, WHY_NODE_LIST, "contrasts");
  if (!trials->contrasts.count)
    return;
  list->role = WHY_ROLE_TABLE;
  list->words = "Contrasts";
  why_teller_say(t, list, WHY_ROLE_COLUMNS, "more (95 %)\tmuscle, site\tagainst\tstudy");
  for (size_t i = 0; i < trials->contrasts.count; i++)
    add_contrast(t, list, &trials->contrasts.at[i]);
}

/// Reasons for the same study stand once.
static bool is_said(const why_trials* trials, size_t i) {
  for (size_t k = 0; k < i; k++)
    if (trials->unused.at[k]->study == trials->unused.at[i]->study &&
        strcmp(trials->unused.at[k]->reason, trials->unused.at[i]->reason) == 0)
      return true;
  return false;
}

static const char* reason_words(const char* reason) {
  static const char* const WORDS[][2] = {
      {"retracted", "retracted by the journal"},
      {"implausible", "far outside all other trials, or a slip of the pen"},
      {"recovery", "its patients regain what they lost"},
      {"supplement", "training and a supplement cannot be told apart"},
      {"repeated", "the same outcome stands in another row"},
      {"range-only", "it gives one range for several muscles or arms"},
      {"pooled-over-arms", "it gives one value for several arms"},
      {"overlapping-sample", "its people are counted in another study"},
      {"earlier-week", "a reading on the way; the last one counts"},
      {"people-counted-in-arms", "its people are counted arm by arm"},
      {"no-growth-given", "it gives no growth that can be set against a start"},
      {"no-people-given", "it does not say how many people took part"},
      {"no-head", "what it measured is no muscle of the knowledge base"},
  };
  for (size_t i = 0; i < sizeof WORDS / sizeof *WORDS; i++)
    if (strcmp(WORDS[i][0], reason) == 0)
      return WORDS[i][1];
  return reason;
}

static void add_unused(const why_teller* t, why_node* root) {
  if (t->trials->unused.count || t->trials->together)
    why_teller_say(t, root, WHY_ROLE_HEADING, "Not pooled");
  if (t->trials->together)
    why_teller_say(t, root, WHY_ROLE_POINT,
                   why_arena_print(
                       t->arena, "Findings that measured it together with other muscles only: %zu.",
                       t->trials->together));
  why_node_number(t->arena, root, "measured_together", (double)t->trials->together);
  why_node* list = why_node_add(t->arena, root, WHY_NODE_LIST, "not_pooled");
  for (size_t i = 0; i < t->trials->unused.count; i++) {
    const why_unused* each = t->trials->unused.at[i];
    if (is_said(t->trials, i))
      continue;
    why_node* record = why_node_add(t->arena, list, WHY_NODE_RECORD, NULL);
    record->role = WHY_ROLE_POINT;
    record->words = why_arena_print(t->arena, "%s: %s", why_teller_id(t, each->study->id),
                                    reason_words(each->reason));
    why_node_text(t->arena, record, "study", why_teller_id(t, each->study->id));
    why_node_text(t->arena, record, "reason", each->reason);
  }
}

static void add_source_once(const why_teller* t, why_node* list, why_symbol_list* said,
                            why_symbol study) {
  for (size_t i = 0; i < said->count; i++)
    if (said->at[i] == study)
      return;
  *WHY_LIST_ADD(t->arena, *said) = study;
  why_part_source(t->ground, t->arena, list, study);
}

static void add_sources(const why_teller* t, why_node* root) {
  why_symbol_list said = {0};
  if (t->trials->sets.count)
    why_teller_say(t, root, WHY_ROLE_HEADING, "Studies");
  why_node* list = why_node_add(t->arena, root, WHY_NODE_LIST, "sources");
  for (size_t i = 0; i < t->trials->sets.count; i++) {
    const why_composites* samples = &t->trials->sets.at[i].samples;
    for (size_t k = 0; k < samples->count; k++)
      for (size_t f = 0; f < samples->at[k].findings.count; f++)
        add_source_once(t, list, &said, samples->at[k].findings.at[f]->study->id);
  }
}

why_node* why_report_trials(const why_trials* trials, why_arena* arena) {
  why_teller t = {trials, trials->question->ground, arena};
  why_node* root = why_node_add(arena, NULL, WHY_NODE_RECORD, NULL);
  add_understood(&t, root);
  why_node* list = why_node_add(arena, root, WHY_NODE_LIST, "sets");
  for (size_t i = 0; i < trials->sets.count; i++)
    why_part_trial_set(&t, list, &trials->sets.at[i]);
  if (!trials->sets.count)
    why_teller_say(&t, root, WHY_ROLE_PARAGRAPH, "No trial in the knowledge base measured this.");
  else
    why_teller_say(
        &t, root, WHY_ROLE_PARAGRAPH,
        "Growth is as measured, over each study's own weeks and people, against its own start "
        "and not against people who did not train. In the plot a study (o, O with more "
        "than usual weight) stands in its 95 % interval, the pooled growth (#) in its "
        "own (=), and dots where a new study would be expected; : marks no growth. "
        "Letters of bias: l low, s some concerns, u unclear, h high, for randomisation, "
        "deviations, missing data, measurement and selection.");
  add_findings(&t, root);
  add_contrasts(&t, root);
  add_unused(&t, root);
  add_sources(&t, root);
  why_part_closing(t.ground, arena, root);
  return root;
}
