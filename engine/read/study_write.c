// SPDX-License-Identifier: GPL-3.0-or-later
// Elements in the order of the schema.
#include "study_write.h"

#include "number.h"
#include "xml_layout.h"

#include <math.h>
#include <string.h>

typedef struct {
  const why_study_writing* how;
  why_arena* arena;
  const why_study_sink* sink;
} writer;

const char* why_number_text(why_arena* arena, double number) {
  if (isnan(number))
    return "";
  const char* text = "";
  for (int digits = 6; digits <= 17; digits++) {
    text = why_arena_print(arena, "%.*g", digits, number);
    double again = 0;
    if (why_parse_number(text, &again) && again == number)
      break;
  }
  return strpbrk(text, "eE") ? why_arena_print(arena, "%.15f", number) : text;
}

static void open_tag(const writer* w, const char* name) {
  w->sink->open(w->sink->user, name);
}

static void end_tag(const writer* w) {
  w->sink->close(w->sink->user);
}

/// An attribute, unless its value is empty.
static void text(const writer* w, const char* name, const char* value) {
  if (value && *value)
    w->sink->attribute(w->sink->user, name, value);
}

static void content(const writer* w, const char* value) {
  w->sink->content(w->sink->user, value);
}

static void comment(const writer* w, const char* value) {
  if (value)
    w->sink->comment(w->sink->user, value);
}

static void word(const writer* w, const char* name, why_symbol value) {
  text(w, name, why_symbols_text(w->how->symbols, value));
}

static void number(const writer* w, const char* name, double value) {
  text(w, name, why_number_text(w->arena, value));
}

static void pair(const writer* w, const char* name, why_low_high value) {
  if (!isnan(value.low))
    text(w, name,
         why_arena_print(w->arena, "%s %s", why_number_text(w->arena, value.low),
                         why_number_text(w->arena, value.high)));
}

static void words(const writer* w, const char* name, why_symbol_list list) {
  why_buffer all = {.arena = w->arena};
  for (size_t i = 0; i < list.count; i++)
    why_buffer_print(&all, "%s%s", i ? " " : "", why_symbols_text(w->how->symbols, list.at[i]));
  text(w, name, why_buffer_text(&all));
}

static void known(const writer* w, const char* name, why_answer_known value) {
  text(w, name, value == WHY_YES ? "yes" : value == WHY_NO ? "no" : "");
}

static void p_value(const writer* w, why_p p) {
  number(w, "p", p.exact);
  number(w, "p-below", p.below);
  number(w, "p-above", p.above);
  text(w, "p-said", p.said);
}

/// An element of text, unless it is empty; `attribute` may be NULL.
static void element(const writer* w, const char* name, const char* attribute, const char* value,
                    const char* inner) {
  if (!inner || !*inner)
    return;
  open_tag(w, name);
  if (attribute)
    text(w, attribute, value);
  content(w, inner);
  end_tag(w);
}

static void left_out(const writer* w, const why_left_out* row) {
  if (!row->reason)
    return;
  open_tag(w, "left-out");
  word(w, "reason", row->reason);
  content(w, row->text);
  end_tag(w);
}

/// Of a row without a default, the word; else nothing.
static void unless(const writer* w, const char* name, why_symbol value, const char* usual) {
  const char* said = why_symbols_text(w->how->symbols, value);
  text(w, name, strcmp(said, usual) == 0 ? "" : said);
}

static void manner(const writer* w, const why_trained* row) {
  unless(w, "range", row->range, "full");
  unless(w, "sides", row->sides, "unknown");
  unless(w, "mode", row->mode, "dynamic");
}

static void mapping(const writer* w, const why_trained* row) {
  if (!row->exercise) {
    open_tag(w, "unmapped");
    manner(w, row);
    content(w, row->unmapped);
    end_tag(w);
    return;
  }
  open_tag(w, "counts-as");
  word(w, "exercise", row->exercise);
  number(w, "share", row->share);
  manner(w, row);
  word(w, "fit", row->fit);
  element(w, "note", NULL, NULL, row->note);
  for (size_t i = 0; i < row->joint_ranges.count; i++) {
    open_tag(w, "joint-range");
    word(w, "coordinate", row->joint_ranges.at[i].coordinate);
    number(w, "from-deg", row->joint_ranges.at[i].from_deg);
    number(w, "to-deg", row->joint_ranges.at[i].to_deg);
    end_tag(w);
  }
  end_tag(w);
}

static bool same_number(double a, double b) {
  return a == b || (isnan(a) && isnan(b));
}

/// Whether two rows are of one text of the study.
static bool is_same_text(const why_trained* a, const why_trained* b) {
  return strcmp(a->as_written, b->as_written) == 0 && a->exercise && b->exercise &&
         same_number(a->sets_per_session, b->sets_per_session) &&
         strcmp(a->sets_said, b->sets_said) == 0 && strcmp(a->reps, b->reps) == 0 &&
         strcmp(a->load, b->load) == 0 && a->to_failure == b->to_failure;
}

