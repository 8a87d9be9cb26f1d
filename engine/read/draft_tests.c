// SPDX-License-Identifier: GPL-3.0-or-later
// What belongs to a value that stands already: its p, its interval, its standardised size; and
// differences between the two arms of a text, where it says which arm had the more.
#include "draft_parts.h"

#include <math.h>
#include <stdint.h>
#include <string.h>
#include <strings.h>

static bool tells(const why_drafter* d, const char* is, const char* text) {
  return why_draft_tells(&d->tables->abstracts, "about", is, text, d->arena);
}

/// Where the innermost bracket around byte `at` opens; SIZE_MAX: it stands in none.
static size_t bracket_of(const char* shape, size_t at) {
  size_t open[32];
  size_t depth = 0;
  for (size_t i = 0; i < at && shape[i]; i++) {
    if ((shape[i] == '(' || shape[i] == '[') && depth < 32)
      open[depth++] = i;
    else if ((shape[i] == ')' || shape[i] == ']') && depth)
      depth--;
  }
  return depth ? open[depth - 1] : SIZE_MAX;
}

/// Whether a bracket opens behind a value, with no other number between.
static bool opens_behind(const char* shape, const why_placed* value, size_t bracket) {
  if (bracket == SIZE_MAX || bracket < value->end)
    return false;
  for (size_t i = value->end; i < bracket; i++)
    if (shape[i] == WHY_NUMBER_MARK || shape[i] == WHY_TAKEN_MARK)
      return false;
  return true;
}

/// Whether another value of the clause stands before `last` without a bracket of its own: what
/// follows then may be of both.
static bool is_shared(const why_drafter* d, const char* shape, const why_placed* last,
                      size_t start) {
  for (size_t i = 0; i < d->placed.count; i++) {
    const why_placed* each = &d->placed.at[i];
    if (each->sentence == last->sentence && each->at >= start && each->end <= last->at &&
        !memchr(shape + each->end, '(', last->at - each->end))
      return true;
    if (each->sentence == last->sentence && each != last && each->end == last->end)
      return true; // of one list
  }
  return false;
}

/// The value that a test at byte `at` belongs to: the one in its bracket, the one right before it,
/// or the only one of its clause; NULL when that is not clear.
static const why_placed* owner_of(const why_drafter* d, size_t sentence, size_t at) {
  const char* shape = d->draft->text.sentences.at[sentence].shape;
  size_t start = 0, end = 0;
  why_draft_clause(d, sentence, at, &start, &end);
  size_t bracket = bracket_of(shape, at);
  const why_placed* last = NULL;
  const why_placed* same = NULL;
  size_t in_clause = 0, in_bracket = 0;
  for (size_t i = 0; i < d->placed.count; i++) {
    const why_placed* each = &d->placed.at[i];
    if (each->sentence != sentence || each->at < start || each->at >= end)
      continue;
    in_clause++;
    if (each->at < at && (!last || each->at > last->at))
      last = each;
    if (bracket != SIZE_MAX && bracket_of(shape, each->at) == bracket) {
      in_bracket++;
      same = each;
    }
  }
  if (in_bracket)
    return in_bracket == 1 ? same : NULL;
  if (last && opens_behind(shape, last, bracket))
    return is_shared(d, shape, last, start) ? NULL : last;
  return in_clause == 1 ? last : NULL;
}

/// A statement about the difference of the two arms that the text has.
typedef struct {
  why_symbol a; ///< The arm that had the more; 0: the text does not say.
  why_symbol muscle;
} comparison;

/// Whether the words around byte `at` compare the only two arms for one muscle, over no values of
/// single arms and not over time.
static bool compares(const why_drafter* d, size_t sentence, size_t at, comparison* found) {
  const why_study* study = &d->draft->study;
  const char* shape = d->draft->text.sentences.at[sentence].shape;
  size_t start = 0, end = 0, count = 0;
  why_draft_clause(d, sentence, at, &start, &end);
  const char* clause = why_draft_between(d, sentence, start, end);
  if (study->arms.count != 2 || !tells(d, "between", clause) || tells(d, "over-time", clause) ||
      tells(d, "strength", clause))
    return false;
  for (size_t i = 0; i < d->placed.count; i++)
    if (d->placed.at[i].sentence == sentence && !d->placed.at[i].of_contrast &&
        d->placed.at[i].at >= start && d->placed.at[i].at < end)
      return false;
  why_draft_named_list named = why_draft_mentions(d, sentence, start, end);
  found->muscle = why_draft_sole(&named, false, &count);
  if (!count) {
    named = why_draft_mentions(d, sentence, 0, strlen(shape));
    found->muscle = why_draft_sole(&named, false, &count);
  }
  found->a = 0;
  for (size_t i = 0; i < named.count; i++) {
    size_t from = named.at[i].start;
    const char* before = why_draft_between(d, sentence, start < from ? start : from, from);
    if (named.at[i].is_arm && tells(d, "favours", before) && !found->a)
      found->a = named.at[i].name;
  }
  return found->muscle != 0;
}

