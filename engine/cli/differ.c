// SPDX-License-Identifier: GPL-3.0-or-later
// Two queries, filled alike but for what is to differ between them.
#include "differ.h"

#include "output.h"
#include "progress.h"

#include <stdio.h>
#include <string.h>

enum { SHOWN = 80 };

/// The options with changes, and what has no option of its own.
typedef struct {
  why_options options;
  why_lists get;
  why_lists allow;
  const char* leave_out;
} changed;

static why_status refuse(const char* sentence, const char* word) {
  fprintf(stderr, "whylift: %s: ", sentence);
  why_output_words(stderr, word, SHOWN);
  fputs("\n  a change is written like get=barbell; see whylift --help\n", stderr);
  return WHY_QUESTION;
}

static why_status add(why_lists* to, const char* value, const char* typed) {
  if (to->count == LISTS_LIMIT)
    return refuse("too many changes", typed);
  to->at[to->count++] = value;
  return WHY_OK;
}

/// Apply one change, "get=barbell".
static why_status change(changed* made, const char* typed, bool* replaced_have) {
  const struct {
    const char* name;
    why_lists* list;
    const char** one;
  } rows[] = {
      {"have", &made->options.have, NULL},
      {"get", &made->get, NULL},
      {"without", &made->options.without, NULL},
      {"avoid", &made->options.avoid, NULL},
      {"allow", &made->allow, NULL},
      {"level", NULL, &made->options.level},
      {"goal", NULL, &made->options.words[0]},
      {"leave-out", NULL, &made->leave_out},
  };
  size_t length = strcspn(typed, "=");
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
    if (strlen(rows[i].name) != length || strncmp(typed, rows[i].name, length) != 0)
      continue;
    if (!typed[length] || !typed[length + 1])
      return refuse("a value is missing in the change", typed);
    if (rows[i].list == &made->options.have && !*replaced_have) {
      made->options.have.count = 0;
      *replaced_have = true;
    }
    if (rows[i].list)
      return add(rows[i].list, typed + length + 1, typed);
    *rows[i].one = typed + length + 1;
    return WHY_OK;
  }
  return refuse("no such change", typed);
}

static unsigned add_all(why_query* query, why_words_asked words, const why_lists* lists) {
  unsigned status = WHY_OK;
  for (int i = 0; i < lists->count; i++)
    status |= why_query_add(query, words, lists->at[i]);
  return status;
}

/// Ask both, compare, and tell.
static why_status differ(why_query* before, why_query* after, why_task task, unsigned filled,
                         const why_options* options) {
  why_answer* answer = NULL;
  why_progress* progress = why_progress_begin("comparing");
  why_status status = !before || !after      ? WHY_MACHINE
                      : filled & WHY_MACHINE ? WHY_MACHINE
                      : filled != WHY_OK     ? WHY_QUESTION
                                             : why_differ(before, after, task, &answer);
  why_progress_end(progress);
  if (before)
    why_command_finish(before, NULL, options, WHY_OK);
  if (after)
    status = why_command_finish(after, answer, options, status);
  why_answer_free(answer);
  return status;
}

/// Ask for the changed question, of the same knowledge base or of one without some parts.
static why_status ask_changed(const why_knowledge* knowledge, const why_knowledge* other,
                              const why_command* command, const why_options* options,
                              const changed* made) {
  why_query* before = why_query_new(knowledge);
  why_query* after = why_query_new(other);
  unsigned filled = WHY_OK;
  if (before && after) {
    filled |= why_command_fill(before, command, options);
    filled |= why_command_fill(after, command, &made->options);
    filled |= add_all(after, WHY_GET, &made->get);
    filled |= add_all(after, WHY_ALLOW, &made->allow);
  }
  why_status status = differ(before, after, command->task, filled, options);
  why_query_free(after);
  why_query_free(before);
  return status;
}

/// A list of both, in `text`.
static why_status join(char* text, size_t room, const char* first, const char* second) {
  int length = snprintf(text, room, "%s,%s", first ? first : "", second);
  return length >= 0 && (size_t)length < room ? WHY_OK : refuse("the list is too long", second);
}

why_status why_whatif_run(const why_knowledge* knowledge, const why_command* command,
                          const why_options* options) {
  changed made = {.options = *options};
  bool replaced_have = false;
  for (int i = 0; i < options->changes.count; i++) {
    why_status status = change(&made, options->changes.at[i], &replaced_have);
    if (status != WHY_OK)
      return status;
  }
  if (!made.leave_out)
    return ask_changed(knowledge, knowledge, command, options, &made);
  char list[8192 + 2];
  why_knowledge* other = NULL;
  why_status status = join(list, sizeof list, options->leave_out, made.leave_out);
  if (status == WHY_OK)
    status = why_command_open(options, why_command_folder(options), list, &other);
  if (status == WHY_OK)
    status = ask_changed(knowledge, other, command, options, &made);
  why_knowledge_free(other);
  return status;
}

static const why_command GOAL = {.slots = {WHY_GOAL}, .slot_count = 1, .task = WHY_PICK};

/// The picks of two knowledge bases for the goal in `options`, or for every group of muscles.
static why_status differ_in(const why_knowledge* first, const why_knowledge* second,
                            const why_options* options) {
  why_query* before = why_query_new(first);
  why_query* after = why_query_new(second);
  unsigned filled = WHY_OK;
  if (before && after) {
    filled |= why_command_fill(before, &GOAL, options);
    filled |= why_command_fill(after, &GOAL, options);
  }
  why_status status = differ(before, after, WHY_PICK, filled, options);
  why_query_free(after);
  why_query_free(before);
  return status;
}

why_status why_study_add(const why_knowledge* knowledge, const char* study,
                         const why_options* options) {
  why_options rest = *options;
  rest.word_count = 0;
  why_knowledge* other = NULL;
  why_status status = why_command_open_with(options, study, &other);
  if (status == WHY_OK)
    status = differ_in(knowledge, other, &rest);
  why_knowledge_free(other);
  return status;
}

why_status why_diff_run(const why_options* options) {
  why_knowledge* first = NULL;
  why_knowledge* second = NULL;
  why_status status = why_command_open(options, options->words[0], options->leave_out, &first);
  if (status == WHY_OK)
    status = why_command_open(options, options->words[1], options->leave_out, &second);
  if (status == WHY_OK) {
    why_options rest = *options;
    rest.word_count -= 2;
    rest.words[0] = options->words[2];
    status = differ_in(first, second, &rest);
  }
  why_knowledge_free(second);
  why_knowledge_free(first);
  return status;
}
