// SPDX-License-Identifier: GPL-3.0-or-later
// The arms as the text names them, what each trained, and how much of it.
#include "draft_parts.h"
#include "spell.h"

#include <ctype.h>
#include <math.h>
#include <string.h>
#include <strings.h>

/// "hip thrust group" without its last word, if that only says that it is an arm.
static const char* tidy(const why_drafter* d, const char* words) {
  static const char* const LAST[] = {"group",    "groups",   "condition", "conditions",
                                     "leg",      "legs",     "limb",      "arm",
                                     "training", "protocol", "side",      "exercise"};
  const char* space = strrchr(words, ' ');
  const char* last = space ? space + 1 : words;
  for (size_t i = 0; i < sizeof LAST / sizeof *LAST; i++)
    if (strcasecmp(LAST[i], last) == 0)
      return space ? tidy(d, why_arena_copy(d->arena, words, (size_t)(space - words))) : words;
  return words;
}

static bool are_people(const char* words) {
  static const char* const PEOPLE[] = {"men",   "women",   "participants", "subjects",   "adults",
                                       "males", "females", "individuals",  "volunteers", "people"};
  const char* space = strrchr(words, ' ');
  const char* last = space ? space + 1 : words;
  for (size_t i = 0; i < sizeof PEOPLE / sizeof *PEOPLE; i++)
    if (strcasecmp(PEOPLE[i], last) == 0)
      return true;
  return false;
}

/// Letters and digits in lower case, all else hyphens.
static const char* slug(why_arena* arena, const char* text) {
  char* made = why_arena_copy(arena, text, strlen(text));
  size_t length = 0;
  for (const char* c = text; *c; c++) {
    bool plain = isalnum((unsigned char)*c);
    if (plain)
      made[length++] = (char)tolower((unsigned char)*c);
    else if (length && made[length - 1] != '-')
      made[length++] = '-';
  }
  while (length && made[length - 1] == '-')
    length--;
  made[length] = '\0';
  return length && isalpha((unsigned char)*made) ? made : why_arena_print(arena, "arm-%s", made);
}

/// The one exercise that the words are a name of; 0: none or several.
static why_symbol exercise_of(const why_drafter* d, const char* words) {
  why_word_hits hits = why_words_find(d->words, d->arena, words, WHY_MEANS_EXERCISE);
  return hits.count == 1 ? hits.at[0].id : 0;
}

static why_trained trained_as(const why_drafter* d, const char* words) {
  why_symbol exercise = exercise_of(d, words);
  why_symbols* symbols = d->draft->symbols;
  return (why_trained){.exercise = exercise,
                       .as_written = *words ? words : WHY_TO_CONFIRM,
                       .unmapped =
                           exercise ? "" : "To confirm: which exercise of the catalogue it is.",
                       .note = "",
                       .fit = exercise ? why_symbols_add(symbols, WHY_TO_CONFIRM) : 0,
                       .share = NAN,
                       .range = why_symbols_add(symbols, "full"),
                       .sides = why_symbols_add(symbols, "unknown"),
                       .mode = why_symbols_add(symbols, "dynamic"),
                       .sets_per_session = NAN,
                       .sets_said = "",
                       .reps = "",
                       .load = ""};
}

/// The arm of that name, made if new.
static why_arm* arm_named(why_drafter* d, const char* label, const char* words, size_t sentence) {
  why_study* study = &d->draft->study;
  const char* both = why_arena_print(d->arena, "%s %s", words, label);
  why_symbol id = why_symbols_add(d->draft->symbols, slug(d->arena, *label ? label : words));
  for (size_t i = 0; i < study->arms.count; i++)
    if (study->arms.at[i].id == id)
      return &study->arms.at[i];
  *WHY_LIST_ADD(d->arena, d->arms) = (why_draft_arm){label, words, id};
  *WHY_LIST_ADD(d->arena, d->draft->comments.arms) = NULL;
  why_draft_quote(d, &d->draft->comments.arms.at[study->arms.count], sentence);
  why_arm* made = WHY_LIST_ADD(d->arena, study->arms);
  *made = (why_arm){
      .id = id,
      .n = NAN,
      .control = why_draft_tells(&d->tables->abstracts, "about", "no-training", both, d->arena),
      .left_out = {.text = ""}};
  if (!made->control)
    *WHY_LIST_ADD(d->arena, made->trained) = trained_as(d, words);
  return made;
}

