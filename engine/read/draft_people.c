// SPDX-License-Identifier: GPL-3.0-or-later
// Who took part and how long they trained. A figure that the text gives twice with different values
// is left open, unless the people of the arms or of both sexes add up to one of them.
#include "draft_parts.h"

#include <math.h>
#include <string.h>

bool why_draft_use(why_draft_number* number, double* field, const char* what) {
  if (isnan(number->value)) {
    why_draft_open(number, "a comma or point that can be read in two ways");
    return false;
  }
  if (field && !isnan(*field) && *field != number->value) {
    why_draft_open(number, "another value than the one taken");
    return false;
  }
  if (field)
    *field = number->value;
  number->fate = WHY_NUMBER_USED;
  number->what = what;
  return true;
}

void why_draft_open(why_draft_number* number, const char* what) {
  number->fate = WHY_NUMBER_OPEN;
  number->what = what;
}

void why_draft_ignore(why_draft_number* number, const char* what) {
  number->fate = WHY_NUMBER_IGNORED;
  number->what = what;
}

void why_draft_open_all(const why_draft_found* found, const char* what) {
  for (size_t i = 0; i < found->roles.count; i++)
    if (!found->roles.at[i].number->what)
      why_draft_open(found->roles.at[i].number, what);
}

void why_draft_quote(const why_drafter* d, const char** comment, size_t sentence) {
  const char* text = d->draft->text.sentences.at[sentence].text;
  if (*comment && strstr(*comment, text))
    return;
  const char* quoted = why_arena_print(d->arena, "sentence %zu: %s", sentence + 1, text);
  *comment = *comment ? why_arena_print(d->arena, "%s / %s", *comment, quoted) : quoted;
}

/// The value that all forms giving `gives` agree on; NAN when there is none or they differ.
static double agreed(const why_drafter* d, why_gives gives, const char* role) {
  double value = NAN;
  for (size_t i = 0; i < d->found.count; i++) {
    const why_draft_found* each = &d->found.at[i];
    const why_draft_number* number =
        each->form->gives == gives ? why_draft_role_of(each, role) : NULL;
    if (!number)
      continue;
    if (isnan(number->value) || (!isnan(value) && value != number->value))
      return NAN;
    value = number->value;
  }
  return value;
}

static bool is_given(const why_drafter* d, why_gives gives) {
  for (size_t i = 0; i < d->found.count; i++)
    if (d->found.at[i].form->gives == gives)
      return true;
  return false;
}

/// Use every number of `gives` whose value is `value`; leave the others open.
static void settle(why_drafter* d, why_gives gives, const char* role, double value, double* field,
                   const char* what, const char* other, const char** comment) {
  for (size_t i = 0; i < d->found.count; i++) {
    const why_draft_found* each = &d->found.at[i];
    why_draft_number* number = each->form->gives == gives ? why_draft_role_of(each, role) : NULL;
    if (!number)
      continue;
    if (number->value != value)
      why_draft_open(number, other);
    else if (why_draft_use(number, field, what))
      why_draft_quote(d, comment, each->sentence);
  }
}

static double men_and_women(const why_drafter* d, const why_draft_found* found) {
  (void)d;
  const why_draft_number* men = why_draft_role_of(found, "men");
  const why_draft_number* women = why_draft_role_of(found, "women");
  return men && women ? men->value + women->value : NAN;
}

/// What the people of all arms add up to, or those of both sexes; NAN when that is not known.
static double added_up(const why_drafter* d) {
  double sum = 0;
  const why_study* study = &d->draft->study;
  for (size_t i = 0; i < study->arms.count; i++)
    sum += study->arms.at[i].n;
  if (study->arms.count > 1 && !isnan(sum))
    return sum;
  for (size_t i = 0; i < d->found.count; i++)
    if (d->found.at[i].form->gives == WHY_GIVES_SEXES)
      return men_and_women(d, &d->found.at[i]);
  return NAN;
}

static void count_people(why_drafter* d) {
  static const char OTHER[] = "people; the text gives several counts";
  why_study* study = &d->draft->study;
  double value = agreed(d, WHY_GIVES_PEOPLE, "n");
  if (isnan(value))
    value = added_up(d); // one of the counts, if there are several
  settle(d, WHY_GIVES_PEOPLE, "n", value, &study->n, "population n", OTHER,
         &d->draft->comments.population);
}

