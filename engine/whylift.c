// SPDX-License-Identifier: GPL-3.0-or-later
// The public interface: handles over the stages, and the doors through which exhausted memory
// leaves. Nothing is decided here.
#include "whylift/whylift.h"

#include "handle.h"
#include "snapshot.h"

#include "tell/tell.h"

#include <setjmp.h>
#include <string.h>

#define KNOWLEDGE_LIMIT ((size_t)4096 * 1024 * 1024) ///< Bytes of one knowledge base.
#define ANSWER_LIMIT    ((size_t)512 * 1024 * 1024)  ///< Bytes of one query with its answer.

struct why_knowledge {
  why_arena* handle; ///< Holds this, and what is needed to open it.
  why_arena* arena;  ///< Holds the ground; can come from a snapshot.
  const why_ground* ground;
  why_snapshot* snapshot; ///< While it is being opened.
};

struct why_query {
  why_arena* arena;
  why_problems* problems;
  why_question question;
};

struct why_answer {
  why_arena* arena;  ///< The query's: answers die with it or before.
  why_arena* beside; ///< Of the other query, where there are two; else NULL.
  const why_picked* picked;
  const why_comparison* comparison;
  const why_versus* versus;
  const why_moments* moments;
  const why_trials* trials;
  const why_validated* validated;
  const why_summary* summary;
  const why_listing* listing;
  const why_audit* audit;
  const why_drafting* drafting;
  const why_tabling* tabling;
  const why_plan* plan;
};

const char* why_version(void) {
  return WHY_VERSION;
}

static void check_snapshot(const why_knowledge* made, why_problems* problems) {
  if (!made->snapshot || !why_snapshot_differs(made->snapshot, made->ground->tables->digest))
    return;
  why_problems_add(problems, WHY_WARNING, "snapshot", (why_place){0},
                   "the snapshot of the knowledge base tells of other contents than its files, "
                   "although their sizes and times are the same; it was dropped");
}

/// Read all files.
static why_status read_ground(why_knowledge* made, const char* folder, const why_settings* settings,
                              why_problems* problems, jmp_buf* door) {
  made->arena = made->snapshot ? why_snapshot_arena(made->snapshot) : NULL;
  if (!made->arena)
    made->arena = why_arena_new(KNOWLEDGE_LIMIT);
  if (!made->arena)
    return WHY_MACHINE;
  why_arena_guard(made->arena, door);
  why_read_settings reading = {.order_seed = settings->order_seed,
                               .hash_seed = settings->hash_seed,
                               .leave_out = settings->leave_out,
                               .study = settings->study};
  why_status status = why_ground_open(folder, &reading, made->arena, problems, &made->ground);
  why_arena_settle(made->arena);
  why_arena_guard(made->arena, NULL);
  if (status != WHY_OK)
    return status;
  if (settings->fresh)
    check_snapshot(made, problems);
  else if (made->snapshot)
    why_snapshot_write(made->snapshot, made->arena, made->ground);
  return WHY_OK;
}

/// Open into `made`, and make it known.
static why_status open_within(why_knowledge* made, const char* folder, const why_settings* settings,
                              why_problems* problems, why_knowledge** knowledge) {
  jmp_buf door;
  if (setjmp(door))
    return WHY_MACHINE;
  why_arena_guard(made->handle, &door);
  if (settings->cache && !settings->order_seed && !settings->hash_seed && !settings->leave_out &&
      !settings->study)
    made->snapshot = why_snapshot_open(folder, settings->cache, made->handle);
  if (made->snapshot && !settings->fresh)
    made->ground = why_snapshot_find(made->snapshot, &made->arena);
  why_knowledge* known = WHY_NEW(made->handle, why_knowledge);
  why_status status = made->ground ? WHY_OK : read_ground(made, folder, settings, problems, &door);
  why_arena_guard(made->handle, NULL);
  *known = (why_knowledge){.handle = made->handle, .arena = made->arena, .ground = made->ground};
  if (status == WHY_OK)
    *knowledge = known;
  return status;
}

why_status why_knowledge_open(const char* folder, const why_settings* settings,
                              why_knowledge** knowledge, why_problems** problems) {
  const why_settings usual = {0};
  why_knowledge made = {.handle = why_arena_new(0)};
  *knowledge = NULL;
  *problems = why_problems_new();
  why_status status = WHY_MACHINE;
  if (made.handle && *problems)
    status = open_within(&made, folder, settings ? settings : &usual, *problems, knowledge);
  why_snapshot_close(made.snapshot);
  if (status != WHY_OK) {
    why_arena_free(made.arena);
    why_arena_free(made.handle);
  }
  return status;
}

