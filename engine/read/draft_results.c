// SPDX-License-Identifier: GPL-3.0-or-later
// Growth of a muscle in an arm. A value is taken only where its clause leaves one muscle and one
// arm, by naming just one, by standing right behind it, or by a list that ends in "respectively".
#include "draft_parts.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

/// A value of a form and its spread.
typedef struct {
  why_draft_number* value;
  why_draft_number* spread;
} measured;

typedef struct {
  why_drafter* d;
  const why_draft_found* found;
  size_t start; ///< Of the clause.
  size_t end;
  why_draft_named_list named;  ///< In the clause.
  why_draft_named_list around; ///< In the sentence.
} reading;

static bool tells(const why_drafter* d, const char* is, const char* text) {
  return why_draft_tells(&d->tables->abstracts, "about", is, text, d->arena);
}

static reading read_clause(why_drafter* d, const why_draft_found* found) {
  reading r = {.d = d, .found = found};
  size_t at = found->roles.at[0].number->at;
  why_draft_clause(d, found->sentence, at, &r.start, &r.end);
  r.named = why_draft_mentions(d, found->sentence, r.start, r.end);
  const char* shape = d->draft->text.sentences.at[found->sentence].shape;
  r.around = why_draft_mentions(d, found->sentence, 0, strlen(shape));
  return r;
}

/// Why a clause is not of muscle size: NULL when it may be.
typedef enum { OF_SIZE, OF_OTHER, OF_BOTH } subject;

static subject subject_of(const reading* r) {
  const why_drafter* d = r->d;
  const char* clause = why_draft_between(d, r->found->sentence, r->start, r->end);
  const char* whole = d->draft->text.sentences.at[r->found->sentence].shape;
  bool strength = tells(d, "strength", clause);
  bool size = tells(d, "size", clause);
  if (!strength && !size && tells(d, "strength", whole))
    return tells(d, "size", whole) ? OF_BOTH : OF_OTHER;
  return !strength ? OF_SIZE : size ? OF_BOTH : OF_OTHER;
}

/// The only arm, where the text has no other.
static why_symbol only_arm(const why_drafter* d) {
  const why_study* study = &d->draft->study;
  return study->arms.count == 1 && study->arms.at[0].id != d->to_confirm ? study->arms.at[0].id : 0;
}

/// Whether only an opening bracket or colon stands between a name and a value.
static bool is_next_to(const char* shape, size_t name_end, size_t value) {
  if (value <= name_end || value - name_end > 3)
    return false;
  for (size_t i = name_end; i < value; i++)
    if (!strchr(" (:=+", shape[i]))
      return false;
  return true;
}

/// What stands right before the value, an arm or a muscle; NULL: neither.
static const why_draft_named* neighbour(const reading* r, const why_draft_number* value) {
  const char* shape = r->d->draft->text.sentences.at[r->found->sentence].shape;
  for (size_t i = 0; i < r->named.count; i++)
    if (is_next_to(shape, r->named.at[i].end, value->at))
      return &r->named.at[i];
  return NULL;
}

/// Where a name begins that follows `from` by no more than "% in the"; SIZE_MAX: none does.
static size_t name_behind(const char* shape, size_t from) {
  static const char* const JOINS[] = {" in ", " for ", " after ", " with ", " following ", " ("};
  from += strspn(shape + from, " %)");
  from -= from && shape[from - 1] == ' ';
  for (size_t i = 0; i < sizeof JOINS / sizeof *JOINS; i++)
    if (strncmp(shape + from, JOINS[i], strlen(JOINS[i])) == 0) {
      from += strlen(JOINS[i]);
      return from + (strncmp(shape + from, "the ", 4) == 0 ? 4 : 0);
    }
  return SIZE_MAX;
}

/// What stands right behind the value ("6.2% in the squat group"), unless more names are joined to
/// it; NULL: nothing.
static const why_draft_named* follower(const reading* r) {
  const char* shape = r->d->draft->text.sentences.at[r->found->sentence].shape;
  size_t begin = name_behind(shape, r->found->end);
  for (size_t i = 0; i < r->named.count; i++) {
    const why_draft_named* each = &r->named.at[i];
    if (each->start != begin)
      continue;
    bool more = i + 1 < r->named.count && r->named.at[i + 1].is_arm == each->is_arm &&
                !memchr(shape + each->end, WHY_NUMBER_MARK, r->named.at[i + 1].start - each->end) &&
                !memchr(shape + each->end, WHY_TAKEN_MARK, r->named.at[i + 1].start - each->end);
    return more ? NULL : each;
  }
  return NULL;
}