static void take_arm(why_drafter* d, const why_draft_found* found) {
  const char* words = tidy(d, found->words);
  why_draft_number* number = why_draft_role_of(found, "n");
  if (!*found->label && are_people(found->words)) {
    why_draft_open(number, "people of a group that is no arm by its name");
    return;
  }
  why_arm* arm = arm_named(d, found->label, words, found->sentence);
  const char* id = why_symbols_text(d->draft->symbols, arm->id);
  why_draft_use(number, &arm->n, why_arena_print(d->arena, "arm %s n", id));
}

/// Where the words of a name begin that ends at `end`: at most five, none that only joins.
static size_t name_start(const char* shape, size_t end) {
  static const char* const JOINS[] = {"to",     "or",   "and", "the",    "a",    "an",
                                      "either", "into", "of",  "by",     "with", "for",
                                      "as",     "in",   "on",  "versus", "vs"};
  size_t start = end;
  for (int words = 0; words < 5; words++) {
    size_t from = start;
    while (from && (isalpha((unsigned char)shape[from - 1]) || shape[from - 1] == '-'))
      from--;
    size_t length = start - from;
    for (size_t i = 0; i < sizeof JOINS / sizeof *JOINS; i++)
      if (strlen(JOINS[i]) == length && strncasecmp(shape + from, JOINS[i], length) == 0)
        return start < end ? start + 1 : end;
    if (!length)
      return start < end ? start + 1 : end;
    if (!from || shape[from - 1] != ' ')
      return from;
    start = from - 1;
  }
  return start + 1;
}

/// Arms that are named without their people: "a seated (SEA) or a prone (PRO) leg curl".
static void take_lettered(why_drafter* d, size_t sentence) {
  const char* shape = d->draft->text.sentences.at[sentence].shape;
  for (const char* open = shape; (open = strchr(open, '(')); open++) {
    size_t length = strspn(open + 1, "ABCDEFGHIJKLMNOPQRSTUVWXYZ");
    if (length < 2 || length > 8 || open[1 + length] != ')' || open == shape || open[-1] != ' ')
      continue;
    const char* label = why_arena_copy(d->arena, open + 1, length);
    size_t end = (size_t)(open - shape) - 1;
    size_t start = name_start(shape, end);
    const char* words = why_draft_between(d, sentence, start, end);
    why_symbol muscle = 0;
    size_t many = 0;
    why_draft_named_list named = why_draft_mentions(d, sentence, start, end);
    muscle = why_draft_sole(&named, false, &many);
    if (many || muscle ||
        why_draft_tells(&d->tables->abstracts, "about", "no-arm", label, d->arena))
      continue;
    arm_named(d, label, tidy(d, words), sentence);
  }
}

