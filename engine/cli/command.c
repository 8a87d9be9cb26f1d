// SPDX-License-Identifier: GPL-3.0-or-later
// From options to a query, from the query to an answer on standard output. Messages go to standard
// error.
#include "command.h"

#include "batch.h"
#include "cache.h"
#include "differ.h"
#include "file.h"
#include "output.h"
#include "progress.h"
#include "serving.h"
#include "study.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static const why_command COMMANDS[] = {
    {.name = "pick",
     .words = "GOAL",
     .least = 1,
     .slots = {WHY_GOAL},
     .slot_count = 1,
     .task = WHY_PICK,
     .what = "exercises for a muscle, group or action"},
    {.name = "swap",
     .words = "EXERCISE",
     .least = 1,
     .slots = {WHY_REPLACE},
     .slot_count = 1,
     .task = WHY_SWAP,
     .what = "exercises that replace another"},
    {.name = "why",
     .words = "EXERCISE GOAL",
     .least = 2,
     .slots = {WHY_EXERCISE, WHY_GOAL},
     .slot_count = 2,
     .task = WHY_EXPLAIN,
     .what = "the whole chain of reasons, for or against"},
    {.name = "compare",
     .words = "A B [GOAL]",
     .least = 2,
     .slots = {WHY_EXERCISE, WHY_BESIDE, WHY_GOAL},
     .slot_count = 3,
     .task = WHY_COMPARE,
     .what = "which of two exercises grows a goal more, and how certain that is"},
    {.name = "ask",
     .words = "SENTENCE",
     .least = 1,
     .slot_count = 1,
     .task = WHY_ASK,
     .what = "a question in plain words, in quotation marks"},
    {.name = "moments",
     .words = "EXERCISE",
     .least = 1,
     .slots = {WHY_EXERCISE},
     .slot_count = 1,
     .task = WHY_MOMENTS,
     .what = "what the muscles must give, joint by joint"},
    {.name = "pool",
     .words = "GOAL|EXERCISE",
     .least = 1,
     .slots = {WHY_SUBJECT},
     .slot_count = 1,
     .task = WHY_POOL,
     .what = "what trials found, pooled over studies"},
    {.name = "audit",
     .words = "FILE",
     .least = 1,
     .slot_count = 1,
     .task = WHY_AUDIT,
     .what = "weekly sets of a written programme (- reads standard input)"},
    {.name = "diff",
     .words = "FOLDER OTHER [GOAL]",
     .least = 2,
     .slot_count = 3,
     .start = why_diff_run,
     .what = "what differs between two knowledge bases, pick by pick"},
    {.name = "plan",
     .words = "[GOALS]",
     .slot_count = 1,
     .task = WHY_PLAN,
     .what = "a week of training (goals such as glutes:2,calves)"},
    {.name = "list",
     .words = "KIND",
     .slots = {WHY_KIND},
     .slot_count = 1,
     .task = WHY_LIST,
     .what = "names that can be used"},
    {.name = "check",
     .words = "",
     .task = WHY_CHECK,
     .what = "problems of the knowledge base, and what it holds"},
    {.name = "batch",
     .words = "",
     .run = why_batch_run,
     .what = "questions and answers as lines of JSON, until the input ends"},
    {.name = "carry",
     .words = "",
     .run = why_carrying_run,
     .what = "one page with every goal and swap at a place, for a phone without network"},
    {.name = "serve",
     .words = "",
     .run = why_serving_run,
     .what = "a page for a browser, and JSON, on this machine until it is stopped"},
    {.name = "study",
     .words = "draft|add|table WHAT",
     .least = 2,
     .slot_count = 2,
     .run = why_study_run,
     .what = "a study from an abstract or a table; what one more would change; one as a table"},
    {0},
};

const why_command* why_commands_first(void) {
  return COMMANDS;
}

static const why_command* find_command(const char* name) {
  for (const why_command* each = COMMANDS; each->name; each++)
    if (strcmp(each->name, name) == 0)
      return each;
  return NULL;
}

enum { WHOLE = 1000, SHOWN = 80 }; ///< Characters shown of a sentence, and of a typed word.
enum { PATH_LIMIT = 4096 };

static void print_place(FILE* out, why_place place) {
  if (!place.file)
    return;
  why_output_words(out, place.file, WHOLE);
  if (place.line)
    fprintf(out, ":%u", place.line);
  if (place.column)
    fprintf(out, ":%u", place.column);
  fputs(": ", out);
}