static void trained(const writer* w, const why_arm* arm) {
  for (size_t i = 0; i < arm->trained.count;) {
    const why_trained* row = &arm->trained.at[i];
    open_tag(w, "trained");
    number(w, "sets-per-session", row->sets_per_session);
    text(w, "sets-said", row->sets_said);
    text(w, "reps", row->reps);
    text(w, "load", row->load);
    known(w, "to-failure", row->to_failure);
    element(w, "as-written", NULL, NULL, *row->as_written ? row->as_written : WHY_TO_CONFIRM);
    do
      mapping(w, &arm->trained.at[i++]);
    while (i < arm->trained.count && is_same_text(row, &arm->trained.at[i]));
    end_tag(w);
  }
}

static void arm(const writer* w, const why_arm* row) {
  open_tag(w, "arm");
  word(w, "id", row->id);
  number(w, "n", row->n);
  text(w, "control", row->control ? "yes" : "");
  word(w, "same-people-as", row->same_people_as);
  words(w, "pools", row->pools);
  left_out(w, &row->left_out);
  trained(w, row);
  end_tag(w);
}

static void sizes(const writer* w, const why_result* row) {
  number(w, "pre-mean", row->pre.mean);
  number(w, "pre-sd", row->pre.sd);
  number(w, "pre-se", row->pre.se);
  number(w, "post-mean", row->post.mean);
  number(w, "post-sd", row->post.sd);
  number(w, "post-se", row->post.se);
  number(w, "change", row->change);
  number(w, "change-sd", row->change_sd);
  number(w, "change-dispersion", row->change_dispersion);
  pair(w, "change-ci95", row->change_ci95);
  number(w, "change-pct", row->change_pct);
  number(w, "change-pct-sd", row->change_pct_sd);
  number(w, "change-pct-sd-from-p", row->change_pct_sd_from_p);
  number(w, "change-pct-sd-at-most", row->change_pct_sd_at_most);
  number(w, "change-pct-dispersion", row->change_pct_dispersion);
  pair(w, "change-pct-range", row->change_pct_range);
  number(w, "effect-d", row->effect_d);
}

static void result(const writer* w, const why_result* row) {
  open_tag(w, "result");
  word(w, "arm", row->arm);
  word(w, "muscle", row->muscle);
  word(w, "site", row->site);
  word(w, "side", row->side);
  word(w, "method", row->method);
  word(w, "unit", row->unit);
  number(w, "week", row->week);
  number(w, "n", row->n);
  sizes(w, row);
  p_value(w, row->p);
  words(w, "basis", row->basis);
  element(w, "where", NULL, NULL, row->where);
  left_out(w, &row->left_out);
  element(w, "doubt", NULL, NULL, row->doubt);
  end_tag(w);
}

static void contrast(const writer* w, const why_contrast* row) {
  open_tag(w, "contrast");
  word(w, "a", row->a);
  word(w, "b", row->b);
  word(w, "muscle", row->muscle);
  word(w, "site", row->site);
  word(w, "favours", row->favours);
  p_value(w, row->p);
  text(w, "p-of", row->p_of);
  number(w, "effect", row->effect);
  text(w, "effect-kind", row->effect_kind);
  number(w, "effect-se", row->effect_se);
  pair(w, "effect-ci95", row->effect_ci95);
  pair(w, "effect-ci90", row->effect_ci90);
  number(w, "difference-pct", row->difference_pct);
  number(w, "smd", row->smd);
  pair(w, "smd-ci95", row->smd_ci95);
  words(w, "smd-basis", row->smd_basis);
  words(w, "basis", row->basis);
  element(w, "effect-text", NULL, NULL, row->effect_text);
  element(w, "where", NULL, NULL, row->where);
  element(w, "note", NULL, NULL, row->note);
  left_out(w, &row->left_out);
  element(w, "doubt", NULL, NULL, row->doubt);
  end_tag(w);
}

static void within(const writer* w, const why_within* row) {
  open_tag(w, "within");
  words(w, "arms", row->arms);
  word(w, "kind", row->kind);
  word(w, "muscle", row->muscle);
  word(w, "site", row->site);
  word(w, "says", row->says);
  p_value(w, row->p);
  number(w, "effect", row->effect);
  text(w, "effect-kind", row->effect_kind);
  words(w, "basis", row->basis);
  element(w, "statement", NULL, NULL, *row->statement ? row->statement : WHY_TO_CONFIRM);
  element(w, "effect-text", NULL, NULL, row->effect_text);
  end_tag(w);
}