/// Muscles that the text calls by letters: "vastus lateralis (VL)".
static void learn_shorts(why_drafter* d, size_t sentence) {
  const char* shape = d->draft->text.sentences.at[sentence].shape;
  why_draft_named_list named = why_draft_mentions(d, sentence, 0, strlen(shape));
  for (size_t i = 0; i < named.count; i++) {
    const char* behind = shape + named.at[i].end;
    if (named.at[i].is_arm || strncmp(behind, " (", 2) != 0)
      continue;
    size_t length = strspn(behind + 2, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz");
    if (length < 2 || length > 8 || !isupper((unsigned char)behind[2]) ||
        (behind[2 + length] != ')' && behind[2 + length] != ';' && behind[2 + length] != ','))
      continue;
    *WHY_LIST_ADD(d->arena, d->shorts) =
        (why_short_name){why_arena_copy(d->arena, behind + 2, length), named.at[i].name};
  }
}

/// A number of people that every arm has.
static void take_each(why_drafter* d, const why_draft_found* found) {
  why_study* study = &d->draft->study;
  why_draft_number* number = why_draft_role_of(found, "n");
  if (study->arms.count < 2 || isnan(number->value)) {
    why_draft_open(number, "people of each arm");
    return;
  }
  for (size_t i = 0; i < study->arms.count; i++)
    why_draft_use(number, &study->arms.at[i].n, "every arm n");
}

void why_draft_arms(why_drafter* d) {
  for (size_t i = 0; i < d->draft->text.sentences.count; i++)
    learn_shorts(d, i);
  for (size_t i = 0; i < d->found.count; i++)
    if (d->found.at[i].form->gives == WHY_GIVES_ARM)
      take_arm(d, &d->found.at[i]);
  for (size_t i = 0; i < d->draft->text.sentences.count; i++)
    if (why_draft_tells(&d->tables->abstracts, "about", "allotted",
                        d->draft->text.sentences.at[i].text, d->arena))
      take_lettered(d, i);
  for (size_t i = 0; i < d->found.count; i++)
    if (d->found.at[i].form->gives == WHY_GIVES_ARM_EACH)
      take_each(d, &d->found.at[i]);
  // A text that speaks of no arms at all has one.
  bool several = why_draft_tells(&d->tables->abstracts, "arms", "several", d->whole, d->arena);
  if (!d->draft->study.arms.count)
    arm_named(d, "", several ? WHY_TO_CONFIRM : "trained", 0);
}

/// The arms that a sentence about training speaks of: all trained ones, or the only one it names.
static bool speaks_of(const why_drafter* d, size_t sentence, const why_arm* arm) {
  const char* shape = d->draft->text.sentences.at[sentence].shape;
  why_draft_named_list named = why_draft_mentions(d, sentence, 0, strlen(shape));
  size_t count = 0;
  why_symbol sole = why_draft_sole(&named, true, &count);
  if (arm->control || arm->id == d->to_confirm)
    return false;
  if (why_draft_tells(&d->tables->abstracts, "about", "every-arm", shape, d->arena) ||
      d->draft->study.arms.count == 1)
    return true;
  return sole == arm->id;
}

static bool use_text(const why_drafter* d, const char** field, const why_draft_number* low,
                     const why_draft_number* high, const char* behind) {
  if (**field || !low)
    return false;
  *field = high ? why_arena_print(d->arena, "%s-%s%s", low->text, high->text, behind)
                : why_arena_print(d->arena, "%s%s", low->text, behind);
  return true;
}

/// Whether the row took anything of the form; its numbers are used then.
static bool fill_trained(const why_drafter* d, const why_draft_found* found, why_trained* row) {
  why_draft_number* high = why_draft_role_of(found, "high");
  switch (found->form->gives) {
  case WHY_GIVES_SETS: {
    why_draft_number* sets = why_draft_role_of(found, "sets");
    if (!sets || !why_draft_use(sets, &row->sets_per_session, "sets-per-session"))
      return false;
    use_text(d, &row->reps, why_draft_role_of(found, "reps"), high, "");
    return true;
  }
  case WHY_GIVES_LOAD:
    return use_text(d, &row->load, why_draft_role_of(found, "low"), high, "% 1RM");
  case WHY_GIVES_MAXIMUM:
    return use_text(d, &row->load, why_draft_role_of(found, "rm"), high, "RM");
  default:
    return false;
  }
}

static void take_dose(why_drafter* d, const why_draft_found* found, const char* what) {
  why_study* study = &d->draft->study;
  const why_draft_number* rm = why_draft_role_of(found, "rm");
  if (rm && rm->value == 1) {
    why_draft_ignore(why_draft_role_of(found, "rm"), "part of the term \"one-repetition maximum\"");
    return;
  }
  bool used = false;
  for (size_t i = 0; i < study->arms.count; i++) {
    why_arm* arm = &study->arms.at[i];
    if (arm->trained.count != 1 || !speaks_of(d, found->sentence, arm) ||
        !fill_trained(d, found, &arm->trained.at[0]))
      continue;
    used = true;
    why_draft_quote(d, &d->draft->comments.arms.at[i], found->sentence);
  }
  for (size_t i = 0; i < found->roles.count; i++)
    if (used)
      why_draft_use(found->roles.at[i].number, NULL, what);
    else
      why_draft_open(found->roles.at[i].number,
                     why_arena_print(d->arena, "%s; of which arm is not clear", what));
}

void why_draft_training(why_drafter* d) {
  for (size_t i = 0; i < d->found.count; i++) {
    const why_draft_found* each = &d->found.at[i];
    if (each->form->gives == WHY_GIVES_SETS)
      take_dose(d, each, "sets and repetitions of an arm");
    else if (each->form->gives == WHY_GIVES_LOAD || each->form->gives == WHY_GIVES_MAXIMUM)
      take_dose(d, each, "load of an arm");
  }
}