/// The one muscle or arm of the clause, else of the sentence.
static why_symbol sole(const reading* r, bool arms) {
  size_t count = 0;
  why_symbol found = why_draft_sole(&r->named, arms, &count);
  if (!count)
    found = why_draft_sole(&r->around, arms, &count);
  if (!count)
    return arms ? only_arm(r->d) : r->d->only_muscle;
  return found;
}

/// The `index`th of `count` names that a list with "respectively" goes through; 0: there are not
/// just as many.
static why_symbol listed(const reading* r, bool arms, size_t index, size_t count) {
  const char* clause = why_draft_between(r->d, r->found->sentence, r->start, r->end);
  if (!tells(r->d, "respectively", clause))
    return 0;
  why_symbol found = 0;
  size_t seen = 0;
  for (size_t i = 0; i < r->named.count; i++) {
    if (r->named.at[i].is_arm != arms)
      continue;
    found = seen == index ? r->named.at[i].name : found;
    seen++;
  }
  return seen == count ? found : 0;
}

/// The arm (muscle) of value `index` of `count`.
static why_symbol subject_named(const reading* r, bool arms, const measured* m, size_t index,
                                size_t count) {
  const why_draft_named* next = neighbour(r, m->value);
  if (next && next->is_arm == arms)
    return next->name;
  if (count > 1) {
    why_symbol by_list = listed(r, arms, index, count);
    if (by_list)
      return by_list;
  }
  const why_draft_named* behind = count == 1 ? follower(r) : NULL;
  if (behind && behind->is_arm == arms)
    return behind->name;
  return sole(r, arms);
}

/// Whether every one of several values would get the same arm and muscle: then the list means
/// something else.
static bool tells_apart(const reading* r, const measured* values, size_t count) {
  if (count < 2)
    return true;
  why_symbol arm = subject_named(r, true, &values[0], 0, count);
  why_symbol muscle = subject_named(r, false, &values[0], 0, count);
  return arm != subject_named(r, true, &values[1], 1, count) ||
         muscle != subject_named(r, false, &values[1], 1, count);
}

/// Of `tells`: what the clause says, else the sentence, else the whole text; "" or NULL as
/// why_draft_told.
static const char* told(const reading* r, const char* what) {
  const why_drafter* d = r->d;
  const char* texts[] = {why_draft_between(d, r->found->sentence, r->start, r->end),
                         d->draft->text.sentences.at[r->found->sentence].text, d->whole};
  const char* found = "";
  for (size_t i = 0; i < 3 && found && !*found; i++)
    found = why_draft_told(&d->tables->abstracts, what, texts[i], d->arena);
  return found;
}

static why_symbol method_of(const reading* r) {
  const why_drafter* d = r->d;
  const char* image = told(r, "image");
  const char* quantity = told(r, "quantity");
  why_symbol found = 0;
  for (size_t i = 0; image && quantity && i < d->tables->measured_muscles.methods.count; i++) {
    const why_method* row = &d->tables->measured_muscles.methods.at[i];
    if (strcmp(why_symbols_text(d->tables->symbols, row->image), image) == 0 &&
        strcmp(why_symbols_text(d->tables->symbols, row->quantity), quantity) == 0 && !found)
      found = row->name; // the plain way of several stands first in the file
  }
  return found ? found : d->to_confirm;
}

/// The site as a number of per cent, if the whole text gives just one.
static why_draft_number* site_number(const reading* r) {
  why_draft_number* only = NULL;
  for (size_t i = 0; i < r->d->found.count; i++) {
    const why_draft_found* each = &r->d->found.at[i];
    if (each->form->gives != WHY_GIVES_SITE)
      continue;
    if (only || each->roles.count > 1)
      return NULL;
    only = each->roles.at[0].number;
  }
  return only;
}

static why_symbol site_of(const reading* r) {
  const why_drafter* d = r->d;
  why_draft_number* number = site_number(r);
  if (number && why_draft_use(number, NULL, "site of a result"))
    return why_symbols_add(d->draft->symbols, why_arena_print(d->arena, "%s%%", number->text));
  const char* clause = why_draft_between(d, r->found->sentence, r->start, r->end);
  const char* word = why_draft_told(&d->tables->abstracts, "site", clause, d->arena);
  return word && *word ? why_symbols_add(d->draft->symbols, word) : d->to_confirm;
}

static why_result empty_result(const why_drafter* d) {
  const why_low_high none = {NAN, NAN};
  const why_reading unread = {NAN, NAN, NAN};
  why_result row = {.week = NAN,
                    .n = NAN,
                    .pre = unread,
                    .post = unread,
                    .change = NAN,
                    .change_sd = NAN,
                    .change_dispersion = NAN,
                    .change_ci95 = none,
                    .change_pct = NAN,
                    .change_pct_sd = NAN,
                    .change_pct_sd_from_p = NAN,
                    .change_pct_sd_at_most = NAN,
                    .change_pct_dispersion = NAN,
                    .change_pct_range = none,
                    .effect_d = NAN,
                    .p = {NAN, NAN, NAN, ""},
                    .where = "abstract",
                    .doubt = "",
                    .left_out = {.text = ""},
                    .unit = d->to_confirm};
  *WHY_LIST_ADD(d->arena, row.basis) = why_symbols_add(d->draft->symbols, "abstract");
  return row;
}