/// The contrast for that muscle, made if new; its number.
static size_t contrast_of(why_drafter* d, const comparison* found, size_t sentence) {
  why_study* study = &d->draft->study;
  why_symbol first = study->arms.at[0].id;
  why_symbol other = study->arms.at[1].id;
  why_symbol a = found->a ? found->a : first;
  const why_low_high none = {NAN, NAN};
  for (size_t i = 0; i < study->contrasts.count; i++)
    if (study->contrasts.at[i].muscle == found->muscle)
      return i;
  why_contrast* made = WHY_LIST_ADD(d->arena, study->contrasts);
  *made = (why_contrast){.a = a,
                         .b = a == first ? other : first,
                         .muscle = found->muscle,
                         .site = d->to_confirm,
                         .favours = d->to_confirm,
                         .p = {NAN, NAN, NAN, ""},
                         .p_of = "",
                         .effect = NAN,
                         .effect_kind = "",
                         .effect_text = "",
                         .effect_se = NAN,
                         .effect_ci95 = none,
                         .effect_ci90 = none,
                         .difference_pct = NAN,
                         .smd = NAN,
                         .smd_ci95 = none,
                         .where = "abstract",
                         .note = "",
                         .doubt = "",
                         .left_out = {.text = ""}};
  *WHY_LIST_ADD(d->arena, made->basis) = why_symbols_add(d->draft->symbols, "abstract");
  *WHY_LIST_ADD(d->arena, d->draft->comments.contrasts) = NULL;
  why_draft_quote(d, &d->draft->comments.contrasts.at[study->contrasts.count - 1], sentence);
  return study->contrasts.count - 1;
}

static void place_contrast(why_drafter* d, const why_draft_found* found, size_t index,
                           bool in_percent) {
  *WHY_LIST_ADD(d->arena, d->placed) = (why_placed){.sentence = found->sentence,
                                                    .at = found->roles.at[0].number->at,
                                                    .end = found->end,
                                                    .index = index,
                                                    .of_contrast = true,
                                                    .in_percent = in_percent};
}

static void take_difference(why_drafter* d, const why_draft_found* found) {
  why_draft_number* effect = why_draft_role_of(found, "effect");
  comparison what;
  if (strcmp(found->unit, "%") == 0) {
    why_draft_open(effect, "a difference in per cent");
    return;
  }
  if (!compares(d, found->sentence, effect->at, &what) || !what.a) {
    why_draft_open(effect, "a difference; which arm had the more is not clear");
    return;
  }
  size_t index = contrast_of(d, &what, found->sentence);
  why_contrast* row = &d->draft->study.contrasts.at[index];
  if (row->a != what.a) {
    why_draft_open(effect, "a difference; the text turns the arms round");
    return;
  }
  if (!why_draft_use(effect, &row->effect, "contrast effect"))
    return;
  row->effect_kind = why_arena_print(d->arena, "mean difference (%s, a minus b)", found->unit);
  place_contrast(d, found, index, false);
}

/// Whether the clause around byte `at` is of strength alone.
static bool is_of_strength(const why_drafter* d, size_t sentence, size_t at) {
  size_t start = 0, end = 0;
  why_draft_clause(d, sentence, at, &start, &end);
  const char* clause = why_draft_between(d, sentence, start, end);
  return tells(d, "strength", clause) && !tells(d, "size", clause);
}

static const char OF_STRENGTH[] = "of strength or another quality, not of muscle size";

static void take_size(why_drafter* d, const why_draft_found* found) {
  why_draft_number* size = why_draft_role_of(found, "es");
  const why_placed* owner = owner_of(d, found->sentence, size->at);
  size_t start = 0, end = 0;
  why_draft_clause(d, found->sentence, size->at, &start, &end);
  bool between = tells(d, "between", why_draft_between(d, found->sentence, start, end));
  if (owner && !owner->of_contrast && !between)
    why_draft_use(size, &d->draft->study.results.at[owner->index].effect_d, "result effect-d");
  else if (owner && owner->of_contrast)
    why_draft_use(size, &d->draft->study.contrasts.at[owner->index].smd, "contrast smd");
  else if (is_of_strength(d, found->sentence, size->at))
    why_draft_ignore(size, OF_STRENGTH);
  else
    why_draft_open(size, "an effect size; of what is not clear");
}