static void bias(const writer* w, const why_study* study) {
  const why_risk_of_bias* row = &study->bias;
  open_tag(w, "risk-of-bias");
  word(w, "randomisation", row->randomisation);
  word(w, "deviations", row->deviations);
  word(w, "missing", row->missing);
  word(w, "measurement", row->measurement);
  word(w, "selection", row->selection);
  word(w, "overall", row->overall);
  for (size_t i = 0; i < study->bias_reasons.count; i++)
    element(w, "reason", "domain",
            why_symbols_text(w->how->symbols, study->bias_reasons.at[i].domain),
            study->bias_reasons.at[i].text);
  end_tag(w);
}

static void people(const writer* w, const why_study* study) {
  const why_study_comments* comments = w->how->comments;
  comment(w, comments ? comments->population : NULL);
  open_tag(w, "population");
  number(w, "n", study->n);
  word(w, "sex", study->sex);
  number(w, "age", study->age);
  word(w, "training", study->training);
  words(w, "basis", study->population_basis);
  end_tag(w);
  comment(w, comments ? comments->protocol : NULL);
  open_tag(w, "protocol");
  number(w, "weeks", study->weeks);
  number(w, "sessions-per-week", study->sessions_per_week);
  known(w, "load-matched", study->load_matched);
  words(w, "basis", study->protocol_basis);
  end_tag(w);
  element(w, "note", NULL, NULL, study->note);
  left_out(w, &study->left_out);
}

static void overlaps(const writer* w, const why_study* study) {
  for (size_t i = 0; i < study->overlaps.count; i++) {
    const why_overlap* row = &study->overlaps.at[i];
    open_tag(w, "overlaps");
    word(w, "study", row->study);
    word(w, "people", row->people);
    text(w, "keep", row->keep_other ? "other" : "both");
    content(w, row->text);
    end_tag(w);
  }
}

static void draft(const writer* w) {
  const why_draft_lexed* text_read = w->how->draft;
  if (!text_read)
    return;
  open_tag(w, "draft");
  for (size_t i = 0; i < text_read->sentences.count; i++)
    element(w, "sentence", "number", why_arena_print(w->arena, "%zu", i + 1),
            text_read->sentences.at[i].text);
  for (size_t i = 0; i < text_read->numbers.count; i++) {
    const why_draft_number* row = &text_read->numbers.at[i];
    open_tag(w, "number");
    text(w, "written", row->text);
    text(w, "sentence", why_arena_print(w->arena, "%zu", row->sentence + 1));
    text(w, "fate", why_number_fate_name(row->fate));
    content(w, row->what);
    end_tag(w);
  }
  end_tag(w);
}

#define NOTED(list, index)                                                                         \
  (w->how->comments && (index) < w->how->comments->list.count ? w->how->comments->list.at[index]   \
                                                              : NULL)

static void rows(const writer* w, const why_study* study) {
  for (size_t i = 0; i < study->arms.count; i++) {
    comment(w, NOTED(arms, i));
    arm(w, &study->arms.at[i]);
  }
  for (size_t i = 0; i < study->results.count; i++) {
    comment(w, NOTED(results, i));
    result(w, &study->results.at[i]);
  }
  for (size_t i = 0; i < study->contrasts.count; i++) {
    comment(w, NOTED(contrasts, i));
    contrast(w, &study->contrasts.at[i]);
  }
  for (size_t i = 0; i < study->within.count; i++)
    within(w, &study->within.at[i]);
}

void why_study_tell(const why_study* study, const why_study_writing* how, why_arena* arena,
                    const why_study_sink* sink) {
  const writer all = {.how = how, .arena = arena, .sink = sink};
  const writer* w = &all;
  comment(w, WHY_STUDY_REMARK);
  comment(w, how->comments ? how->comments->study : NULL);
  open_tag(w, "study");
  word(w, "id", study->id);
  text(w, "year", study->year ? why_arena_print(arena, "%u", study->year) : "");
  text(w, "doi", study->doi);
  word(w, "doi-source", study->doi_source);
  text(w, "pmid", study->pmid);
  text(w, "pmc", study->pmc);
  word(w, "design", study->design);
  element(w, "title", "as", why_symbols_text(how->symbols, study->title_as),
          *study->title ? study->title : WHY_TO_CONFIRM);
  element(w, "journal", "as", why_symbols_text(how->symbols, study->journal_as), study->journal);
  element(w, "link", NULL, NULL, study->link);
  people(w, study);
  overlaps(w, study);
  rows(w, study);
  bias(w, study);
  element(w, "interests", NULL, NULL, study->interests);
  draft(w);
  end_tag(w);
}

void why_study_write(const why_study* study, const why_study_writing* how, why_buffer* out) {
  why_xml_layout layout = {.out = out};
  const why_study_sink sink = why_xml_layout_sink(&layout);
  why_xml_layout_start(&layout);
  why_study_tell(study, how, out->arena, &sink);
}