/// The row of that arm, muscle, site and method, made if new; its number.
static size_t result_of(const reading* r, why_symbol arm, why_symbol muscle) {
  why_drafter* d = r->d;
  why_study* study = &d->draft->study;
  why_symbol site = site_of(r);
  why_symbol method = method_of(r);
  for (size_t i = 0; i < study->results.count; i++) {
    const why_result* row = &study->results.at[i];
    if (row->arm == arm && row->muscle == muscle && row->site == site && row->method == method)
      return i;
  }
  why_result* made = WHY_LIST_ADD(d->arena, study->results);
  *made = empty_result(d);
  made->arm = arm;
  made->muscle = muscle;
  made->site = site;
  made->method = method;
  *WHY_LIST_ADD(d->arena, d->draft->comments.results) = NULL;
  return study->results.count - 1;
}

static const char* as_of(const reading* r, const why_result* row, const char* what) {
  const why_symbols* symbols = r->d->draft->symbols;
  return why_arena_print(r->d->arena, "result %s, %s: %s", why_symbols_text(symbols, row->arm),
                         why_symbols_text(symbols, row->muscle), what);
}

/// Put a spread where it belongs: `sd`, `se` (NULL: no place for it) or, where the text does not
/// say which, `either` (NULL likewise).
static void use_spread(const reading* r, why_draft_number* spread, double* sd, double* se,
                       double* either, const char* what) {
  if (!spread)
    return;
  const char* is = r->d->spread;
  double* field = !is || !*is ? either : strcmp(is, "sd") == 0 ? sd : se;
  if (field)
    why_draft_use(spread, field, what);
  else if (is && *is)
    why_draft_open(spread, "a standard error of a change, for which the study file has no place");
  else
    why_draft_open(spread, "a spread; the text does not say whether SD or standard error");
}

static void remember(const reading* r, const why_draft_number* value, size_t index,
                     bool in_percent) {
  why_drafter* d = r->d;
  *WHY_LIST_ADD(d->arena, d->placed) = (why_placed){.sentence = r->found->sentence,
                                                    .at = value->at,
                                                    .end = r->found->end,
                                                    .index = index,
                                                    .in_percent = in_percent};
  why_draft_quote(d, &d->draft->comments.results.at[index], r->found->sentence);
}

static bool shrinks(const reading* r, const why_draft_number* value) {
  const char* before = why_draft_between(r->d, r->found->sentence, r->start, value->at);
  return value->value > 0 && tells(r->d, "shrinks", before) && !tells(r->d, "grows", before);
}

static void fill_percent(const reading* r, const measured* m, size_t index) {
  why_result* row = &r->d->draft->study.results.at[index];
  if (!why_draft_use(m->value, &row->change_pct, as_of(r, row, "change-pct")))
    return;
  if (shrinks(r, m->value))
    row->change_pct = -row->change_pct;
  use_spread(r, m->spread, &row->change_pct_sd, NULL, &row->change_pct_dispersion,
             as_of(r, row, "spread of change-pct"));
  remember(r, m->value, index, true);
}

static void set_unit(const reading* r, why_result* row) {
  if (*r->found->unit && row->unit == r->d->to_confirm)
    row->unit = why_symbols_add(r->d->draft->symbols, r->found->unit);
}

static void fill_change(const reading* r, const measured* m, size_t index) {
  why_result* row = &r->d->draft->study.results.at[index];
  if (!why_draft_use(m->value, &row->change, as_of(r, row, "change")))
    return;
  if (shrinks(r, m->value))
    row->change = -row->change;
  use_spread(r, m->spread, &row->change_sd, NULL, &row->change_dispersion,
             as_of(r, row, "spread of change"));
  set_unit(r, row);
  remember(r, m->value, index, false);
}

static void fill_growth(const reading* r, const measured* m, size_t index) {
  const why_draft_found* found = r->found;
  why_result* row = &r->d->draft->study.results.at[index];
  why_draft_number* post = why_draft_role_of(found, "post");
  why_draft_number* post_sd = why_draft_role_of(found, "post_sd");
  if (!why_draft_use(m->value, &row->pre.mean, as_of(r, row, "pre-mean")) || !post ||
      !why_draft_use(post, &row->post.mean, as_of(r, row, "post-mean")))
    return;
  use_spread(r, m->spread, &row->pre.sd, &row->pre.se, NULL, as_of(r, row, "spread before"));
  use_spread(r, post_sd ? post_sd : why_draft_role_of(found, "post_sd2"), &row->post.sd,
             &row->post.se, NULL, as_of(r, row, "spread after"));
  set_unit(r, row);
  remember(r, m->value, index, false);
}

