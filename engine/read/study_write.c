// SPDX-License-Identifier: GPL-3.0-or-later
// Elements in the order of the schema. Attributes wrap as those of the files that people edit.
#include "study_write.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { COLUMNS = 108 };

typedef struct {
  const why_study_writing* how;
  why_buffer* out;
  int depth;
  size_t attribute_column; ///< Where the attributes of the open tag begin.
  why_place place;         ///< Of the row at hand.
} writer;

const char* why_number_text(why_arena* arena, double number) {
  if (isnan(number))
    return "";
  const char* text = "";
  for (int digits = 6; digits <= 17; digits++) {
    text = why_arena_print(arena, "%.*g", digits, number);
    if (strtod(text, NULL) == number)
      break;
  }
  return strpbrk(text, "eE") ? why_arena_print(arena, "%.15f", number) : text;
}

static size_t column(const writer* w) {
  size_t at = w->out->length;
  while (at && w->out->text[at - 1] != '\n')
    at--;
  return w->out->length - at;
}

static void end_line(writer* w) {
  why_buffer_add(w->out, "\n");
  if (w->how->places)
    *WHY_LIST_ADD(w->out->arena, *w->how->places) = w->place;
}

static void indent(writer* w) {
  for (int i = 0; i < w->depth; i++)
    why_buffer_add(w->out, "  ");
}

static void escape(writer* w, const char* text, bool in_attribute) {
  for (; *text; text++) {
    if (*text == '&')
      why_buffer_add(w->out, "&amp;");
    else if (*text == '<')
      why_buffer_add(w->out, "&lt;");
    else if (*text == '>')
      why_buffer_add(w->out, "&gt;");
    else if (*text == '"' && in_attribute)
      why_buffer_add(w->out, "&quot;");
    else
      why_buffer_add_bytes(w->out, text, 1);
  }
}

/// A comment; two hyphens must not stand in one.
static void comment(writer* w, const char* text) {
  if (!text)
    return;
  indent(w);
  why_buffer_add(w->out, "<!-- ");
  for (; *text; text++) {
    why_buffer_add_bytes(w->out, text, 1);
    if (*text == '-' && text[1] == '-')
      why_buffer_add(w->out, " ");
  }
  why_buffer_add(w->out, " -->");
  end_line(w);
}

static void open_tag(writer* w, const char* name, why_place place) {
  if (place.file)
    w->place = place;
  indent(w);
  why_buffer_print(w->out, "<%s", name);
  w->attribute_column = column(w) + 1;
}

static void close_tag(writer* w, bool empty) {
  why_buffer_add(w->out, empty ? "/>" : ">");
  end_line(w);
  w->depth += !empty;
}

static void end_tag(writer* w, const char* name) {
  w->depth--;
  indent(w);
  why_buffer_print(w->out, "</%s>", name);
  end_line(w);
}

/// An attribute, unless its value is empty.
static void text(writer* w, const char* name, const char* value) {
  if (!value || !*value)
    return;
  size_t length = strlen(name) + strlen(value) + 4;
  if (column(w) + length > COLUMNS && column(w) > w->attribute_column) {
    end_line(w);
    for (size_t i = 0; i < w->attribute_column; i++)
      why_buffer_add(w->out, " ");
  } else {
    why_buffer_add(w->out, " ");
  }
  why_buffer_print(w->out, "%s=\"", name);
  escape(w, value, true);
  why_buffer_add(w->out, "\"");
}

static void word(writer* w, const char* name, why_symbol value) {
  text(w, name, why_symbols_text(w->how->symbols, value));
}

static void number(writer* w, const char* name, double value) {
  text(w, name, why_number_text(w->out->arena, value));
}

static void pair(writer* w, const char* name, why_low_high value) {
  if (!isnan(value.low))
    text(w, name,
         why_arena_print(w->out->arena, "%s %s", why_number_text(w->out->arena, value.low),
                         why_number_text(w->out->arena, value.high)));
}

static void words(writer* w, const char* name, why_symbol_list list) {
  why_buffer all = {.arena = w->out->arena};
  for (size_t i = 0; i < list.count; i++)
    why_buffer_print(&all, "%s%s", i ? " " : "", why_symbols_text(w->how->symbols, list.at[i]));
  text(w, name, why_buffer_text(&all));
}

static void known(writer* w, const char* name, why_answer_known value) {
  text(w, name, value == WHY_YES ? "yes" : value == WHY_NO ? "no" : "");
}

static void p_value(writer* w, why_p p) {
  number(w, "p", p.exact);
  number(w, "p-below", p.below);
  number(w, "p-above", p.above);
  text(w, "p-said", p.said);
}

