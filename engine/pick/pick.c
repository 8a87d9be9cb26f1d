// SPDX-License-Identifier: GPL-3.0-or-later
// Runs an overlay for a question and reads what rules/reasoning/answer.xml says an answer holds.
// Which exercises are picks, and in which order, is decided there.
#include "expectation.h"
#include "pairing.h"
#include "rows.h"
#include "sentence.h"
#include "shown.h"

#include <math.h>
#include <string.h>

enum { AGAINST_SHOWN = 5, NEAREST_SHOWN = 5 };

static why_rows find_rows(const why_picked* answer, const char* name) {
  return why_rows_find(answer->question->ground->program, answer->overlay, name);
}

/// The name of a level, as people write it ("very low").
static const char* level_at(const why_picked* answer, const why_rows* from, size_t i,
                            const char* slot) {
  int at = why_program_slot(from->program, from->relation, slot);
  if (at < 0)
    return NULL;
  const why_slot* info = &why_program_relation(from->program, from->relation)->slots[at];
  const char* id = why_slot_level(from->program, info, why_rows_number(from, i, slot));
  return why_ground_name(answer->question->ground, answer->arena, "level", id);
}

static const char* name_of(const why_picked* answer, const char* kind, why_symbol id) {
  const why_ground* ground = answer->question->ground;
  return why_ground_name(ground, answer->arena, kind, why_symbols_text(ground->symbols, id));
}

/// The name of a pick, with the load that is used here in place of the usual one.
static const char* name_here(const why_picked* answer, why_symbol exercise) {
  why_rows loads = why_rows_about(answer->question->ground->program, answer->overlay, "loaded-with",
                                  "exercise", exercise);
  why_buffer text = {.arena = answer->arena};
  why_buffer_add(&text, name_of(answer, "exercise", exercise));
  for (size_t i = 0; i < loads.facts.count; i++)
    why_buffer_print(&text, "%s%s", i ? " and " : ", with ",
                     name_of(answer, "item", why_rows_symbol(&loads, i, "item")));
  return why_buffer_text(&text);
}

static bool is_wanted(const why_picked* answer, why_symbol head) {
  for (size_t i = 0; i < answer->heads.count; i++)
    if (answer->heads.at[i] == head)
      return true;
  return false;
}

/// Rows of `name` about one exercise.
static why_rows find_about(const why_picked* answer, const char* name, why_symbol exercise) {
  return why_rows_about(answer->question->ground->program, answer->overlay, name, "exercise",
                        exercise);
}

static void read_parts(why_picked* answer, why_pick_row* pick) {
  why_rows certain = find_about(answer, "certain-here", pick->exercise);
  why_rows effective = find_about(answer, "effective", pick->exercise);
  for (size_t i = 0; i < effective.facts.count; i++) {
    why_symbol head = why_rows_symbol(&effective, i, "head");
    if (!is_wanted(answer, head))
      continue;
    why_head_part* part = WHY_LIST_ADD(answer->arena, pick->heads);
    part->head = head;
    part->part = why_rows_number(&effective, i, "part");
    for (size_t j = 0; j < certain.facts.count; j++)
      if (why_rows_symbol(&certain, j, "head") == head)
        part->certainty = level_at(answer, &certain, j, "certainty");
  }
}

static const why_exercise* catalogue_row(const why_picked* answer, why_symbol exercise) {
  return why_exercise_find(&answer->question->ground->tables->exercises, exercise);
}

/// Cautions for this person first, then those of the exercise itself.
static void read_cautions(why_picked* answer, why_pick_row* pick) {
  why_reasons warned = {0};
  why_sentence_collect(answer, "cautions", pick->exercise, &warned);
  for (size_t i = 0; i < warned.count; i++)
    *WHY_LIST_ADD(answer->arena, pick->cautions) = warned.at[i].say;
  const why_exercise* row = catalogue_row(answer, pick->exercise);
  for (size_t i = 0; row && i < row->cautions.count; i++)
    *WHY_LIST_ADD(answer->arena, pick->cautions) = row->cautions.at[i];
}

static bool is_said(const why_texts* texts, const char* say) {
  for (size_t i = 0; i < texts->count; i++)
    if (strcmp(texts->at[i], say) == 0)
      return true;
  return false;
}

/// What is said to everybody is said once an answer.
static void read_notices(why_picked* answer, const why_pick_row* pick) {
  why_reasons notices = {0};
  why_sentence_collect(answer, "notices", pick->exercise, &notices);
  for (size_t i = 0; i < notices.count; i++)
    if (!is_said(&answer->notices, notices.at[i].say))
      *WHY_LIST_ADD(answer->arena, answer->notices) = notices.at[i].say;
}