/// The values of a form with their spreads; returns how many.
static size_t values_of(const why_draft_found* found, measured values[4]) {
  static const char* const NAMES[][2] = {{"pct", "sd"},    {"pct2", "sd2"}, {"pct3", "sd3"},
                                         {"pct3b", "sd3"}, {"pct4", "sd4"}, {"change", "sd"},
                                         {"pre", "pre_sd"}};
  size_t count = 0;
  for (size_t i = 0; i < sizeof NAMES / sizeof *NAMES && count < 4; i++) {
    why_draft_number* value = why_draft_role_of(found, NAMES[i][0]);
    if (value)
      values[count++] = (measured){value, why_draft_role_of(found, NAMES[i][1])};
  }
  return count;
}

static const char* kind_of(why_gives gives) {
  return gives == WHY_GIVES_GROWTH   ? "sizes before and after"
         : gives == WHY_GIVES_CHANGE ? "a change of size"
                                     : "a change in per cent";
}

/// What is not known of a value that could not be placed.
static const char* lacking(const reading* r, why_symbol arm, why_symbol muscle) {
  const char* kind = kind_of(r->found->form->gives);
  if (!muscle)
    return why_arena_print(r->d->arena, "%s; of which %s is not clear", kind,
                           arm ? "muscle" : "muscle and arm");
  return why_arena_print(r->d->arena, "%s; of which arm is not clear", kind);
}

static void place(const reading* r, const measured* values, size_t index, size_t count) {
  const measured* m = &values[index];
  why_symbol arm = subject_named(r, true, m, index, count);
  why_symbol muscle = subject_named(r, false, m, index, count);
  if (!arm || !muscle || arm == r->d->to_confirm) {
    why_draft_open(m->value, lacking(r, arm == r->d->to_confirm ? 0 : arm, muscle));
    return;
  }
  size_t row = result_of(r, arm, muscle);
  if (r->found->form->gives == WHY_GIVES_GROWTH)
    fill_growth(r, m, row);
  else if (r->found->form->gives == WHY_GIVES_CHANGE)
    fill_change(r, m, row);
  else
    fill_percent(r, m, row);
}

static void ignore_all(const why_draft_found* found, const char* what) {
  for (size_t i = 0; i < found->roles.count; i++)
    why_draft_ignore(found->roles.at[i].number, what);
}

static void take(why_drafter* d, const why_draft_found* found) {
  reading r = read_clause(d, found);
  subject of = subject_of(&r);
  if (of == OF_OTHER) {
    ignore_all(found, "of strength or another quality, not of muscle size");
    return;
  }
  measured values[4];
  size_t count = values_of(found, values);
  const char* whole = d->draft->text.sentences.at[found->sentence].shape;
  if (found->form->gives == WHY_GIVES_PERCENT_ASIDE && !tells(d, "changes", whole))
    why_draft_open_all(found, "a percentage; whether of a change is not clear");
  else if (of == OF_BOTH)
    why_draft_open_all(found, "of size or of strength; which is not clear");
  else if (!tells_apart(&r, values, count))
    why_draft_open_all(found, why_arena_print(d->arena, "%s; which value is whose is not clear",
                                              kind_of(found->form->gives)));
  else
    for (size_t i = 0; i < count; i++)
      place(&r, values, i, count);
  why_draft_open_all(found, "belongs to a value that could not be placed");
}

/// The muscle that the whole text is about, if it names just one.
static why_symbol only_muscle(const why_drafter* d) {
  why_draft_named_list all = {0};
  size_t count = 0;
  for (size_t i = 0; i < d->draft->text.sentences.count; i++) {
    size_t length = strlen(d->draft->text.sentences.at[i].shape);
    why_draft_named_list named = why_draft_mentions(d, i, 0, length);
    for (size_t k = 0; k < named.count; k++)
      *WHY_LIST_ADD(d->arena, all) = named.at[k];
  }
  return why_draft_sole(&all, false, &count);
}

void why_draft_results(why_drafter* d) {
  d->only_muscle = only_muscle(d);
  for (size_t i = 0; i < d->found.count; i++) {
    why_gives gives = d->found.at[i].form->gives;
    if (gives == WHY_GIVES_GROWTH || gives == WHY_GIVES_PERCENT ||
        gives == WHY_GIVES_PERCENT_ASIDE || gives == WHY_GIVES_CHANGE)
      take(d, &d->found.at[i]);
  }
}