static void print_problems(FILE* out, const why_problems* problems, why_severity least) {
  static const char* const WORDS[] = {"note", "warning", "error"};
  for (size_t i = 0; i < why_problems_count(problems); i++) {
    why_problem each = why_problems_at(problems, i);
    if (each.severity < least)
      continue;
    print_place(out, each.place);
    fprintf(out, "%s: ", WORDS[each.severity]);
    why_output_words(out, each.text, WHOLE);
    fprintf(out, " [%s]\n", each.check);
    if (each.other.file) {
      fputs("  also at ", out);
      print_place(out, each.other);
      fputc('\n', out);
    }
    if (each.hint) {
      fputs("  hint: ", out);
      why_output_words(out, each.hint, WHOLE);
      fputc('\n', out);
    }
  }
  size_t all = why_problems_count_from(problems, WHY_NOTE);
  if (all > why_problems_count(problems))
    fprintf(out, "and %zu more that are not shown\n", all - why_problems_count(problems));
}

static bool to_stdout(void* user, const char* bytes, size_t length) {
  (void)user;
  return fwrite(bytes, 1, length, stdout) == length;
}

static unsigned add_all(why_query* query, why_words_asked words, const why_lists* lists) {
  unsigned status = WHY_OK;
  for (int i = 0; i < lists->count; i++)
    status |= why_query_add(query, words, lists->at[i]);
  return status;
}

enum { PROGRAMME_LIMIT = 256 * 1024 }; ///< Bytes.

static why_status tell_programme(why_query* query, const char* path) {
  char* text = NULL;
  size_t length = 0;
  why_status status = why_file_read(path, PROGRAMME_LIMIT, &text, &length);
  if (status == WHY_OK)
    status =
        why_query_programme(query, strcmp(path, "-") == 0 ? "standard input" : path, text, length);
  free(text);
  return status;
}

/// What a word behind the command says.
static why_status tell_word(why_query* query, const why_command* command, int i, const char* word) {
  switch (command->task) {
  case WHY_ASK:
    return why_query_ask(query, word);
  case WHY_AUDIT:
    return tell_programme(query, word);
  case WHY_PLAN:
    return why_query_add(query, WHY_TARGET, word);
  default:
    return why_query_set(query, command->slots[i], word);
  }
}

why_status why_command_fill(why_query* query, const why_command* command,
                            const why_options* options) {
  unsigned status = WHY_OK;
  for (int i = 0; i < options->word_count; i++)
    status |= tell_word(query, command, i, options->words[i]);
  status |= add_all(query, WHY_HAVE, &options->have);
  status |= add_all(query, WHY_WITHOUT, &options->without);
  status |= add_all(query, WHY_AVOID, &options->avoid);
  if (options->level)
    status |= why_query_set(query, WHY_LEVEL, options->level);
  if (options->days)
    status |= why_query_set(query, WHY_DAYS, options->days);
  if (options->minutes)
    status |= why_query_set(query, WHY_MINUTES, options->minutes);
  if (options->purpose)
    status |= why_query_set(query, WHY_PURPOSE, options->purpose);
  if (options->start)
    status |= why_query_set(query, WHY_START, options->start);
  if (options->dose)
    status |= why_query_set(query, WHY_DOSE, options->dose);
  if (options->top)
    status |= why_query_set(query, WHY_TOP, options->top);
  if (status & (unsigned)WHY_MACHINE)
    return WHY_MACHINE;
  return status == WHY_OK ? WHY_OK : WHY_QUESTION;
}

static why_status refuse_machine(void) {
  fprintf(stderr, "whylift: %s\n", why_status_text(WHY_MACHINE));
  return WHY_MACHINE;
}

static why_status tell(const why_answer* answer, const why_options* options) {
  why_status status = why_tell(answer, options->format ? options->format : "text", to_stdout, NULL);
  if (status == WHY_QUESTION)
    fprintf(stderr, "whylift: this answer has nothing to show as %s\n", options->format);
  return status == WHY_MACHINE && !ferror(stdout) ? refuse_machine() : status;
}

why_status why_command_finish(why_query* query, const why_answer* answer,
                              const why_options* options, why_status status) {
  print_problems(stderr, why_query_problems(query), WHY_NOTE);
  if (status == WHY_MACHINE)
    refuse_machine();
  why_status told = answer ? tell(answer, options) : WHY_OK;
  return told == WHY_OK ? status : told;
}

why_status why_command_run(why_query* query, why_task task, why_answer** answer) {
  why_progress* progress =
      why_progress_begin(task == WHY_PLAN       ? "looking for a week that holds all limits"
                         : task == WHY_VALIDATE ? "fitting without each study in turn"
                                                : "working it out");
  why_status status = why_run(query, task, answer);
  why_progress_end(progress);
  return status;
}

static why_status ask(const why_knowledge* knowledge, const why_command* command,
                      const why_options* options) {
  why_query* query = why_query_new(knowledge);
  if (!query)
    return refuse_machine();
  why_answer* answer = NULL;
  why_status status = why_command_fill(query, command, options);
  if (status == WHY_OK)
    status = why_command_run(query, options->validate ? WHY_VALIDATE : command->task, &answer);
  status = why_command_finish(query, answer, options, status);
  why_answer_free(answer);
  why_query_free(query);
  return status;
}