enum { MOST_STEPS = 1000000 };

/// Whether the pick is to be shown: any, or one of a pattern.
static bool is_shown(const why_question* question, why_symbol exercise) {
  const why_exercise* row = why_exercise_find(&question->ground->tables->exercises, exercise);
  return !question->pattern || (row && row->pattern == question->pattern);
}

/// Whether a pick of the pattern that was asked for is there; without one any pattern will do.
static bool has_pattern(const why_picked* answer, const why_rows* found) {
  for (size_t i = 0; i < found->facts.count; i++)
    if (is_shown(answer->question, why_rows_symbol(found, i, "exercise")))
      return true;
  return false;
}

static void read_picks(why_picked* answer) {
  why_rows found = find_rows(answer, "pick");
  answer->all_count = found.facts.count;
  answer->pattern_missed = answer->question->pattern && !has_pattern(answer, &found);
  for (size_t i = 0; i < found.facts.count; i++) {
    why_symbol exercise = why_rows_symbol(&found, i, "exercise");
    if ((!answer->pattern_missed && !is_shown(answer->question, exercise)) ||
        answer->pick_count++ >= answer->question->top)
      continue;
    why_pick_row* pick = WHY_LIST_ADD(answer->arena, answer->picks);
    pick->exercise = exercise;
    pick->name = name_of(answer, "exercise", pick->exercise);
    pick->name_here = name_here(answer, pick->exercise);
    pick->recommendation = level_at(answer, &found, i, "recommendation");
    pick->certainty = level_at(answer, &found, i, "certainty");
    pick->step = (int)fmax(0, fmin(why_rows_number(&found, i, "step"), MOST_STEPS));
    read_parts(answer, pick);
    why_expectation_fill(answer, pick);
    why_sentence_collect(answer, answer->question->replaced ? "replacement" : "reasons",
                         pick->exercise, &pick->reasons);
    why_sentence_collect(answer, "lost", pick->exercise, &pick->lost);
    read_cautions(answer, pick);
    read_notices(answer, pick);
  }
}

static void read_against(why_picked* answer) {
  why_rows found = find_rows(answer, "against");
  answer->against_count = found.facts.count;
  for (size_t i = 0; i < found.facts.count && i < AGAINST_SHOWN; i++) {
    why_against_row* row = WHY_LIST_ADD(answer->arena, answer->against);
    row->exercise = why_rows_symbol(&found, i, "exercise");
    row->name = name_of(answer, "exercise", row->exercise);
    row->recommendation = level_at(answer, &found, i, "recommendation");
    why_sentence_collect(answer, "against", row->exercise, &row->reasons);
  }
}

static why_near_row near_row(why_picked* answer, why_symbol exercise, const char* part) {
  why_near_row made = {.exercise = exercise, .name = name_of(answer, "exercise", exercise)};
  why_sentence_collect_said(answer, part, exercise, &made.because);
  return made;
}

static void read_nearest(why_picked* answer) {
  why_rows found = find_rows(answer, "nearest");
  answer->rejected_count = find_rows(answer, "rejected").facts.count;
  for (size_t i = 0; i < found.facts.count && i < NEAREST_SHOWN; i++) {
    why_near_row row = near_row(answer, why_rows_symbol(&found, i, "exercise"), "because");
    *WHY_LIST_ADD(answer->arena, answer->nearest) = row;
  }
}

/// Sentences of relations that are about no exercise: signs of danger, and why nothing is picked.
static void read_sentences(why_picked* answer, const char* relation, why_texts* texts) {
  why_rows found = find_rows(answer, relation);
  for (size_t i = 0; i < found.facts.count; i++) {
    const why_proof* proof = why_proof_best(answer->overlay, found.facts.at[i]);
    const char* say = proof ? why_sentence_of(answer, &proof->step) : "";
    if (*say)
      *WHY_LIST_ADD(answer->arena, *texts) = say;
  }
}

why_status why_pick_run(const why_question* question, why_picked** answer) {
  why_picked* made = WHY_NEW(question->arena, why_picked);
  made->question = question;
  made->arena = question->arena;
  made->overlay = why_overlay_new(question->ground->base, question->arena, NULL);
  why_question_assume(question, made->overlay);
  why_overlay_open(made->overlay, question->problems);
  why_expectation_read(made);
  read_picks(made);
  read_against(made);
  why_pairing_read(made);
  read_nearest(made);
  read_sentences(made, "referred", &made->referrals);
  if (!made->picks.count)
    read_sentences(made, "why-no-pick", &made->notes);
  why_status status = why_overlay_status(made->overlay);
  if (status != WHY_OK)
    return status;
  *answer = made;
  return made->picks.count ? WHY_OK : WHY_NO_PICK;
}