/// An element of text, unless it is empty; `attribute` may be NULL.
static void element(writer* w, const char* name, const char* attribute, const char* value,
                    const char* content) {
  if (!content || !*content)
    return;
  indent(w);
  why_buffer_print(w->out, "<%s", name);
  if (attribute && value && *value)
    why_buffer_print(w->out, " %s=\"%s\"", attribute, value);
  why_buffer_add(w->out, ">");
  escape(w, content, false);
  why_buffer_print(w->out, "</%s>", name);
  end_line(w);
}

static void left_out(writer* w, const why_left_out* row) {
  if (!row->reason)
    return;
  const char* reason = why_symbols_text(w->how->symbols, row->reason);
  element(w, "left-out", "reason", reason, *row->text ? row->text : " ");
}

/// Of a row without a default, the word; else nothing.
static void unless(writer* w, const char* name, why_symbol value, const char* usual) {
  const char* said = why_symbols_text(w->how->symbols, value);
  text(w, name, strcmp(said, usual) == 0 ? "" : said);
}

static void manner(writer* w, const why_trained* row) {
  unless(w, "range", row->range, "full");
  unless(w, "sides", row->sides, "unknown");
  unless(w, "mode", row->mode, "dynamic");
}

static void mapping(writer* w, const why_trained* row) {
  if (!row->exercise) {
    open_tag(w, "unmapped", row->place);
    manner(w, row);
    why_buffer_add(w->out, ">");
    escape(w, row->unmapped, false);
    why_buffer_add(w->out, "</unmapped>");
    end_line(w);
    return;
  }
  open_tag(w, "counts-as", row->place);
  word(w, "exercise", row->exercise);
  number(w, "share", row->share);
  manner(w, row);
  word(w, "fit", row->fit);
  bool empty = !*row->note && !row->joint_ranges.count;
  close_tag(w, empty);
  if (empty)
    return;
  element(w, "note", NULL, NULL, row->note);
  for (size_t i = 0; i < row->joint_ranges.count; i++) {
    open_tag(w, "joint-range", row->joint_ranges.at[i].place);
    word(w, "coordinate", row->joint_ranges.at[i].coordinate);
    number(w, "from-deg", row->joint_ranges.at[i].from_deg);
    number(w, "to-deg", row->joint_ranges.at[i].to_deg);
    close_tag(w, true);
  }
  end_tag(w, "counts-as");
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

static void trained(writer* w, const why_arm* arm) {
  for (size_t i = 0; i < arm->trained.count;) {
    const why_trained* row = &arm->trained.at[i];
    open_tag(w, "trained", row->place);
    number(w, "sets-per-session", row->sets_per_session);
    text(w, "sets-said", row->sets_said);
    text(w, "reps", row->reps);
    text(w, "load", row->load);
    known(w, "to-failure", row->to_failure);
    close_tag(w, false);
    element(w, "as-written", NULL, NULL, *row->as_written ? row->as_written : WHY_TO_CONFIRM);
    do
      mapping(w, &arm->trained.at[i++]);
    while (i < arm->trained.count && is_same_text(row, &arm->trained.at[i]));
    end_tag(w, "trained");
  }
}

static void arm(writer* w, const why_arm* row) {
  open_tag(w, "arm", row->place);
  word(w, "id", row->id);
  number(w, "n", row->n);
  text(w, "control", row->control ? "yes" : "");
  word(w, "same-people-as", row->same_people_as);
  words(w, "pools", row->pools);
  bool empty = !row->trained.count && !row->left_out.reason;
  close_tag(w, empty);
  if (empty)
    return;
  left_out(w, &row->left_out);
  trained(w, row);
  end_tag(w, "arm");
}

static void sizes(writer* w, const why_result* row) {
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

static void result(writer* w, const why_result* row) {
  open_tag(w, "result", row->place);
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
  bool empty = !*row->where && !row->left_out.reason && !*row->doubt;
  close_tag(w, empty);
  if (empty)
    return;
  element(w, "where", NULL, NULL, row->where);
  left_out(w, &row->left_out);
  element(w, "doubt", NULL, NULL, row->doubt);
  end_tag(w, "result");
}

static void contrast(writer* w, const why_contrast* row) {
  open_tag(w, "contrast", row->place);
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
  bool empty =
      !*row->effect_text && !*row->where && !*row->note && !row->left_out.reason && !*row->doubt;
  close_tag(w, empty);
  if (empty)
    return;
  element(w, "effect-text", NULL, NULL, row->effect_text);
  element(w, "where", NULL, NULL, row->where);
  element(w, "note", NULL, NULL, row->note);
  left_out(w, &row->left_out);
  element(w, "doubt", NULL, NULL, row->doubt);
  end_tag(w, "contrast");
}

static void within(writer* w, const why_within* row) {
  open_tag(w, "within", row->place);
  words(w, "arms", row->arms);
  word(w, "kind", row->kind);
  word(w, "muscle", row->muscle);
  word(w, "site", row->site);
  word(w, "says", row->says);
  p_value(w, row->p);
  number(w, "effect", row->effect);
  text(w, "effect-kind", row->effect_kind);
  words(w, "basis", row->basis);
  close_tag(w, false);
  element(w, "statement", NULL, NULL, *row->statement ? row->statement : WHY_TO_CONFIRM);
  element(w, "effect-text", NULL, NULL, row->effect_text);
  end_tag(w, "within");
}

static void bias(writer* w, const why_study* study) {
  const why_risk_of_bias* row = &study->bias;
  open_tag(w, "risk-of-bias", row->place);
  word(w, "randomisation", row->randomisation);
  word(w, "deviations", row->deviations);
  word(w, "missing", row->missing);
  word(w, "measurement", row->measurement);
  word(w, "selection", row->selection);
  word(w, "overall", row->overall);
  close_tag(w, !study->bias_reasons.count);
  for (size_t i = 0; i < study->bias_reasons.count; i++)
    element(w, "reason", "domain",
            why_symbols_text(w->how->symbols, study->bias_reasons.at[i].domain),
            study->bias_reasons.at[i].text);
  if (study->bias_reasons.count)
    end_tag(w, "risk-of-bias");
}

static void people(writer* w, const why_study* study) {
  const why_study_comments* comments = w->how->comments;
  comment(w, comments ? comments->population : NULL);
  open_tag(w, "population", study->place);
  number(w, "n", study->n);
  word(w, "sex", study->sex);
  number(w, "age", study->age);
  word(w, "training", study->training);
  words(w, "basis", study->population_basis);
  close_tag(w, true);
  comment(w, comments ? comments->protocol : NULL);
  open_tag(w, "protocol", study->place);
  number(w, "weeks", study->weeks);
  number(w, "sessions-per-week", study->sessions_per_week);
  known(w, "load-matched", study->load_matched);
  words(w, "basis", study->protocol_basis);
  close_tag(w, true);
  element(w, "note", NULL, NULL, study->note);
  left_out(w, &study->left_out);
}

static void overlaps(writer* w, const why_study* study) {
  for (size_t i = 0; i < study->overlaps.count; i++) {
    const why_overlap* row = &study->overlaps.at[i];
    open_tag(w, "overlaps", row->place);
    word(w, "study", row->study);
    word(w, "people", row->people);
    text(w, "keep", row->keep_other ? "other" : "both");
    why_buffer_add(w->out, ">");
    escape(w, row->text, false);
    why_buffer_add(w->out, "</overlaps>");
    end_line(w);
  }
}

static void draft(writer* w) {
  const why_draft_lexed* text_read = w->how->draft;
  if (!text_read)
    return;
  open_tag(w, "draft", (why_place){0});
  close_tag(w, false);
  for (size_t i = 0; i < text_read->sentences.count; i++)
    element(w, "sentence", "number", why_arena_print(w->out->arena, "%zu", i + 1),
            text_read->sentences.at[i].text);
  for (size_t i = 0; i < text_read->numbers.count; i++) {
    const why_draft_number* row = &text_read->numbers.at[i];
    open_tag(w, "number", (why_place){0});
    text(w, "written", row->text);
    text(w, "sentence", why_arena_print(w->out->arena, "%zu", row->sentence + 1));
    text(w, "fate", why_number_fate_name(row->fate));
    why_buffer_add(w->out, ">");
    escape(w, row->what, false);
    why_buffer_add(w->out, "</number>");
    end_line(w);
  }
  end_tag(w, "draft");
}

#define NOTED(list, index)                                                                         \
  (w->how->comments && (index) < w->how->comments->list.count ? w->how->comments->list.at[index]   \
                                                              : NULL)

static void rows(writer* w, const why_study* study) {
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

void why_study_write(const why_study* study, const why_study_writing* how, why_buffer* out) {
  writer all = {.how = how, .out = out, .place = study->place};
  writer* w = &all;
  why_buffer_add(out, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>");
  end_line(w);
  comment(w, "One growth trial; evidence/schema/studies.rng explains every attribute.");
  comment(w, how->comments ? how->comments->study : NULL);
  open_tag(w, "study", study->place);
  word(w, "id", study->id);
  text(w, "year", study->year ? why_arena_print(out->arena, "%u", study->year) : "");
  text(w, "doi", study->doi);
  word(w, "doi-source", study->doi_source);
  text(w, "pmid", study->pmid);
  text(w, "pmc", study->pmc);
  word(w, "design", study->design);
  close_tag(w, false);
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
  end_tag(w, "study");
}