const char* why_knowledge_digest(const why_knowledge* knowledge) {
  return knowledge->ground->tables->digest;
}

const why_ground* why_knowledge_ground(const why_knowledge* knowledge) {
  return knowledge->ground;
}

void why_knowledge_free(why_knowledge* knowledge) {
  if (!knowledge)
    return;
  why_arena_free(knowledge->arena);
  why_arena_free(knowledge->handle);
}

why_query* why_query_new(const why_knowledge* knowledge) {
  why_problems* problems = why_problems_new();
  why_arena* arena = why_arena_new(ANSWER_LIMIT);
  jmp_buf door;
  if (!problems || !arena || setjmp(door)) {
    why_problems_free(problems);
    why_arena_free(arena);
    return NULL;
  }
  why_arena_guard(arena, &door);
  why_query* made = WHY_NEW(arena, why_query);
  made->arena = arena;
  made->problems = problems;
  why_question_init(&made->question, knowledge->ground, arena, problems);
  why_arena_guard(arena, NULL);
  return made;
}

static why_status set_word(why_question* question, why_word_asked word, const char* text) {
  switch (word) {
  case WHY_GOAL:
    return why_question_goal(question, text);
  case WHY_EXERCISE:
    return why_question_exercise(question, text, &question->exercise);
  case WHY_BESIDE:
    return why_question_exercise(question, text, &question->other);
  case WHY_REPLACE:
    return why_question_exercise(question, text, &question->replaced);
  case WHY_SUBJECT:
    return why_question_subject(question, text);
  case WHY_LEVEL:
    return why_question_level(question, text);
  case WHY_DAYS:
    return why_question_days(question, text);
  case WHY_MINUTES:
    return why_question_minutes(question, text);
  case WHY_PURPOSE:
    return why_question_purpose(question, text);
  case WHY_START:
    return why_question_start(question, text);
  case WHY_DOSE:
    question->dosed = strcmp(text, "yes") == 0;
    return question->dosed || strcmp(text, "no") == 0
               ? WHY_OK
               : why_question_refuse(question, "dose", "yes or no is wanted", text);
  case WHY_TOP:
    return why_question_top(question, text);
  case WHY_KIND:
    question->list = why_arena_copy(question->arena, text, strlen(text));
    return WHY_OK;
  case WHY_TEXT:
    question->text = why_arena_copy(question->arena, text, strlen(text));
    return WHY_OK;
  case WHY_STUDY:
    return why_question_study(question, text);
  }
  return WHY_QUESTION;
}

why_status why_query_set(why_query* query, why_word_asked word, const char* text) {
  jmp_buf door;
  if (setjmp(door))
    return WHY_MACHINE;
  why_arena_guard(query->arena, &door);
  why_status status = set_word(&query->question, word, text);
  why_arena_guard(query->arena, NULL);
  return status;
}

static why_status add_words(why_question* question, why_words_asked words, const char* text) {
  switch (words) {
  case WHY_HAVE:
    return why_question_have(question, text);
  case WHY_WITHOUT:
    return why_question_without(question, text);
  case WHY_TARGET:
    return why_question_targets(question, text);
  case WHY_AVOID:
    return why_question_avoid(question, text);
  case WHY_GET:
    return why_question_get(question, text);
  case WHY_ALLOW:
    return why_question_allow(question, text);
  }
  return WHY_QUESTION;
}

why_status why_query_add(why_query* query, why_words_asked words, const char* text) {
  jmp_buf door;
  if (setjmp(door))
    return WHY_MACHINE;
  why_arena_guard(query->arena, &door);
  why_status status = add_words(&query->question, words, text);
  why_arena_guard(query->arena, NULL);
  return status;
}

why_status why_query_ask(why_query* query, const char* sentence) {
  jmp_buf door;
  if (setjmp(door))
    return WHY_MACHINE;
  why_arena_guard(query->arena, &door);
  why_status status = why_question_ask(&query->question, sentence);
  why_arena_guard(query->arena, NULL);
  return status;
}

why_status why_query_programme(why_query* query, const char* file, const char* text,
                               size_t length) {
  jmp_buf door;
  if (setjmp(door))
    return WHY_MACHINE;
  why_arena_guard(query->arena, &door);
  why_status status = why_question_programme(&query->question, file, text, length);
  why_arena_guard(query->arena, NULL);
  return status;
}