/// Where an interval of `level` per cent about the value of `owner` belongs; NULL: nowhere.
static why_low_high* interval_field(why_drafter* d, const why_placed* owner, double level) {
  if (owner->of_contrast) {
    why_contrast* row = &d->draft->study.contrasts.at[owner->index];
    return level == 95 ? &row->effect_ci95 : level == 90 ? &row->effect_ci90 : NULL;
  }
  why_result* row = &d->draft->study.results.at[owner->index];
  return level == 95 && !owner->in_percent && !isnan(row->change) ? &row->change_ci95 : NULL;
}

static void take_interval(why_drafter* d, const why_draft_found* found) {
  why_draft_number* level = why_draft_role_of(found, "level");
  why_draft_number* low = why_draft_role_of(found, "low");
  why_draft_number* high = why_draft_role_of(found, "high");
  if (level)
    why_draft_ignore(level, "the level of an interval");
  if (!low || !high)
    return;
  const why_placed* owner = owner_of(d, found->sentence, low->at);
  why_low_high* field = owner && level ? interval_field(d, owner, level->value) : NULL;
  if (field && isnan(field->low) && why_draft_use(low, &field->low, "ends of an interval") &&
      why_draft_use(high, &field->high, "ends of an interval"))
    return;
  if (field && isnan(field->high))
    field->low = NAN;
  const char* what = !level  ? "an interval of unknown level"
                     : owner ? "an interval for which the study file has no place"
                             : "an interval; of what is not clear";
  why_draft_open(low, what);
  why_draft_open(high, what);
}

static double* p_field(why_p* p, const char* op) {
  static const char* const BELOW[] = {"<", "<=", "\xE2\x89\xA4", "less than", "below"};
  static const char* const ABOVE[] = {">", ">=", "\xE2\x89\xA5", "greater than", "above"};
  for (size_t i = 0; i < sizeof BELOW / sizeof *BELOW; i++) {
    if (strcasecmp(op, BELOW[i]) == 0)
      return &p->below;
    if (strcasecmp(op, ABOVE[i]) == 0)
      return &p->above;
  }
  return &p->exact;
}

/// A study file takes one p of a row, exact or a bound.
static bool use_p(why_p* p, const char* op, why_draft_number* number, const char* what) {
  double* field = p_field(p, op);
  bool taken = !isnan(p->exact) || !isnan(p->below) || !isnan(p->above);
  return (!taken || !isnan(*field)) && why_draft_use(number, field, what);
}

static void take_p(why_drafter* d, const why_draft_found* found) {
  why_draft_number* number = why_draft_role_of(found, "p");
  const char* what = *p_field(&(why_p){0, 1, 1, ""}, found->op) > 0 ? "p, a bound" : "p";
  size_t start = 0, end = 0;
  why_draft_clause(d, found->sentence, number->at, &start, &end);
  const char* clause = why_draft_between(d, found->sentence, start, end);
  const why_placed* owner = owner_of(d, found->sentence, number->at);
  if (!owner && is_of_strength(d, found->sentence, number->at)) {
    why_draft_ignore(number, OF_STRENGTH);
    return;
  }
  comparison compared;
  why_p* p = NULL;
  if (owner && owner->of_contrast)
    p = &d->draft->study.contrasts.at[owner->index].p;
  else if (owner && !tells(d, "between", clause) && !tells(d, "strength", clause))
    p = &d->draft->study.results.at[owner->index].p;
  else if (!owner && compares(d, found->sentence, number->at, &compared)) {
    size_t index = contrast_of(d, &compared, found->sentence); // may move the rows
    p = &d->draft->study.contrasts.at[index].p;
  }
  if (!p || !use_p(p, found->op, number, what))
    why_draft_open(number, why_arena_print(d->arena, "%s; of what is not clear", what));
}

void why_draft_tests(why_drafter* d) {
  static void (*const TAKE[])(why_drafter*,
                              const why_draft_found*) = {[WHY_GIVES_DIFFERENCE] = take_difference,
                                                         [WHY_GIVES_EFFECT_SIZE] = take_size,
                                                         [WHY_GIVES_INTERVAL] = take_interval,
                                                         [WHY_GIVES_P] = take_p};
  static const why_gives ORDER[] = {WHY_GIVES_DIFFERENCE, WHY_GIVES_EFFECT_SIZE, WHY_GIVES_INTERVAL,
                                    WHY_GIVES_P};
  for (size_t k = 0; k < sizeof ORDER / sizeof *ORDER; k++)
    for (size_t i = 0; i < d->found.count; i++)
      if (d->found.at[i].form->gives == ORDER[k])
        TAKE[ORDER[k]](d, &d->found.at[i]);
}