static why_status refuse_format(const char* format) {
  for (size_t i = 0; why_format_at(i); i++)
    if (strcmp(why_format_at(i), format) == 0)
      return WHY_OK;
  fputs("whylift: unknown format: ", stderr);
  why_output_words(stderr, format, SHOWN);
  fputs("\n  formats are:", stderr);
  for (size_t i = 0; why_format_at(i); i++)
    fprintf(stderr, " %s", why_format_at(i));
  fputc('\n', stderr);
  return WHY_QUESTION;
}

/// Validation stands alone.
static why_status refuse_validation(const why_command* command, const why_options* options) {
  if (command->task == WHY_POOL && !options->word_count)
    return options->format ? refuse_format(options->format) : WHY_OK;
  fputs("whylift: usage: whylift pool --validate\n", stderr);
  return WHY_QUESTION;
}

static why_status refuse_words(const why_command* command, const why_options* options) {
  if (options->validate)
    return refuse_validation(command, options);
  if (options->word_count >= command->least && options->word_count <= command->slot_count)
    return options->format ? refuse_format(options->format) : WHY_OK;
  fprintf(stderr, "whylift: usage: whylift %s %s\n", command->name, command->words);
  if (options->word_count > command->slot_count)
    fputs("  put a name of several words in quotation marks\n", stderr);
  return WHY_QUESTION;
}

const char* why_command_folder(const why_options* options) {
  if (options->knowledge)
    return options->knowledge;
  const char* named = getenv("WHYLIFT_KNOWLEDGE");
  if (named && *named)
    return named;
  return access(WHY_HOME "/rules", R_OK) == 0 ? WHY_HOME : WHY_SHARE;
}

/// What is wrong goes where `out` says; of `check`, which shows all there is, standard output.
static why_status open(const why_options* options, const why_settings* how, const char* folder,
                       FILE* out, why_knowledge** knowledge) {
  char cache[PATH_LIMIT];
  why_settings settings = *how;
  if (!options->no_cache)
    settings.cache = why_cache_folder(cache, sizeof cache);
  why_problems* problems = NULL;
  why_progress* progress = why_progress_begin("reading and fitting the knowledge base");
  why_status status = why_knowledge_open(folder, &settings, knowledge, &problems);
  why_progress_end(progress);
  if (problems)
    print_problems(out, problems,
                   !settings.fresh    ? WHY_ERROR
                   : status == WHY_OK ? WHY_NOTE
                                      : WHY_WARNING);
  if (status != WHY_OK)
    fprintf(stderr, "whylift: %s\n", why_status_text(status));
  why_problems_free(problems);
  return status;
}

why_status why_command_open(const why_options* options, const char* folder, const char* leave_out,
                            why_knowledge** knowledge) {
  const why_settings settings = {.leave_out = leave_out};
  return open(options, &settings, folder, stderr, knowledge);
}

why_status why_command_open_with(const why_options* options, const char* study,
                                 why_knowledge** knowledge) {
  const why_settings settings = {.leave_out = options->leave_out, .study = study};
  return open(options, &settings, why_command_folder(options), stderr, knowledge);
}

/// A what-if is about picks.
static why_status refuse_changes(const why_command* command, const why_options* options) {
  if (!options->changes.count ||
      (!command->run && (command->task == WHY_PICK || command->task == WHY_SWAP)))
    return WHY_OK;
  fputs("whylift: --if goes with pick and swap\n", stderr);
  return WHY_QUESTION;
}

why_status why_commands_run(const why_options* options) {
  const why_command* command = find_command(options->command);
  if (!command) {
    fputs("whylift: unknown command: ", stderr);
    why_output_words(stderr, options->command, SHOWN);
    fputs("\n  see whylift --help\n", stderr);
    return WHY_QUESTION;
  }
  why_status status = refuse_words(command, options);
  if (status == WHY_OK)
    status = refuse_changes(command, options);
  if (status != WHY_OK)
    return status;
  if (command->start)
    return command->start(options);
  const why_settings settings = {.leave_out = options->leave_out,
                                 .fresh = !command->run && command->task == WHY_CHECK};
  bool as_text = !options->format || strcmp(options->format, "text") == 0;
  why_knowledge* knowledge = NULL;
  status = open(options, &settings, why_command_folder(options),
                settings.fresh && as_text ? stdout : stderr, &knowledge);
  if (status == WHY_OK)
    status = command->run             ? command->run(knowledge, options)
             : options->changes.count ? why_whatif_run(knowledge, command, options)
                                      : ask(knowledge, command, options);
  why_knowledge_free(knowledge);
  return status;
}