/// A zero byte would end the table early, and is no text anyway.
static why_status set_findings(why_query* query, const char* file, const char* text,
                               size_t length) {
  if (strlen(text) != length)
    return why_question_refuse(&query->question, "table", "this is no text, it holds a zero byte",
                               file);
  query->question.findings = why_arena_copy(query->arena, text, length);
  query->question.findings_file = why_arena_copy(query->arena, file, strlen(file));
  return WHY_OK;
}

why_status why_query_findings(why_query* query, const char* file, const char* text, size_t length) {
  jmp_buf door;
  if (setjmp(door))
    return WHY_MACHINE;
  why_arena_guard(query->arena, &door);
  why_status status = set_findings(query, file, text, length);
  why_arena_guard(query->arena, NULL);
  return status;
}

const why_problems* why_query_problems(const why_query* query) {
  return query->problems;
}

void why_query_free(why_query* query) {
  if (!query)
    return;
  why_problems_free(query->problems);
  why_arena_free(query->arena);
}

/// The task that a sentence asks for.
static why_task task_asked(const why_question* question) {
  static const why_task TASKS[] = {
      [WHY_ASKED_PICK] = WHY_PICK,       [WHY_ASKED_SWAP] = WHY_SWAP,
      [WHY_ASKED_EXPLAIN] = WHY_EXPLAIN, [WHY_ASKED_COMPARE] = WHY_COMPARE,
      [WHY_ASKED_MOMENTS] = WHY_MOMENTS, [WHY_ASKED_PLAN] = WHY_PLAN,
      [WHY_ASKED_AUDIT] = WHY_AUDIT};
  return question->asked ? TASKS[question->asked->task] : WHY_PICK;
}

static why_status run(const why_question* question, why_task task, why_answer* answer) {
  why_picked* picked = NULL;
  why_listing* listing = NULL;
  why_moments* moments = NULL;
  why_trials* trials = NULL;
  const why_validated* validated = NULL;
  const why_drafting* drafting = NULL;
  why_status status = WHY_QUESTION;
  switch (task) {
  case WHY_PICK:
  case WHY_SWAP:
    status = why_pick_run(question, &picked);
    break;
  case WHY_EXPLAIN:
    status = why_explain_run(question, &picked);
    break;
  case WHY_COMPARE:
    return why_versus_run(question, &answer->versus);
  case WHY_MOMENTS:
    status = why_moments_run(question, &moments);
    break;
  case WHY_POOL:
    status = why_trials_run(question, &trials);
    break;
  case WHY_VALIDATE:
    status = why_validation_run(question, &validated);
    break;
  case WHY_AUDIT:
    return why_audit_run(question, &answer->audit);
  case WHY_PLAN:
    return why_plan_run(question, &answer->plan);
  case WHY_ASK:
    return WHY_QUESTION; // why_run has put the task in its place
  case WHY_CHECK:
    answer->summary = why_summary_new(question->ground, question->arena, question->problems);
    return WHY_OK;
  case WHY_LIST:
    status = why_listing_run(question, &listing);
    break;
  case WHY_DRAFT:
    status = why_drafting_run(question, &drafting);
    break;
  case WHY_TABULATE:
    return why_tabling_run(question, &answer->tabling);
  }
  answer->picked = picked;
  answer->listing = listing;
  answer->drafting = drafting;
  answer->moments = moments;
  answer->trials = trials;
  answer->validated = validated;
  return status;
}

/// Whether all that the task needs was said.
static why_status complete(const why_question* question, why_task task) {
  if (question->other && question->other == question->exercise) {
    why_problems_add(question->problems, WHY_ERROR, "compare", (why_place){0},
                     "the two exercises to compare are the same");
    return WHY_QUESTION;
  }
  if (task == WHY_ASK && question->asked)
    return why_problems_count_from(question->problems, WHY_ERROR) ? WHY_QUESTION : WHY_OK;
  bool goal = question->goal.id != 0;
  if (task == WHY_ASK || (task == WHY_PICK && !goal) || (task == WHY_SWAP && !question->replaced) ||
      (task == WHY_EXPLAIN && (!goal || !question->exercise)) ||
      (task == WHY_COMPARE && (!goal || !question->exercise || !question->other)) ||
      (task == WHY_MOMENTS && !question->exercise) || (task == WHY_AUDIT && !question->programme) ||
      (task == WHY_DRAFT && !question->text && !question->findings) ||
      (task == WHY_TABULATE && !question->study) ||
      (task == WHY_POOL && !goal && !question->exercise)) {
    why_problems_add(question->problems, WHY_ERROR, "question", (why_place){0},
                     "something is missing in the question");
    return WHY_QUESTION;
  }
  return why_problems_count_from(question->problems, WHY_ERROR) ? WHY_QUESTION : WHY_OK;
}