static void tell_sexes(why_drafter* d) {
  why_study* study = &d->draft->study;
  const char* sex = why_draft_told(&d->tables->abstracts, "sex", d->whole, d->arena);
  study->sex = why_symbols_add(d->draft->symbols, !sex ? "mixed" : *sex ? sex : WHY_TO_CONFIRM);
  for (size_t i = 0; i < d->found.count; i++) {
    const why_draft_found* each = &d->found.at[i];
    if (each->form->gives != WHY_GIVES_SEXES)
      continue;
    bool sound = men_and_women(d, each) == study->n;
    for (size_t k = 0; k < each->roles.count; k++)
      if (!sound || !why_draft_use(each->roles.at[k].number, NULL, "population sex: mixed"))
        why_draft_open(each->roles.at[k].number, "people of one sex");
    if (sound)
      why_draft_quote(d, &d->draft->comments.population, each->sentence);
  }
}

static void tell_age(why_drafter* d) {
  settle(d, WHY_GIVES_AGE, "age", agreed(d, WHY_GIVES_AGE, "age"), &d->draft->study.age,
         "population age", "an age; the text gives several", &d->draft->comments.population);
  for (size_t i = 0; i < d->found.count; i++) {
    why_draft_number* spread = d->found.at[i].form->gives == WHY_GIVES_AGE
                                   ? why_draft_role_of(&d->found.at[i], "sd")
                                   : NULL;
    if (spread)
      why_draft_ignore(spread, "the spread of ages; the study file keeps the mean");
  }
}

static void tell_weeks(why_drafter* d) {
  static const char OTHER[] = "weeks; of what is not clear";
  static const char WHAT[] = "protocol weeks";
  why_study* study = &d->draft->study;
  const char** comment = &d->draft->comments.protocol;
  bool strong = is_given(d, WHY_GIVES_WEEKS);
  double value = agreed(d, strong ? WHY_GIVES_WEEKS : WHY_GIVES_WEEKS_SAID, "weeks");
  settle(d, WHY_GIVES_WEEKS, "weeks", value, &study->weeks, WHAT, OTHER, comment);
  settle(d, WHY_GIVES_WEEKS_SAID, "weeks", value, &study->weeks, WHAT, OTHER, comment);
}

static void tell_sessions(why_drafter* d) {
  static const char OTHER[] = "sessions a week; the text gives several";
  double value = agreed(d, WHY_GIVES_SESSIONS, "sessions");
  if (isnan(value) && !is_given(d, WHY_GIVES_SESSIONS))
    return;
  if (isnan(value))
    value = agreed(d, WHY_GIVES_SESSIONS, "sessions2");
  settle(d, WHY_GIVES_SESSIONS, "sessions", value, &d->draft->study.sessions_per_week,
         "protocol sessions-per-week", OTHER, &d->draft->comments.protocol);
  settle(d, WHY_GIVES_SESSIONS, "sessions2", value, &d->draft->study.sessions_per_week,
         "protocol sessions-per-week", OTHER, &d->draft->comments.protocol);
}

static bool tells_design(const why_drafter* d, const char* is) {
  return why_draft_tells(&d->tables->abstracts, "design", is, d->whole, d->arena);
}

/// The words for the design that the text bears out; to confirm where it says too little or too
/// much.
static const char* design_of(const why_drafter* d) {
  bool random = tells_design(d, "randomised");
  bool plain = tells_design(d, "nonrandomised");
  bool within = tells_design(d, "within");
  bool crossed = tells_design(d, "crossover");
  bool groups = tells_design(d, "groups");
  if (random == plain || within + crossed + groups != 1)
    return WHY_TO_CONFIRM;
  return why_arena_print(d->arena, "%s-%s",
                         within    ? "within-subject"
                         : crossed ? "crossover"
                                   : "parallel",
                         random ? "randomised" : "nonrandomised");
}

void why_draft_people(why_drafter* d) {
  why_study* study = &d->draft->study;
  const char* training = why_draft_told(&d->tables->abstracts, "training", d->whole, d->arena);
  study->training = training && *training ? why_symbols_add(d->draft->symbols, training) : 0;
  study->design = why_symbols_add(d->draft->symbols, design_of(d));
  study->doi = d->draft->text.doi;
  study->doi_source = why_symbols_add(d->draft->symbols, *study->doi ? "page" : "not-found");
  count_people(d);
  tell_sexes(d);
  tell_age(d);
  tell_weeks(d);
  tell_sessions(d);
}