why_status why_run(why_query* query, why_task task, why_answer** answer) {
  *answer = NULL;
  jmp_buf door;
  if (setjmp(door))
    return WHY_MACHINE;
  why_arena_guard(query->arena, &door);
  why_question* question = &query->question;
  why_answer* made = WHY_NEW(query->arena, why_answer);
  made->arena = query->arena;
  why_status status = task == WHY_COMPARE ? why_question_common(question) : WHY_OK;
  status = status == WHY_OK ? complete(question, task) : status;
  if (status == WHY_OK)
    status = run(question, task == WHY_ASK ? task_asked(question) : task, made);
  if (status == WHY_OK || status == WHY_NO_PICK)
    *answer = made;
  why_arena_guard(query->arena, NULL);
  return status;
}

/// A goal is wanted of both or of neither.
static why_status complete_both(const why_question* before, const why_question* after,
                                why_task task) {
  bool none = task == WHY_PICK && !before->goal.id && !after->goal.id;
  why_status status = task == WHY_PICK || task == WHY_SWAP ? WHY_OK : WHY_QUESTION;
  if (status == WHY_OK && !none)
    status = complete(before, task);
  return status == WHY_OK && !none ? complete(after, task) : status;
}

why_status why_differ(why_query* before, why_query* after, why_task task, why_answer** answer) {
  *answer = NULL;
  jmp_buf door;
  if (setjmp(door))
    return WHY_MACHINE;
  why_arena_guard(before->arena, &door);
  why_arena_guard(after->arena, &door);
  why_answer* made = WHY_NEW(after->arena, why_answer);
  made->arena = after->arena;
  made->beside = before->arena;
  why_status status = complete_both(&before->question, &after->question, task);
  if (status == WHY_OK)
    status = why_comparison_run(&before->question, &after->question, &made->comparison);
  if (status == WHY_OK)
    *answer = made;
  why_arena_guard(before->arena, NULL);
  why_arena_guard(after->arena, NULL);
  return status;
}

size_t why_answer_count(const why_answer* answer) {
  return answer->picked ? answer->picked->picks.count : 0;
}

why_pick why_answer_at(const why_answer* answer, size_t index) {
  const why_pick_row* row = &answer->picked->picks.at[index];
  return (why_pick){.exercise =
                        why_symbols_text(answer->picked->question->ground->symbols, row->exercise),
                    .name = row->name,
                    .recommendation = row->recommendation,
                    .certainty = row->certainty,
                    .step = row->step};
}

void why_answer_free(why_answer* answer) {
  (void)answer; // Lives in its query's arena.
}

static why_node* report(const why_answer* answer) {
  if (answer->comparison)
    return why_report_comparison(answer->comparison, answer->arena);
  if (answer->versus)
    return why_report_versus(answer->versus, answer->arena);
  if (answer->summary)
    return why_report_summary(answer->summary, answer->arena);
  if (answer->moments)
    return why_report_moments(answer->moments, answer->arena);
  if (answer->trials)
    return why_report_trials(answer->trials, answer->arena);
  if (answer->validated)
    return why_report_validation(answer->validated, answer->arena);
  if (answer->plan)
    return why_report_plan(answer->plan, answer->arena);
  if (answer->audit)
    return why_report_audit(answer->audit, answer->arena);
  if (answer->drafting)
    return why_report_drafting(answer->drafting, answer->arena);
  if (answer->tabling)
    return why_report_tabling(answer->tabling, answer->arena);
  if (answer->listing)
    return why_report_listing(answer->listing, answer->arena);
  return why_report_picked(answer->picked);
}

const char* why_format_at(size_t index) {
  const why_format* format = why_formats_at(index);
  return format ? format->name : NULL;
}

why_status why_tell(const why_answer* answer, const char* format, why_sink sink, void* user) {
  const why_format* chosen = why_formats_find(format);
  if (!chosen)
    return WHY_QUESTION;
  jmp_buf door;
  if (setjmp(door))
    return WHY_MACHINE;
  why_arena_guard(answer->arena, &door);
  if (answer->beside)
    why_arena_guard(answer->beside, &door);
  why_buffer out = {.arena = answer->arena};
  bool shown = chosen->write(report(answer), &out);
  why_arena_guard(answer->arena, NULL);
  if (answer->beside)
    why_arena_guard(answer->beside, NULL);
  if (!shown)
    return WHY_QUESTION;
  return sink(user, why_buffer_text(&out), out.length) ? WHY_OK : WHY_MACHINE;
}
